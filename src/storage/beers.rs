//! What fills a glass.

use std::collections::HashMap;

use rusqlite::Row;
use rusqlite::params;

use crate::domain::Abv;
use crate::domain::BatchId;
use crate::domain::Beer;
use crate::domain::BeerId;
use crate::domain::Name;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Adds a beer.
    ///
    /// # Errors
    /// The cap mark is taken, its batch is not stored, or the file refuses.
    pub fn add_beer(&mut self, beer: &Beer) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            if store.beer_marked(&beer.cap_mark)?.is_some() {
                return Err(StorageError::Taken {
                    what: "the cap mark",
                    found: beer.cap_mark.to_string(),
                });
            }
            store.run(
                "add a beer",
                "INSERT INTO beer (id, cap_mark, folded_mark, batch, abv)
                 VALUES (?1, ?2, ?3, ?4, ?5)",
                params![
                    beer.id.as_str(),
                    beer.cap_mark.as_str(),
                    row::folded(&beer.cap_mark),
                    beer.batch.as_ref().map(BatchId::as_str),
                    beer.abv.map(Abv::get),
                ],
            )?;
            Ok(())
        })
    }

    /// The beer with this id, removed or not.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn beer(&self, id: &BeerId) -> Result<Option<Beer>, StorageError> {
        self.first(
            "read a beer",
            "SELECT id, cap_mark, batch, abv FROM beer WHERE id = ?1",
            [id.as_str()],
            |row| beer(row, "id"),
        )
    }

    /// The beer with this cap mark; capitals do not count.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn beer_marked(&self, cap_mark: &Name) -> Result<Option<Beer>, StorageError> {
        self.first(
            "read a beer",
            "SELECT id, cap_mark, batch, abv FROM beer
             WHERE folded_mark = ?1 AND removed_at IS NULL",
            [row::folded(cap_mark)],
            |row| beer(row, "id"),
        )
    }

    /// Beers that belong to no batch, oldest first.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn beers_without_batch(&self) -> Result<Vec<Beer>, StorageError> {
        self.all(
            "list beers without a batch",
            "SELECT id, cap_mark, batch, abv FROM beer
             WHERE batch IS NULL AND removed_at IS NULL ORDER BY rowid",
            [],
            |row| beer(row, "id"),
        )
    }

    /// The beer of a batch; where bottles of it go by several cap marks, the one that the batch
    /// itself has, or else the first.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn beer_of_batch(&self, batch: &BatchId) -> Result<Option<Beer>, StorageError> {
        self.first(
            "read the beer of a batch",
            "SELECT beer.id, beer.cap_mark, beer.batch, beer.abv
             FROM beer JOIN batch ON batch.id = beer.batch
             WHERE beer.batch = ?1 AND beer.removed_at IS NULL
             ORDER BY beer.folded_mark <> batch.folded_mark, beer.rowid LIMIT 1",
            [batch.as_str()],
            |row| beer(row, "id"),
        )
    }

    /// The beer of every batch, as [`Store::beer_of_batch`] finds one.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn beers_of_batches(&self) -> Result<HashMap<BatchId, Beer>, StorageError> {
        let mut all = HashMap::new();
        self.all(
            "read the beers of all batches",
            "SELECT beer.id, beer.cap_mark, beer.batch, beer.abv
             FROM beer JOIN batch ON batch.id = beer.batch
             WHERE beer.removed_at IS NULL
             ORDER BY beer.folded_mark <> batch.folded_mark, beer.rowid",
            [],
            |row| {
                let batch = row::id(row, "batch", BatchId::new)?;
                // The first is the one with the mark of its batch.
                all.entry(batch).or_insert(beer(row, "id")?);
                Ok(())
            },
        )?;
        Ok(all)
    }

    /// Says which batch a beer is, once that is known.
    ///
    /// # Errors
    /// The beer belongs to another batch already, one of the two is not stored, or the file refuses.
    pub fn attach_batch(&mut self, beer: &BeerId, batch: &BatchId) -> Result<(), StorageError> {
        let step = "say which batch a beer is";
        self.in_one_go(|store| {
            let found = store.beer(beer)?.ok_or_else(|| StorageError::Missing {
                step,
                what: "the beer",
                id: beer.to_string(),
            })?;
            if let Some(other) = found.batch.filter(|other| other != batch) {
                return Err(StorageError::HasBatch {
                    beer: beer.clone(),
                    batch: other,
                });
            }
            store.run(
                step,
                "UPDATE beer SET batch = ?2 WHERE id = ?1",
                [beer.as_str(), batch.as_str()],
            )?;
            Ok(())
        })
    }
}

/// Reads the columns of a beer; its id stands in `id_column`.
pub(super) fn beer(row: &Row<'_>, id_column: &'static str) -> rusqlite::Result<Beer> {
    beer_at(row, [id_column, "cap_mark", "batch", "abv"])
}

/// Reads a beer from these columns: its id, its cap mark, its batch, its alcohol.
pub(super) fn beer_at<C: row::Column>(
    row: &Row<'_>,
    [id, cap_mark, batch, abv]: [C; 4],
) -> rusqlite::Result<Beer> {
    let known: Option<f64> = row.get(abv)?;
    Ok(Beer {
        id: row::id(row, id, BeerId::new)?,
        cap_mark: row::name(row, cap_mark)?,
        batch: row::id_or_none(row, batch, BatchId::new)?,
        abv: known
            .map(Abv::new)
            .transpose()
            .map_err(|invalid| row::unreadable(abv, &invalid))?,
    })
}
