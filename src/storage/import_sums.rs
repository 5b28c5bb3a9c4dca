//! The sums over ratings that were kept elsewhere, as they were computed once.

use rusqlite::params;

use crate::domain::Import;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

/// The sums of one taster on one line of an import, as text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ImportSummary {
    /// The number of the taster in the import.
    pub taster: u32,
    /// The number of the line.
    pub line: u32,
    /// The sums.
    pub document: String,
}

/// Sums with the names they belong to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptSummary {
    /// Of which import.
    pub import: u32,
    /// Who.
    pub taster: TasterId,
    /// The line as the import calls it.
    pub line: String,
    /// The version of the formula.
    pub formula_version: u32,
    /// Ratings of the import they are of.
    pub up_to: u32,
    /// The sums.
    pub document: String,
}

impl Store {
    /// Keeps the sums of an import in the place of those that were kept.
    ///
    /// # Errors
    /// The file refuses; those that were kept stay then.
    pub fn put_summaries(
        &mut self,
        import: &Import,
        formula_version: u32,
        summaries: &[ImportSummary],
    ) -> Result<(), StorageError> {
        let step = "keep sums over ratings";
        self.in_one_go(|store| {
            store.run(
                step,
                "DELETE FROM summary WHERE line IN (SELECT number FROM import_line WHERE import = ?1)",
                [import.number],
            )?;
            for it in summaries {
                store.run(
                    step,
                    "INSERT INTO summary (taster, line, formula_version, up_to, document)
                     VALUES (?1, ?2, ?3, ?4, ?5)",
                    params![it.taster, it.line, formula_version, import.ratings, it.document],
                )?;
            }
            Ok(())
        })
    }

    /// The sums that are kept of an import, each with the version of its formula and the ratings it is of.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn summaries_of(
        &self,
        import: u32,
    ) -> Result<Vec<(ImportSummary, u32, u32)>, StorageError> {
        self.all(
            "read the sums of an import",
            "SELECT taster, line, document, formula_version, up_to FROM summary
             WHERE line IN (SELECT number FROM import_line WHERE import = ?1) ORDER BY taster, line",
            [import],
            |row| {
                let summary = ImportSummary {
                    taster: row.get("taster")?,
                    line: row.get("line")?,
                    document: row.get("document")?,
                };
                Ok((summary, row.get("formula_version")?, row.get("up_to")?))
            },
        )
    }

    /// Every sum that is kept, by import, taster and line.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn summaries(&self) -> Result<Vec<KeptSummary>, StorageError> {
        self.all(
            "read sums over ratings",
            "SELECT import_line.import, import_taster.taster, import_line.name, formula_version, up_to,
                 document
             FROM summary
             JOIN import_taster ON import_taster.number = summary.taster
             JOIN import_line ON import_line.number = summary.line
             JOIN import ON import.number = import_line.import AND import.removed_at IS NULL
             ORDER BY import_line.import, summary.taster, summary.line",
            [],
            |row| {
                Ok(KeptSummary {
                    import: row.get("import")?,
                    taster: row::id(row, "taster", TasterId::new)?,
                    line: row.get("name")?,
                    formula_version: row.get("formula_version")?,
                    up_to: row.get("up_to")?,
                    document: row.get("document")?,
                })
            },
        )
    }
}
