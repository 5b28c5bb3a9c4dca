//! The words of a comparison: what packets promised, what was missed by a hair, and what nobody planned.

use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::Intent;
use crate::domain::Line;
use crate::domain::Promise;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::domain::Target;
use crate::profile::Unasked;
use crate::profile::Word;
use crate::profile::unasked;
use crate::statistics::Count;
use crate::workflow::Found;
use crate::workflow::NearMiss;
use crate::workflow::Nearby;
use crate::workflow::Outcome;
use crate::workflow::PromisedLine;
use crate::workflow::UnplannedWord;
use crate::workflow::compared_lines::Bench;
use crate::workflow::compared_lines::silence;
use crate::workflow::noted::named;
use crate::workflow::subject_word;

impl Bench<'_> {
    /// What the packets promised, and who found it.
    pub(super) fn promised(&self, promised: &[Promise]) -> Vec<PromisedLine> {
        let words = promised.iter().flat_map(|promise| {
            let words = promise.words.iter();
            words.map(move |word| (promise, word))
        });
        words
            .map(|(promise, word)| {
                let found_by = names_of(self.found.iter().filter(|it| self.names(it, word)));
                let outcome = if found_by.is_empty() {
                    silence(self.word_anywhere(word), self.tastings()).0
                } else {
                    Outcome::AsGoodAs
                };
                PromisedLine {
                    packet: promise.packet.clone(),
                    word: self.word(word),
                    found_by,
                    outcome,
                }
            })
            .collect()
    }

    fn word(&self, id: &DescriptorId) -> String {
        subject_word(self.wheel, &Subject::Descriptor(id.clone()))
    }

    /// A word that may be named at either stage: the one at which it is likelier.
    fn word_anywhere(&self, word: &DescriptorId) -> Word {
        let shelf = self.wheel.descriptor(word).map(|it| &it.shelf);
        let likelier = |shelf: &ShelfId| {
            let chance = |stage: &Stage| {
                let foreseen = self.prediction.shelf(shelf, *stage);
                foreseen.map_or(0.0, |it| it.odour.named().get())
            };
            let [aroma, flavour] = [Stage::Aroma, Stage::Flavour];
            if chance(&flavour) > chance(&aroma) {
                flavour
            } else {
                aroma
            }
        };
        self.word_like(self.chance_of(word), shelf.map(|it| (it, likelier(it))))
    }

    /// The better of the two chances that the prediction gives a word's shelf.
    fn chance_of(&self, word: &DescriptorId) -> Option<f64> {
        let shelf = &self.wheel.descriptor(word)?.shelf;
        self.shelf_chance(shelf)
    }

    fn shelf_chance(&self, shelf: &ShelfId) -> Option<f64> {
        [Stage::Aroma, Stage::Flavour]
            .iter()
            .filter_map(|stage| self.prediction.shelf(shelf, *stage))
            .map(|it| it.odour.named().get())
            .max_by(f64::total_cmp)
    }

    /// True if notes name the word, or its shelf where no word would come.
    fn names(&self, found: &Found, word: &DescriptorId) -> bool {
        let shelf = self.wheel.descriptor(word).map(|it| &it.shelf);
        named(&found.notes).iter().any(|subject| match subject {
            Subject::Descriptor(id) => id == word,
            Subject::Shelf(id) => Some(id) == shelf,
            Subject::Place(_) | Subject::Free(_) => false,
        })
    }

    /// Wanted words that nobody named while a look-alike or a neighbour on the shelf was named.
    pub(super) fn near_misses(&self, intent: &Intent, promised: &[Promise]) -> Vec<NearMiss> {
        let planned = planned_words(intent, promised);
        let mut misses = Vec::new();
        for word in &planned {
            let Some(entry) = self.wheel.descriptor(word) else {
                continue;
            };
            let is_wanted = is_wanted(intent, promised, word);
            if !is_wanted || self.found.iter().any(|it| self.names(it, word)) {
                continue;
            }
            misses.extend(self.nearest(entry, &planned));
        }
        misses
    }

    /// The nearest thing that was named instead of a planned word: a look-alike before a neighbour,
    /// and nothing that was planned itself.
    fn nearest(&self, entry: &Descriptor, planned: &[DescriptorId]) -> Option<NearMiss> {
        let mut best: Option<(Nearby, &Descriptor, Option<String>)> = None;
        let all = self.found.iter().flat_map(|it| named(&it.notes));
        for subject in all {
            let Subject::Descriptor(id) = subject else {
                continue;
            };
            let Some(other) = self.wheel.descriptor(id).filter(|_| !planned.contains(id)) else {
                continue;
            };
            let tell = tell_apart(entry, other);
            if tell.is_some() && best.as_ref().is_none_or(|it| it.0 == Nearby::Neighbour) {
                best = Some((Nearby::LookAlike, other, tell));
            } else if other.shelf == entry.shelf && best.is_none() {
                best = Some((Nearby::Neighbour, other, None));
            }
        }
        let (nearby, other, tell) = best?;
        let by = self.found.iter().filter(|it| self.names(it, &other.id));
        Some(NearMiss {
            planned: entry.word.clone(),
            found: other.word.clone(),
            nearby,
            tell,
            by: names_of(by),
        })
    }

    /// Words that nobody planned, most often found first; their shelves are judged together against
    /// what slips alone would name.
    pub(super) fn unplanned(&self, intent: &Intent, promised: &[Promise]) -> Vec<UnplannedWord> {
        let mut subjects: Vec<&Subject> = Vec::new();
        for subject in self.found.iter().flat_map(|it| named(&it.notes)) {
            if !self.is_planned(intent, promised, subject) && !subjects.contains(&subject) {
                subjects.push(subject);
            }
        }
        let shelves = self.judged_shelves(&subjects);
        let mut words: Vec<UnplannedWord> = subjects
            .into_iter()
            .map(|subject| self.unplanned_word(subject, &shelves))
            .collect();
        words.sort_by_key(|it| std::cmp::Reverse((it.named_in, it.found_by.len())));
        words
    }

    /// Each shelf with in how many tastings it was named, judged.
    fn judged_shelves(&self, subjects: &[&Subject]) -> Vec<(ShelfId, u32, Unasked)> {
        let mut shelves: Vec<&ShelfId> = Vec::new();
        for shelf in subjects.iter().filter_map(|it| self.shelf_of(it)) {
            if !shelves.contains(&shelf) {
                shelves.push(shelf);
            }
        }
        let counting = self.found.get(..self.counting).unwrap_or_default();
        let number = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
        let all = number(counting.len());
        let counts: Vec<(&ShelfId, u32, Count)> = shelves
            .into_iter()
            .filter_map(|shelf| {
                let on_it = |it: &&Found| {
                    let mut named = named(&it.notes).into_iter();
                    named.any(|subject| self.shelf_of(subject) == Some(shelf))
                };
                let times = number(counting.iter().filter(on_it).count());
                Some((shelf, times, Count::new(times, all)?))
            })
            .collect();
        // A shelf can be named in the nose and in the mouth.
        let open = 2 * self.wheel.shelves().len();
        let only: Vec<Count> = counts.iter().map(|it| it.2).collect();
        let judged = unasked(&only, self.word_like(None, None).false_alarm, open);
        let rows = counts.into_iter().zip(judged);
        rows.map(|((shelf, times, _), judged)| (shelf.clone(), times, judged))
            .collect()
    }

    fn unplanned_word(
        &self,
        subject: &Subject,
        shelves: &[(ShelfId, u32, Unasked)],
    ) -> UnplannedWord {
        let shelf = self.shelf_of(subject);
        let row = shelf.and_then(|it| shelves.iter().find(|row| row.0 == *it));
        let names = |it: &&Found| named(&it.notes).contains(&subject);
        UnplannedWord {
            word: subject_word(self.wheel, subject),
            found_by: names_of(self.found.iter().filter(names)),
            named_in: row.map_or(0, |it| it.1),
            judged: row.map(|it| it.2),
            foreseen: shelf.and_then(|it| self.shelf_chance(it)),
        }
    }

    fn shelf_of<'s>(&'s self, subject: &'s Subject) -> Option<&'s ShelfId> {
        match subject {
            Subject::Descriptor(id) => self.wheel.descriptor(id).map(|it| &it.shelf),
            Subject::Shelf(id) => Some(id),
            Subject::Place(_) | Subject::Free(_) => None,
        }
    }

    /// True if somebody hoped for this, or a packet promised it.
    fn is_planned(&self, intent: &Intent, promised: &[Promise], subject: &Subject) -> bool {
        let hopes_for_shelf = |wanted: &ShelfId| {
            let is_it =
                |it: &Target| matches!(&it.line, Line::Shelf { shelf, .. } if shelf == wanted);
            intent.targets.iter().any(is_it)
        };
        match subject {
            Subject::Descriptor(id) => {
                let shelf = self.wheel.descriptor(id).map(|it| &it.shelf);
                planned_words(intent, promised).contains(id) || shelf.is_some_and(hopes_for_shelf)
            }
            Subject::Shelf(id) => hopes_for_shelf(id),
            Subject::Place(_) | Subject::Free(_) => false,
        }
    }
}

/// The words somebody hoped for or a packet promised, each once.
pub(super) fn planned_words(intent: &Intent, promised: &[Promise]) -> Vec<DescriptorId> {
    let hoped = intent.targets.iter().filter_map(|it| match &it.line {
        Line::Word { descriptor, .. } => Some(descriptor),
        Line::Scale(_) | Line::Shelf { .. } => None,
    });
    let mut words: Vec<DescriptorId> = Vec::new();
    for word in hoped.chain(promised.iter().flat_map(|it| &it.words)) {
        if !words.contains(word) {
            words.push(word.clone());
        }
    }
    words
}

/// False for a word that was planned only to stay away, with a hope of 0.
fn is_wanted(intent: &Intent, promised: &[Promise], word: &DescriptorId) -> bool {
    let hoped = intent.targets.iter().any(|it| {
        it.value > 0.0 && matches!(&it.line, Line::Word { descriptor, .. } if descriptor == word)
    });
    hoped || promised.iter().any(|it| it.words.contains(word))
}

/// How the wheel tells two words apart, if it takes them for look-alikes.
fn tell_apart(one: &Descriptor, other: &Descriptor) -> Option<String> {
    let tell = |from: &Descriptor, to: &Descriptor| {
        let found = from.look_alikes.iter().find(|it| it.id == to.id);
        found.map(|it| it.tell.clone())
    };
    tell(one, other).or_else(|| tell(other, one))
}

fn names_of<'a>(found: impl Iterator<Item = &'a Found>) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for it in found {
        let name = it.taster.to_string();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::storage::builtin_demo_files;
    use crate::workflow::Comparison;
    use crate::workflow::Home;

    /// The recipe of the demonstration whose hope for clove these tests replace.
    const RECIPE: &str = "garden-chair.recipe.toml";

    /// A beer that hopes for so much cold ash, after seven tastings that found wood smoke alone.
    fn with_ash_hoped_at(strength: u8) -> Comparison {
        let files = builtin_demo_files().iter();
        let (_, recipe) = files.into_iter().find(|it| it.0 == RECIPE).unwrap();
        let clove = "\"clove\" = { aroma = 2, matters = 1 }";
        let ash = format!("\"cold ash\" = {{ flavour = {strength}, matters = 1 }}");
        assert!(recipe.contains(clove));
        let recipe = recipe.replace(clove, &ash);
        let brewed = format!(
            "invented = \"Made up.\"\n[[taster]]\nname = \"Saucer\"\n[[recipe]]\nfile = \"{RECIPE}\"\n\
             [[batch]]\ncap_mark = \"A1\"\nrecipe = \"{RECIPE}\"\nmade_at = \"2026-05-01T08:00:00Z\"\n"
        );
        let tasted = (1..=7).map(|day| {
            format!(
                "[[tasting]]\ntaster = \"Saucer\"\ncap_mark = \"A1\"\nknew = \"nothing\"\n\
                 at = \"2026-06-0{day}T18:00:00Z\"\nlocked = true\n\
                 words = [{{ stage = \"flavour\", word = \"wood smoke\", intensity = 2 }}]\n"
            )
        });
        let session = brewed + &tasted.collect::<String>();
        let mut home = Home::trial();
        let files = [("s.toml", session.as_str()), (RECIPE, recipe.as_str())];
        home.import_session("s.toml", &files).unwrap();
        home.compare("A1", None).unwrap()
    }

    fn outcome_of(it: &Comparison, line: &str) -> Outcome {
        it.hopes().find(|found| found.id == line).unwrap().outcome
    }

    fn misses_ash(it: &Comparison) -> bool {
        it.near_misses.iter().any(|miss| miss.planned == "cold ash")
    }

    #[test]
    fn a_word_that_was_to_stay_away_is_as_meant_once_silence_says_that_it_did() {
        let shelf = "flavour:shelf:ash-and-char";
        // Seven silences suffice up to a chance of 0.963 by Bayes' theorem with 0.6 and 0.03.
        let wanted = with_ash_hoped_at(3);
        assert_eq!(outcome_of(&wanted, shelf), Outcome::NotFound);
        let unwanted = with_ash_hoped_at(0);
        assert_eq!(outcome_of(&unwanted, shelf), Outcome::AsGoodAs);
        let spice = outcome_of(&unwanted, "flavour:shelf:seed-spices");
        assert_eq!(spice, Outcome::NotFound);
    }

    #[test]
    fn a_word_that_was_to_stay_away_is_not_missed_by_a_hair() {
        // The wheel takes wood smoke for a look-alike of cold ash.
        assert!(misses_ash(&with_ash_hoped_at(3)));
        assert!(!misses_ash(&with_ash_hoped_at(0)));
    }
}
