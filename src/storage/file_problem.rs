//! What a look through the whole file finds wrong.

use rusqlite::Connection;
use thiserror::Error;

use crate::storage::StorageError;
use crate::storage::Store;

/// One thing wrong with the file.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum FileProblem {
    /// A page, an index or a value is damaged.
    #[error(
        "the file is damaged: {found}; keep a copy of it, then bring back a copy: thirdglass home restore FILE"
    )]
    Damaged {
        /// What `SQLite` found.
        found: String,
    },
    /// A row points at one that is not there.
    #[error(
        "a row of {table} points at a row of {parent} that is not there; bring back a copy: thirdglass home restore FILE"
    )]
    Orphan {
        /// The table of the row.
        table: String,
        /// The table in which the other row is missing.
        parent: String,
    },
}

impl Store {
    /// Looks through the whole file; an empty list means that it is sound.
    ///
    /// # Errors
    /// The file cannot be read at all.
    pub fn check(&self) -> Result<Vec<FileProblem>, StorageError> {
        problems_of(self.raw())
            .map_err(|error| StorageError::database(self.path(), "look through the tables", error))
    }
}

/// What is wrong with a file, by `SQLite`'s own checks.
pub(super) fn problems_of(connection: &Connection) -> rusqlite::Result<Vec<FileProblem>> {
    let mut damaged = connection.prepare(
        "SELECT integrity_check FROM pragma_integrity_check WHERE integrity_check <> 'ok'",
    )?;
    let damaged = damaged.query_map([], |row| Ok(FileProblem::Damaged { found: row.get(0)? }))?;
    let mut found = damaged.collect::<rusqlite::Result<Vec<FileProblem>>>()?;
    let mut orphans =
        connection.prepare(r#"SELECT "table", parent FROM pragma_foreign_key_check"#)?;
    let orphans = orphans.query_map([], |row| {
        Ok(FileProblem::Orphan {
            table: row.get(0)?,
            parent: row.get(1)?,
        })
    })?;
    for it in orphans {
        found.push(it?);
    }
    Ok(found)
}
