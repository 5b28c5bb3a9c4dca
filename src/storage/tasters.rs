//! The people who taste.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::Name;
use crate::domain::Taster;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Adds a taster.
    ///
    /// # Errors
    /// The name is taken, or the file refuses.
    pub fn add_taster(&mut self, taster: &Taster) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            if store.taster_named(&taster.name)?.is_some() {
                return Err(StorageError::Taken {
                    what: "the name",
                    found: taster.name.to_string(),
                });
            }
            store.run(
                "add a taster",
                "INSERT INTO taster (id, name, folded_name, made_at) VALUES (?1, ?2, ?3, ?4)",
                params![
                    taster.id.as_str(),
                    taster.name.as_str(),
                    row::folded(&taster.name),
                    taster.made_at.to_string(),
                ],
            )?;
            Ok(())
        })
    }

    /// Calls a taster by another name. The old one is still to be rubbed out of the bytes, with
    /// [`Store::rub_out`].
    ///
    /// # Errors
    /// Another taster has the name, the taster is not stored, or the file refuses; nothing is changed
    /// then.
    pub fn rename_taster(&mut self, taster: &TasterId, name: &Name) -> Result<(), StorageError> {
        let step = "rename a taster";
        self.leave_no_bytes(step)?;
        self.in_one_go(|store| {
            if store.taster_named(name)?.is_some_and(|it| it.id != *taster) {
                return Err(StorageError::Taken {
                    what: "the name",
                    found: name.to_string(),
                });
            }
            let changed = store.run(
                step,
                "UPDATE taster SET name = ?2, folded_name = ?3
                 WHERE id = ?1 AND removed_at IS NULL",
                params![taster.as_str(), name.as_str(), row::folded(name)],
            )?;
            if changed == 0 {
                return Err(StorageError::Missing {
                    step,
                    what: "the taster",
                    id: taster.to_string(),
                });
            }
            Ok(())
        })
    }

    /// Every taster, in the order in which they were added.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn tasters(&self) -> Result<Vec<Taster>, StorageError> {
        self.all(
            "read the tasters",
            "SELECT id, name, made_at FROM taster
             WHERE removed_at IS NULL ORDER BY made_at, rowid",
            [],
            taster,
        )
    }

    /// The taster of this name; capitals do not count.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn taster_named(&self, name: &Name) -> Result<Option<Taster>, StorageError> {
        self.first(
            "read a taster",
            "SELECT id, name, made_at FROM taster WHERE folded_name = ?1 AND removed_at IS NULL",
            [row::folded(name)],
            taster,
        )
    }

    /// True while no taster and no batch is kept.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn is_empty(&self) -> Result<bool, StorageError> {
        let found = self.first(
            "look whether anything is kept",
            "SELECT EXISTS (SELECT 1 FROM taster WHERE removed_at IS NULL)
                 OR EXISTS (SELECT 1 FROM batch WHERE removed_at IS NULL)",
            [],
            |row| row.get::<_, bool>(0),
        )?;
        Ok(found != Some(true))
    }

    /// The taster with this id, removed or not.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn taster(&self, id: &TasterId) -> Result<Option<Taster>, StorageError> {
        self.first(
            "read a taster",
            "SELECT id, name, made_at FROM taster WHERE id = ?1",
            [id.as_str()],
            taster,
        )
    }
}

fn taster(row: &Row<'_>) -> rusqlite::Result<Taster> {
    Ok(Taster {
        id: row::id(row, "id", TasterId::new)?,
        name: row::name(row, "name")?,
        made_at: row::moment(row, "made_at")?,
    })
}
