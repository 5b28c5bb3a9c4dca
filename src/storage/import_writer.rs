//! Writing ratings that were kept elsewhere, row by row.

use std::collections::HashMap;
use std::collections::HashSet;

use rusqlite::Params;
use rusqlite::params;

use crate::domain::Day;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::PanelRating;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;

/// What is being written.
const STEP: &str = "read in ratings";

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

    /// The import that holds the first of these ratings already, and how many of them it holds.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn overlap(&self) -> Result<Option<(u32, u32)>, StorageError> {
        self.store.import_overlap(self.import)
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
