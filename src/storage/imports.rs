//! Ratings that were kept elsewhere, and the sums over them.

use std::collections::HashMap;

use rusqlite::Row;
use rusqlite::params;

use crate::domain::Day;
use crate::domain::Import;
use crate::domain::Moment;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

/// One answer of an import; who and what are the numbers of their rows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ImportedRating {
    /// Who.
    pub taster: u32,
    /// Which beer was in the glass.
    pub sample: u32,
    /// The answer, 0 to 9.
    pub digits: f64,
}

/// One sitting of an import in which a taster took part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ImportSitting {
    /// Its number.
    pub number: u32,
    /// Of which import.
    pub import: u32,
    /// The day of tasting.
    pub tasted_on: Day,
    /// The number of the taster in it.
    pub taster: u32,
}

/// The tasters and lines of an import by their numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ImportNames {
    /// The tasters.
    pub tasters: HashMap<u32, TasterId>,
    /// The lines as the import calls them.
    pub lines: HashMap<u32, String>,
}

impl Store {
    /// The imports, in the order in which they were read in.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn imports(&self) -> Result<Vec<Import>, StorageError> {
        self.all(
            "list imports",
            "SELECT * FROM import WHERE removed_at IS NULL ORDER BY number",
            [],
            import,
        )
    }

    /// The import with these bytes, if it was read in before.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn import_with_hash(&self, hash: &str) -> Result<Option<Import>, StorageError> {
        self.first(
            "look for an import",
            "SELECT * FROM import WHERE hash = ?1 AND removed_at IS NULL",
            [hash],
            import,
        )
    }

    /// Says when an import was removed, or that it is there again; its ratings stay where they are.
    pub(super) fn mark_import(
        &self,
        number: &str,
        removed: Option<Moment>,
    ) -> Result<(), StorageError> {
        let step = "mark an import";
        let changed = self.run(
            step,
            "UPDATE import SET removed_at = ?2
             WHERE number = ?1 AND (removed_at IS NULL) = (?2 IS NOT NULL)",
            params![number.parse::<u32>().ok(), removed.map(|it| it.to_string())],
        )?;
        if changed == 0 {
            return Err(StorageError::Missing {
                step,
                what: "the import",
                id: number.to_owned(),
            });
        }
        Ok(())
    }

    /// Takes an import that was removed out for good, with all its ratings and sums.
    pub(super) fn delete_removed_import(&mut self, import: u32) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            let live = "SELECT 1 FROM import WHERE number = ?1 AND removed_at IS NULL";
            if store.first("throw out an import", live, [import], |_| Ok(()))?.is_some() {
                return Ok(());
            }
            for sql in [
                "DELETE FROM summary WHERE line IN (SELECT number FROM import_line WHERE import = ?1)",
                "DELETE FROM import_rating
                 WHERE sitting IN (SELECT number FROM import_sitting WHERE import = ?1)",
                "DELETE FROM import_seat
                 WHERE sitting IN (SELECT number FROM import_sitting WHERE import = ?1)",
                "DELETE FROM import_sitting WHERE import = ?1",
                "DELETE FROM import_sample WHERE import = ?1",
                "DELETE FROM import_line WHERE import = ?1",
                "DELETE FROM import_taster WHERE import = ?1",
                "DELETE FROM import WHERE number = ?1",
            ] {
                store.run("throw out an import", sql, [import])?;
            }
            Ok(())
        })
    }

    /// The import that holds the first of the ratings of another one too, and how many of them it holds: answers of
    /// the same taster about the same glass on the same line. What was removed does not count.
    pub(super) fn import_overlap(&self, import: u32) -> Result<Option<(u32, u32)>, StorageError> {
        self.first(
            "compare ratings with those of other imports",
            "SELECT other_sitting.import, count(*) AS ratings
             FROM import_sitting AS sitting
             JOIN import_sitting AS other_sitting ON other_sitting.name = sitting.name
                 AND other_sitting.tasted_on = sitting.tasted_on AND other_sitting.import <> sitting.import
             JOIN import_rating AS rating ON rating.sitting = sitting.number
             JOIN import_line AS line ON line.number = rating.line
             JOIN import_line AS other_line ON other_line.import = other_sitting.import
                 AND other_line.name = line.name
             JOIN import_sample AS sample ON sample.number = rating.sample
             JOIN import_sample AS other_sample ON other_sample.import = other_sitting.import
                 AND other_sample.name = sample.name
             JOIN import_taster AS taster ON taster.number = rating.taster
             JOIN import_taster AS other_taster ON other_taster.import = other_sitting.import
                 AND other_taster.taster = taster.taster
             JOIN import_rating AS other ON other.sitting = other_sitting.number
                 AND other.line = other_line.number AND other.sample = other_sample.number
                 AND other.taster = other_taster.number AND other.replicate = rating.replicate
             JOIN import AS kept ON kept.number = other_sitting.import AND kept.removed_at IS NULL
             WHERE sitting.import = ?1 GROUP BY other_sitting.import ORDER BY 1 LIMIT 1",
            [import],
            |row| Ok((row.get(0)?, row.get(1)?)),
        )
    }

    /// Gives the ratings of an import, all of one sitting on one line at a time, in the order of their days;
    /// those of a taster in the order of their glasses.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn each_import_line(
        &self,
        import: u32,
        mut each: impl FnMut(u32, Day, &[ImportedRating]),
    ) -> Result<(), StorageError> {
        let sittings = self.all(
            "read the sittings of an import",
            "SELECT number, tasted_on FROM import_sitting WHERE import = ?1 ORDER BY tasted_on, number",
            [import],
            |row| Ok((row.get(0)?, row::text(row, "tasted_on", Day::parse)?)),
        )?;
        for (sitting, day) in sittings {
            let sitting: u32 = sitting;
            let rows = self.import_sitting_ratings(sitting)?;
            for rows in rows.chunk_by(|a, b| a.0 == b.0) {
                let ratings: Vec<ImportedRating> = rows.iter().map(|it| it.1).collect();
                each(rows[0].0, day, &ratings);
            }
        }
        Ok(())
    }

    /// The last sittings of imports in which a taster took part, so many at most, newest first.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn last_import_sittings(
        &self,
        taster: &TasterId,
        most: u32,
    ) -> Result<Vec<ImportSitting>, StorageError> {
        self.all(
            "read the sittings of a taster",
            "SELECT import_sitting.number, tasted_on, import_taster.number AS taster,
                 import_sitting.import
             FROM import_taster
             JOIN import_seat ON import_seat.taster = import_taster.number
             JOIN import_sitting ON import_sitting.number = import_seat.sitting
             JOIN import ON import.number = import_sitting.import AND import.removed_at IS NULL
             WHERE import_taster.taster = ?1
             ORDER BY tasted_on DESC, import_sitting.number DESC LIMIT ?2",
            params![taster.as_str(), most],
            |row| {
                Ok(ImportSitting {
                    number: row.get("number")?,
                    import: row.get("import")?,
                    tasted_on: row::text(row, "tasted_on", Day::parse)?,
                    taster: row.get("taster")?,
                })
            },
        )
    }

    /// The ratings of one sitting of an import, each with the number of its line; those of a line together,
    /// those of a taster in the order of their glasses.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn import_sitting_ratings(
        &self,
        sitting: u32,
    ) -> Result<Vec<(u32, ImportedRating)>, StorageError> {
        self.all(
            "read the ratings of an import",
            "SELECT line, taster, sample, digits FROM import_rating WHERE sitting = ?1
             ORDER BY line, sample, taster, replicate",
            [sitting],
            |row| {
                let rating = ImportedRating {
                    taster: row.get(1)?,
                    sample: row.get(2)?,
                    digits: row.get(3)?,
                };
                Ok((row.get(0)?, rating))
            },
        )
    }

    /// The tasters and lines of an import by their numbers.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn import_names(&self, import: u32) -> Result<ImportNames, StorageError> {
        let step = "read the names of an import";
        let tasters = self.all(
            step,
            "SELECT number, taster FROM import_taster WHERE import = ?1",
            [import],
            |row| Ok((row.get("number")?, row::id(row, "taster", TasterId::new)?)),
        )?;
        let lines = self.all(
            step,
            "SELECT number, name FROM import_line WHERE import = ?1",
            [import],
            |row| Ok((row.get("number")?, row.get("name")?)),
        )?;
        Ok(ImportNames {
            tasters: tasters.into_iter().collect(),
            lines: lines.into_iter().collect(),
        })
    }

    /// On which days the first and the last sitting of an import were.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn import_days(&self, import: u32) -> Result<Option<(Day, Day)>, StorageError> {
        let found = self.first(
            "read the days of an import",
            "SELECT min(tasted_on) AS first, max(tasted_on) AS last FROM import_sitting
             WHERE import = ?1",
            [import],
            |row| {
                let first = row::text_or_none(row, "first", Day::parse)?;
                Ok(first.zip(row::text_or_none(row, "last", Day::parse)?))
            },
        )?;
        Ok(found.flatten())
    }
}

fn import(row: &Row<'_>) -> rusqlite::Result<Import> {
    Ok(Import {
        number: row.get("number")?,
        file_name: row.get("file_name")?,
        hash: row.get("hash")?,
        ratings: row.get("ratings")?,
        made_at: row::moment(row, "made_at")?,
    })
}
