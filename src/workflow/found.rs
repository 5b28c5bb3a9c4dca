//! What one taster found in one glass, with what they had never named before.

use std::collections::HashMap;
use std::collections::HashSet;

use crate::domain::BeerId;
use crate::domain::Day;
use crate::domain::DescriptorId;
use crate::domain::Mark;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::NotesId;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::domain::Wheel;
use crate::storage::NotesRow;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// One set of locked notes as its taster may read it.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The notes.
    pub notes: Notes,
    /// Whose.
    pub taster: Name,
    /// By what they are known in the store, whatever they are called.
    pub taster_id: TasterId,
    /// The bottle.
    pub cap_mark: Name,
    /// The day of tasting.
    pub tasted_on: Day,
    /// Words this taster has never named before, in the order of this glass.
    pub firsts: Vec<String>,
}

/// So many locked notes are a long history. A judgement, not a measurement: with far fewer, the sign that one has to wait
/// would only flicker; with far more, a slow machine would seem dead without it.
const LONG_HISTORY: u32 = 200;

impl Home {
    /// Lets notes be read only while nobody is tasting the same beer.
    ///
    /// # Errors
    /// [`WorkflowError::Sealed`], with the names of those who are.
    pub fn ensure_open_for_reading(&self, id: &NotesId) -> Result<(), WorkflowError> {
        let (_, row, _) = self.store.notes_with_row(id)?;
        self.ensure_unsealed(&row.beer.id, &row.beer.cap_mark, "every set of notes")
    }

    /// All locked notes, newest first. Of a beer that somebody is tasting it is not told whether a
    /// bottle was bad: that stands in the notes, and those are sealed.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn locked_notes(&self) -> Result<Vec<NotesRow>, WorkflowError> {
        let mut rows = self.store.locked_notes()?;
        rows.reverse();
        self.leave_out_sealed_faults(&mut rows)?;
        Ok(rows)
    }

    /// What is written on every bottle that was tasted, the one tasted last first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn tasted_marks(&self) -> Result<Vec<Name>, WorkflowError> {
        Ok(self.store.tasted_marks()?)
    }

    /// True where so much was tasted that looking through all of it is felt; false also where that cannot be read,
    /// because whoever reads will say so.
    #[must_use]
    pub fn has_long_history(&self) -> bool {
        self.store
            .has_at_least_locked(LONG_HISTORY)
            .unwrap_or(false)
    }

    /// The next `most` of these notes after those that were read already.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn more_locked_notes(
        &self,
        read: &[NotesRow],
        most: usize,
    ) -> Result<Vec<NotesRow>, WorkflowError> {
        let last = read.last().map(|it| &it.notes);
        let mut rows = self.store.locked_notes_before(last, most)?;
        self.leave_out_sealed_faults(&mut rows)?;
        Ok(rows)
    }

    fn leave_out_sealed_faults(&self, rows: &mut [NotesRow]) -> Result<(), WorkflowError> {
        let open = self.open_notes()?;
        let open = open.iter().filter(|it| it.seal_broken_at.is_none());
        let mut waiting = self.store.waiting_glasses()?;
        waiting.retain(|it| it.key_seen_at.is_none());
        let mut sealed: HashSet<BeerId> = open.map(|it| it.beer.id.clone()).collect();
        sealed.extend(waiting.into_iter().map(|it| it.beer.id));
        for row in rows {
            if sealed.contains(&row.beer.id) {
                row.bottle_fault = None;
            }
        }
        Ok(())
    }

    /// True if this taster has locked notes before.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn has_locked_notes(&self, taster: &Taster) -> Result<bool, WorkflowError> {
        let notes = self.store.notes_of_taster(&taster.id)?;
        Ok(notes.iter().any(|row| row.locked_at.is_some()))
    }

    /// What was found in these notes.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn found(&self, id: &NotesId) -> Result<Found, WorkflowError> {
        let (notes, row, _) = self.store.notes_with_row(id)?;
        let mut found = Found::without_firsts(notes, row);
        let first_named = self.store.first_named_by(&found.taster_id)?;
        self.find_firsts(&mut found, &first_named);
        Ok(found)
    }

    /// Finds the words which a taster had not named before these notes were locked; all that was ever named counts
    /// for notes that are still open.
    pub(super) fn find_firsts(
        &self,
        found: &mut Found,
        first_named: &HashMap<DescriptorId, Moment>,
    ) {
        let locked_at = found.notes.locked_at;
        let is_known = |it: &DescriptorId| {
            let first = first_named.get(it);
            first.is_some_and(|first| locked_at.is_none_or(|locked| *first < locked))
        };
        for mark in &found.notes.marks {
            if let Subject::Descriptor(descriptor) = &mark.subject {
                let word = subject_word(self.wheel(), &mark.subject);
                if !is_known(descriptor) && !found.firsts.contains(&word) {
                    found.firsts.push(word);
                }
            }
        }
    }
}

impl Found {
    /// Notes as they are, before it is looked up which words were new to their taster.
    pub(super) fn without_firsts(notes: Notes, row: NotesRow) -> Self {
        Self {
            tasted_on: notes.tasted_on,
            notes,
            taster: row.taster.name,
            taster_id: row.taster.id,
            cap_mark: row.beer.cap_mark,
            firsts: Vec::new(),
        }
    }

    /// The words of a stage, each with its strength, and the places where nothing was.
    #[must_use]
    pub fn words(&self, wheel: &Wheel, stage: Stage) -> Vec<String> {
        stage_words(wheel, &self.notes, stage)
    }
}

/// The words of a stage, each with its strength; places that were asked for and denied come last,
/// in one sentence.
#[must_use]
pub fn stage_words(wheel: &Wheel, notes: &Notes, stage: Stage) -> Vec<String> {
    let mut words = Vec::new();
    let mut denied = Vec::new();
    for mark in notes.marks_at(stage) {
        match (&mark.subject, mark.intensity) {
            (Subject::Place(id), Some(0)) => {
                denied.extend(wheel.place(id).map(|it| it.name.as_str()));
            }
            _ => words.push(mark_words(wheel, mark)),
        }
    }
    if !denied.is_empty() && denied.len() == wheel.places().len() {
        words.push("nothing from any other place".to_owned());
    } else if !denied.is_empty() {
        words.push(format!("nothing from: {}", denied.join(", ")));
    }
    words
}

/// A mark in words: what, and how strong.
#[must_use]
pub fn mark_words(wheel: &Wheel, mark: &Mark) -> String {
    let word = subject_word(wheel, &mark.subject);
    match mark.intensity {
        Some(intensity) => format!("{word} {intensity}"),
        None => word,
    }
}

/// What a mark names, in words.
#[must_use]
pub fn subject_word(wheel: &Wheel, subject: &Subject) -> String {
    match subject {
        Subject::Descriptor(id) => wheel
            .descriptor(id)
            .map_or_else(|| id.to_string(), |it| it.word.clone()),
        Subject::Shelf(id) => wheel.shelf(id).map_or_else(
            || id.to_string(),
            |it| format!("something from the shelf {}", it.name),
        ),
        Subject::Place(id) => wheel.place(id).map_or_else(
            || id.to_string(),
            |it| format!("something from the {}", it.name),
        ),
        Subject::Free(text) => format!("“{}”", text.as_str()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::MarkId;
    use crate::domain::NotesChange;
    use crate::domain::NotesSource;
    use crate::domain::Prompting;

    #[test]
    fn notes_that_are_read_many_at_once_are_those_that_are_read_one_by_one() {
        let mut home = Home::trial_demo();
        for row in home.locked_notes().unwrap() {
            // Not after every tasting is there a word to ask for.
            home.start_second_sniff(&row.notes).ok();
        }
        let home = home;
        let one_by_one = |rows: Vec<NotesRow>| -> Vec<(NotesRow, Notes)> {
            let whole = rows.into_iter().map(|row| {
                let notes = home.store.notes(&row.notes).unwrap().unwrap();
                (row, notes)
            });
            whole.collect()
        };
        let (mut sets, mut sniffs) = (0, 0);
        for taster in home.tasters().unwrap() {
            let of = &taster.id;
            let whole = home.store.whole_notes_of_taster(of).unwrap();
            sets += whole.len();
            assert_eq!(whole, one_by_one(home.store.notes_of_taster(of).unwrap()));
            let all_sniffs = home.store.second_sniffs_of_taster(of).unwrap();
            let servings = home.store.servings_of_taster(of).unwrap();
            for (row, _) in home.store.own_whole_notes(of).unwrap() {
                let sniff = home.store.second_sniff(&row.notes).unwrap();
                sniffs += usize::from(sniff.is_some());
                assert_eq!(all_sniffs.get(&row.notes).cloned(), sniff);
                let served = servings.get(&row.seat).cloned().unwrap_or_default();
                assert_eq!(served, home.store.serving(&row.seat).unwrap());
            }
        }
        for mark in home.tasted_marks().unwrap() {
            let beer = home.beer(mark.as_str()).unwrap();
            let whole = home.store.whole_notes_of_beer(&beer.id).unwrap();
            assert_eq!(
                whole,
                one_by_one(home.store.notes_of_beer(&beer.id).unwrap())
            );
        }
        assert!(sets > 10 && sniffs > 1, "{sets} {sniffs}");
    }

    #[test]
    fn a_word_is_new_in_the_first_notes_that_name_it_and_stays_so() {
        let mut home = Home::trial_with_a_batch();
        let ana = home.add_taster("Ana").unwrap();
        let toast = home.wheel().descriptors()[0].id.clone();
        let mut taste = || {
            let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
            let mark = Mark {
                id: MarkId::new(format!("m-{}", tasting.notes.id)),
                stage: Stage::Aroma,
                subject: Subject::Descriptor(toast.clone()),
                intensity: Some(5),
                prompting: Prompting::Unprompted,
            };
            home.change(&mut tasting, &[NotesChange::Marked(mark)])
                .unwrap();
            home.lock(&mut tasting).unwrap();
            tasting.notes.id
        };
        let (first, second) = (taste(), taste());
        assert_eq!(home.found(&first).unwrap().firsts.len(), 1);
        assert!(home.found(&second).unwrap().firsts.is_empty());
    }

    #[test]
    fn a_comparison_finds_the_same_new_words_as_the_notes_alone() {
        let mut home = Home::trial_demo();
        let mut firsts = 0;
        for mark in home.tasted_marks().unwrap() {
            let Ok(both) = home.compare(mark.as_str(), None) else {
                continue;
            };
            for it in &both.found {
                let alone = home.found(&it.notes.id).unwrap();
                assert_eq!(it.firsts, alone.firsts, "{mark}");
                firsts += alone.firsts.len();
            }
        }
        assert!(firsts > 0);
    }
}
