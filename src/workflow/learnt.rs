//! What the predictions have learnt of one taster: the record that is shown, and what a verdict takes off.

use std::sync::Arc;

use crate::domain::BatchId;
use crate::domain::Name;
use crate::domain::Scale;
use crate::domain::Taster;
use crate::profile::Against;
use crate::profile::LEAST_BATCHES;
use crate::profile::LEAST_FOR_NAMING;
use crate::profile::LearningGain;
use crate::profile::Offset;
use crate::profile::gain_in_digits;
use crate::profile::gain_in_naming;
use crate::statistics::Probability;
use crate::workflow::About;
use crate::workflow::ComparedLine;
use crate::workflow::Found;
use crate::workflow::HeldAgainst;
use crate::workflow::Home;
use crate::workflow::Noted;
use crate::workflow::WorkflowError;
use crate::workflow::learning::Learning;
use crate::workflow::taster_naming::TasterNaming;
use crate::workflow::taster_noise::TasterNoise;

/// What was learnt on one line.
#[derive(Debug, Clone, PartialEq)]
pub struct LearntLine {
    /// The key in JSON.
    pub id: String,
    /// The words on screen.
    pub label: String,
    /// How far the taster answers above the prediction, in digits; of a shelf, where it is named.
    pub offset: f64,
    /// Its standard error.
    pub error: f64,
    /// In how many batches there was a number.
    pub batches: u32,
    /// The mean of the offsets of all tasters who are known well enough, this one included, and how many they
    /// are: what prediction and kitchen have in it. None with fewer than two.
    pub panel: Option<(f64, usize)>,
}

/// What was learnt of how often one shelf is named.
#[derive(Debug, Clone, PartialEq)]
pub struct LearntNaming {
    /// The key in JSON.
    pub id: String,
    /// The words on screen.
    pub label: String,
    /// The move of the logit of the chance.
    pub moved: f64,
    /// Its standard error.
    pub error: f64,
    /// The mean chance that was predicted.
    pub predicted: f64,
    /// The mean share in which it was named.
    pub named: f64,
    /// In how many batches it was predicted.
    pub batches: u32,
}

/// One batch predicted by what the others taught.
#[derive(Debug, Clone, PartialEq)]
pub struct LearntBatch {
    /// The bottle.
    pub mark: Name,
    /// How far the prediction alone was off.
    pub raw: f64,
    /// How far it was off with what the other batches taught.
    pub learnt: f64,
}

/// What learning gained.
#[derive(Debug, Clone, PartialEq)]
pub struct LearntGain {
    /// Batch by batch, the first tasted in front.
    pub batches: Vec<LearntBatch>,
    /// Mean errors without and with learning.
    pub means: Option<(f64, f64)>,
    /// How often chance alone makes such a gain; none before there are enough batches.
    pub chance: Option<f64>,
    /// True when an improvement may be claimed.
    pub is_claimed: bool,
    /// How many batches it takes to claim one.
    pub least: usize,
}

/// What was learnt of one taster.
#[derive(Debug, Clone, PartialEq)]
pub struct Learnt {
    /// Who.
    pub taster: Name,
    /// How many batches count.
    pub batches: usize,
    /// How many glasses of them.
    pub glasses: usize,
    /// True from three batches on: before that nothing is moved.
    pub is_used: bool,
    /// What all lines have in common, in digits, with its standard error.
    pub common: (f64, f64),
    /// κ: how many times wider than predicted notes scatter from batch to batch.
    pub factor: f64,
    /// The lines with a number, those farthest from the prediction in front.
    pub lines: Vec<LearntLine>,
    /// What all shelves have in common in the logit of their chance, with its standard error.
    pub naming_common: (f64, f64),
    /// The shelves that were predicted, those moved farthest in front.
    pub naming: Vec<LearntNaming>,
    /// The gain in digits.
    pub digits_gain: LearntGain,
    /// The gain in the chance to be named, in squared errors.
    pub naming_gain: LearntGain,
}

impl Home {
    /// What the predictions have learnt of a taster. Nothing of it is told while anybody tastes a batch:
    /// who knows that they are said to taste less bitter, tastes more bitter.
    ///
    /// # Errors
    /// There is no such taster, somebody tastes a batch, this taster tastes anything, or the store cannot be
    /// read.
    pub fn learnt(&self, name: &str) -> Result<Learnt, WorkflowError> {
        let taster = self.ensure_learnt_may_be_told(name)?;
        let learnings = self.learnings()?;
        let all = learnings.iter().map(|it| &it.1);
        let panel: Vec<&Learning> = all.filter(|it| it.is_enough()).collect();
        let own = learnings.iter().find(|it| it.0.id == taster.id);
        Ok(match own {
            Some(own) => record(&taster, &own.1, &panel),
            // Another window added them this moment.
            None => record(
                &taster,
                &self.learning(&taster, &[], &*self.taster_noise()?)?,
                &panel,
            ),
        })
    }

    /// What was learnt of each taster, from all they tasted.
    fn learnings(&self) -> Result<Arc<Vec<(Taster, Learning)>>, WorkflowError> {
        self.learnings.or_drawn(self.store.stamp()?, || {
            let noise = self.taster_noise()?;
            let of_each = self.tasters()?.into_iter().map(|taster| {
                let learning = self.learning(&taster, &[], &noise)?;
                Ok((taster, learning))
            });
            of_each.collect()
        })
    }

    /// Lets pass only if nobody tastes a batch, and this taster nothing at all.
    ///
    /// # Errors
    /// There is no such taster, somebody tastes a batch, or this taster has open notes.
    pub fn ensure_learnt_may_be_told(&self, name: &str) -> Result<Taster, WorkflowError> {
        let taster = self.taster(name)?;
        self.ensure_no_batch_is_tasted()?;
        if self.is_tasting(&taster)? {
            return Err(WorkflowError::LearntWaits {
                taster: taster.name.to_string(),
            });
        }
        Ok(taster)
    }

    /// The tasters of whom something can have been learnt, each with the number of batches that count.
    ///
    /// # Errors
    /// Somebody tastes a batch, or the store cannot be read.
    pub fn learnt_tasters(&self) -> Result<Vec<(Name, usize)>, WorkflowError> {
        self.ensure_no_batch_is_tasted()?;
        let learnings = self.learnings()?;
        let count = |it: &(Taster, Learning)| (it.0.name.clone(), it.1.batches.len());
        let mut known: Vec<(Name, usize)> = learnings.iter().map(count).collect();
        known.sort_by_key(|it| std::cmp::Reverse(it.1));
        Ok(known)
    }

    /// What was learnt of each taster from other batches than the one that is judged. Of who is tasting
    /// right now nothing is used: it would be told beside the verdict.
    pub(super) fn learnt_elsewhere(
        &self,
        found: &[Found],
        judged: &BatchId,
        noise: &TasterNoise,
    ) -> Result<LearntOffsets, WorkflowError> {
        let mut offsets = LearntOffsets::default();
        for it in found {
            if offsets.0.iter().any(|known| known.0 == it.taster) {
                continue;
            }
            let taster = self.taster(it.taster.as_str())?;
            if !self.is_tasting(&taster)? {
                let learning = self.learning(&taster, std::slice::from_ref(judged), noise)?;
                offsets.0.push((taster.name, learning));
            }
        }
        Ok(offsets)
    }
}

/// What is known of the tasters.
pub(super) struct KnownOfTasters {
    /// What was learnt of them from other batches.
    pub(super) learnt: LearntOffsets,
    /// How far the answers of each scatter, as far as it was measured.
    pub(super) noise: Arc<TasterNoise>,
    /// How reliably each names words.
    pub(super) naming: Arc<TasterNaming>,
}

/// What was learnt of each taster of a comparison.
#[derive(Debug, Default)]
pub(super) struct LearntOffsets(Vec<(Name, Learning)>);

impl LearntOffsets {
    /// How far a taster answers above the prediction on a scale: nothing where too little is known, and
    /// nothing against a hope, which is not the prediction's.
    pub(super) fn of(&self, taster: &Name, scale: &Scale, against: &Against) -> Offset {
        match against {
            Against::Prediction(_) => self.on(taster, scale),
            Against::Intent(_) | Against::Batch(_) | Against::Moved { .. } => Offset::NONE,
        }
    }

    fn on(&self, taster: &Name, scale: &Scale) -> Offset {
        let known = self.0.iter().find(|it| it.0 == *taster);
        known.map_or(Offset::NONE, |it| it.1.on_scale(scale))
    }

    /// The mean offset over the tasters who count on a predicted scale; none where nothing was learnt.
    pub(super) fn leaning(&self, line: &ComparedLine, counting: &[Found]) -> Option<f64> {
        let About::Scale(scale) = &line.about else {
            return None;
        };
        let mut names: Vec<&Name> = Vec::new();
        for (found, noted) in counting.iter().zip(&line.noted) {
            if matches!(noted, Noted::Value(_)) && !names.contains(&&found.taster) {
                names.push(&found.taster);
            }
        }
        let known = |name: &&Name| self.0.iter().any(|it| it.0 == **name && it.1.is_enough());
        let leans = line.against == HeldAgainst::Prediction && names.iter().any(known);
        let sum: f64 = names.iter().map(|it| self.on(it, scale).mean).sum();
        leans.then(|| sum / names.len() as f64)
    }
}

fn record(taster: &Taster, learning: &Learning, panel: &[&Learning]) -> Learnt {
    let (common, naming) = (learning.digits.common(), &learning.naming);
    Learnt {
        taster: taster.name.clone(),
        batches: learning.batches.len(),
        glasses: learning.batches.iter().map(|it| it.glasses).sum(),
        is_used: learning.is_enough(),
        common: (common.mean, common.variance.sqrt()),
        factor: learning.digits.factor(),
        lines: lines(learning, panel),
        naming_common: naming.common(),
        naming: naming_lines(learning),
        digits_gain: gain(
            learning,
            &gain_in_digits(&learning.residuals),
            LEAST_BATCHES,
        ),
        naming_gain: gain(learning, &gain_in_naming(&learning.named), LEAST_FOR_NAMING),
    }
}

fn lines(learning: &Learning, panel: &[&Learning]) -> Vec<LearntLine> {
    let numbered = learning.lines.iter().enumerate();
    let seen = numbered.filter(|(line, _)| learning.digits.batches_on(*line) > 0);
    let mut lines: Vec<LearntLine> = seen
        .map(|(line, on)| {
            let offset = learning.digits.offset(line);
            LearntLine {
                id: on.id.clone(),
                label: on.label.clone(),
                offset: offset.mean,
                error: offset.variance.sqrt(),
                batches: learning.digits.batches_on(line),
                panel: of_panel(panel, &on.id),
            }
        })
        .collect();
    lines.sort_by(|a, b| b.offset.abs().total_cmp(&a.offset.abs()));
    lines
}

/// The mean offset over those who gave numbers on a line, each counted once.
fn of_panel(panel: &[&Learning], id: &str) -> Option<(f64, usize)> {
    let offsets: Vec<f64> = panel
        .iter()
        .filter_map(|it| {
            let line = it.lines.iter().position(|on| on.id == id)?;
            let seen = it.digits.batches_on(line) > 0;
            seen.then(|| it.digits.offset(line).mean)
        })
        .collect();
    let number = offsets.len();
    (number > 1).then(|| (offsets.iter().sum::<f64>() / number as f64, number))
}

fn naming_lines(learning: &Learning) -> Vec<LearntNaming> {
    let numbered = learning.lines.iter().enumerate();
    let mut lines: Vec<LearntNaming> = numbered
        .filter_map(|(line, on)| {
            let own = learning.named.iter().filter(|it| it.line == line);
            let (count, predicted, named) = own.fold((0.0, 0.0, 0.0), |sum, it| {
                (sum.0 + 1.0, sum.1 + it.chance, sum.2 + it.share)
            });
            let (moved, error) = learning.naming.on(line);
            (count > 0.0).then(|| LearntNaming {
                id: on.id.clone(),
                label: on.label.clone(),
                moved,
                error,
                predicted: predicted / count,
                named: named / count,
                batches: learning.naming.batches_on(line),
            })
        })
        .collect();
    lines.sort_by(|a, b| b.moved.abs().total_cmp(&a.moved.abs()));
    lines
}

/// What learning gained, batch by batch with its mark.
pub(super) fn gain(learning: &Learning, found: &LearningGain, least: usize) -> LearntGain {
    let batches = found.batches.iter().filter_map(|it| {
        Some(LearntBatch {
            mark: learning.batches.get(it.batch)?.mark.clone(),
            raw: it.raw,
            learnt: it.learnt,
        })
    });
    LearntGain {
        batches: batches.collect(),
        means: found.means(),
        chance: found.chance.map(Probability::get),
        is_claimed: found.is_claimed(),
        least,
    }
}
