//! Sittings with their seats and samples.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::BeerId;
use crate::domain::BlindingCode;
use crate::domain::Invalid;
use crate::domain::Moment;
use crate::domain::Notes;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Seat;
use crate::domain::SeatId;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Opens a sitting with its first seat, its glass and the notes begun there.
    ///
    /// # Errors
    /// The taster or the beer is not stored, or the file refuses; nothing is stored then.
    pub fn open_sitting(
        &mut self,
        sitting: &Sitting,
        seat: &Seat,
        sample: &Sample,
        notes: &Notes,
    ) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            store.add_sitting(sitting, std::slice::from_ref(sample))?;
            store.join_sitting(seat, notes)
        })
    }

    /// Adds a sitting with its glasses, before anybody sits down.
    ///
    /// # Errors
    /// A beer is not stored, or the file refuses; nothing is stored then.
    pub fn add_sitting(
        &mut self,
        sitting: &Sitting,
        samples: &[Sample],
    ) -> Result<(), StorageError> {
        let step = "open a sitting";
        self.in_one_go(|store| {
            store.run(
                step,
                "INSERT INTO sitting (id, kind, seed, made_at, closed_at)
                 VALUES (?1, ?2, ?3, ?4, ?5)",
                params![
                    sitting.id.as_str(),
                    sitting.kind.id(),
                    sitting.seed.to_string(),
                    sitting.made_at.to_string(),
                    sitting.closed_at.map(|at| at.to_string()),
                ],
            )?;
            for sample in samples {
                store.run(
                    step,
                    "INSERT INTO sample (id, sitting, code, beer, duplicate_of)
                     VALUES (?1, ?2, ?3, ?4, ?5)",
                    params![
                        sample.id.as_str(),
                        sample.sitting.as_str(),
                        sample.code.get(),
                        sample.beer.as_str(),
                        sample.duplicate_of.as_ref().map(SampleId::as_str),
                    ],
                )?;
            }
            Ok(())
        })
    }

    /// Keeps which glass stands where before a taster: the first set, from the first place on.
    ///
    /// # Errors
    /// The seat or a sample is not stored, the set is there already, or the file refuses.
    pub fn add_serving(&mut self, seat: &SeatId, order: &[SampleId]) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            for (place, sample) in (1_i64..).zip(order) {
                store.run(
                    "keep a serving order",
                    "INSERT INTO serving (seat, set_number, position, sample)
                     VALUES (?1, 1, ?2, ?3)",
                    params![seat.as_str(), place, sample.as_str()],
                )?;
            }
            Ok(())
        })
    }

    /// The glasses before a taster in the order of their places; empty while none is kept.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn serving(&self, seat: &SeatId) -> Result<Vec<SampleId>, StorageError> {
        self.all(
            "read a serving order",
            "SELECT sample FROM serving WHERE seat = ?1 ORDER BY set_number, position",
            [seat.as_str()],
            |row| row::id(row, "sample", SampleId::new),
        )
    }

    /// The glasses of a sitting, in the order in which they were added.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn samples_of(&self, sitting: &SittingId) -> Result<Vec<Sample>, StorageError> {
        self.all(
            "read the glasses of a sitting",
            "SELECT id, sitting, code, beer, duplicate_of FROM sample
             WHERE sitting = ?1 ORDER BY rowid",
            [sitting.as_str()],
            sample,
        )
    }

    /// Exchanges the glasses of two open sets of notes of one seat and round: the cups turned out to
    /// stand the other way round.
    ///
    /// # Errors
    /// The notes are locked or not stored, or the file refuses; nothing is changed then.
    pub fn exchange_samples(&mut self, one: &Notes, other: &Notes) -> Result<(), StorageError> {
        let step = "exchange two glasses";
        self.in_one_go(|store| {
            // A seat has one set of notes a glass and round, so the first one steps aside.
            let moves = [
                (&one.id, &other.sample, u8::MAX),
                (&other.id, &one.sample, other.round),
                (&one.id, &other.sample, one.round),
            ];
            for (notes, sample, round) in moves {
                let changed = store.run(
                    step,
                    "UPDATE notes SET sample = ?2, round = ?3 WHERE id = ?1",
                    params![notes.as_str(), sample.as_str(), round],
                )?;
                found(changed, step, "the notes", notes.as_str())?;
            }
            Ok(())
        })
    }

    /// Adds a seat to a sitting, with the notes begun there.
    ///
    /// # Errors
    /// The sitting, taster or sample is not stored, or the file refuses; nothing is stored then.
    pub fn join_sitting(&mut self, seat: &Seat, notes: &Notes) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            store.add_seat(seat)?;
            store.add_notes(notes)
        })
    }

    /// Adds a seat to a sitting.
    ///
    /// # Errors
    /// The sitting or the taster is not stored, or the file refuses.
    pub(super) fn add_seat(&self, seat: &Seat) -> Result<(), StorageError> {
        self.run(
            "join a sitting",
            "INSERT INTO seat (id, sitting, taster, role, left_at)
             VALUES (?1, ?2, ?3, ?4, ?5)",
            params![
                seat.id.as_str(),
                seat.sitting.as_str(),
                seat.taster.as_str(),
                seat.role.id(),
                seat.left_at.map(|at| at.to_string()),
            ],
        )?;
        Ok(())
    }

    /// The sitting with this id, removed or not.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn sitting(&self, id: &SittingId) -> Result<Option<Sitting>, StorageError> {
        self.first(
            "read a sitting",
            "SELECT id AS sitting, kind, seed, made_at, closed_at FROM sitting WHERE id = ?1",
            [id.as_str()],
            sitting,
        )
    }

    /// The newest open sitting in which a beer is tasted by itself, with the glass it is in. One where nobody has open
    /// notes is none, though it was never closed: the last of them were removed.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn open_sitting_of(
        &self,
        beer: &BeerId,
    ) -> Result<Option<(Sitting, Sample)>, StorageError> {
        self.first(
            "read the open sitting of a beer",
            "SELECT sample.id, sample.sitting, code, beer, duplicate_of, kind, seed, made_at, closed_at
             FROM sample JOIN sitting ON sitting.id = sample.sitting
             WHERE beer = ?1 AND kind = 'tasting' AND closed_at IS NULL AND removed_at IS NULL
                 AND EXISTS (SELECT 1 FROM seat JOIN notes ON notes.seat = seat.id
                     WHERE seat.sitting = sitting.id AND seat.left_at IS NULL
                         AND notes.locked_at IS NULL AND notes.removed_at IS NULL)
             ORDER BY made_at DESC, sitting.rowid DESC LIMIT 1",
            [beer.as_str()],
            |row| Ok((sitting(row)?, sample(row)?)),
        )
    }

    /// Closes a sitting; the first closing is the one that counts.
    ///
    /// # Errors
    /// The sitting is not stored, or the file refuses.
    pub fn close_sitting(&mut self, id: &SittingId, at: Moment) -> Result<(), StorageError> {
        let step = "close a sitting";
        self.in_one_go(|store| {
            let changed = store.run(
                step,
                "UPDATE sitting SET closed_at = coalesce(closed_at, ?2) WHERE id = ?1",
                [id.as_str(), &at.to_string()],
            )?;
            found(changed, step, "the sitting", id.as_str())
        })
    }

    /// A taster leaves without locking; the first leaving is the one that counts.
    ///
    /// # Errors
    /// The seat is not stored, or the file refuses.
    pub fn leave_seat(&mut self, id: &SeatId, at: Moment) -> Result<(), StorageError> {
        let step = "leave a seat";
        self.in_one_go(|store| {
            let changed = store.run(
                step,
                "UPDATE seat SET left_at = coalesce(left_at, ?2) WHERE id = ?1",
                [id.as_str(), &at.to_string()],
            )?;
            found(changed, step, "the seat", id.as_str())
        })
    }
}

/// That a row was there to be changed.
fn found(
    changed: usize,
    step: &'static str,
    what: &'static str,
    id: &str,
) -> Result<(), StorageError> {
    if changed == 0 {
        return Err(StorageError::Missing {
            step,
            what,
            id: id.to_owned(),
        });
    }
    Ok(())
}

fn sitting(row: &Row<'_>) -> rusqlite::Result<Sitting> {
    Ok(Sitting {
        id: row::id(row, "sitting", SittingId::new)?,
        kind: row::text(row, "kind", SittingKind::from_id)?,
        seed: row::text(row, "seed", seed)?,
        made_at: row::moment(row, "made_at")?,
        closed_at: row::moment_or_none(row, "closed_at")?,
    })
}

/// Reads a seed.
pub(super) fn seed(found: &str) -> Result<u64, Invalid> {
    found.parse().map_err(|_| Invalid::Unreadable {
        what: "a seed",
        found: found.chars().take(40).collect(),
        example: "20260314",
    })
}

/// Reads the columns of a sample.
pub(super) fn sample(row: &Row<'_>) -> rusqlite::Result<Sample> {
    Ok(Sample {
        id: row::id(row, "id", SampleId::new)?,
        sitting: row::id(row, "sitting", SittingId::new)?,
        code: code(row, "code")?,
        beer: row::id(row, "beer", BeerId::new)?,
        duplicate_of: row::id_or_none(row, "duplicate_of", SampleId::new)?,
    })
}

/// Reads the column of a code.
pub(super) fn code(row: &Row<'_>, column: impl row::Column) -> rusqlite::Result<BlindingCode> {
    BlindingCode::new(row.get(column)?).map_err(|invalid| row::unreadable(column, &invalid))
}
