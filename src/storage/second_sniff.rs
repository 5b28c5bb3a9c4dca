//! Second sniffs: drawn words that stay, and the answers to them.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::DescriptorId;
use crate::domain::Moment;
use crate::domain::NotesId;
use crate::domain::SecondSniff;
use crate::domain::SniffAnswer;
use crate::domain::SniffKind;
use crate::domain::SniffedWord;
use crate::domain::SniffedWordId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Stores a second sniff with its drawn order, unless its notes have one already: that one then
    /// stays. Gives the one that is stored.
    ///
    /// # Errors
    /// The notes are not stored or not locked, or the file refuses; nothing is stored then.
    pub fn start_second_sniff(&mut self, sniff: &SecondSniff) -> Result<SecondSniff, StorageError> {
        self.in_one_go(|store| {
            if let Some(begun) = store.second_sniff(&sniff.notes)? {
                return Ok(begun);
            }
            for (position, word) in (1_u8..).zip(&sniff.words) {
                store.add_sniffed_word(sniff, position, word)?;
            }
            Ok(sniff.clone())
        })
    }

    fn add_sniffed_word(
        &self,
        sniff: &SecondSniff,
        position: u8,
        word: &SniffedWord,
    ) -> Result<(), StorageError> {
        self.run(
            "start a second sniff",
            "INSERT INTO second_sniff
                 (id, notes, position, descriptor, kind, answer, made_at, answered_at)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            params![
                word.id.as_str(),
                sniff.notes.as_str(),
                position,
                word.descriptor.as_str(),
                word.kind.id(),
                word.answer().map(SniffAnswer::id),
                sniff.made_at.to_string(),
                word.answered.map(|(_, at)| at.to_string()),
            ],
        )?;
        Ok(())
    }

    /// The second sniff after these notes, if one was started.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn second_sniff(&self, notes: &NotesId) -> Result<Option<SecondSniff>, StorageError> {
        let rows = self.all(
            "read a second sniff",
            "SELECT * FROM second_sniff WHERE notes = ?1 ORDER BY position",
            [notes.as_str()],
            |row| Ok((row::moment(row, "made_at")?, word(row)?)),
        )?;
        let made_at = rows.first().map(|(made_at, _)| *made_at);
        Ok(made_at.map(|made_at| SecondSniff {
            notes: notes.clone(),
            made_at,
            words: rows.into_iter().map(|(_, word)| word).collect(),
        }))
    }

    /// Stores the answer to a word that is not answered yet; an answer that another window gave
    /// before stays.
    ///
    /// # Errors
    /// The file refuses.
    pub fn answer_sniffed_word(
        &mut self,
        word: &SniffedWordId,
        answer: SniffAnswer,
        at: Moment,
    ) -> Result<(), StorageError> {
        self.run(
            "store an answer of a second sniff",
            "UPDATE second_sniff SET answer = ?2, answered_at = ?3
             WHERE id = ?1 AND answer IS NULL",
            params![word.as_str(), answer.id(), at.to_string()],
        )?;
        Ok(())
    }

    /// Takes the answer to a word back, so that it is asked again.
    ///
    /// # Errors
    /// The second sniff is finished, or the file refuses.
    pub fn take_back_sniffed_word(&mut self, word: &SniffedWordId) -> Result<(), StorageError> {
        self.run(
            "take an answer of a second sniff back",
            "UPDATE second_sniff SET answer = NULL, answered_at = NULL
             WHERE id = ?1 AND answer IS NOT NULL",
            [word.as_str()],
        )?;
        Ok(())
    }
}

pub(super) fn word(row: &Row<'_>) -> rusqlite::Result<SniffedWord> {
    let answer = row::text_or_none(row, "answer", SniffAnswer::from_id)?;
    let at = row::moment_or_none(row, "answered_at")?;
    Ok(SniffedWord {
        id: row::id(row, "id", SniffedWordId::new)?,
        descriptor: row::text(row, "descriptor", DescriptorId::new)?,
        kind: row::text(row, "kind", SniffKind::from_id)?,
        answered: answer.zip(at),
    })
}
