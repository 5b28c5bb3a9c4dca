//! The notes and blind answers of one person as they take them away: nothing in them tells what is still blind.

use std::collections::HashMap;
use std::collections::HashSet;
use std::sync::Arc;

use crate::discrimination::Ways;
use crate::domain::BlindingCode;
use crate::domain::Measure;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Notes;
use crate::domain::NotesId;
use crate::domain::Rating;
use crate::domain::SampleId;
use crate::domain::Scale;
use crate::domain::SeatId;
use crate::domain::SecondSniff;
use crate::domain::SittingId;
use crate::domain::SittingKind;
use crate::domain::SniffedWord;
use crate::domain::Sureness;
use crate::domain::TestAnswer;
use crate::formats::PanelRow;
use crate::formats::write_panel;
use crate::storage::NotesRow;
use crate::workflow::Home;
use crate::workflow::PlannedTest;
use crate::workflow::TasterExport;
use crate::workflow::WorkflowError;
use crate::workflow::seal::PouredGlasses;

/// Ends of the scale of an intensity.
const DIGITS: [f64; 2] = [0.0, 9.0];

/// One set of notes.
#[derive(Debug, Clone, PartialEq)]
pub struct ExportedNotes {
    /// The notes with everything in them.
    pub notes: Notes,
    /// Their sitting.
    pub sitting: SittingId,
    /// What kind of sitting.
    pub kind: SittingKind,
    /// The code of the glass.
    pub code: BlindingCode,
    /// The bottle; none while it is not told what is in the glasses of the sitting.
    pub cap_mark: Option<Name>,
    /// The place of the glass in the order it was served in, from 1; none where no order was kept.
    pub place: Option<usize>,
    /// When the taster left without locking.
    pub left_at: Option<Moment>,
    /// The second sniff, as far as it may be told.
    pub second_sniff: Option<SecondSniff>,
}

impl ExportedNotes {
    /// The words of the second sniff that may be told: those answered.
    pub fn sniffed(&self) -> impl Iterator<Item = &SniffedWord> {
        let words = self.second_sniff.iter().flat_map(|it| &it.words);
        words.filter(|it| it.answered.is_some())
    }

    /// True once all words of the second sniff are answered: then it is told which were decoys.
    #[must_use]
    pub fn are_decoys_told(&self) -> bool {
        self.second_sniff
            .as_ref()
            .is_some_and(|it| it.asked().is_none())
    }
}

/// One answer to a blind test.
#[derive(Debug, Clone, PartialEq)]
pub struct ExportedAnswer {
    /// The set, from 1.
    pub set: u16,
    /// The code chosen; none before the test is closed.
    pub code: Option<BlindingCode>,
    /// Whether it was right; none before the test is closed, and where no answer is right.
    pub right: Option<bool>,
    /// How sure.
    pub sureness: Option<Sureness>,
    /// The mark of the bottle liked better; none before the test is closed.
    pub prefers: Option<Name>,
    /// What differed, in words.
    pub words: Vec<String>,
    /// When it was given.
    pub given_at: Moment,
    /// Where it was typed.
    pub source: &'static str,
    /// Whether a later answer stands in its place.
    pub corrected: bool,
}

/// Whether the places are wanted at which glasses were served.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ServedPlaces {
    /// They are told.
    Told,
    /// Nobody asks for them, as in tables.
    LeftOut,
}

/// What stands beside the notes of a taster.
struct Beside<'a> {
    sniffs: HashMap<NotesId, SecondSniff>,
    servings: HashMap<SeatId, Vec<SampleId>>,
    told: Arc<HashSet<SittingId>>,
    glasses: &'a PouredGlasses,
}

impl Beside<'_> {
    /// The place of a glass in the order it was served in, from 1.
    fn place(&self, seat: &SeatId, sample: &SampleId) -> Option<usize> {
        let served = self.servings.get(seat)?;
        Some(served.iter().position(|it| it == sample)? + 1)
    }
}

impl Home {
    /// Adds the notes of a taster to what they take away.
    pub(super) fn export_notes(
        &self,
        all: Vec<(NotesRow, Notes)>,
        (glasses, places): (&PouredGlasses, ServedPlaces),
        export: &mut TasterExport,
    ) -> Result<(), WorkflowError> {
        let taster = &export.taster.id;
        let mut beside = Beside {
            sniffs: self.store.second_sniffs_of_taster(taster)?,
            servings: match places {
                ServedPlaces::Told => self.store.servings_of_taster(taster)?,
                ServedPlaces::LeftOut => HashMap::new(),
            },
            told: self.told_sittings()?,
            glasses,
        };
        for (row, notes) in all {
            let exported = self.exported(row, notes, &mut beside, &mut export.held_back)?;
            export.notes.extend(exported);
        }
        Ok(())
    }

    /// One set of notes as far as it may be told, and what is left out of it.
    fn exported(
        &self,
        row: NotesRow,
        notes: Notes,
        beside: &mut Beside<'_>,
        held_back: &mut Vec<String>,
    ) -> Result<Option<ExportedNotes>, WorkflowError> {
        let told = row.kind == SittingKind::Tasting || beside.told.contains(&row.sitting);
        let day = row.tasted_on;
        let what = called(&row, told.then_some(&row.beer.cap_mark));
        if row.locked_at.is_none() && row.left_at.is_none() {
            held_back.push(format!(
                "the notes of {day} on {what}: they are still open; lock them first, or leave"
            ));
            return Ok(None);
        }
        if !told {
            held_back.push(format!(
                "which bottle {what} of {day} was: somebody is still to taste at that table"
            ));
        }
        let mut second_sniff = beside.sniffs.remove(&row.notes);
        if second_sniff.is_some() && self.is_sealed_by(beside.glasses, &row.beer)? {
            second_sniff = None;
            held_back.push(format!(
                "the second sniff of {day} on {what}: its words tell a plan that is sealed while somebody is tasting"
            ));
        }
        Ok(Some(ExportedNotes {
            place: beside.place(&row.seat, &notes.sample),
            cap_mark: told.then_some(row.beer.cap_mark),
            sitting: row.sitting,
            kind: row.kind,
            code: row.code,
            left_at: row.left_at,
            second_sniff,
            notes,
        }))
    }

    /// The sittings of which it is told what was in their glasses.
    fn told_sittings(&self) -> Result<Arc<HashSet<SittingId>>, WorkflowError> {
        let stamp = self.store.stamp()?;
        self.told
            .or_drawn(stamp, || Ok(self.store.told_sittings()?))
    }

    /// One answer to a blind test, with codes once the test is closed.
    pub(super) fn exported_answer(
        &self,
        answer: &TestAnswer,
        closed: Option<&PlannedTest>,
    ) -> ExportedAnswer {
        let mark = |planned: &PlannedTest| {
            let sample = planned.sample(answer.prefers.as_ref()?)?;
            let beer = planned.beers.iter().find(|it| it.id == sample.beer)?;
            Some(beer.cap_mark.clone())
        };
        let judged = closed.filter(|it| it.method.ways == Ways::One);
        ExportedAnswer {
            set: answer.round,
            code: closed
                .and_then(|it| it.sample(&answer.chosen))
                .map(|it| it.code),
            right: judged.map(|it| it.is_right(answer)),
            sureness: answer.sureness,
            prefers: closed.and_then(mark),
            words: answer.words.iter().map(|it| self.answer_word(it)).collect(),
            given_at: answer.given_at,
            source: answer.source.id(),
            corrected: false,
        }
    }
}

/// What notes are called: by the bottle once it is told, by the code of the glass before.
fn called(row: &NotesRow, mark: Option<&Name>) -> String {
    match mark {
        Some(mark) => format!("“{mark}”"),
        None => format!("glass {}", row.code),
    }
}

impl TasterExport {
    /// The rated answers as a table that `thirdglass taster measure` reads: own notes on bottles that are
    /// told, and imported ratings. Amounts stand as digits from 0 to 9.
    #[must_use]
    pub fn answers_table(&self) -> String {
        let of_notes = self.notes.iter().flat_map(|it| self.rows_of(it));
        let imported = self.imported.iter().map(|it| PanelRow {
            taster: self.taster.name.to_string(),
            sitting: it.sitting.to_string(),
            sample: it.sample.to_string(),
            date: it.tasted_on,
            line: it.line.to_string(),
            intensity: it.digits,
            ends: DIGITS,
        });
        let rows: Vec<PanelRow> = of_notes.chain(imported).collect();
        write_panel(&rows)
    }

    fn rows_of(&self, notes: &ExportedNotes) -> Vec<PanelRow> {
        let Some(mark) = &notes.cap_mark else {
            return Vec::new();
        };
        // What was changed after the talk is no answer of one's own.
        if notes.kind == SittingKind::Panel && notes.notes.round > 1 {
            return Vec::new();
        }
        // The same glass once it is warmer is another question, not the same one again.
        let sample = match notes.notes.round {
            1 => mark.to_string(),
            round => format!("pass {round}, warmer: {mark}"),
        };
        let rated = notes.notes.ratings.iter().filter_map(|(scale, rating)| {
            let Rating::Rated(value) = rating else {
                return None;
            };
            let (intensity, ends) = on_its_scale(scale, *value);
            Some(PanelRow {
                taster: self.taster.name.to_string(),
                sitting: notes.sitting.to_string(),
                sample: sample.clone(),
                date: notes.notes.tasted_on,
                line: scale.id.to_owned(),
                intensity,
                ends,
            })
        });
        rated.collect()
    }
}

/// An answer with the ends of its scale.
fn on_its_scale(scale: &Scale, value: f64) -> (f64, [f64; 2]) {
    match scale.measure {
        Measure::Intensity => (value, DIGITS),
        Measure::Amount { .. } => (scale.digits(value), DIGITS),
        Measure::Choice { words } => {
            let last = u32::try_from(words.len()).unwrap_or(u32::MAX);
            (value, [1.0, f64::from(last)])
        }
    }
}
