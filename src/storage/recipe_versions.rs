//! Recipe versions: documents as they were read.

use std::collections::HashMap;

use rusqlite::Row;
use rusqlite::params;

use crate::domain::Name;
use crate::domain::RecipeVersion;
use crate::domain::RecipeVersionId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Adds a recipe version.
    ///
    /// # Errors
    /// The same document is stored already, its parent is not, or the file refuses.
    pub fn add_recipe_version(&mut self, version: &RecipeVersion) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            if let Some(same) = store.recipe_version_with_hash(&version.hash)? {
                return Err(StorageError::Taken {
                    what: "the document of",
                    found: format!("{} {}", same.name, same.version),
                });
            }
            store.run(
                "add a recipe version",
                "INSERT INTO recipe_version
                     (id, parent, reason, name, version, document, hash, made_at)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
                params![
                    version.id.as_str(),
                    version.parent.as_ref().map(RecipeVersionId::as_str),
                    version.reason.as_ref().map(Name::as_str),
                    version.name.as_str(),
                    version.version.as_str(),
                    version.document,
                    version.hash,
                    version.made_at.to_string(),
                ],
            )?;
            Ok(())
        })
    }

    /// The recipe version with this id, removed or not.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn recipe_version(
        &self,
        id: &RecipeVersionId,
    ) -> Result<Option<RecipeVersion>, StorageError> {
        self.first(
            "read a recipe version",
            "SELECT * FROM recipe_version WHERE id = ?1",
            [id.as_str()],
            recipe_version,
        )
    }

    /// The recipe version whose document has this hash.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn recipe_version_with_hash(
        &self,
        hash: &str,
    ) -> Result<Option<RecipeVersion>, StorageError> {
        self.first(
            "read a recipe version",
            "SELECT * FROM recipe_version WHERE hash = ?1 AND removed_at IS NULL",
            [hash],
            recipe_version,
        )
    }

    /// The newest document with this name and version.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn recipe_version_named(
        &self,
        name: &Name,
        version: &Name,
    ) -> Result<Option<RecipeVersion>, StorageError> {
        self.first(
            "read a recipe version",
            "SELECT * FROM recipe_version
             WHERE name = ?1 AND version = ?2 AND removed_at IS NULL
             ORDER BY made_at DESC, rowid DESC LIMIT 1",
            [name.as_str(), version.as_str()],
            recipe_version,
        )
    }

    /// Every recipe version, in the order in which they were added.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn recipe_versions(&self) -> Result<Vec<RecipeVersion>, StorageError> {
        self.all(
            "read the recipe versions",
            "SELECT * FROM recipe_version WHERE removed_at IS NULL ORDER BY made_at, rowid",
            [],
            recipe_version,
        )
    }

    /// The recipe versions of packaged batches, each once.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn packaged_versions(&self) -> Result<Vec<RecipeVersionId>, StorageError> {
        self.all(
            "read which recipe versions are packaged",
            "SELECT DISTINCT version FROM batch WHERE removed_at IS NULL AND EXISTS
                 (SELECT 1 FROM batch_entry WHERE batch = batch.id AND kind = 'packaged')",
            [],
            |row| row::id(row, 0, RecipeVersionId::new),
        )
    }

    /// What recipe and version are called, of every version.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn version_names(&self) -> Result<HashMap<RecipeVersionId, (Name, Name)>, StorageError> {
        let names = self.all(
            "read the names of recipe versions",
            "SELECT id, name, version FROM recipe_version",
            [],
            |row| {
                Ok((
                    row::id(row, 0, RecipeVersionId::new)?,
                    (row::name(row, 1)?, row::name(row, 2)?),
                ))
            },
        )?;
        Ok(names.into_iter().collect())
    }
}

fn recipe_version(row: &Row<'_>) -> rusqlite::Result<RecipeVersion> {
    Ok(RecipeVersion {
        id: row::id(row, "id", RecipeVersionId::new)?,
        parent: row::id_or_none(row, "parent", RecipeVersionId::new)?,
        reason: row::text_or_none(row, "reason", |found| Name::new("a reason", found))?,
        name: row::name(row, "name")?,
        version: row::name(row, "version")?,
        document: row.get("document")?,
        hash: row.get("hash")?,
        made_at: row::moment(row, "made_at")?,
    })
}
