//! Prediction, comparison, calibration to a taster, and the search for the next recipe.

mod driver;
mod family_gifts;
mod flavour_rule;
mod hop_survival;
mod odour;
mod prediction;
mod scale_rule;
mod scale_rules;

pub use driver::{Driver, Drivers, Estimate};
pub use family_gifts::FamilyGifts;
pub use flavour_rule::{Arrived, FLAVOUR_RULES, FlavourExample, FlavourRule, Source};
pub use odour::{Odour, Weights, intensity_of};
pub use prediction::{Brew, MODEL_VERSION, Prediction, ShelfForecast, predict};
pub use scale_rule::{Curve, Example, ScaleForecast, ScaleRule, Term};
pub use scale_rules::SCALE_RULES;
