//! What was known of a brew before it was tasted: by what was promised of it, and by other brews of the same recipe.

use crate::domain::Batch;
use crate::domain::Grams;
use crate::domain::PricePerKilogram;
use crate::profile::Stocked;
use crate::profile::together;
use crate::workflow::Home;
use crate::workflow::SinceWritten;
use crate::workflow::WorkflowError;

/// From a tenth to nine tenths of a normal distribution, in standard deviations.
const TENTHS_APART: f64 = 2.563;

/// So many other brews of a recipe are looked at; more hardly make surer what it gives (judgement).
const SISTERS: usize = 4;

/// A line by its key, with the mean and the variance of what is there, in digits.
pub(super) type Known = (String, (f64, f64));

impl Home {
    /// What promises and sister brews say of the lines of a batch; the spread is the variance from brew to brew,
    /// digits squared.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn foreknown(
        &self,
        batch: &Batch,
        spread: f64,
    ) -> Result<Vec<Known>, WorkflowError> {
        let mut known = self.promised_of(batch)?;
        let sisters = self.sisters(batch)?;
        if sisters.is_empty() {
            return Ok(with_spread(known, spread));
        }
        let tasters = self.known_of_all()?;
        for sister in sisters {
            // A sister that nobody has tasted, or whose plan is sealed, says nothing.
            let Ok(lines) = self.hopes_held(sister.cap_mark.as_str(), &tasters) else {
                continue;
            };
            for line in lines {
                if let Some((judged, hoped)) = line.judged.zip(line.hoped) {
                    let (gap, variance) = judged.gap;
                    add(&mut known, &line.id, (hoped + gap, variance + spread));
                }
            }
        }
        Ok(with_spread(known, spread))
    }

    /// What was promised of the recipe version of a batch; nothing where the file was altered before it was brewed.
    fn promised_of(&self, batch: &Batch) -> Result<Vec<Known>, WorkflowError> {
        let version = self.store.recipe_version(&batch.version)?;
        let kept = match version {
            Some(version) => self.proposal_of(&version)?,
            None => None,
        };
        let kept = kept.filter(|it| it.1 == SinceWritten::Unaltered);
        let lines = kept.map_or_else(Vec::new, |it| it.0.proposed.lines);
        let known = lines.into_iter().map(|it| {
            let sd = (it.high - it.low) / TENTHS_APART;
            (it.id, (it.expected, sd * sd))
        });
        Ok(known.collect())
    }

    /// Other batches of the same recipe version, the newest.
    fn sisters(&self, batch: &Batch) -> Result<Vec<Batch>, WorkflowError> {
        let mut all = self.store.batches_of_version(&batch.version)?;
        all.retain(|it| it.id != batch.id);
        all.reverse();
        all.truncate(SISTERS);
        Ok(all)
    }

    /// What is at home and what things cost; nothing where no larder is written.
    pub(super) fn stock(&self) -> Result<Vec<Stocked>, WorkflowError> {
        let larder = self.larder()?;
        let items = larder.map_or_else(Vec::new, |it| it.items);
        let stocked = items.into_iter().map(|it| Stocked {
            id: it.ingredient,
            grams: it.amount.map(Grams::get),
            per_kilogram: it.price.map(PricePerKilogram::get),
        });
        Ok(stocked.collect())
    }
}

/// How far this brew strays from the recipe none of them knows.
fn with_spread(mut known: Vec<Known>, spread: f64) -> Vec<Known> {
    for it in &mut known {
        it.1.1 += spread;
    }
    known
}

/// One more estimate of a line.
fn add(known: &mut Vec<Known>, id: &str, more: (f64, f64)) {
    match known.iter_mut().find(|it| it.0 == id) {
        Some(it) => it.1 = together(it.1, more),
        None => known.push((id.to_owned(), more)),
    }
}
