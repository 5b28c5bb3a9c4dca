//! Many sets of notes at once, each whole: as many queries for ten thousand of them as for one.

use std::collections::HashMap;

use rusqlite::Params;
use rusqlite::Row;
use rusqlite::params_from_iter;

use crate::domain::BeerId;
use crate::domain::DescriptorId;
use crate::domain::Moment;
use crate::domain::Notes;
use crate::domain::NotesId;
use crate::domain::SampleId;
use crate::domain::SeatId;
use crate::domain::SecondSniff;
use crate::domain::TasterId;
use crate::storage::NotesRow;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::notes;
use crate::storage::notes_places::NotesPlaces;
use crate::storage::notes_rows;
use crate::storage::notes_rows::LISTED;
use crate::storage::notes_rows::OF_BEER;
use crate::storage::notes_rows::OF_TASTER;
use crate::storage::notes_rows::TOLD;
use crate::storage::row;
use crate::storage::second_sniff;

/// What was tried, for messages.
const STEP: &str = "read notes";

/// Which rows are looked through for what hangs on notes.
#[derive(Clone, Copy)]
enum Hanging {
    /// Those of the notes that were found.
    OnThese,
    /// All there are: what stands in the file one after the other is read so.
    OnAny,
}

impl Store {
    /// All notes on a beer, each with its line, newest last; those of a panel only once its glasses were told.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn whole_notes_of_beer(
        &self,
        beer: &BeerId,
    ) -> Result<Vec<(NotesRow, Notes)>, StorageError> {
        self.whole_notes(&format!("{OF_BEER} {TOLD}"), beer.as_str())
    }

    /// All notes of a taster, each with its line, newest last; those of a panel only once its glasses were told.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn whole_notes_of_taster(
        &self,
        taster: &TasterId,
    ) -> Result<Vec<(NotesRow, Notes)>, StorageError> {
        self.whole_notes(&format!("{OF_TASTER} {TOLD}"), taster.as_str())
    }

    /// Everything a taster noted, at a panel that was not told yet too, newest last: for themselves alone, without
    /// the names of what was in the glasses.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn own_whole_notes(
        &self,
        taster: &TasterId,
    ) -> Result<Vec<(NotesRow, Notes)>, StorageError> {
        self.whole_notes(OF_TASTER, taster.as_str())
    }

    /// Everything that anybody noted, at panels that were not told yet too, newest last, taster by taster.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn every_note(&self) -> Result<HashMap<TasterId, Vec<(NotesRow, Notes)>>, StorageError> {
        let mut by_taster: HashMap<TasterId, Vec<(NotesRow, Notes)>> = HashMap::new();
        for (row, notes) in self.read_whole("", [], Hanging::OnAny)? {
            let own = by_taster.entry(row.taster.id.clone()).or_default();
            own.push((row, notes));
        }
        Ok(by_taster)
    }

    fn whole_notes(
        &self,
        condition: &str,
        value: &str,
    ) -> Result<Vec<(NotesRow, Notes)>, StorageError> {
        self.read_whole(condition, [value], Hanging::OnThese)
    }

    /// Notes under a condition, with what hangs on them.
    fn read_whole(
        &self,
        condition: &str,
        values: impl Params,
        hanging: Hanging,
    ) -> Result<Vec<(NotesRow, Notes)>, StorageError> {
        self.as_of_now(|| {
            let mut all = self.without_what_hangs(condition, values)?;
            let ids: Vec<NotesId> = all.iter().map(|it| it.1.id.clone()).collect();
            let mut places = NotesPlaces::of(ids.iter().map(NotesId::as_str));
            let (these, of_these) = match hanging {
                Hanging::OnAny => (None, ""),
                Hanging::OnThese => (
                    Some(places.json()),
                    "WHERE notes IN (SELECT value FROM json_each(?1))",
                ),
            };
            let from =
                |columns: &str, table: &str| format!("SELECT {columns} FROM {table} {of_these}");
            let these = these.as_deref();
            let sql = from(notes::RATING, "rating");
            let ratings = self.hanging(&sql, these, &mut places, notes::rating)?;
            let sql = from(notes::MARK, "mark");
            let marks = self.hanging(&sql, these, &mut places, notes::mark)?;
            let sql = from(notes::STOPWATCH, "stopwatch");
            let stopwatches = self.hanging(&sql, these, &mut places, notes::stopwatch)?;
            let hanging = ratings.into_iter().zip(marks).zip(stopwatches);
            for ((_, notes), ((ratings, marks), stopwatches)) in all.iter_mut().zip(hanging) {
                (notes.ratings, notes.marks, notes.stopwatches) = (ratings, marks, stopwatches);
            }
            Ok(all)
        })
    }

    /// Notes under a condition alone, newest last.
    fn without_what_hangs(
        &self,
        condition: &str,
        values: impl Params,
    ) -> Result<Vec<(NotesRow, Notes)>, StorageError> {
        let (line, alone) = (notes_rows::COLUMNS, notes::ALONE);
        let list = format!("SELECT {line}, {alone}, notes.rowid {LISTED} {condition}");
        let mut all = self.all(STEP, &list, values, |row| {
            let alone = notes::notes_alone(row, notes_rows::COLUMNS_COUNT)?;
            let last: i64 = row.get(row.as_ref().column_count() - 1)?;
            Ok((notes_rows::notes_row(row)?, alone, last))
        })?;
        // So many columns are sorted here faster than there.
        all.sort_by_key(|(row, _, last)| (row.tasted_on, row.typed_on, *last));
        Ok(all.into_iter().map(|it| (it.0, it.1)).collect())
    }

    /// Reads what hangs on notes in one table, first its notes and its position: for each place of notes, in its order.
    fn hanging<T>(
        &self,
        sql: &str,
        these: Option<&str>,
        places: &mut NotesPlaces<'_>,
        read: impl Fn(&Row<'_>) -> rusqlite::Result<T>,
    ) -> Result<Vec<Vec<T>>, StorageError> {
        // To sort a few rows of each notes here is faster than all of them there.
        let mut found: Vec<Vec<(i64, T)>> = (0..places.len()).map(|_| Vec::new()).collect();
        // Rows of the same notes mostly follow each other, and take no more room than they need.
        let (mut at, mut run) = (0, Vec::new());
        let mut settle = |place: usize, run: &mut Vec<(i64, T)>| {
            if !run.is_empty() {
                found[place].reserve_exact(run.len());
                found[place].append(run);
            }
        };
        self.all(STEP, sql, params_from_iter(these), |row| {
            if let Some(place) = places.find(row.get_ref(0)?.as_str()?) {
                if place != at {
                    settle(at, &mut run);
                    at = place;
                }
                run.push((row.get(1)?, read(row)?));
            }
            Ok(())
        })?;
        settle(at, &mut run);
        let sorted = found.into_iter().map(|mut of_notes| {
            of_notes.sort_by_key(|it| it.0);
            of_notes.into_iter().map(|it| it.1).collect()
        });
        Ok(sorted.collect())
    }

    /// The second sniffs of a taster, by their notes.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn second_sniffs_of_taster(
        &self,
        taster: &TasterId,
    ) -> Result<HashMap<NotesId, SecondSniff>, StorageError> {
        let mut all: HashMap<NotesId, SecondSniff> = HashMap::new();
        self.all(
            "read second sniffs",
            "SELECT second_sniff.* FROM seat JOIN notes ON notes.seat = seat.id
             JOIN second_sniff ON second_sniff.notes = notes.id
             WHERE seat.taster = ?1 ORDER BY second_sniff.notes, second_sniff.position",
            [taster.as_str()],
            |row| {
                let notes = row::id(row, "notes", NotesId::new)?;
                let made_at = row::moment(row, "made_at")?;
                let sniff = all.entry(notes).or_insert_with_key(|notes| SecondSniff {
                    notes: notes.clone(),
                    made_at,
                    words: Vec::new(),
                });
                sniff.words.push(second_sniff::word(row)?);
                Ok(())
            },
        )?;
        Ok(all)
    }

    /// The orders in which the glasses of a taster were served, by their seats.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn servings_of_taster(
        &self,
        taster: &TasterId,
    ) -> Result<HashMap<SeatId, Vec<SampleId>>, StorageError> {
        let mut all: HashMap<SeatId, Vec<SampleId>> = HashMap::new();
        self.all(
            "read serving orders",
            "SELECT serving.seat, serving.sample FROM seat JOIN serving ON serving.seat = seat.id
             WHERE seat.taster = ?1 ORDER BY serving.seat, serving.set_number, serving.position",
            [taster.as_str()],
            |row| {
                let seat = row::id(row, "seat", SeatId::new)?;
                let sample = row::id(row, "sample", SampleId::new)?;
                all.entry(seat).or_default().push(sample);
                Ok(())
            },
        )?;
        Ok(all)
    }

    /// When a taster first locked notes in which a word was named unasked, word by word.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn first_named_by(
        &self,
        taster: &TasterId,
    ) -> Result<HashMap<DescriptorId, Moment>, StorageError> {
        let first = self.all(
            "read the words a taster knows",
            "SELECT mark.descriptor, min(notes.locked_at) AS locked_at
             FROM seat
             JOIN notes ON notes.seat = seat.id
             JOIN mark ON mark.notes = notes.id
             WHERE seat.taster = ?1 AND notes.removed_at IS NULL AND notes.locked_at IS NOT NULL
                 AND mark.descriptor IS NOT NULL AND mark.prompting = 'unprompted'
             GROUP BY mark.descriptor",
            [taster.as_str()],
            |row| {
                Ok((
                    row::text(row, "descriptor", DescriptorId::new)?,
                    row::moment(row, "locked_at")?,
                ))
            },
        )?;
        Ok(first.into_iter().collect())
    }
}
