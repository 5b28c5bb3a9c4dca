//! Answers to coded glasses, as the measures of a taster need them.

use std::collections::HashMap;
use std::sync::Arc;

use rusqlite::Row;

use crate::domain::BeerId;
use crate::domain::Day;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Moment;
use crate::domain::Nose;
use crate::domain::NotesId;
use crate::domain::NotesSource;
use crate::domain::SCALES;
use crate::domain::Scale;
use crate::domain::SittingId;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::notes::subject_at;
use crate::storage::notes_places::NotesPlaces;
use crate::storage::row;

/// One answer to one coded glass.
#[derive(Debug, Clone, PartialEq)]
pub struct CodedRating {
    /// In which notes: whose, on what, in which sitting.
    pub of: Arc<CodedNotes>,
    /// On which scale.
    pub scale: &'static Scale,
    /// The answer, in the unit of the scale.
    pub value: f64,
}

/// One set of notes on a coded glass.
#[derive(Debug, Clone, PartialEq)]
pub struct CodedNotes {
    /// The notes.
    pub notes: NotesId,
    /// In which sitting.
    pub sitting: SittingId,
    /// Who.
    pub taster: TasterId,
    /// What was in the glass.
    pub beer: BeerId,
    /// The day of tasting.
    pub tasted_on: Day,
    /// When typing began.
    pub typed_on: Moment,
    /// How they were typed.
    pub source: NotesSource,
    /// Which form was asked: the short one asks for three words alone.
    pub form: Form,
    /// The place of the glass in its taster's order; none where none was kept.
    pub position: Option<u32>,
    /// What was known beforehand.
    pub knew: Option<Knew>,
    /// How the nose was.
    pub nose: Option<Nose>,
    /// When the seal was broken on purpose.
    pub seal_broken_at: Option<Moment>,
}

/// One thing named unasked in a coded glass.
#[derive(Debug, Clone, PartialEq)]
pub struct CodedMark {
    /// In which notes: their place in the list that was asked for.
    pub place: usize,
    /// At which stage.
    pub stage: Stage,
    /// What.
    pub subject: Subject,
}

/// Locked first passes over sound bottles, in closed sittings whose glasses bore codes; of a panel once it was told
/// what was in them.
const CODED: &str = "FROM sitting
    JOIN seat ON seat.sitting = sitting.id
    JOIN notes ON notes.seat = seat.id
    JOIN sample ON sample.id = notes.sample
    WHERE sitting.kind IN ('panel', 'two-glasses') AND sitting.closed_at IS NOT NULL
        AND sitting.removed_at IS NULL AND notes.removed_at IS NULL
        AND notes.locked_at IS NOT NULL AND notes.bottle_fault IS NULL AND notes.round = 1
        AND sample.beer IS NOT NULL
        AND (sitting.kind <> 'panel' OR EXISTS
            (SELECT 1 FROM panel WHERE panel.sitting = sitting.id AND panel.told_at IS NOT NULL))";

impl Store {
    /// Every set of notes on a coded glass, oldest sitting first, the glasses of a taster in their order.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn coded_notes(&self) -> Result<Vec<CodedNotes>, StorageError> {
        let sql = format!(
            "SELECT notes.id, seat.sitting, seat.taster, sample.beer, tasted_on, typed_on, notes.source, notes.form,
                 knew, nose, seal_broken_at,
                 (SELECT position FROM serving WHERE serving.seat = seat.id
                  AND serving.sample = sample.id) AS position
             {CODED} ORDER BY sitting.made_at, sitting.rowid, seat.rowid, position, notes.rowid"
        );
        self.all("read notes on coded glasses", &sql, [], coded_notes)
    }

    /// Every answer with a value in these notes: sitting by sitting, in each scale by scale, in the order of the notes.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn coded_ratings(&self, notes: &[CodedNotes]) -> Result<Vec<CodedRating>, StorageError> {
        let mut places = NotesPlaces::of(notes.iter().map(|it| it.notes.as_str()));
        let sittings = sitting_numbers(notes);
        let mut scales: Vec<&'static Scale> = SCALES.iter().collect();
        scales.sort_by_key(|it| it.id);
        let numbers: HashMap<&str, usize> = scales.iter().map(|it| it.id).zip(0..).collect();
        // To sort numbers here is faster than ids and moments there.
        let mut all = Vec::new();
        let sql = "SELECT notes, scale, value FROM rating
             WHERE value IS NOT NULL AND notes IN (SELECT value FROM json_each(?1))";
        let ids = places.json();
        self.all("read answers to coded glasses", sql, [ids], |row| {
            if let Some(place) = places.find(row.get_ref(0)?.as_str()?) {
                let scale = row::text(row, 1, |id| match numbers.get(id) {
                    Some(number) => Ok(*number),
                    None => Scale::from_id(id).map(|_| 0),
                })?;
                all.push((sittings[place], scale, place, row.get(2)?));
            }
            Ok(())
        })?;
        all.sort_unstable_by_key(|it| (it.0, it.1, it.2));
        let notes: Vec<Arc<CodedNotes>> = notes.iter().cloned().map(Arc::new).collect();
        let ratings = all.into_iter().map(|(_, scale, place, value)| CodedRating {
            of: Arc::clone(&notes[place]),
            scale: scales[scale],
            value,
        });
        Ok(ratings.collect())
    }

    /// Everything that was named unasked in these notes, but what was answered with 0.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn coded_marks(&self, notes: &[CodedNotes]) -> Result<Vec<CodedMark>, StorageError> {
        let mut places = NotesPlaces::of(notes.iter().map(|it| it.notes.as_str()));
        let sql = "SELECT notes, stage, descriptor, shelf, place, free FROM mark
             WHERE prompting = 'unprompted' AND intensity IS NOT 0
                 AND notes IN (SELECT value FROM json_each(?1))";
        let mut all = Vec::new();
        let ids = places.json();
        self.all("read words for coded glasses", sql, [ids], |row| {
            if let Some(place) = places.find(row.get_ref(0)?.as_str()?) {
                all.push(CodedMark {
                    place,
                    stage: row::text(row, 1, Stage::from_id)?,
                    subject: subject_at(row, [2, 3, 4, 5])?,
                });
            }
            Ok(())
        })?;
        Ok(all)
    }
}

/// For each of these notes a number of its sitting, in the order of the list.
fn sitting_numbers(notes: &[CodedNotes]) -> Vec<usize> {
    let mut number = 0;
    let mut before: Option<&SittingId> = None;
    let numbers = notes.iter().map(|it| {
        number += usize::from(before != Some(&it.sitting));
        before = Some(&it.sitting);
        number
    });
    numbers.collect()
}

fn coded_notes(row: &Row<'_>) -> rusqlite::Result<CodedNotes> {
    Ok(CodedNotes {
        notes: row::id(row, 0, NotesId::new)?,
        sitting: row::id(row, 1, SittingId::new)?,
        taster: row::id(row, 2, TasterId::new)?,
        beer: row::id(row, 3, BeerId::new)?,
        tasted_on: row::text(row, 4, Day::parse)?,
        typed_on: row::moment(row, 5)?,
        source: row::text(row, 6, NotesSource::from_id)?,
        form: row::text(row, 7, Form::from_id)?,
        position: row.get(11)?,
        knew: row::text_or_none(row, 8, Knew::from_id)?,
        nose: row::text_or_none(row, 9, Nose::from_id)?,
        seal_broken_at: row::moment_or_none(row, 10)?,
    })
}
