//! Notes with everything that hangs on them, written and read whole.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::BottleFault;
use crate::domain::Day;
use crate::domain::DescriptorId;
use crate::domain::Form;
use crate::domain::Invalid;
use crate::domain::Knew;
use crate::domain::Mark;
use crate::domain::MarkId;
use crate::domain::Nose;
use crate::domain::Notes;
use crate::domain::NotesChange;
use crate::domain::NotesId;
use crate::domain::NotesSource;
use crate::domain::PlaceId;
use crate::domain::Prompting;
use crate::domain::Rating;
use crate::domain::Remark;
use crate::domain::SampleId;
use crate::domain::Scale;
use crate::domain::SeatId;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::Stopwatch;
use crate::domain::Subject;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Adds notes to a seat that is stored, such as those of a second round.
    ///
    /// # Errors
    /// The seat or sample is not stored, the seat has notes of this round on this sample, or the
    /// file refuses; nothing is stored then.
    pub fn add_notes(&mut self, notes: &Notes) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            store.add_notes_alone(notes)?;
            let ratings = notes
                .ratings
                .iter()
                .map(|(scale, rating)| NotesChange::Rated(scale, Some(*rating)));
            let marks = notes.marks.iter().cloned().map(NotesChange::Marked);
            let watches = notes.stopwatches.iter().copied().map(NotesChange::Watched);
            // What is locked takes nothing more, so the lock comes last.
            let lock = notes.locked_at.map(NotesChange::Locked);
            let changes: Vec<NotesChange> =
                ratings.chain(marks).chain(watches).chain(lock).collect();
            store.change_notes(&notes.id, &changes)
        })
    }

    /// Adds the row of the notes, still open.
    fn add_notes_alone(&self, notes: &Notes) -> Result<(), StorageError> {
        self.run(
            "add notes",
            "INSERT INTO notes (id, seat, sample, round, form, source, knew, nose, tasted_on,
                 typed_on, current_field, seal_broken_at, bottle_fault, remark)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14)",
            params![
                notes.id.as_str(),
                notes.seat.as_str(),
                notes.sample.as_str(),
                notes.round,
                notes.form.id(),
                notes.source.id(),
                notes.knew.map(Knew::id),
                notes.nose.map(Nose::id),
                notes.tasted_on.to_string(),
                notes.typed_on.to_string(),
                notes.current_field,
                notes.seal_broken_at.map(|at| at.to_string()),
                notes.bottle_fault.map(BottleFault::id),
                notes.remark.as_ref().map(Remark::as_str),
            ],
        )?;
        Ok(())
    }

    /// The notes with this id, removed or not, with their ratings, marks and stopwatches.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn notes(&self, id: &NotesId) -> Result<Option<Notes>, StorageError> {
        let step = "read notes";
        self.as_of_now(|| {
            let alone = self.first(
                step,
                &format!("SELECT {ALONE} FROM notes WHERE id = ?1"),
                [id.as_str()],
                |row| notes_alone(row, 0),
            )?;
            let Some(mut notes) = alone else {
                return Ok(None);
            };
            notes.ratings = self.all(
                step,
                &format!("SELECT {RATING} FROM rating WHERE notes = ?1 ORDER BY position"),
                [id.as_str()],
                rating,
            )?;
            notes.marks = self.all(
                step,
                &format!("SELECT {MARK} FROM mark WHERE notes = ?1 ORDER BY position"),
                [id.as_str()],
                mark,
            )?;
            notes.stopwatches = self.all(
                step,
                &format!("SELECT {STOPWATCH} FROM stopwatch WHERE notes = ?1 ORDER BY position"),
                [id.as_str()],
                stopwatch,
            )?;
            Ok(Some(notes))
        })
    }
}

/// What [`notes_alone`] reads, by place.
pub(super) const ALONE: &str =
    "notes.id, notes.seat, notes.sample, notes.round, notes.form, notes.source,
        notes.knew, notes.nose, notes.tasted_on, notes.typed_on, notes.current_field,
        notes.seal_broken_at, notes.locked_at, notes.bottle_fault, notes.remark";

/// Notes without what hangs on them, from the columns [`ALONE`], of which the first stands at `from`.
pub(super) fn notes_alone(row: &Row<'_>, from: usize) -> rusqlite::Result<Notes> {
    Ok(Notes {
        id: row::id(row, from, NotesId::new)?,
        seat: row::id(row, from + 1, SeatId::new)?,
        sample: row::id(row, from + 2, SampleId::new)?,
        round: row.get(from + 3)?,
        form: row::text(row, from + 4, Form::from_id)?,
        source: row::text(row, from + 5, NotesSource::from_id)?,
        knew: row::text_or_none(row, from + 6, Knew::from_id)?,
        nose: row::text_or_none(row, from + 7, Nose::from_id)?,
        tasted_on: row::text(row, from + 8, Day::parse)?,
        typed_on: row::moment(row, from + 9)?,
        current_field: row.get(from + 10)?,
        seal_broken_at: row::moment_or_none(row, from + 11)?,
        locked_at: row::moment_or_none(row, from + 12)?,
        bottle_fault: row::text_or_none(row, from + 13, BottleFault::from_id)?,
        remark: row::text_or_none(row, from + 14, |found| Remark::new("a remark", found))?,
        ratings: Vec::new(),
        marks: Vec::new(),
        stopwatches: Vec::new(),
    })
}

/// What [`rating`] reads, by place: notes hold many of them.
pub(super) const RATING: &str = "notes, position, scale, state, value";

/// What [`mark`] reads, by place.
pub(super) const MARK: &str =
    "notes, position, id, stage, intensity, prompting, descriptor, shelf, place, free";

/// What [`stopwatch`] reads, by place.
pub(super) const STOPWATCH: &str = "notes, position, scale, started_at, stopped_at";

pub(super) fn rating(row: &Row<'_>) -> rusqlite::Result<(&'static Scale, Rating)> {
    let scale = row::text(row, 2, Scale::from_id)?;
    let value: Option<f64> = row.get(4)?;
    let rating = row::text(row, 3, |state| match (state, value) {
        ("rated", Some(value)) => Ok(Rating::Rated(value)),
        ("skipped", None) => Ok(Rating::Skipped),
        ("cannot-tell", None) => Ok(Rating::CannotTell),
        _ => Err(Invalid::NotAChoice {
            what: "the state of an answer",
            found: state.chars().take(60).collect(),
            choices: "rated with a value, skipped, cannot-tell".to_owned(),
        }),
    })?;
    Ok((scale, rating))
}

/// The columns descriptor, shelf, place and free of what a mark names.
pub(super) fn subject_columns(subject: &Subject) -> [Option<&str>; 4] {
    match subject {
        Subject::Descriptor(id) => [Some(id.as_str()), None, None, None],
        Subject::Shelf(id) => [None, Some(id.as_str()), None, None],
        Subject::Place(id) => [None, None, Some(id.as_str()), None],
        Subject::Free(words) => [None, None, None, Some(words.as_str())],
    }
}

/// Reads the columns of what a mark names.
pub(super) fn subject(row: &Row<'_>) -> rusqlite::Result<Subject> {
    subject_at(row, ["descriptor", "shelf", "place", "free"])
}

/// Reads what a mark names from these columns.
pub(super) fn subject_at<C: row::Column>(
    row: &Row<'_>,
    [descriptor, shelf, place, free]: [C; 4],
) -> rusqlite::Result<Subject> {
    if let Some(id) = row::text_or_none(row, descriptor, DescriptorId::new)? {
        return Ok(Subject::Descriptor(id));
    }
    if let Some(id) = row::text_or_none(row, shelf, ShelfId::new)? {
        return Ok(Subject::Shelf(id));
    }
    if let Some(id) = row::text_or_none(row, place, PlaceId::new)? {
        return Ok(Subject::Place(id));
    }
    let free = row::text_or_none(row, free, |found| Remark::new("a free word", found))?;
    let nothing = || row::unreadable(descriptor, Invalid::Empty { what: "a mark" });
    free.map(Subject::Free).ok_or_else(nothing)
}

pub(super) fn mark(row: &Row<'_>) -> rusqlite::Result<Mark> {
    Ok(Mark {
        id: row::id(row, 2, MarkId::new)?,
        stage: row::text(row, 3, Stage::from_id)?,
        subject: subject_at(row, [6, 7, 8, 9])?,
        intensity: row.get(4)?,
        prompting: row::text(row, 5, Prompting::from_id)?,
    })
}

pub(super) fn stopwatch(row: &Row<'_>) -> rusqlite::Result<Stopwatch> {
    Ok(Stopwatch {
        scale: row::text(row, 2, Scale::from_id)?,
        started_at: row::moment(row, 3)?,
        stopped_at: row::moment_or_none(row, 4)?,
    })
}
