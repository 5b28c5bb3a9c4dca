//! How much the file holds of one person.

use rusqlite::Row;

use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;

/// How much the file holds of one person.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Traces {
    /// Sets of notes.
    pub notes: u32,
    /// How many of them are neither locked nor left.
    pub open_notes: u32,
    /// Answers in practice, those to series from weak to strong among them.
    pub practice_answers: u32,
    /// Answers in blind tests, corrected ones among them.
    pub blind_answers: u32,
    /// Ratings that were kept elsewhere and read in.
    pub imported_ratings: u32,
    /// Courses they belong to.
    pub courses: u32,
    /// Photographs with their notes.
    pub photographs: u32,
    /// Things that were removed and can still be brought back, in which they are found.
    pub removals: u32,
}

/// Everything but photographs and what was removed.
const COUNTED: &str = "SELECT
    (SELECT count(*) FROM seat JOIN notes ON notes.seat = seat.id WHERE seat.taster = ?1) AS notes,
    (SELECT count(*) FROM seat JOIN notes ON notes.seat = seat.id
        WHERE seat.taster = ?1 AND seat.left_at IS NULL AND notes.locked_at IS NULL
            AND notes.removed_at IS NULL) AS open_notes,
    (SELECT count(*) FROM seat JOIN practice_answer ON practice_answer.seat = seat.id
        WHERE seat.taster = ?1)
    + (SELECT count(*) FROM seat JOIN strength_answer ON strength_answer.seat = seat.id
        WHERE seat.taster = ?1) AS practice_answers,
    (SELECT count(*) FROM seat JOIN answer ON answer.seat = seat.id
        WHERE seat.taster = ?1) AS blind_answers,
    (SELECT count(*) FROM import_rating
        WHERE taster IN (SELECT number FROM import_taster WHERE taster = ?1)) AS imported_ratings,
    (SELECT count(*) FROM course_person JOIN course ON course.id = course_person.course
        WHERE course_person.taster = ?1 AND course.removed_at IS NULL) AS courses";

impl Store {
    /// How much there is of a taster, in every table.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn traces(&self, taster: &TasterId) -> Result<Traces, StorageError> {
        let step = "count what there is of a taster";
        let found = self.first(step, COUNTED, [taster.as_str()], traces)?;
        Ok(Traces {
            photographs: self.photographs_of_taster(taster)?,
            removals: self.removals_with(taster)?,
            ..found.unwrap_or_default()
        })
    }

    /// How many photographs there are with the notes of a taster.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn photographs_of_taster(&self, taster: &TasterId) -> Result<u32, StorageError> {
        let found = self.first(
            "count the photographs of a taster",
            "SELECT count(*) AS photographs FROM seat JOIN notes ON notes.seat = seat.id
             JOIN photograph ON photograph.notes = notes.id
             WHERE seat.taster = ?1 AND photograph.removed_at IS NULL",
            [taster.as_str()],
            |row| row.get("photographs"),
        )?;
        Ok(found.unwrap_or(0))
    }
}

fn traces(row: &Row<'_>) -> rusqlite::Result<Traces> {
    Ok(Traces {
        notes: row.get("notes")?,
        open_notes: row.get("open_notes")?,
        practice_answers: row.get("practice_answers")?,
        blind_answers: row.get("blind_answers")?,
        imported_ratings: row.get("imported_ratings")?,
        courses: row.get("courses")?,
        ..Traces::default()
    })
}
