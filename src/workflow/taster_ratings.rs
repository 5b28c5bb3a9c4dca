//! All ratings that say how far tasters can be trusted: coded glasses of this home, and what was read in.

use std::collections::HashMap;
use std::sync::Arc;

use crate::domain::Day;
use crate::domain::Knew;
use crate::domain::Measure;
use crate::domain::Name;
use crate::domain::Nose;
use crate::domain::NotesId;
use crate::domain::SCALES;
use crate::domain::TasterId;
use crate::storage::CodedNotes;
use crate::storage::CodedRating;
use crate::storage::KeptSummary;
use crate::training::GatheredRatings;
use crate::training::GlassRating;
use crate::training::RatingGatherer;
use crate::training::RatingSums;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::imports::line_id;
use crate::workflow::imports::sums_of;

/// The ratings of all tasters, gathered.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TasterRatings {
    /// Whose they are, in the order of the rows.
    pub(super) tasters: Vec<TasterId>,
    /// The sums; a line that is a scale bears its id, another one its name in the import.
    pub(super) gathered: GatheredRatings,
    /// The notes on coded glasses, those that count and those that do not.
    pub(super) notes: Arc<Vec<CodedNotes>>,
    /// The answers in them.
    pub(super) coded: Vec<CodedRating>,
    /// The days of the first and the last, coded glasses and imports together.
    pub(super) days: Option<(Day, Day)>,
}

/// True for notes of a taster who was not led and had a good nose.
pub(super) fn is_in_form(notes: &CodedNotes) -> bool {
    let knew = matches!(notes.knew, Some(Knew::Recipe | Knew::EarlierReveal));
    let poor = matches!(notes.nose, Some(Nose::Cold | Nose::Meal | Nose::Tired));
    !knew && !poor && notes.seal_broken_at.is_none()
}

impl Home {
    /// The notes on coded glasses, oldest sitting first.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn coded_notes(&self) -> Result<Arc<Vec<CodedNotes>>, WorkflowError> {
        let stamp = self.store.stamp()?;
        self.coded.or_drawn(stamp, || Ok(self.store.coded_notes()?))
    }

    /// Gathers the ratings of all tasters. Only coded glasses of closed sittings count, and of those only notes
    /// of tasters who were not led and had a good nose.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn taster_ratings(&self) -> Result<TasterRatings, WorkflowError> {
        let notes = self.coded_notes()?;
        let mut rows = Rows::new(self.tasters()?.into_iter().map(|it| (it.id, it.name)));
        let mut days = own_days(&notes);
        let coded = self.store.coded_ratings(&notes)?;
        rows.add_own(&notes, &coded);
        let mut kept: HashMap<u32, Vec<KeptSummary>> = HashMap::new();
        for it in self.store.summaries()? {
            kept.entry(it.import).or_default().push(it);
        }
        for import in self.store.imports()? {
            days = joined(days, self.store.import_days(import.number)?);
            let summaries = kept.remove(&import.number).unwrap_or_default();
            let current = |it: &KeptSummary| {
                it.formula_version == RatingSums::FORMULA_VERSION && it.up_to == import.ratings
            };
            let usable = !summaries.is_empty() && summaries.iter().all(current);
            if usable && rows.add_import(&summaries) {
                continue;
            }
            // Sums of an earlier formula, or damaged ones, are as good as none.
            let names = self.store.import_names(import.number)?;
            for it in sums_of(&self.store, import.number)? {
                let taster = names.tasters.get(&it.taster);
                let line = names.lines.get(&it.line);
                let sums = RatingSums::from_text(&it.document);
                if let (Some(taster), Some(line), Some(sums)) = (taster, line, sums) {
                    rows.add(taster, line, &sums);
                }
            }
        }
        Ok(TasterRatings {
            tasters: rows.tasters.iter().map(|it| it.0.clone()).collect(),
            gathered: rows.gathered(),
            notes,
            coded,
            days,
        })
    }
}

fn own_days(notes: &[CodedNotes]) -> Option<(Day, Day)> {
    let days = notes.iter().map(|it| it.tasted_on);
    days.clone().min().zip(days.max())
}

fn joined(one: Option<(Day, Day)>, other: Option<(Day, Day)>) -> Option<(Day, Day)> {
    match (one, other) {
        (Some(one), Some(other)) => Some((one.0.min(other.0), one.1.max(other.1))),
        (one, other) => one.or(other),
    }
}

/// Sums by taster and line while they are gathered.
struct Rows {
    tasters: Vec<(TasterId, Name)>,
    lines: Vec<String>,
    sums: HashMap<(usize, usize), RatingSums>,
}

impl Rows {
    /// Every taster has a row and every scale a column, so that what others teach reaches them too.
    fn new(tasters: impl Iterator<Item = (TasterId, Name)>) -> Self {
        let scales = SCALES.iter().filter(|it| it.stage.is_some());
        let intensities = scales.filter(|it| !matches!(it.measure, Measure::Choice { .. }));
        Self {
            tasters: tasters.collect(),
            lines: intensities.map(|it| it.id.to_owned()).collect(),
            sums: HashMap::new(),
        }
    }

    fn line(&mut self, name: &str) -> usize {
        let id = line_id(name);
        if let Some(at) = self.lines.iter().position(|it| *it == id) {
            return at;
        }
        self.lines.push(id);
        self.lines.len() - 1
    }

    fn add(&mut self, taster: &TasterId, line: &str, sums: &RatingSums) {
        let Some(row) = self.tasters.iter().position(|it| it.0 == *taster) else {
            return;
        };
        let line = self.line(line);
        let all = self.sums.entry((row, line)).or_insert(RatingSums::NONE);
        *all = all.joined(sums);
    }

    /// Adds sums that were kept; false, and nothing added, where one of them cannot be read.
    fn add_import(&mut self, summaries: &[KeptSummary]) -> bool {
        let read: Option<Vec<RatingSums>> = summaries
            .iter()
            .map(|it| RatingSums::from_text(&it.document))
            .collect();
        let Some(read) = read else {
            return false;
        };
        for (it, sums) in summaries.iter().zip(read) {
            self.add(&it.taster, &it.line, &sums);
        }
        true
    }

    /// Adds the coded glasses of this home.
    fn add_own(&mut self, notes: &[CodedNotes], ratings: &[CodedRating]) {
        let in_form = notes.iter().filter(|it| is_in_form(it));
        let days: HashMap<&NotesId, Day> = in_form.map(|it| (&it.notes, it.tasted_on)).collect();
        let mut numbers = Numbers::default();
        let mut gatherer = RatingGatherer::default();
        let mut blocks = Vec::new();
        for rows in ratings.chunk_by(|a, b| a.of.sitting == b.of.sitting && a.scale == b.scale) {
            let scale = rows[0].scale;
            let Some(line) = self.lines.iter().position(|it| it == scale.id) else {
                continue;
            };
            let glasses: Vec<GlassRating> = rows
                .iter()
                .filter_map(|it| {
                    Some(GlassRating {
                        day: *days.get(&it.of.notes)?,
                        taster: numbers.of(it.of.taster.as_str()),
                        sample: numbers.of(it.of.beer.as_str()),
                        digits: scale.digits(it.value),
                    })
                })
                .collect();
            if let Some(day) = glasses.iter().map(|it| it.day).min() {
                blocks.push((day, u32::try_from(line).unwrap_or(u32::MAX), glasses));
            }
        }
        // A sheet may be older than a sitting that was planned before it.
        blocks.sort_by_key(|it| it.0);
        for (_, line, glasses) in &blocks {
            gatherer.add(*line, glasses);
        }
        for ((taster, line), sums) in gatherer.gathered() {
            let (row, line) = (self.row(&numbers, taster), line as usize);
            if let Some(row) = row {
                let all = self.sums.entry((row, line)).or_insert(RatingSums::NONE);
                *all = all.joined(&sums);
            }
        }
    }

    fn row(&self, numbers: &Numbers<'_>, number: u32) -> Option<usize> {
        let id = numbers.names.get(number as usize)?;
        self.tasters.iter().position(|it| it.0.as_str() == *id)
    }

    fn gathered(&self) -> GatheredRatings {
        let of = |row: usize| {
            let lines = 0..self.lines.len();
            let sums = lines.map(|line| self.sums.get(&(row, line)).copied());
            sums.map(|it| it.unwrap_or(RatingSums::NONE)).collect()
        };
        let tasters = self.tasters.iter().enumerate();
        GatheredRatings {
            lines: self.lines.clone(),
            tasters: tasters
                .map(|(row, it)| (it.1.to_string(), of(row)))
                .collect(),
        }
    }
}

/// Numbers for ids.
#[derive(Default)]
struct Numbers<'a> {
    numbers: HashMap<&'a str, u32>,
    names: Vec<&'a str>,
}

impl<'a> Numbers<'a> {
    fn of(&mut self, id: &'a str) -> u32 {
        let next = u32::try_from(self.names.len()).unwrap_or(u32::MAX);
        let number = *self.numbers.entry(id).or_insert(next);
        if number == next {
            self.names.push(id);
        }
        number
    }
}
