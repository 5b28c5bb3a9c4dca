//! Series from weak to strong: the drawn glasses, and answers that are only added.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::BlindingCode;
use crate::domain::PracticeAnswerId;
use crate::domain::Reveal;
use crate::domain::Scale;
use crate::domain::SeatId;
use crate::domain::SeriesStep;
use crate::domain::StrengthAnswer;
use crate::domain::StrengthGlass;
use crate::domain::StrengthReply;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Keeps the glasses drawn for the people of a practice.
    ///
    /// # Errors
    /// A seat is not stored, or the file refuses; nothing is stored then.
    pub fn add_strength_glasses(&mut self, glasses: &[StrengthGlass]) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            for it in glasses {
                store.run(
                    "keep the glasses of a series",
                    "INSERT INTO strength_glass (seat, position, scale, step, code)
                     VALUES (?1, ?2, ?3, ?4, ?5)",
                    params![
                        it.seat.as_str(),
                        it.position,
                        it.scale.id,
                        it.step.get(),
                        it.code.get(),
                    ],
                )?;
            }
            Ok(())
        })
    }

    /// The glasses of one person, in their order.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn strength_glasses(&self, seat: &SeatId) -> Result<Vec<StrengthGlass>, StorageError> {
        self.all(
            "read the glasses of a series",
            "SELECT * FROM strength_glass WHERE seat = ?1 ORDER BY position",
            [seat.as_str()],
            glass,
        )
    }

    /// Adds an answer.
    ///
    /// # Errors
    /// There is no such glass, the taster has left, or the file refuses.
    pub fn add_strength_answer(&mut self, it: &StrengthAnswer) -> Result<(), StorageError> {
        self.run(
            "keep how strong a glass was found",
            "INSERT INTO strength_answer (id, seat, position, reply, value, given_at)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![
                it.id.as_str(),
                it.seat.as_str(),
                it.position,
                it.reply.word(),
                it.reply.number(),
                it.given_at.to_string(),
            ],
        )?;
        Ok(())
    }

    /// The answers of one person to one series, in the order given.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn strength_answers(&self, seat: &SeatId) -> Result<Vec<StrengthAnswer>, StorageError> {
        self.all(
            "read how strong glasses were found",
            "SELECT * FROM strength_answer WHERE seat = ?1 ORDER BY given_at, rowid",
            [seat.as_str()],
            answer,
        )
    }

    /// The seats from which a taster ever answered a series, the oldest first, without tables at which
    /// somebody still tastes.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn strength_seats(&self, taster: &TasterId) -> Result<Vec<SeatId>, StorageError> {
        self.all(
            "read the series of a taster",
            "SELECT seat.id AS id FROM seat
             JOIN practice ON practice.sitting = seat.sitting
             WHERE seat.taster = ?1 AND practice.removed_at IS NULL
                 AND EXISTS (SELECT 1 FROM strength_glass WHERE strength_glass.seat = seat.id)
                 AND (practice.reveal <> ?2 OR NOT EXISTS
                     (SELECT 1 FROM seat AS other
                      WHERE other.sitting = seat.sitting AND other.left_at IS NULL))
             ORDER BY practice.made_at, seat.rowid",
            [taster.as_str(), Reveal::End.id()],
            |row| row::id(row, "id", SeatId::new),
        )
    }
}

fn step(row: &Row<'_>, column: &'static str) -> rusqlite::Result<SeriesStep> {
    SeriesStep::new(row.get(column)?).map_err(|invalid| row::unreadable(column, &invalid))
}

fn glass(row: &Row<'_>) -> rusqlite::Result<StrengthGlass> {
    let code = BlindingCode::new(row.get("code")?);
    Ok(StrengthGlass {
        seat: row::id(row, "seat", SeatId::new)?,
        position: row.get("position")?,
        scale: row::text(row, "scale", Scale::from_id)?,
        step: step(row, "step")?,
        code: code.map_err(|invalid| row::unreadable("code", &invalid))?,
    })
}

fn answer(row: &Row<'_>) -> rusqlite::Result<StrengthAnswer> {
    let word: String = row.get("reply")?;
    let reply = StrengthReply::from_parts(&word, row.get("value")?)
        .map_err(|invalid| row::unreadable("reply", &invalid))?;
    Ok(StrengthAnswer {
        id: row::id(row, "id", PracticeAnswerId::new)?,
        seat: row::id(row, "seat", SeatId::new)?,
        position: row.get("position")?,
        reply,
        given_at: row::moment(row, "given_at")?,
    })
}
