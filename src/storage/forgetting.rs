//! Forgetting a taster: every row of theirs in one go, then every byte.

use rusqlite::params;

use crate::domain::Moment;
use crate::domain::SittingId;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

/// What was tried, for messages.
const STEP: &str = "forget a taster";

/// What an answer to a blind test is called whose taster was forgotten.
const NOBODY: &str = "somebody";

/// Seats at blind tests that stay: the result of a group rests on their answers, and who saw a key must
/// be counted among those who did.
const STAYING: &str = "SELECT seat.id, seat.sitting FROM seat
    JOIN test ON test.sitting = seat.sitting
    WHERE seat.taster = ?1
        AND (seat.key_seen_at IS NOT NULL OR EXISTS (SELECT 1 FROM answer WHERE answer.seat = seat.id))
    ORDER BY seat.rowid";

/// A taster who never was: made and removed when the test was planned, so that neither moment tells
/// which answers to other tests came from the same person. The name differs from that of everybody who
/// sits at the same test.
const ADD_NOBODY: &str = "INSERT INTO taster (id, name, folded_name, made_at, removed_at)
    SELECT ?1, ?2, ?3, sitting.made_at, sitting.made_at FROM sitting WHERE sitting.id = ?4";

/// The seat goes to nobody, who has left the table.
const SEAT_NOBODY: &str =
    "UPDATE seat SET taster = ?2, left_at = coalesce(left_at, ?3) WHERE id = ?1";

/// What goes, in an order in which nothing is left that hangs on what went before. Ratings, words,
/// watches and second sniffs go with their notes. What was summed up over an import rests on the
/// answers of all its tasters, so every sum of it goes.
const GOES: &[&str] = &[
    "DELETE FROM notes WHERE seat IN (SELECT id FROM seat WHERE taster = ?1)",
    "DELETE FROM serving WHERE seat IN (SELECT id FROM seat WHERE taster = ?1)",
    "DELETE FROM practice_answer WHERE seat IN (SELECT id FROM seat WHERE taster = ?1)",
    "DELETE FROM practice_option WHERE seat IN (SELECT id FROM seat WHERE taster = ?1)",
    "DELETE FROM practice_item WHERE seat IN (SELECT id FROM seat WHERE taster = ?1)",
    "DELETE FROM strength_answer WHERE seat IN (SELECT id FROM seat WHERE taster = ?1)",
    "DELETE FROM strength_glass WHERE seat IN (SELECT id FROM seat WHERE taster = ?1)",
    "DELETE FROM test_place WHERE seat IN (SELECT id FROM seat WHERE taster = ?1)",
    "DELETE FROM seat WHERE taster = ?1",
    "DELETE FROM course_person WHERE taster = ?1",
    "UPDATE panel SET poured_by = NULL WHERE poured_by = ?1",
    "DELETE FROM summary WHERE taster IN
        (SELECT others.number FROM import_taster AS own
         JOIN import_taster AS others ON others.import = own.import WHERE own.taster = ?1)",
    "UPDATE import SET ratings = ratings -
        (SELECT count(*) FROM import_rating JOIN import_taster
            ON import_taster.number = import_rating.taster
         WHERE import_taster.taster = ?1 AND import_taster.import = import.number)
     WHERE number IN (SELECT import FROM import_taster WHERE taster = ?1)",
    "DELETE FROM import_rating
     WHERE taster IN (SELECT number FROM import_taster WHERE taster = ?1)",
    "DELETE FROM import_seat
     WHERE taster IN (SELECT number FROM import_taster WHERE taster = ?1)",
    "DELETE FROM import_taster WHERE taster = ?1",
    "DELETE FROM taster WHERE id = ?1",
];

/// The open sittings, blind tests apart, at which a taster has a seat. A test is closed by people alone,
/// because its result is told then.
const OPEN_SITTINGS: &str = "SELECT DISTINCT sitting.id FROM sitting
    JOIN seat ON seat.sitting = sitting.id
    WHERE seat.taster = ?1 AND sitting.closed_at IS NULL
        AND NOT EXISTS (SELECT 1 FROM test WHERE test.sitting = sitting.id)";

/// Closes a sitting unless somebody still tastes at it: has open notes, none yet, or a glass to come.
const CLOSE: &str = "UPDATE sitting SET closed_at = ?2
    WHERE id = ?1 AND NOT EXISTS
        (SELECT 1 FROM seat WHERE seat.sitting = ?1 AND seat.left_at IS NULL
            AND (NOT EXISTS (SELECT 1 FROM notes WHERE notes.seat = seat.id)
                OR EXISTS (SELECT 1 FROM notes WHERE notes.seat = seat.id
                    AND notes.locked_at IS NULL AND notes.removed_at IS NULL)
                OR EXISTS (SELECT 1 FROM serving WHERE serving.seat = seat.id
                    AND NOT EXISTS (SELECT 1 FROM notes WHERE notes.seat = seat.id
                        AND notes.sample = serving.sample))))";

impl Store {
    /// Takes a taster and everything of theirs out of the file, all of it or nothing. Answers to blind
    /// tests stay as those of nobody, without words of their own; `draw` gives an id for each test.
    /// Sittings at which nobody is left tasting close at `now`. What was deleted is still to be rubbed
    /// out of the bytes, with [`Store::rub_out`].
    ///
    /// # Errors
    /// The taster is not stored, or the file refuses; nothing is changed then.
    pub fn forget_taster(
        &mut self,
        taster: &TasterId,
        now: Moment,
        mut draw: impl FnMut() -> TasterId,
    ) -> Result<(), StorageError> {
        self.leave_no_bytes(STEP)?;
        self.in_one_go(|store| {
            if store.taster(taster)?.is_none() {
                return Err(StorageError::Missing {
                    step: STEP,
                    what: "the taster",
                    id: taster.to_string(),
                });
            }
            let open = store.all(STEP, OPEN_SITTINGS, [taster.as_str()], |row| {
                row::id(row, "id", SittingId::new)
            })?;
            store.throw_out_with(taster)?;
            store.give_answers_to_nobody(taster, now, &mut draw)?;
            for sql in GOES {
                store.run(STEP, sql, [taster.as_str()])?;
            }
            for sitting in open {
                store.run(STEP, CLOSE, [sitting.as_str(), &now.to_string()])?;
            }
            store.drop_imports_of_nobody()
        })
    }

    /// Hands the seats that stay at blind tests to somebody who never was.
    fn give_answers_to_nobody(
        &self,
        taster: &TasterId,
        now: Moment,
        draw: &mut impl FnMut() -> TasterId,
    ) -> Result<(), StorageError> {
        self.run(
            STEP,
            "DELETE FROM answer_mark WHERE free IS NOT NULL AND answer IN
                 (SELECT answer.id FROM answer JOIN seat ON seat.id = answer.seat
                  WHERE seat.taster = ?1)",
            [taster.as_str()],
        )?;
        let seats = self.all(STEP, STAYING, [taster.as_str()], |row| {
            Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?))
        })?;
        for (seat, sitting) in seats {
            let nobody = draw();
            let name = self.free_name_at(&sitting)?;
            let values = params![nobody.as_str(), name, name, sitting];
            self.run(STEP, ADD_NOBODY, values)?;
            let values = params![seat, nobody.as_str(), now.to_string()];
            self.run(STEP, SEAT_NOBODY, values)?;
        }
        Ok(())
    }

    /// What a forgotten taster is called at a sitting: as nobody else there.
    fn free_name_at(&self, sitting: &str) -> Result<String, StorageError> {
        let taken = self.all(
            STEP,
            "SELECT taster.folded_name FROM seat JOIN taster ON taster.id = seat.taster
             WHERE seat.sitting = ?1",
            [sitting],
            |row| row.get::<_, String>(0),
        )?;
        let mut name = NOBODY.to_owned();
        let mut next = 2;
        while taken.contains(&name) {
            name = format!("{NOBODY} {next}");
            next += 1;
        }
        Ok(name)
    }

    /// An import in which nobody is left goes whole, with the name of its file.
    fn drop_imports_of_nobody(&self) -> Result<(), StorageError> {
        let nobody = "NOT IN (SELECT import FROM import_taster)";
        for table in ["import_sitting", "import_sample", "import_line"] {
            let sql = format!("DELETE FROM {table} WHERE import {nobody}");
            self.run(STEP, &sql, [])?;
        }
        let sql = format!("DELETE FROM import WHERE number {nobody}");
        self.run(STEP, &sql, [])?;
        self.run(
            STEP,
            "DELETE FROM removal WHERE kind = 'import' AND root NOT IN (SELECT CAST(number AS TEXT) FROM import)",
            [],
        )?;
        Ok(())
    }
}
