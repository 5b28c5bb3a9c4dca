//! Ratings that were kept elsewhere, and the sums over them.

use std::collections::HashMap;
use std::collections::HashSet;

use rusqlite::Params;
use rusqlite::Row;
use rusqlite::params;

use crate::domain::Day;
use crate::domain::Import;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::PanelRating;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::row;

/// What is being written.
const STEP: &str = "read in ratings";

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

/// The tasters and lines of an import by their numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ImportNames {
    /// The tasters.
    pub tasters: HashMap<u32, TasterId>,
    /// The lines as the import calls them.
    pub lines: HashMap<u32, String>,
}

/// Writes the ratings of one import, inside one [`Store::in_one_go`].
pub struct ImportWriter<'store> {
    store: &'store Store,
    import: u32,
    tasters: HashMap<Name, (TasterId, Option<u32>)>,
    sittings: HashMap<(Name, Day), u32>,
    samples: HashMap<Name, u32>,
    lines: HashMap<Name, u32>,
    seats: HashSet<(u32, u32)>,
}

impl Store {
    /// Begins an import, whose number of ratings and hash follow at its end.
    ///
    /// # Errors
    /// The file refuses.
    pub fn begin_import(
        &self,
        file_name: &str,
        made_at: Moment,
    ) -> Result<ImportWriter<'_>, StorageError> {
        let made_at = made_at.to_string();
        let values = params![file_name, made_at];
        // Until the hash is known, a text that no other import has.
        let import = self.numbered(
            "INSERT INTO import (file_name, hash, ratings, made_at)
             VALUES (?1, 'begun at ' || ?2, 0, ?2) RETURNING number",
            values,
        )?;
        Ok(ImportWriter {
            store: self,
            import,
            tasters: HashMap::new(),
            sittings: HashMap::new(),
            samples: HashMap::new(),
            lines: HashMap::new(),
            seats: HashSet::new(),
        })
    }

    fn numbered(&self, sql: &str, values: impl Params) -> Result<u32, StorageError> {
        let found = self.first(STEP, sql, values, |row| row.get(0))?;
        found.ok_or(StorageError::Missing {
            step: STEP,
            what: "the number of a row",
            id: "a new row".to_owned(),
        })
    }

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

    /// Takes an import away, with all its ratings and sums.
    ///
    /// # Errors
    /// The file refuses; nothing is taken away then.
    pub fn remove_import(&mut self, import: u32) -> Result<(), StorageError> {
        self.in_one_go(|store| {
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
                store.run("take an import away", sql, [import])?;
            }
            Ok(())
        })
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

impl ImportWriter<'_> {
    /// The name of the taster is to be found in the file as this one.
    pub fn know(&mut self, name: Name, taster: TasterId) {
        self.tasters.insert(name, (taster, None));
    }

    /// Adds a rating of a taster who was made known.
    ///
    /// # Errors
    /// The taster is not known, or the file refuses.
    pub fn add(&mut self, rating: &PanelRating) -> Result<(), StorageError> {
        let taster = self.taster(&rating.taster)?;
        let sitting = self.sitting(rating)?;
        if self.seats.insert((taster, sitting)) {
            self.store.run(
                STEP,
                "INSERT INTO import_seat (taster, sitting) VALUES (?1, ?2)",
                [taster, sitting],
            )?;
        }
        let (store, import) = (self.store, self.import);
        let sample = named(&mut self.samples, &rating.sample, |name| {
            let sql = "INSERT INTO import_sample (import, name) VALUES (?1, ?2) RETURNING number";
            store.numbered(sql, params![import, name.as_str()])
        })?;
        let line = named(&mut self.lines, &rating.line, |name| {
            let sql = "INSERT INTO import_line (import, name) VALUES (?1, ?2) RETURNING number";
            store.numbered(sql, params![import, name.as_str()])
        })?;
        self.store.run(
            STEP,
            "INSERT INTO import_rating (sitting, line, sample, taster, replicate, digits)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![
                sitting,
                line,
                sample,
                taster,
                rating.replicate,
                rating.digits
            ],
        )?;
        Ok(())
    }

    fn taster(&mut self, name: &Name) -> Result<u32, StorageError> {
        let known = self
            .tasters
            .get_mut(name)
            .ok_or_else(|| StorageError::Missing {
                step: STEP,
                what: "the taster",
                id: name.to_string(),
            })?;
        if let (_, Some(number)) = known {
            return Ok(*number);
        }
        // Names that differ in capitals alone are one person.
        let number = self.store.numbered(
            "INSERT INTO import_taster (import, taster) VALUES (?1, ?2)
             ON CONFLICT (import, taster) DO UPDATE SET taster = excluded.taster RETURNING number",
            params![self.import, known.0.as_str()],
        )?;
        known.1 = Some(number);
        Ok(number)
    }

    fn sitting(&mut self, rating: &PanelRating) -> Result<u32, StorageError> {
        let key = (rating.sitting.clone(), rating.tasted_on);
        if let Some(number) = self.sittings.get(&key) {
            return Ok(*number);
        }
        let number = self.store.numbered(
            "INSERT INTO import_sitting (import, name, tasted_on) VALUES (?1, ?2, ?3) RETURNING number",
            params![self.import, key.0.as_str(), key.1.to_string()],
        )?;
        self.sittings.insert(key, number);
        Ok(number)
    }

    /// Ends the import.
    ///
    /// # Errors
    /// The same bytes were read in before, or the file refuses.
    pub fn end(self, hash: &str, ratings: u32) -> Result<(), StorageError> {
        self.store.run(
            STEP,
            "UPDATE import SET hash = ?2, ratings = ?3 WHERE number = ?1",
            params![self.import, hash, ratings],
        )?;
        Ok(())
    }
}

/// The number of a name, made when it is first met.
fn named(
    known: &mut HashMap<Name, u32>,
    name: &Name,
    make: impl FnOnce(&Name) -> Result<u32, StorageError>,
) -> Result<u32, StorageError> {
    if let Some(number) = known.get(name) {
        return Ok(*number);
    }
    let number = make(name)?;
    known.insert(name.clone(), number);
    Ok(number)
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
