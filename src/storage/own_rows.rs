//! What is one person's own in tables that hold many: their seats, their answers, their imported ratings.

use std::collections::HashSet;

use rusqlite::Row;

use crate::domain::Day;
use crate::domain::Invalid;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::PanelRating;
use crate::domain::SeatId;
use crate::domain::SeatRole;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::domain::TestAnswer;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::notes;
use crate::storage::row;
use crate::storage::test_answers;

/// One seat of a person, with the sitting it belongs to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnSeat {
    /// The seat.
    pub seat: SeatId,
    /// Its sitting.
    pub sitting: SittingId,
    /// What kind of sitting.
    pub kind: SittingKind,
    /// What the person does in it.
    pub role: SeatRole,
    /// When the sitting was opened.
    pub made_at: Moment,
    /// When the person left without locking, or at the end of a practice or test.
    pub left_at: Option<Moment>,
    /// When they saw the key of a blind test.
    pub key_seen_at: Option<Moment>,
}

impl Store {
    /// Every seat a taster ever had at a blind test or in a practice, the oldest first.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn test_and_practice_seats(&self, taster: &TasterId) -> Result<Vec<OwnSeat>, StorageError> {
        self.all(
            "read the seats of a taster",
            "SELECT seat.id, seat.sitting, sitting.kind, seat.role, sitting.made_at, seat.left_at,
                 seat.key_seen_at
             FROM (SELECT sitting FROM practice UNION ALL SELECT sitting FROM test) AS held
             CROSS JOIN sitting ON sitting.id = held.sitting CROSS JOIN seat ON seat.sitting = sitting.id
             WHERE seat.taster = ?1 AND sitting.kind IN ('practice', 'test') AND sitting.removed_at IS NULL
             ORDER BY sitting.made_at, seat.rowid",
            [taster.as_str()],
            own_seat,
        )
    }

    /// Every answer to a blind test from one seat, in the order given, corrected ones too.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn answers_from(&self, seat: &SeatId) -> Result<Vec<TestAnswer>, StorageError> {
        let step = "read the answers of a taster to a test";
        let mut answers = self.all(
            step,
            "SELECT * FROM answer WHERE seat = ?1 ORDER BY given_at, rowid",
            [seat.as_str()],
            test_answers::answer,
        )?;
        for it in &mut answers {
            it.words = self.all(
                step,
                "SELECT * FROM answer_mark WHERE answer = ?1 ORDER BY position",
                [it.id.as_str()],
                notes::subject,
            )?;
        }
        Ok(answers)
    }

    /// The sittings of which it is told what was in their coded glasses: they are closed, and at a panel the bottles
    /// were named.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn told_sittings(&self) -> Result<HashSet<SittingId>, StorageError> {
        let told = self.all(
            "read of which sittings the glasses are told",
            "SELECT id FROM sitting WHERE kind <> 'tasting' AND closed_at IS NOT NULL AND id NOT IN
                 (SELECT sitting FROM panel WHERE told_at IS NULL)",
            [],
            |row| row::id(row, 0, SittingId::new),
        )?;
        Ok(told.into_iter().collect())
    }

    /// The ratings of a taster that were kept elsewhere and read in, import by import.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn imported_ratings_of(&self, taster: &Taster) -> Result<Vec<PanelRating>, StorageError> {
        self.all(
            "read the imported ratings of a taster",
            "SELECT import_sitting.name AS sitting, import_sitting.tasted_on,
                 import_sample.name AS sample, import_line.name AS line,
                 import_rating.replicate, import_rating.digits
             FROM import_taster
             JOIN import ON import.number = import_taster.import AND import.removed_at IS NULL
             JOIN import_rating ON import_rating.taster = import_taster.number
             JOIN import_sitting ON import_sitting.number = import_rating.sitting
             JOIN import_sample ON import_sample.number = import_rating.sample
             JOIN import_line ON import_line.number = import_rating.line
             WHERE import_taster.taster = ?1
             ORDER BY import_taster.import, import_rating.sitting, import_rating.line,
                 import_rating.sample, import_rating.replicate",
            [taster.id.as_str()],
            |row| imported(row, &taster.name),
        )
    }

    /// The numbers of the panels that a taster poured.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn panels_poured_by(&self, taster: &TasterId) -> Result<Vec<u32>, StorageError> {
        self.all(
            "read the panels that a taster poured",
            "SELECT number FROM panel WHERE poured_by = ?1 AND removed_at IS NULL ORDER BY number",
            [taster.as_str()],
            |row| row.get("number"),
        )
    }
}

fn own_seat(row: &Row<'_>) -> rusqlite::Result<OwnSeat> {
    Ok(OwnSeat {
        seat: row::id(row, "id", SeatId::new)?,
        sitting: row::id(row, "sitting", SittingId::new)?,
        kind: row::text(row, "kind", SittingKind::from_id)?,
        role: row::text(row, "role", SeatRole::from_id)?,
        made_at: row::moment(row, "made_at")?,
        left_at: row::moment_or_none(row, "left_at")?,
        key_seen_at: row::moment_or_none(row, "key_seen_at")?,
    })
}

fn imported(row: &Row<'_>, taster: &Name) -> rusqlite::Result<PanelRating> {
    let replicate: i64 = row.get("replicate")?;
    let replicate = u16::try_from(replicate).map_err(|_| {
        let found = replicate.to_string();
        let what = "the number of a glass";
        let example = "1";
        let invalid = Invalid::Unreadable {
            what,
            found,
            example,
        };
        row::unreadable("replicate", &invalid)
    })?;
    Ok(PanelRating {
        taster: taster.clone(),
        sitting: row::name(row, "sitting")?,
        sample: row::name(row, "sample")?,
        replicate,
        tasted_on: row::text(row, "tasted_on", Day::parse)?,
        line: row::name(row, "line")?,
        digits: row.get("digits")?,
    })
}
