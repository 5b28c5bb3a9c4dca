//! The answers of a blind test: each on disk when given, none changed, a correction beside what it corrects.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::NotesSource;
use crate::domain::SampleId;
use crate::domain::SeatId;
use crate::domain::Subject;
use crate::domain::Sureness;
use crate::domain::TestAnswer;
use crate::domain::TestAnswerId;
use crate::domain::TestId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::notes;
use crate::storage::row;

impl Store {
    /// Stores an answer whole.
    ///
    /// # Errors
    /// The seat has answered this set and the answer corrects nothing, the taster has left, the test is
    /// closed, or the file refuses; nothing is stored then.
    pub fn add_answer(&mut self, answer: &TestAnswer) -> Result<(), StorageError> {
        let step = "keep an answer";
        self.in_one_go(|store| {
            store.run(
                step,
                "INSERT INTO answer (id, seat, round, chosen, sureness, prefers, source, given_at,
                     replaces)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
                params![
                    answer.id.as_str(),
                    answer.seat.as_str(),
                    answer.round,
                    answer.chosen.as_str(),
                    answer.sureness.map(Sureness::id),
                    answer.prefers.as_ref().map(SampleId::as_str),
                    answer.source.id(),
                    answer.given_at.to_string(),
                    answer.replaces.as_ref().map(TestAnswerId::as_str),
                ],
            )?;
            for (position, word) in (1_i64..).zip(&answer.words) {
                let [descriptor, shelf, place, free] = notes::subject_columns(word);
                store.run(
                    step,
                    "INSERT INTO answer_mark (answer, position, descriptor, shelf, place, free)
                     VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
                    params![answer.id.as_str(), position, descriptor, shelf, place, free],
                )?;
            }
            Ok(())
        })
    }

    /// The answers of a test that stand: of each set the last one, by place and round.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn answers(&self, test: &TestId) -> Result<Vec<TestAnswer>, StorageError> {
        let step = "read the answers of a test";
        let mut answers = self.all(
            step,
            "SELECT answer.* FROM answer JOIN test_place ON test_place.seat = answer.seat
             WHERE test_place.test = ?1
                 AND NOT EXISTS (SELECT 1 FROM answer AS later WHERE later.replaces = answer.id)
             ORDER BY test_place.place, answer.round",
            [test.as_str()],
            answer,
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
}

/// Reads the row of an answer, without its words.
pub(super) fn answer(row: &Row<'_>) -> rusqlite::Result<TestAnswer> {
    Ok(TestAnswer {
        id: row::id(row, "id", TestAnswerId::new)?,
        seat: row::id(row, "seat", SeatId::new)?,
        round: row.get("round")?,
        chosen: row::id(row, "chosen", SampleId::new)?,
        sureness: row::text_or_none(row, "sureness", Sureness::from_id)?,
        prefers: row::id_or_none(row, "prefers", SampleId::new)?,
        words: Vec::<Subject>::new(),
        source: row::text(row, "source", NotesSource::from_id)?,
        given_at: row::moment(row, "given_at")?,
        replaces: row::id_or_none(row, "replaces", TestAnswerId::new)?,
    })
}
