//! A prediction as one taster would note it, by what their notes on other batches taught.

use crate::domain::BatchId;
use crate::domain::Name;
use crate::formats::document_hash;
use crate::profile::LEAST_BATCHES;
use crate::profile::Prediction;
use crate::profile::gain_in_digits;
use crate::workflow::Home;
use crate::workflow::LearntGain;
use crate::workflow::WorkflowError;
use crate::workflow::learning::Learning;
use crate::workflow::learning::shelf_id;
use crate::workflow::learnt::gain;
use crate::workflow::taster_noise::TasterNoise;

/// One line of a prediction as a taster would note it.
#[derive(Debug, Clone, PartialEq)]
pub struct AsNotedLine {
    /// The key in JSON, as in the plain prediction.
    pub id: String,
    /// The chance that it is named; none for a scale.
    pub chance: Option<f64>,
    /// Where their notes are expected, in digits.
    pub middle: f64,
    /// The digits from which to which they come, 8 times in 10 at least.
    pub range: [u8; 2],
}

/// A prediction as one taster would note it.
#[derive(Debug, Clone, PartialEq)]
pub struct AsNoted {
    /// Who.
    pub taster: Name,
    /// From how many batches it was learnt.
    pub batches: usize,
    /// True when there are enough; otherwise nothing is moved.
    pub is_used: bool,
    /// κ.
    pub factor: f64,
    /// The gain in digits, when other batches were predicted so.
    pub gain: LearntGain,
    /// The lines of the plain prediction, in their order.
    pub lines: Vec<AsNotedLine>,
}

impl AsNoted {
    /// The line with this key.
    #[must_use]
    pub fn line(&self, id: &str) -> Option<&AsNotedLine> {
        self.lines.iter().find(|it| it.id == id)
    }
}

impl Home {
    /// A prediction as a taster would note one glass of it, by what other recipes taught: batches of this very
    /// document would be remembered, not foreseen.
    ///
    /// # Errors
    /// As for `learnt`.
    pub(super) fn as_noted(
        &self,
        prediction: &Prediction,
        document: &str,
        name: &str,
    ) -> Result<AsNoted, WorkflowError> {
        let taster = self.ensure_learnt_may_be_told(name)?;
        let same = self
            .store
            .recipe_version_with_hash(&document_hash(document))?;
        let own = match &same {
            Some(same) => self.store.batches_of_version(&same.id)?,
            None => Vec::new(),
        };
        let own: Vec<BatchId> = own.into_iter().map(|it| it.id).collect();
        let noise = self.taster_noise()?;
        let learning = self.learning(&taster, &own, &noise)?;
        Ok(AsNoted {
            lines: lines_as_noted(prediction, &learning, (&taster.name, &noise)),
            taster: taster.name,
            batches: learning.batches.len(),
            is_used: learning.is_enough(),
            factor: learning.digits.factor(),
            gain: gain(
                &learning,
                &gain_in_digits(&learning.residuals),
                LEAST_BATCHES,
            ),
        })
    }
}

fn lines_as_noted(
    prediction: &Prediction,
    learning: &Learning,
    (taster, noise): (&Name, &TasterNoise),
) -> Vec<AsNotedLine> {
    let scales = prediction.scales.iter().map(|it| {
        let shift = learning.shift(it.scale.id);
        let notes = noise.on_scale(taster, it.scale).unrounded(1.0, 1.0);
        AsNotedLine {
            id: it.scale.id.to_owned(),
            chance: None,
            middle: (it.digits() + shift.offset.mean).clamp(0.0, 9.0),
            range: it.digits_expected(notes, shift).eight_in_ten(),
        }
    });
    let shelves = prediction.shelves.iter().map(|it| {
        let id = shelf_id(&it.shelf, it.stage);
        let shift = learning.shift(&id);
        let notes = noise.on_shelf(taster).unrounded(1.0, 1.0);
        let expected = it.odour.expected(notes, shift);
        let [_, middle, _] = it.odour.if_named();
        AsNotedLine {
            id,
            chance: Some(expected.named().get()),
            middle: (middle + shift.offset.mean).clamp(1.0, 9.0),
            range: expected.if_named().eight_in_ten(),
        }
    });
    scales.chain(shelves).collect()
}
