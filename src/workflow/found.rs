//! What one taster found in one glass, with what they had never named before.

use std::collections::HashSet;

use crate::domain::BeerId;
use crate::domain::Day;
use crate::domain::Mark;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::NotesId;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::domain::Taster;
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
    /// The bottle.
    pub cap_mark: Name,
    /// The day of tasting.
    pub tasted_on: Day,
    /// Words this taster has never named before, in the order of this glass.
    pub firsts: Vec<String>,
}

/// So many locked notes take about a tenth of a second to look through.
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
        self.store.has_locked_notes(LONG_HISTORY).unwrap_or(false)
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
        let mut open = self.store.open_notes()?;
        open.retain(|it| it.seal_broken_at.is_none());
        let mut waiting = self.store.waiting_glasses()?;
        waiting.retain(|it| it.key_seen_at.is_none());
        let mut sealed: HashSet<BeerId> = open.into_iter().map(|it| it.beer.id).collect();
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
        let known = self.store.descriptors_named_by(&row.taster.id, id)?;
        let mut firsts: Vec<String> = Vec::new();
        for mark in &notes.marks {
            if let Subject::Descriptor(descriptor) = &mark.subject {
                let word = subject_word(self.wheel(), &mark.subject);
                if !known.contains(descriptor) && !firsts.contains(&word) {
                    firsts.push(word);
                }
            }
        }
        Ok(Found {
            tasted_on: notes.tasted_on,
            notes,
            taster: row.taster.name,
            cap_mark: row.beer.cap_mark,
            firsts,
        })
    }
}

impl Found {
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
