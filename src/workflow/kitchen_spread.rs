//! How far two brews of one recipe version lie apart in this kitchen, as far as repeat brews have told.

use std::collections::HashMap;

use crate::domain::Batch;
use crate::domain::Beer;
use crate::domain::RecipeVersionId;
use crate::profile::DEFAULT_BREW_SD;
use crate::profile::Evidence;
use crate::profile::brew_spread;
use crate::workflow::About;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::seal::PouredGlasses;
use crate::workflow::taster_noise::TasterNoise;
use crate::workflow::versus::HeldLine;

/// Where a spread from brew to brew comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpreadBasis {
    /// Assumed: no version was brewed twice and tasted both times.
    Default,
    /// Measured on pairs of batches of one version, both of them tasted.
    Measured {
        /// How many pairs.
        pairs: u32,
    },
}

/// How far one brew lies from what its recipe gives on average.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KitchenSpread {
    /// The standard deviation, in digits; two brews differ by √2 of it.
    pub sd: f64,
    /// Where it comes from.
    pub basis: SpreadBasis,
}

/// So many pairs are looked at: a standard deviation of n differences is known to 1 in √(2n), of 12 to a fifth.
const MOST_PAIRS: usize = 12;

impl KitchenSpread {
    /// Before any repeat brew.
    pub const DEFAULT: Self = Self {
        sd: DEFAULT_BREW_SD,
        basis: SpreadBasis::Default,
    };
}

impl Home {
    /// How far brews of one recipe version lie apart in this kitchen, over all scales. Batches that are being
    /// tasted are left out.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn kitchen_spread(&self) -> Result<KitchenSpread, WorkflowError> {
        let pairs = self.repeat_brews()?;
        let noise = self.taster_noise()?;
        let mut told = Vec::new();
        for pair in &pairs {
            told.push(self.brewed_apart(pair, &noise)?);
        }
        told.retain(|it| !it.is_empty());
        let pairs = u32::try_from(told.len()).unwrap_or(u32::MAX);
        if pairs == 0 {
            return Ok(KitchenSpread::DEFAULT);
        }
        Ok(KitchenSpread {
            sd: brew_spread(&told.concat()),
            basis: SpreadBasis::Measured { pairs },
        })
    }

    /// Each batch with the one brewed of its version before, both of which can be told about: the newest of them, as
    /// many as tell the spread to a fifth of itself. Any two of sixty brews would be 1,770 pairs, and no more brews.
    fn repeat_brews(&self) -> Result<Vec<[Beer; 2]>, WorkflowError> {
        let glasses = self.poured_glasses()?;
        // From the newest brew on; of each version the one that waits for an older one beside it.
        let mut waiting: HashMap<RecipeVersionId, Beer> = HashMap::new();
        let mut pairs = Vec::new();
        for batch in self.store.batches()?.into_iter().rev() {
            let Some(beer) = self.beer_to_tell(&batch, &glasses)? else {
                continue;
            };
            let newer = waiting.insert(batch.version, beer.clone());
            pairs.extend(newer.map(|newer| [beer, newer]));
            if pairs.len() == MOST_PAIRS {
                break;
            }
        }
        Ok(pairs)
    }

    /// The beer of a batch, where there are notes of a sound bottle and nobody tastes it, or its recipe, now.
    fn beer_to_tell(
        &self,
        batch: &Batch,
        glasses: &PouredGlasses,
    ) -> Result<Option<Beer>, WorkflowError> {
        let Some(beer) = self.store.beer_of_batch(&batch.id)? else {
            return Ok(None);
        };
        let told = self.store.counted_notes_of_beer(&beer.id)?.sound > 0
            && !glasses.seal_plan_of(&beer, &batch.version);
        Ok(told.then_some(beer))
    }

    /// How far apart the two lie on each scale, with the noise of taste alone.
    fn brewed_apart(
        &self,
        [one, other]: &[Beer; 2],
        noise: &TasterNoise,
    ) -> Result<Vec<Evidence>, WorkflowError> {
        let both = self.comparable([one, other])?;
        let lines = self.held_lines(&both, noise).into_iter();
        let scales = lines.filter(|it| matches!(it.line.about, About::Scale(_)));
        Ok(scales.filter_map(|it| HeldLine::evidence(&it)).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::NotesChange;
    use crate::domain::NotesSource;
    use crate::domain::Rating;
    use crate::domain::SCALES;
    use crate::domain::Scale;
    use crate::formats::EXAMPLE;
    use crate::workflow::ReadRecipe;

    #[test]
    fn without_a_repeat_brew_the_spread_is_an_assumption_that_says_so() {
        let home = Home::trial_with_a_batch();
        assert_eq!(home.kitchen_spread().unwrap(), KitchenSpread::DEFAULT);
    }

    fn rated(home: &mut Home, mark: &str, scale: &'static Scale, value: f64) {
        let ana = home.taster_or_new("Ana").unwrap();
        let mut tasting = home.start_tasting(&ana, mark, NotesSource::App).unwrap();
        let rating = NotesChange::Rated(scale, Some(Rating::Rated(value)));
        home.change(&mut tasting, &[rating]).unwrap();
        home.lock(&mut tasting).unwrap();
    }

    #[test]
    fn a_version_brewed_twice_and_tasted_twice_counts_until_one_of_the_two_is_in_a_glass() {
        let mut home = Home::trial_with_a_batch();
        let read = ReadRecipe {
            document: EXAMPLE.to_owned(),
            recipe: home.parse_recipe("example", EXAMPLE).unwrap(),
        };
        home.add_batch_of(&read, Some("T2")).unwrap();
        let bitter = SCALES.iter().find(|it| it.id == "bitter").unwrap();
        rated(&mut home, "T1", bitter, 2.0);
        let one = home.kitchen_spread().unwrap();
        assert_eq!(one.basis, SpreadBasis::Default);
        rated(&mut home, "T2", bitter, 9.0);
        let two = home.kitchen_spread().unwrap();
        // By hand: g = 7, v = 2(0.9² + 1/12 + 0.7²) = 2.766667. A sum over 20,001 places in another program:
        // exp E(ln σ) with σ of median 0.7 and log SD 0.5, and g normal with 2σ² + v.
        assert!((two.sd - 1.494_846_973_4).abs() < 1e-6, "{two:?}");
        assert_eq!(two.basis, SpreadBasis::Measured { pairs: 1 });
        let ben = home.taster_or_new("Ben").unwrap();
        home.start_tasting(&ben, "T2", NotesSource::App).unwrap();
        assert_eq!(home.kitchen_spread().unwrap(), KitchenSpread::DEFAULT);
    }
}
