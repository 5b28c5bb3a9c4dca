//! Changes to open notes, one transaction for all that one key did.

use rusqlite::params;

use crate::domain::BottleFault;
use crate::domain::Knew;
use crate::domain::Mark;
use crate::domain::Nose;
use crate::domain::NotesChange;
use crate::domain::NotesId;
use crate::domain::Rating;
use crate::domain::Remark;
use crate::domain::Scale;
use crate::domain::Stopwatch;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::notes::subject_columns;

/// What was tried, for messages.
const STEP: &str = "change notes";

impl Store {
    /// Changes open notes, all of it or nothing.
    ///
    /// # Errors
    /// The notes are locked, are not stored, or the file refuses; nothing is stored then.
    pub fn change_notes(
        &mut self,
        notes: &NotesId,
        changes: &[NotesChange],
    ) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            let mut locked = store
                .first(
                    STEP,
                    "SELECT locked_at IS NOT NULL FROM notes WHERE id = ?1",
                    [notes.as_str()],
                    |row| row.get(0),
                )?
                .ok_or_else(|| StorageError::Missing {
                    step: STEP,
                    what: "the tasting",
                    id: notes.to_string(),
                })?;
            for change in changes {
                if locked {
                    return Err(StorageError::Locked {
                        notes: notes.clone(),
                    });
                }
                store.change(notes, change)?;
                locked = matches!(change, NotesChange::Locked(_));
            }
            Ok(())
        })
    }

    fn change(&self, notes: &NotesId, change: &NotesChange) -> Result<(), StorageError> {
        match change {
            NotesChange::Moved(field) => self.put(notes, "current_field", Some(&field.id())),
            NotesChange::Formed(form) => self.put(notes, "form", Some(form.id())),
            NotesChange::Knew(knew) => self.put(notes, "knew", knew.map(Knew::id)),
            NotesChange::Nosed(nose) => self.put(notes, "nose", nose.map(Nose::id)),
            NotesChange::Rated(scale, rating) => {
                self.take_away(notes, "rating", scale)?;
                rating.map_or(Ok(()), |rating| self.rate(notes, scale, rating))
            }
            NotesChange::Marked(mark) => self.mark(notes, mark),
            NotesChange::Unmarked(mark) => self.done(
                "DELETE FROM mark WHERE notes = ?1 AND id = ?2",
                [notes.as_str(), mark.as_str()],
            ),
            NotesChange::Watched(watch) => {
                self.take_away(notes, "stopwatch", watch.scale)?;
                self.watch(notes, watch)
            }
            NotesChange::Unwatched(scale) => self.take_away(notes, "stopwatch", scale),
            NotesChange::Remarked(remark) => {
                self.put(notes, "remark", remark.as_ref().map(Remark::as_str))
            }
            NotesChange::Faulted(fault) => {
                self.put(notes, "bottle_fault", fault.map(BottleFault::id))
            }
            // The first time the seal is broken is the one that counts.
            NotesChange::SealBroken(at) => self.done(
                "UPDATE notes SET seal_broken_at = coalesce(seal_broken_at, ?2) WHERE id = ?1",
                [notes.as_str(), &at.to_string()],
            ),
            NotesChange::Locked(at) => self.put(notes, "locked_at", Some(&at.to_string())),
        }
    }

    fn done(&self, sql: &str, values: impl rusqlite::Params) -> Result<(), StorageError> {
        self.run(STEP, sql, values).map(drop)
    }

    /// Writes one column of the notes; NULL takes the answer back.
    fn put(
        &self,
        notes: &NotesId,
        column: &'static str,
        value: Option<&str>,
    ) -> Result<(), StorageError> {
        self.done(
            &format!("UPDATE notes SET {column} = ?2 WHERE id = ?1"),
            params![notes.as_str(), value],
        )
    }

    /// Deletes what `table` has of a scale.
    fn take_away(
        &self,
        notes: &NotesId,
        table: &'static str,
        scale: &Scale,
    ) -> Result<(), StorageError> {
        self.done(
            &format!("DELETE FROM {table} WHERE notes = ?1 AND scale = ?2"),
            [notes.as_str(), scale.id],
        )
    }

    fn rate(&self, notes: &NotesId, scale: &Scale, rating: Rating) -> Result<(), StorageError> {
        self.done(
            "INSERT INTO rating (notes, scale, value, state, position)
             SELECT ?1, ?2, ?3, ?4, coalesce(max(position) + 1, 1) FROM rating WHERE notes = ?1",
            params![notes.as_str(), scale.id, rating.value(), rating.state()],
        )
    }

    fn watch(&self, notes: &NotesId, watch: &Stopwatch) -> Result<(), StorageError> {
        self.done(
            "INSERT INTO stopwatch (notes, scale, started_at, stopped_at, position)
             SELECT ?1, ?2, ?3, ?4, coalesce(max(position) + 1, 1) FROM stopwatch WHERE notes = ?1",
            params![
                notes.as_str(),
                watch.scale.id,
                watch.started_at.to_string(),
                watch.stopped_at.map(|at| at.to_string()),
            ],
        )
    }

    /// Adds a mark at the end, or changes the one with its id where it stands.
    fn mark(&self, notes: &NotesId, mark: &Mark) -> Result<(), StorageError> {
        let columns = subject_columns(&mark.subject);
        let changed = self.run(
            STEP,
            "INSERT INTO mark
                 (id, notes, stage, descriptor, shelf, place, free, intensity, prompting, position)
             SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, coalesce(max(position) + 1, 1)
             FROM mark WHERE notes = ?2
             ON CONFLICT (id) DO UPDATE SET
                 stage = excluded.stage, descriptor = excluded.descriptor,
                 shelf = excluded.shelf, place = excluded.place, free = excluded.free,
                 intensity = excluded.intensity, prompting = excluded.prompting
             WHERE mark.notes = excluded.notes",
            params![
                mark.id.as_str(),
                notes.as_str(),
                mark.stage.id(),
                columns[0],
                columns[1],
                columns[2],
                columns[3],
                mark.intensity,
                mark.prompting.id(),
            ],
        )?;
        if changed == 0 {
            return Err(StorageError::Taken {
                what: "the id of a mark",
                found: mark.id.to_string(),
            });
        }
        Ok(())
    }
}
