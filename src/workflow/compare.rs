//! The plan opened beside the notes, each difference judged against the noise.

use std::collections::HashMap;
use std::collections::hash_map::Entry;

use crate::domain::Batch;
use crate::domain::BatchId;
use crate::domain::Beer;
use crate::domain::BottleFault;
use crate::domain::DescriptorId;
use crate::domain::Moment;
use crate::domain::Recipe;
use crate::domain::Scale;
use crate::domain::SniffedWord;
use crate::domain::Subject;
use crate::domain::TasterId;
use crate::profile::MODEL_VERSION;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
use crate::workflow::Figure;
use crate::workflow::Found;
use crate::workflow::Home;
use crate::workflow::Noted;
use crate::workflow::SniffedBy;
use crate::workflow::WorkflowError;
use crate::workflow::batch_warning::fault_cautions;
use crate::workflow::compared_lines::Bench;
use crate::workflow::counted_notes::counting_first;
use crate::workflow::counted_notes::on_scale;
use crate::workflow::figures;
use crate::workflow::learnt::KnownOfTasters;
use crate::workflow::learnt::LearntOffsets;
use crate::workflow::subject_word;

/// A computed or measured figure with the scale of the notes that stands nearest to it.
#[derive(Debug, Clone, PartialEq)]
pub struct FigureLine {
    /// The figure.
    pub figure: Figure,
    /// The scale beside it, if there is one.
    pub scale: Option<&'static Scale>,
    /// What each set of notes says on that scale.
    pub noted: Vec<Noted>,
}

/// Which scale stands beside which figure.
const BESIDE: [(&str, &str); 5] = [
    ("colour", "colour"),
    ("bitterness", "bitter"),
    ("alcohol", "alcohol-warmth"),
    ("real-extract", "fullness"),
    ("carbonation", "carbonation"),
];

impl Home {
    /// Opens the plan beside the locked notes, of one taster or of all, and judges what differs. The
    /// prediction is kept as it is made.
    ///
    /// # Errors
    /// Somebody is still tasting, nothing is locked yet, or the beer has no recipe.
    pub fn compare(
        &mut self,
        mark: &str,
        taster: Option<&str>,
    ) -> Result<Comparison, WorkflowError> {
        let (beer, batch) = self.open_batch(mark)?;
        let (mut found, faulty) = self.locked_of(&beer, taster)?;
        self.find_all_firsts(&mut found)?;
        self.beside(&batch, found, &faulty)
    }

    /// Finds in every set of notes the words which its taster had not named before.
    fn find_all_firsts(&self, found: &mut [Found]) -> Result<(), WorkflowError> {
        let mut known: HashMap<TasterId, HashMap<DescriptorId, Moment>> = HashMap::new();
        for it in found {
            let first_named = match known.entry(it.taster_id.clone()) {
                Entry::Occupied(known) => known.into_mut(),
                Entry::Vacant(free) => {
                    let first_named = self.store.first_named_by(free.key())?;
                    free.insert(first_named)
                }
            };
            self.find_firsts(it, first_named);
        }
        Ok(())
    }

    /// A bottle that nobody tastes now, with its batch.
    fn open_batch(&self, mark: &str) -> Result<(Beer, Batch), WorkflowError> {
        let beer = self.beer(mark)?;
        self.ensure_plan_unsealed(&beer, "the plan")?;
        let batch = match &beer.batch {
            Some(id) => self.store.batch(id)?,
            None => None,
        };
        let batch = batch.ok_or_else(|| WorkflowError::NoRecipe {
            mark: beer.cap_mark.to_string(),
        })?;
        Ok((beer, batch))
    }

    /// The hopes of a batch held against its notes, and nothing else of the comparison: what is known of all tasters
    /// is read once for many batches. None of it leans on what was learnt of the prediction.
    ///
    /// # Errors
    /// As for `compare`.
    pub(super) fn hopes_held(
        &self,
        mark: &str,
        tasters: &KnownOfTasters,
    ) -> Result<Vec<ComparedLine>, WorkflowError> {
        let (beer, batch) = self.open_batch(mark)?;
        let (found, _) = self.locked_of(&beer, None)?;
        let (recipe, log) = (self.recipe_of(&batch)?, self.log_of(&batch.id)?);
        let intent = self.intent_of(&batch, &recipe, &log)?;
        let (found, counting, _) = counting_first(found);
        let last = found.iter().map(|it| it.tasted_on).max();
        let bench = Bench {
            wheel: self.wheel(),
            tasters,
            recipe: &recipe,
            prediction: &self.profile_of(&recipe, &log, last),
            found: &found,
            counting,
        };
        let (mut lines, _) = bench.lines(&intent.intent);
        lines.retain(|it| it.hoped.is_some() && counting > 0);
        Ok(lines)
    }

    /// What is known of all tasters, whatever the batch.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn known_of_all(&self) -> Result<KnownOfTasters, WorkflowError> {
        Ok(KnownOfTasters {
            learnt: LearntOffsets::default(),
            naming: self.naming_of_all()?,
            noise: self.taster_noise()?,
        })
    }

    /// The locked notes of sound bottles of a beer, oldest first, and what was wrong with the others. Which words were
    /// new to their tasters is not looked up.
    ///
    /// # Errors
    /// Nothing is locked yet, or no such taster.
    pub(crate) fn locked_of(
        &self,
        beer: &Beer,
        taster: Option<&str>,
    ) -> Result<(Vec<Found>, Vec<BottleFault>), WorkflowError> {
        let only = taster.map(|name| self.taster(name)).transpose()?;
        let mut found = Vec::new();
        for (row, notes) in self.store.whole_notes_of_beer(&beer.id)? {
            let wanted = only.as_ref().is_none_or(|it| it.id == row.taster.id);
            if wanted && row.locked_at.is_some() {
                found.push(Found::without_firsts(notes, row));
            }
        }
        if found.is_empty() {
            return Err(WorkflowError::NothingTasted {
                mark: beer.cap_mark.to_string(),
            });
        }
        let faulty = found
            .iter()
            .filter_map(|it| it.notes.bottle_fault)
            .collect();
        found.retain(|it| it.notes.bottle_fault.is_none());
        Ok((found, faulty))
    }

    /// The second sniffs that came after these notes and were finished: until then it is not told
    /// which words were decoys.
    fn sniffed_by(&self, found: &[Found]) -> Result<Vec<SniffedBy>, WorkflowError> {
        let mut sniffed = Vec::new();
        for it in found {
            let sniff = self.store.second_sniff(&it.notes.id)?;
            if let Some(sniff) = sniff.filter(|it| it.asked().is_none()) {
                let word = |word: &SniffedWord| {
                    let subject = Subject::Descriptor(word.descriptor.clone());
                    Some((
                        subject_word(self.wheel(), &subject),
                        word.kind,
                        word.answer()?,
                    ))
                };
                sniffed.push(SniffedBy {
                    taster: it.taster.clone(),
                    words: sniff.words.iter().filter_map(word).collect(),
                });
            }
        }
        Ok(sniffed)
    }

    /// The versions of the rules, and of wheel and ingredients.
    fn versions(&self) -> (String, String) {
        let catalogue = self.catalogue_version().to_owned();
        (MODEL_VERSION.to_owned(), catalogue)
    }

    fn beside(
        &mut self,
        batch: &Batch,
        found: Vec<Found>,
        faulty: &[BottleFault],
    ) -> Result<Comparison, WorkflowError> {
        let (recipe, log) = (self.recipe_of(batch)?, self.log_of(&batch.id)?);
        let intent = self.intent_of(batch, &recipe, &log)?;
        let prediction = self.predict_batch(batch, &recipe, &log, &found)?;
        let figures = figures(&recipe, &log);
        let (found, counting, counted) = counting_first(found);
        let bench = Bench {
            wheel: self.wheel(),
            tasters: &self.known_of_tasters(&found[..counting], &batch.id)?,
            recipe: &recipe,
            prediction: &prediction,
            found: &found,
            counting,
        };
        let (lines, also_foreseen) = bench.lines(&intent.intent);
        Ok(Comparison {
            cap_mark: batch.cap_mark.clone(),
            recipe: recipe_words(&recipe),
            lines,
            promised: bench.promised(&recipe.promised),
            near_misses: bench.near_misses(&intent.intent, &recipe.promised),
            unplanned: bench.unplanned(&intent.intent, &recipe.promised),
            also_foreseen,
            second_sniffs: self.sniffed_by(&found)?,
            figures: figure_lines(figures.figures, &found),
            cautions: cautions(faulty, figures.cautions),
            versions: self.versions(),
            intent,
            counting,
            counted,
            faulty: faulty.to_vec(),
            found,
        })
    }
}

impl Home {
    /// What is known of the tasters of these notes from elsewhere.
    fn known_of_tasters(
        &self,
        found: &[Found],
        judged: &BatchId,
    ) -> Result<KnownOfTasters, WorkflowError> {
        let mut known = self.known_of_all()?;
        known.learnt = self.learnt_elsewhere(found, judged, &known.noise)?;
        Ok(known)
    }
}

/// What bad bottles mean for the others of their batch, each fault once, before what the figures warn of.
fn cautions(faulty: &[BottleFault], of_figures: Vec<String>) -> Vec<String> {
    fault_cautions(faulty).chain(of_figures).collect()
}

fn recipe_words(recipe: &Recipe) -> String {
    format!("{}, version {}", recipe.name, recipe.version)
}

fn figure_lines(figures: Vec<Figure>, found: &[Found]) -> Vec<FigureLine> {
    let scale_of = |id: &str| {
        let beside = BESIDE.iter().find(|it| it.0 == id)?;
        Scale::from_id(beside.1).ok()
    };
    figures
        .into_iter()
        .map(|figure| {
            let scale = scale_of(figure.id);
            FigureLine {
                figure,
                scale,
                noted: scale.map_or_else(Vec::new, |scale| on_scale(found, scale)),
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Knew;
    use crate::domain::Mark;
    use crate::domain::NotesChange;
    use crate::domain::NotesSource;
    use crate::domain::Prompting;
    use crate::domain::Rating;
    use crate::domain::Stage;
    use crate::statistics::Dice;
    use crate::workflow::Clock;
    use crate::workflow::Counted;
    use crate::workflow::Nearby;
    use crate::workflow::Outcome;

    /// Notes of a taster on T1, locked.
    fn tasted(home: &mut Home, name: &str, changes: &[NotesChange]) {
        let taster = home.taster_or_new(name).unwrap();
        let mut tasting = home.start_tasting(&taster, "T1", NotesSource::App).unwrap();
        home.change(&mut tasting, changes).unwrap();
        home.lock(&mut tasting).unwrap();
    }

    fn rated(id: &str, value: f64) -> NotesChange {
        NotesChange::Rated(Scale::from_id(id).unwrap(), Some(Rating::Rated(value)))
    }

    fn named(home: &mut Home, word: &str, intensity: u8) -> NotesChange {
        let descriptor = DescriptorId::new(word).unwrap();
        NotesChange::Marked(Mark {
            id: home.new_mark(),
            stage: Stage::Flavour,
            subject: Subject::Descriptor(descriptor),
            intensity: Some(intensity),
            prompting: Prompting::Unprompted,
        })
    }

    #[test]
    fn a_blank_glass_gives_no_number_and_no_verdict_that_something_differs() {
        let mut home = Home::trial_with_a_batch();
        tasted(&mut home, "Ana", &[]);
        let it = home.compare("T1", None).unwrap();
        assert_eq!((it.counting, it.counted), (1, Counted::All));
        assert!(!it.lines.is_empty());
        for line in &it.lines {
            assert_eq!((line.mean, line.judged), (None, None), "{}", line.id);
            let open = [
                Outcome::NotRated,
                Outcome::NotMentionedYet,
                Outcome::HardlyMatters,
            ];
            assert!(
                open.contains(&line.outcome),
                "{}: {:?}",
                line.id,
                line.outcome
            );
        }
        assert!(it.near_misses.is_empty() && it.unplanned.is_empty());
    }

    #[test]
    fn who_knew_the_recipe_counts_only_when_nobody_else_tasted() {
        let mut home = Home::trial_with_a_batch();
        let knew = NotesChange::Knew(Some(Knew::Recipe));
        tasted(&mut home, "Ana", &[knew, rated("bitter", 9.0)]);
        let alone = home.compare("T1", None).unwrap();
        assert_eq!((alone.counting, alone.counted), (1, Counted::OnlyLed));
        tasted(&mut home, "Ben", &[rated("bitter", 2.0)]);
        let both = home.compare("T1", None).unwrap();
        assert_eq!((both.counting, both.counted), (1, Counted::TheUnled));
        assert_eq!(both.found[0].taster.as_str(), "Ben");
        let bitter = both.lines.iter().find(|it| it.id == "bitter").unwrap();
        assert_eq!(bitter.mean, Some(2.0));
        assert_eq!(bitter.noted, [Noted::Value(2.0), Noted::Value(9.0)]);
    }

    #[test]
    fn a_word_beside_the_planned_one_on_its_shelf_is_a_near_miss_and_counts_for_the_shelf() {
        let mut home = Home::trial_with_a_batch();
        // The example recipe hopes for orange peel at 4 in the mouth; tangerine stands on its shelf.
        let tangerine = named(&mut home, "tangerine", 6);
        tasted(&mut home, "Ana", &[tangerine]);
        let it = home.compare("T1", None).unwrap();
        let mut misses = it.near_misses.iter();
        let miss = misses.find(|it| it.planned == "orange peel").unwrap();
        assert_eq!(
            (miss.found.as_str(), &miss.by),
            ("tangerine", &vec!["Ana".to_owned()])
        );
        assert!(matches!(miss.nearby, Nearby::Neighbour | Nearby::LookAlike));
        let line = it
            .hopes()
            .find(|line| line.id == "flavour:shelf:orange")
            .unwrap();
        assert_eq!((line.hoped, line.mean), (Some(4.0), Some(6.0)));
        // Its shelf was hoped for, but the word itself was not.
        assert_eq!(it.unplanned[0].word, "tangerine");
    }

    #[test]
    fn what_was_predicted_is_kept_by_the_first_comparison() {
        let (mut home, _folder) =
            Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        let batch = home.batch("OD1").unwrap();
        home.compare("OD1", None).unwrap();
        home.compare("OD1", None).unwrap();
        let kept = home.store.predictions(&batch.id).unwrap();
        assert_eq!(kept.len(), 1);
        assert_eq!(kept[0].catalogue_version, home.catalogue_version());
    }

    #[test]
    fn a_gusher_left_out_of_the_verdicts_is_a_warning_for_the_rest_of_its_batch() {
        let (mut home, _folder) =
            Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        // By hand from the session: one bottle of HL1 gushed, none of OD1 was bad.
        let warned = |it: &Comparison| it.cautions.iter().any(|it| it.contains("may burst"));
        assert!(warned(&home.compare("HL1", None).unwrap()));
        assert!(!warned(&home.compare("OD1", None).unwrap()));
    }
}
