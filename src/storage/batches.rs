//! Batches and their logs.

use std::collections::HashMap;
use std::collections::HashSet;

use rusqlite::Row;
use rusqlite::params;

use crate::domain::Batch;
use crate::domain::BatchEntry;
use crate::domain::BatchEntryId;
use crate::domain::BatchId;
use crate::domain::Beer;
use crate::domain::EntryKind;
use crate::domain::EntryMeasure;
use crate::domain::EntryValue;
use crate::domain::Invalid;
use crate::domain::Name;
use crate::domain::RecipeVersionId;
use crate::domain::Remark;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Adds a batch and the beer that it became. A beer that is stored already, known until now by
    /// its cap mark alone, is given the batch; its alcohol content stays where the new one has none.
    ///
    /// # Errors
    /// A cap mark is taken, the beer belongs to another batch, the recipe version is not stored,
    /// or the file refuses; nothing is stored then.
    pub fn add_batch(&mut self, batch: &Batch, beer: &Beer) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            if store.batch_marked(&batch.cap_mark)?.is_some() {
                return Err(StorageError::Taken {
                    what: "the cap mark",
                    found: batch.cap_mark.to_string(),
                });
            }
            store.run(
                "add a batch",
                "INSERT INTO batch (id, version, cap_mark, folded_mark, made_at)
                 VALUES (?1, ?2, ?3, ?4, ?5)",
                params![
                    batch.id.as_str(),
                    batch.version.as_str(),
                    batch.cap_mark.as_str(),
                    row::folded(&batch.cap_mark),
                    batch.made_at.to_string(),
                ],
            )?;
            if store.beer(&beer.id)?.is_none() {
                let batch = Some(batch.id.clone());
                return store.add_beer(&Beer {
                    batch,
                    ..beer.clone()
                });
            }
            if let Some(abv) = beer.abv {
                store.run(
                    "add a batch",
                    "UPDATE beer SET abv = ?2 WHERE id = ?1",
                    params![beer.id.as_str(), abv.get()],
                )?;
            }
            store.attach_batch(&beer.id, &batch.id)
        })
    }

    /// Every batch, in the order in which they were added.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn batches(&self) -> Result<Vec<Batch>, StorageError> {
        self.all(
            "read the batches",
            "SELECT id, version, cap_mark, made_at FROM batch
             WHERE removed_at IS NULL ORDER BY made_at, rowid",
            [],
            batch,
        )
    }

    /// The batches of one recipe version, in the order in which they were added.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn batches_of_version(
        &self,
        version: &RecipeVersionId,
    ) -> Result<Vec<Batch>, StorageError> {
        self.all(
            "read the batches of a recipe",
            "SELECT id, version, cap_mark, made_at FROM batch
             WHERE version = ?1 AND removed_at IS NULL ORDER BY made_at, rowid",
            [version.as_str()],
            batch,
        )
    }

    /// The batch with this id, removed or not.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn batch(&self, id: &BatchId) -> Result<Option<Batch>, StorageError> {
        self.first(
            "read a batch",
            "SELECT id, version, cap_mark, made_at FROM batch WHERE id = ?1",
            [id.as_str()],
            batch,
        )
    }

    /// The batch with this cap mark; capitals do not count.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn batch_marked(&self, cap_mark: &Name) -> Result<Option<Batch>, StorageError> {
        self.first(
            "read a batch",
            "SELECT id, version, cap_mark, made_at FROM batch
             WHERE folded_mark = ?1 AND removed_at IS NULL",
            [row::folded(cap_mark)],
            batch,
        )
    }

    /// Adds a line to the log. It counts instead of the line of the same kind that counted until
    /// now, which stays in the file; notes and intents stand beside one another.
    ///
    /// # Errors
    /// The batch is not stored, or the file refuses.
    pub fn add_entry(&mut self, batch: &BatchId, entry: &BatchEntry) -> Result<(), StorageError> {
        let step = "add to the log";
        self.in_one_go(|store| {
            let replaced = match entry.kind.measure {
                EntryMeasure::Text | EntryMeasure::Intent => None,
                _ => store.first(
                    step,
                    "SELECT id FROM batch_entry AS line WHERE batch = ?1 AND kind = ?2
                     AND NOT EXISTS (SELECT 1 FROM batch_entry WHERE replaces = line.id)",
                    [batch.as_str(), entry.kind.id],
                    |row| row.get::<_, String>(0),
                )?,
            };
            store.run(
                step,
                "INSERT INTO batch_entry (id, batch, kind, value, at, replaces)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
                params![
                    entry.id.as_str(),
                    batch.as_str(),
                    entry.kind.id,
                    entry.value.to_string(),
                    entry.at.to_string(),
                    replaced,
                ],
            )?;
            Ok(())
        })
    }

    /// The lines of the log that count, in the order of writing.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn entries(&self, batch: &BatchId) -> Result<Vec<BatchEntry>, StorageError> {
        self.all(
            "read the log",
            "SELECT id, kind, value, at FROM batch_entry AS line WHERE batch = ?1
             AND NOT EXISTS (SELECT 1 FROM batch_entry WHERE replaces = line.id)
             ORDER BY written",
            [batch.as_str()],
            entry,
        )
    }

    /// The log of every batch, as [`Store::entries`] reads one.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn every_entry(&self) -> Result<HashMap<BatchId, Vec<BatchEntry>>, StorageError> {
        let mut replaced = HashSet::new();
        let mut all: HashMap<BatchId, Vec<BatchEntry>> = HashMap::new();
        self.all(
            "read every log",
            "SELECT id, kind, value, at, batch, replaces FROM batch_entry ORDER BY written",
            [],
            |row| {
                replaced.extend(row::id_or_none(row, 5, BatchEntryId::new)?);
                let log = all.entry(row::id(row, 4, BatchId::new)?).or_default();
                log.push(entry(row)?);
                Ok(())
            },
        )?;
        for log in all.values_mut() {
            log.retain(|it| !replaced.contains(&it.id));
        }
        Ok(all)
    }
}

fn batch(row: &Row<'_>) -> rusqlite::Result<Batch> {
    Ok(Batch {
        id: row::id(row, "id", BatchId::new)?,
        version: row::id(row, "version", RecipeVersionId::new)?,
        cap_mark: row::name(row, "cap_mark")?,
        made_at: row::moment(row, "made_at")?,
    })
}

/// A line of a log, whose columns are the first: id, kind, value and moment.
fn entry(row: &Row<'_>) -> rusqlite::Result<BatchEntry> {
    let kind = row::text(row, 1, EntryKind::from_id)?;
    Ok(BatchEntry {
        id: row::id(row, 0, BatchEntryId::new)?,
        kind,
        value: row::text(row, 2, |found| value(kind, found))?,
        at: row::moment(row, 3)?,
    })
}

/// Reads a value; a text keeps the blanks at its ends, which a typed value would lose.
fn value(kind: &'static EntryKind, found: &str) -> Result<EntryValue, Invalid> {
    match kind.measure {
        EntryMeasure::Text | EntryMeasure::Intent => {
            Remark::new(kind.word, found).map(EntryValue::Text)
        }
        _ => kind.read(found),
    }
}
