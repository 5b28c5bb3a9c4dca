//! Prediction, comparison, calibration to a taster, and the search for the next recipe.

mod difference;
mod family;
mod noise_model;
mod presence;
mod trial_tasters;
// Only tests and `cargo bench` play through invented tastings; the program itself has no use for them.
#[doc(hidden)]
pub mod trial_world;
mod uncertain_variance;

pub use difference::{Against, Evidence, Forecast, Glass, Offset, Tasted};
pub use family::{Judged, Range, Verdict, beyond_noise, judge};
pub use noise_model::{Basis, Noise, SpreadEstimate};
pub use presence::{
    FalseAlarmRate, HitRate, Hoped, Unasked, Word, hoped, posterior_present, tastings_needed,
    unasked,
};
pub use uncertain_variance::UncertainVariance;
