//! Practice: drawn items that stay, and answers that are only added.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::BlindingCode;
use crate::domain::Certainty;
use crate::domain::DescriptorId;
use crate::domain::Invalid;
use crate::domain::ItemForm;
use crate::domain::Moment;
use crate::domain::PlaceId;
use crate::domain::Practice;
use crate::domain::PracticeAnswer;
use crate::domain::PracticeAnswerId;
use crate::domain::PracticeItem;
use crate::domain::PracticeKind;
use crate::domain::PracticeReply;
use crate::domain::Reveal;
use crate::domain::Seat;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::ShelfId;
use crate::domain::Sitting;
use crate::domain::SittingId;
use crate::domain::Spiked;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Opens a practice with its people and everything drawn for them.
    ///
    /// # Errors
    /// A taster is not stored, or the file refuses; nothing is stored then.
    pub fn add_practice(
        &mut self,
        practice: &Practice,
        sitting: &Sitting,
        seats: &[Seat],
        items: &[PracticeItem],
    ) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            store.add_sitting(sitting, &[])?;
            for seat in seats {
                store.add_seat(seat)?;
            }
            store.run(
                "open a practice",
                "INSERT INTO practice (sitting, kind, reveal, made_at) VALUES (?1, ?2, ?3, ?4)",
                params![
                    practice.sitting.as_str(),
                    practice.kind.id(),
                    practice.reveal.id(),
                    sitting.made_at.to_string(),
                ],
            )?;
            items.iter().try_for_each(|it| store.add_practice_item(it))
        })
    }

    fn add_practice_item(&self, it: &PracticeItem) -> Result<(), StorageError> {
        let step = "keep what is asked in a practice";
        self.run(
            step,
            "INSERT INTO practice_item (seat, position, form, descriptor, code, spiked)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![
                it.seat.as_str(),
                it.position,
                it.form.id(),
                it.descriptor.as_str(),
                it.code.map(BlindingCode::get),
                it.spiked.map(Spiked::id),
            ],
        )?;
        for (place, option) in (1_i64..).zip(&it.options) {
            self.run(
                step,
                "INSERT INTO practice_option (seat, position, place, descriptor)
                 VALUES (?1, ?2, ?3, ?4)",
                params![it.seat.as_str(), it.position, place, option.as_str()],
            )?;
        }
        Ok(())
    }

    /// The practice of a sitting.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn practice(&self, sitting: &SittingId) -> Result<Option<Practice>, StorageError> {
        self.first(
            "read a practice",
            "SELECT * FROM practice WHERE sitting = ?1 AND removed_at IS NULL",
            [sitting.as_str()],
            practice,
        )
    }

    /// What is asked of one person, in their order.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn practice_items(&self, seat: &SeatId) -> Result<Vec<PracticeItem>, StorageError> {
        let mut items = self.all(
            "read what is asked in a practice",
            "SELECT * FROM practice_item WHERE seat = ?1 ORDER BY position",
            [seat.as_str()],
            item,
        )?;
        for it in &mut items {
            it.options = self.all(
                "read what can be chosen in a practice",
                "SELECT descriptor FROM practice_option WHERE seat = ?1 AND position = ?2
                 ORDER BY place",
                params![seat.as_str(), it.position],
                |row| row::text(row, "descriptor", DescriptorId::new),
            )?;
        }
        Ok(items)
    }

    /// Adds an answer.
    ///
    /// # Errors
    /// Nothing of the kind was asked, or the file refuses.
    pub fn add_practice_answer(&mut self, it: &PracticeAnswer) -> Result<(), StorageError> {
        let (reply, chosen) = it.reply.parts();
        self.run(
            "keep an answer of a practice",
            "INSERT INTO practice_answer (id, seat, position, reply, chosen, certainty, given_at)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            params![
                it.id.as_str(),
                it.seat.as_str(),
                it.position,
                reply,
                chosen,
                it.certainty.map(Certainty::percent),
                it.given_at.to_string(),
            ],
        )?;
        Ok(())
    }

    /// The answers of one person in one practice, in the order given.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn practice_answers(&self, seat: &SeatId) -> Result<Vec<PracticeAnswer>, StorageError> {
        self.all(
            "read the answers of a practice",
            "SELECT * FROM practice_answer WHERE seat = ?1 ORDER BY given_at, rowid",
            [seat.as_str()],
            answer,
        )
    }

    /// Everything that was ever asked of a taster in practice, the oldest first, without the options; the
    /// check of a course is left out, because it is no practice, and so is a table at which somebody still
    /// smells.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn practised_items(&self, taster: &TasterId) -> Result<Vec<PracticeItem>, StorageError> {
        self.all(
            "read what a taster practised",
            "SELECT practice_item.* FROM practice_item
             JOIN seat ON seat.id = practice_item.seat
             JOIN practice ON practice.sitting = seat.sitting
             WHERE seat.taster = ?1 AND practice.removed_at IS NULL AND practice.reveal <> ?2
                 AND (practice.reveal <> ?3 OR NOT EXISTS
                     (SELECT 1 FROM seat AS other
                      WHERE other.sitting = practice.sitting AND other.left_at IS NULL))
             ORDER BY practice.made_at, practice_item.seat, practice_item.position",
            [taster.as_str(), Reveal::Course.id(), Reveal::End.id()],
            item,
        )
    }

    /// Every answer that a taster ever gave in practice, in the order given, without the check of a
    /// course and without tables at which somebody still smells.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn practised_answers(
        &self,
        taster: &TasterId,
    ) -> Result<Vec<PracticeAnswer>, StorageError> {
        self.all(
            "read the answers of a taster in practice",
            "SELECT practice_answer.* FROM practice_answer
             JOIN seat ON seat.id = practice_answer.seat
             JOIN practice ON practice.sitting = seat.sitting
             WHERE seat.taster = ?1 AND practice.removed_at IS NULL AND practice.reveal <> ?2
                 AND (practice.reveal <> ?3 OR NOT EXISTS
                     (SELECT 1 FROM seat AS other
                      WHERE other.sitting = practice.sitting AND other.left_at IS NULL))
             ORDER BY practice_answer.given_at, practice_answer.rowid",
            [taster.as_str(), Reveal::Course.id(), Reveal::End.id()],
            answer,
        )
    }

    /// The practices of a taster that nobody has closed and the taster has not left, the newest first.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn open_practices(&self, taster: &TasterId) -> Result<Vec<SittingId>, StorageError> {
        self.all(
            "read open practices",
            "SELECT practice.sitting AS id FROM practice
             JOIN sitting ON sitting.id = practice.sitting
             JOIN seat ON seat.sitting = sitting.id
             WHERE seat.taster = ?1 AND seat.left_at IS NULL AND sitting.closed_at IS NULL
                 AND practice.removed_at IS NULL
             ORDER BY practice.made_at DESC",
            [taster.as_str()],
            |row| row::id(row, "id", SittingId::new),
        )
    }

    /// Every practice of a taster with its moment, the oldest first.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn practice_moments(
        &self,
        taster: &TasterId,
    ) -> Result<Vec<(SittingId, Moment)>, StorageError> {
        self.all(
            "read when a taster practised",
            "SELECT DISTINCT practice.sitting, practice.made_at FROM practice
             JOIN seat ON seat.sitting = practice.sitting
             WHERE seat.taster = ?1 AND practice.removed_at IS NULL
             ORDER BY practice.made_at, practice.rowid",
            [taster.as_str()],
            |row| {
                let sitting = row::id(row, "sitting", SittingId::new)?;
                Ok((sitting, row::moment(row, "made_at")?))
            },
        )
    }

    /// The people of a sitting, in the order they joined.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn seats_of(&self, sitting: &SittingId) -> Result<Vec<Seat>, StorageError> {
        self.all(
            "read who sits in a sitting",
            "SELECT * FROM seat WHERE sitting = ?1 ORDER BY rowid",
            [sitting.as_str()],
            |row| {
                Ok(Seat {
                    id: row::id(row, "id", SeatId::new)?,
                    sitting: row::id(row, "sitting", SittingId::new)?,
                    taster: row::id(row, "taster", TasterId::new)?,
                    role: row::text(row, "role", SeatRole::from_id)?,
                    left_at: row::moment_or_none(row, "left_at")?,
                })
            },
        )
    }
}

fn practice(row: &Row<'_>) -> rusqlite::Result<Practice> {
    Ok(Practice {
        sitting: row::id(row, "sitting", SittingId::new)?,
        kind: row::text(row, "kind", PracticeKind::from_id)?,
        reveal: row::text(row, "reveal", Reveal::from_id)?,
    })
}

fn item(row: &Row<'_>) -> rusqlite::Result<PracticeItem> {
    let code: Option<u16> = row.get("code")?;
    let code = code.map(BlindingCode::new).transpose();
    Ok(PracticeItem {
        seat: row::id(row, "seat", SeatId::new)?,
        position: row.get("position")?,
        form: row::text(row, "form", ItemForm::from_id)?,
        descriptor: row::text(row, "descriptor", DescriptorId::new)?,
        options: Vec::new(),
        code: code.map_err(|invalid| row::unreadable("code", &invalid))?,
        spiked: row::text_or_none(row, "spiked", Spiked::from_id)?,
    })
}

fn answer(row: &Row<'_>) -> rusqlite::Result<PracticeAnswer> {
    let certainty: Option<u8> = row.get("certainty")?;
    let certainty = certainty.map(Certainty::new).transpose();
    Ok(PracticeAnswer {
        id: row::id(row, "id", PracticeAnswerId::new)?,
        seat: row::id(row, "seat", SeatId::new)?,
        position: row.get("position")?,
        reply: reply(row)?,
        certainty: certainty.map_err(|invalid| row::unreadable("certainty", &invalid))?,
        given_at: row::moment(row, "given_at")?,
    })
}

fn reply(row: &Row<'_>) -> rusqlite::Result<PracticeReply> {
    let kind: String = row.get("reply")?;
    Ok(match kind.as_str() {
        "place" => PracticeReply::Place(row::text(row, "chosen", PlaceId::new)?),
        "shelf" => PracticeReply::Shelf(row::text(row, "chosen", ShelfId::new)?),
        "word" => PracticeReply::Word(row::text(row, "chosen", DescriptorId::new)?),
        "presence" => PracticeReply::Presence(row::text(row, "chosen", Spiked::from_id)?),
        "cannot-tell" => PracticeReply::CannotTell,
        other => {
            let invalid = Invalid::NotAChoice {
                what: "an answer of a practice",
                found: other.chars().take(60).collect(),
                choices: "place, shelf, word, presence, cannot-tell".to_owned(),
            };
            return Err(row::unreadable("reply", &invalid));
        }
    })
}
