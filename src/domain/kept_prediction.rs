//! A prediction as it was made and kept: its versions, its day and its document.

use crate::domain::BatchId;
use crate::domain::Moment;
use crate::domain::PredictionId;
use crate::domain::RecipeVersionId;

/// One prediction as stored; what the app once said is never changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptPrediction {
    /// The id.
    pub id: PredictionId,
    /// Of which recipe version.
    pub version: RecipeVersionId,
    /// Of which batch.
    pub batch: BatchId,
    /// The version of the rules.
    pub model_version: String,
    /// The version of wheel and ingredients.
    pub catalogue_version: String,
    /// The lines of the profile, as TOML.
    pub document: String,
    /// When it was made.
    pub made_at: Moment,
}

/// One line of a predicted profile, for the document.
#[derive(Debug, Clone, PartialEq)]
pub struct PredictedLine {
    /// The key, such as `bitter` or `aroma:shelf:toasted`.
    pub id: String,
    /// The chance that it is named; none for a scale.
    pub chance: Option<f64>,
    /// A tenth lies below, in digits.
    pub low: f64,
    /// The middle, in digits.
    pub middle: f64,
    /// A tenth lies above, in digits.
    pub high: f64,
}
