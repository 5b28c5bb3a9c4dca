//! Photographs: kept as bytes beside the beer they are of, and with the notes they belong to.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::BeerId;
use crate::domain::NotesId;
use crate::domain::Photograph;
use crate::domain::PhotographId;
use crate::domain::PhotographKind;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

/// What is known of photographs, without their bytes.
const SELECT: &str = "SELECT id, number, notes, kind, media_type, width, height, sha256, made_at,
        length(bytes) AS length
    FROM photograph";

impl Store {
    /// Keeps a photograph of a beer, with its bytes.
    ///
    /// # Errors
    /// The beer or the notes are not stored, the number is taken, or the file refuses.
    pub fn add_photograph(
        &mut self,
        beer: &BeerId,
        photograph: &Photograph,
        bytes: &[u8],
    ) -> Result<(), StorageError> {
        self.run(
            "keep a photograph",
            "INSERT INTO photograph (id, beer, number, notes, kind, media_type, width, height, sha256,
                 bytes, made_at)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
            params![
                photograph.id.as_str(),
                beer.as_str(),
                photograph.number,
                photograph.notes.as_ref().map(NotesId::as_str),
                photograph.kind.id(),
                photograph.media_type,
                photograph.width,
                photograph.height,
                photograph.sha256,
                bytes,
                photograph.made_at.to_string(),
            ],
        )?;
        Ok(())
    }

    /// The number that the next photograph of a beer has.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn next_photograph_number(&self, beer: &BeerId) -> Result<u32, StorageError> {
        let next = self.first(
            "number a photograph",
            "SELECT coalesce(max(number), 0) + 1 FROM photograph WHERE beer = ?1",
            [beer.as_str()],
            |row| row.get(0),
        )?;
        Ok(next
            .unwrap_or(1)
            .max(self.last_removed_photograph(beer)? + 1))
    }

    /// The photographs of a beer by their numbers, without their bytes.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn photographs(&self, beer: &BeerId) -> Result<Vec<Photograph>, StorageError> {
        let sql = format!("{SELECT} WHERE beer = ?1 AND removed_at IS NULL ORDER BY number");
        self.all("read the photographs", &sql, [beer.as_str()], photograph)
    }

    /// Every photograph, without its bytes.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn every_photograph(&self) -> Result<Vec<Photograph>, StorageError> {
        let sql = format!("{SELECT} WHERE removed_at IS NULL ORDER BY rowid");
        self.all("read the photographs", &sql, [], photograph)
    }

    /// The bytes of a photograph.
    ///
    /// # Errors
    /// It is not there, or was removed, or the file cannot be read.
    pub fn photograph_bytes(&self, id: &PhotographId) -> Result<Vec<u8>, StorageError> {
        let step = "read a photograph";
        let bytes = self.first(
            step,
            "SELECT bytes FROM photograph WHERE id = ?1 AND removed_at IS NULL",
            [id.as_str()],
            |row| row.get(0),
        )?;
        bytes.ok_or_else(|| missing(step, id))
    }
}

fn missing(step: &'static str, id: &PhotographId) -> StorageError {
    StorageError::Missing {
        step,
        what: "the photograph",
        id: id.to_string(),
    }
}

fn photograph(row: &Row<'_>) -> rusqlite::Result<Photograph> {
    Ok(Photograph {
        id: row::id(row, "id", PhotographId::new)?,
        number: row.get("number")?,
        kind: row::text(row, "kind", PhotographKind::from_id)?,
        notes: row::id_or_none(row, "notes", NotesId::new)?,
        media_type: row.get("media_type")?,
        width: row.get("width")?,
        height: row.get("height")?,
        sha256: row.get("sha256")?,
        length: row.get("length")?,
        made_at: row::moment(row, "made_at")?,
    })
}
