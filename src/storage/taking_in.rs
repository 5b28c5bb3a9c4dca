//! Taking the rows of an archive into an empty file: all of them, or none.

use rusqlite::Connection;
use rusqlite::params_from_iter;
use rusqlite::types::Value;

use crate::storage::ArchiveError;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::archive_tables::TableForm;
use crate::storage::archive_tables::tables;
use crate::storage::archive_tables::without_triggers;

/// What was tried, for messages.
const STEP: &str = "take in the archive";

impl Store {
    /// Lets pass only if this file holds no row at all, apart from what is computed.
    ///
    /// # Errors
    /// [`ArchiveError::NotEmpty`], or the file cannot be read.
    pub fn ensure_empty(&self) -> Result<(), StorageError> {
        let failed = |error| StorageError::database(self.path(), STEP, error);
        for table in tables(self.raw()).map_err(failed)? {
            let found = self.first(STEP, &table.any(), [], |_| Ok(()))?;
            if found.is_some() {
                let there = "somebody or something was added already".to_owned();
                return Err(ArchiveError::NotEmpty { there }.into());
            }
        }
        if !self.removals()?.is_empty() {
            let there = "something was removed that can still come back".to_owned();
            return Err(ArchiveError::NotEmpty { there }.into());
        }
        Ok(())
    }

    /// Takes every row of another file in.
    ///
    /// # Errors
    /// This file is not empty, or refuses; nothing is stored then.
    pub fn take_in(&mut self, from: &Self) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            store.ensure_empty()?;
            let (to, from) = (store.raw(), from.raw());
            let copied = to
                .pragma_update(None, "defer_foreign_keys", true)
                .and_then(|()| without_triggers(to, || copy(to, from)));
            copied.map_err(|error| StorageError::database(store.path(), STEP, error))?;
            let found = store.check()?;
            match found.first() {
                None => Ok(()),
                Some(found) => Err(StorageError::Unreadable {
                    file: store.path().to_owned(),
                    step: STEP,
                    found: found.to_string(),
                }),
            }
        })
    }
}

fn copy(to: &Connection, from: &Connection) -> rusqlite::Result<()> {
    for table in tables(from)? {
        copy_table(&table, to, from)?;
    }
    Ok(())
}

fn copy_table(table: &TableForm, to: &Connection, from: &Connection) -> rusqlite::Result<()> {
    let mut select = from.prepare(&table.select())?;
    let mut insert = to.prepare(&table.insert())?;
    let mut rows = select.query([])?;
    while let Some(row) = rows.next()? {
        let cells = (0..table.columns.len()).map(|at| row.get::<_, Value>(at));
        let cells = cells.collect::<rusqlite::Result<Vec<Value>>>()?;
        insert.execute(params_from_iter(cells))?;
    }
    Ok(())
}
