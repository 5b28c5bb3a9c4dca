//! Predictions as they were made.

use rusqlite::Row;
use rusqlite::params;

use crate::domain::BatchId;
use crate::domain::KeptPrediction;
use crate::domain::PredictionId;
use crate::domain::RecipeVersionId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

impl Store {
    /// Keeps a prediction.
    ///
    /// # Errors
    /// The version or the batch is not stored, or the file refuses.
    pub fn add_prediction(&mut self, prediction: &KeptPrediction) -> Result<(), StorageError> {
        self.run(
            "keep a prediction",
            "INSERT INTO prediction
                 (id, version, batch, model_version, catalogue_version, document, made_at)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            params![
                prediction.id.as_str(),
                prediction.version.as_str(),
                prediction.batch.as_str(),
                prediction.model_version,
                prediction.catalogue_version,
                prediction.document,
                prediction.made_at.to_string(),
            ],
        )?;
        Ok(())
    }

    /// The predictions of a batch, in the order in which they were made.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn predictions(&self, batch: &BatchId) -> Result<Vec<KeptPrediction>, StorageError> {
        self.all(
            "read the predictions",
            "SELECT * FROM prediction WHERE batch = ?1 ORDER BY made_at, rowid",
            [batch.as_str()],
            kept,
        )
    }
}

fn kept(row: &Row<'_>) -> rusqlite::Result<KeptPrediction> {
    Ok(KeptPrediction {
        id: row::id(row, "id", PredictionId::new)?,
        version: row::id(row, "version", RecipeVersionId::new)?,
        batch: row::id(row, "batch", BatchId::new)?,
        model_version: row.get("model_version")?,
        catalogue_version: row.get("catalogue_version")?,
        document: row.get("document")?,
        made_at: row::moment(row, "made_at")?,
    })
}
