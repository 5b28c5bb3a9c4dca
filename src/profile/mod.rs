//! Prediction, comparison, calibration to a taster, and the search for the next recipe.

mod bottle_age;
mod driver;
mod family_gifts;
mod flavour_rule;
mod handled;
mod hop_survival;
mod odour;
mod oil_units;
mod outlook;
mod prediction;
mod recipe_additions;
mod recipe_drivers;
mod recipe_gate;
mod recipe_levers;
mod recipe_limits;
mod recipe_loss;
mod recipe_search;
mod scale_rule;
mod scale_rules;

pub use bottle_age::weeks_at_twenty;
pub use driver::{Driver, Drivers, Estimate};
pub use family_gifts::FamilyGifts;
pub use flavour_rule::{Arrived, FLAVOUR_RULES, Factor, FlavourExample, FlavourRule, Source};
pub use handled::Handled;
pub use hop_survival::kept_in_store;
pub use odour::{Odour, Weights, intensity_of};
pub use oil_units::{OilSubstance, oil_substances};
pub use outlook::{Outlook, OutlookLine, OutlookLines, outlook};
pub use prediction::{Brew, MODEL_VERSION, Prediction, ShelfForecast, arrived, predict};
pub use scale_rule::{Curve, Example, Moved, ScaleForecast, ScaleRule, Term};
pub use scale_rules::SCALE_RULES;
mod bottle_gas;
mod brew_spread;
mod calibration;
mod difference;
mod digits;
mod expected_notes;
mod family;
mod hurdle;
mod learning_gain;
mod naming;
mod noise_model;
mod presence;
mod promise;
mod range_factor;
mod residual;
mod trial_errors;
mod trial_kitchen;
mod trial_tasters;
// Only tests and `cargo bench` play through invented tastings; the program itself has no use for them.
#[doc(hidden)]
pub mod trial_learning;
#[doc(hidden)]
pub mod trial_world;
mod uncertain_variance;
mod week_trend;
mod wishes;

pub use bottle_gas::bottle_kind;
pub use brew_spread::{DEFAULT_BREW_SD, brew_spread};
pub use calibration::Calibration;
pub use difference::{Against, Evidence, Forecast, Glass, Offset, Tasted};
pub use digits::Digits;
pub use expected_notes::Shift;
pub use family::{Judged, Range, Verdict, judge};
pub use hurdle::Hurdle;
pub use learning_gain::{
    LEAST_BATCHES, LEAST_FOR_NAMING, LearningGain, LeftOut, gain_in_digits, gain_in_naming,
};
pub use naming::{Named, Naming};
pub use noise_model::{Basis, Noise, NoiseBasis, SpreadEstimate};
pub use presence::{
    FalseAlarmRate, HitRate, Hoped, Unasked, Word, hoped, posterior_present, tastings_needed,
    unasked,
};
pub use promise::{Kept, kept, moved_along};
pub use recipe_additions::levers_from;
pub use recipe_gate::{Said, Wanted, aims, beyond, together};
pub use recipe_levers::{Lever, Touch, levers_within, weighed_amounts};
pub use recipe_limits::{is_sound, unmet};
pub use recipe_loss::{Aim, Caution, Effect};
pub use recipe_search::{Found as FoundRecipes, Proposal, ProposedChange, Search};
pub use residual::Residual;
#[doc(hidden)]
pub use trial_errors::{Errors, Mean};
#[doc(hidden)]
pub use trial_kitchen::{Bias, World as Kitchen};
pub use uncertain_variance::UncertainVariance;
pub use week_trend::{
    Changed, DayAnswer, Untold, WeekTrend, changed, rated_on_two_days, week_trend,
};
pub use wishes::{Bounds, Familiar, MostChanges, Stocked, Supply, Unmet, Wishes, amounts};
