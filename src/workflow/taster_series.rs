//! One taster sitting by sitting: how far above the others, how far astray, and under which circumstances.

use std::collections::BTreeMap;
use std::collections::HashMap;
use std::collections::HashSet;
use std::collections::hash_map::Entry;

use crate::domain::Day;
use crate::domain::NotesId;
use crate::domain::NotesSource;
use crate::domain::Taster;
use crate::statistics::Duplicates;
use crate::statistics::Interval;
use crate::statistics::Moments;
use crate::statistics::Probability;
use crate::statistics::Slope;
use crate::statistics::StudentT;
use crate::statistics::slopes;
use crate::storage::CodedNotes;
use crate::storage::CodedRating;
use crate::training::GlassRating;
use crate::training::SeriesPoint;
use crate::training::TasterSeries;
use crate::training::gap_to_others;
use crate::training::pairs_of_taster;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::clock::local_hour;
use crate::workflow::imports::line_id;
use crate::workflow::imports::scale_of_line;
use crate::workflow::taster_ratings::is_in_form;

/// The last sittings of imports that are charted: the last thirty, and before them the baseline.
const LAST_SITTINGS: u32 = 100;

/// The line of the chart of how far answers stray; no scale has this id, and no name is likely to begin so.
pub const STRAYS: &str = ":strays";

/// Glasses from which on circumstances are looked at (judgement).
const GLASSES: usize = 30;

/// Sittings from which on circumstances are looked at (judgement).
const SITTINGS: usize = 10;

/// What may move how far a taster stands from the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circumstances {
    /// One glass later in the order.
    pub later_glass: Slope,
    /// One hour later in the day.
    pub later_hour: Slope,
    /// Twice as many days since the last sitting, counted from one day on.
    pub longer_pause: Slope,
    /// Glasses they are of.
    pub glasses: usize,
}

/// Why nothing is said of circumstances.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoCircumstances {
    /// There are too few glasses or sittings.
    NotYet {
        /// Glasses that count.
        glasses: usize,
        /// How many it takes.
        glasses_needed: usize,
        /// Sittings that count.
        sittings: usize,
        /// How many it takes.
        sittings_needed: usize,
    },
    /// They never vary, or always vary together.
    Tied,
}

/// Points of one line by day, while they are gathered.
#[derive(Default)]
struct Gathered {
    lines: BTreeMap<String, Vec<SeriesPoint>>,
}

impl Gathered {
    /// Adds one sitting, line by line.
    fn sitting<'a>(
        &mut self,
        day: Day,
        taster: u32,
        lines: impl Iterator<Item = (String, &'a [GlassRating])>,
    ) {
        let mut pairs = Duplicates::NONE;
        for (line, ratings) in lines {
            if let Some((gap, variance)) = gap_to_others(ratings, taster) {
                let point = SeriesPoint { day, gap, variance };
                self.lines.entry(line).or_default().push(point);
            }
            pairs = pairs.joined(pairs_of_taster(ratings, taster));
        }
        if let Some(variance) = pairs.variance() {
            let strays = variance.sqrt();
            let line = self.lines.entry(STRAYS.to_owned()).or_default();
            line.push(SeriesPoint {
                day,
                gap: strays,
                // A scatter strays by 1/(2ν) of its variance.
                variance: 1.0 / f64::from(pairs.freedom()),
            });
        }
    }

    fn series(self) -> Vec<TasterSeries> {
        let sorted = |(line, mut points): (String, Vec<SeriesPoint>)| {
            points.sort_by_key(|it| it.day);
            TasterSeries { line, points }
        };
        self.lines.into_iter().map(sorted).collect()
    }
}

impl Home {
    /// How far a taster stood above the others on every line, and how far pairs of glasses lay apart, sitting by
    /// sitting.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn taster_series(
        &self,
        taster: &Taster,
        notes: &[CodedNotes],
        ratings: &[CodedRating],
    ) -> Result<Vec<TasterSeries>, WorkflowError> {
        let mut gathered = Gathered::default();
        own_sittings(taster, notes, ratings, &mut gathered);
        let mut names = HashMap::new();
        for sitting in self.store.last_import_sittings(&taster.id, LAST_SITTINGS)? {
            let lines = match names.entry(sitting.import) {
                Entry::Occupied(known) => known.into_mut(),
                Entry::Vacant(free) => free.insert(self.store.import_names(sitting.import)?.lines),
            };
            let rows = self.store.import_sitting_ratings(sitting.number)?;
            let ratings: Vec<GlassRating> = rows
                .iter()
                .map(|(_, it)| GlassRating {
                    day: sitting.tasted_on,
                    taster: it.taster,
                    sample: it.sample,
                    digits: it.digits,
                })
                .collect();
            let mut from = 0;
            let blocks = rows.chunk_by(|a, b| a.0 == b.0).filter_map(|block| {
                let rated = ratings.get(from..from + block.len())?;
                from += block.len();
                Some((line_id(lines.get(&block[0].0)?), rated))
            });
            gathered.sitting(sitting.tasted_on, sitting.taster, blocks);
        }
        Ok(gathered.series())
    }
}

/// Numbers for the ids of one sitting: the taster who is looked at is 0.
fn numbered<'a>(known: &mut Vec<&'a str>, id: &'a str) -> u32 {
    let at = known.iter().position(|it| *it == id).unwrap_or_else(|| {
        known.push(id);
        known.len() - 1
    });
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// The answers of one sitting, each with the id of its scale; the taster who is looked at has the number 0.
fn rows_of<'a>(
    taster: &Taster,
    day: Day,
    counted: &[&'a CodedRating],
) -> Vec<(&'a str, GlassRating)> {
    let mut tasters = vec![taster.id.as_str()];
    let mut beers = Vec::new();
    let row = |it: &&'a CodedRating| {
        let rating = GlassRating {
            day,
            taster: numbered(&mut tasters, it.of.taster.as_str()),
            sample: numbered(&mut beers, it.of.beer.as_str()),
            digits: it.scale.digits(it.value),
        };
        (it.scale.id, rating)
    };
    counted.iter().map(row).collect()
}

fn own_sittings(
    taster: &Taster,
    notes: &[CodedNotes],
    ratings: &[CodedRating],
    gathered: &mut Gathered,
) {
    let in_form = notes.iter().filter(|it| is_in_form(it));
    let days: HashMap<&NotesId, Day> = in_form.map(|it| (&it.notes, it.tasted_on)).collect();
    for sitting in ratings.chunk_by(|a, b| a.of.sitting == b.of.sitting) {
        let counted: Vec<&CodedRating> = sitting
            .iter()
            .filter(|it| days.contains_key(&it.of.notes))
            .collect();
        let own = counted.iter().find(|it| it.of.taster == taster.id);
        let Some(day) = own.and_then(|it| days.get(&it.of.notes)) else {
            continue;
        };
        let rows = rows_of(taster, *day, &counted);
        let ratings: Vec<GlassRating> = rows.iter().map(|it| it.1).collect();
        let mut from = 0;
        let blocks = rows.chunk_by(|a, b| a.0 == b.0).filter_map(|block| {
            let rated = ratings.get(from..from + block.len())?;
            from += block.len();
            let is_profile = scale_of_line(block[0].0).is_some();
            is_profile.then(|| (block[0].0.to_owned(), rated))
        });
        gathered.sitting(*day, 0, blocks);
    }
}

/// What order, hour and pause do to how far a taster stands from the others: the mean over the scales of one
/// glass of the distance to the mean of all others who had the beer, less what is usual for the taster there.
pub(super) fn circumstances(
    taster: &Taster,
    notes: &[CodedNotes],
    ratings: &[CodedRating],
) -> Result<Circumstances, NoCircumstances> {
    let (sittings, glasses) = told_sittings(taster, notes, ratings);
    if glasses < GLASSES || sittings.len() < SITTINGS {
        return Err(NoCircumstances::NotYet {
            glasses,
            glasses_needed: GLASSES,
            sittings: sittings.len(),
            sittings_needed: SITTINGS,
        });
    }
    // An hour and a pause belong to a whole sitting, so sittings are what counts.
    let means: Vec<([f64; 2], f64)> = sittings.iter().map(ToldSitting::means).collect();
    let within = sittings.iter().filter_map(ToldSitting::slope);
    let later_glass = mean_slope(&within.collect::<Vec<f64>>());
    match (slopes(&means), later_glass) {
        (Ok([later_hour, longer_pause]), Some(later_glass)) => Ok(Circumstances {
            later_glass,
            later_hour,
            longer_pause,
            glasses,
        }),
        _ => Err(NoCircumstances::Tied),
    }
}

/// One sitting of a taster: the hour and the pause before it, and each glass with its place and how far it stands
/// from the others.
struct ToldSitting {
    hour: f64,
    pause: f64,
    glasses: Vec<(f64, f64)>,
}

impl ToldSitting {
    fn means(&self) -> ([f64; 2], f64) {
        let apart = self.glasses.iter().map(|it| it.1).sum::<f64>();
        (
            [self.hour, self.pause.log2()],
            apart / self.glasses.len() as f64,
        )
    }

    /// By how much later glasses of this sitting stand farther from the others, a place.
    fn slope(&self) -> Option<f64> {
        let places = Moments::of(&self.glasses.iter().map(|it| it.0).collect::<Vec<f64>>());
        let products = self.glasses.iter();
        let products = products.map(|(place, apart)| (place - places.mean()) * apart);
        (places.squares() > 0.0).then(|| products.sum::<f64>() / places.squares())
    }
}

/// The mean of one slope a sitting; none before three of them, or where they never differ.
fn mean_slope(all: &[f64]) -> Option<Slope> {
    let all = Moments::of(all);
    let freedom = all.count().checked_sub(1).filter(|it| *it > 1)? as f64;
    let error = (all.squares() / freedom / all.count() as f64).sqrt();
    let student = StudentT::new(freedom).filter(|_| error > 0.0)?;
    let reach = student.quantile(Probability::new(0.975)?) * error;
    Some(Slope {
        value: all.mean(),
        interval: Interval::around(all.mean(), reach),
        p: student.two_sided_p(all.mean() / error),
    })
}

/// The sittings of a taster after the first that count, and their glasses.
fn told_sittings(
    taster: &Taster,
    notes: &[CodedNotes],
    ratings: &[CodedRating],
) -> (Vec<ToldSitting>, usize) {
    let ratings = in_form_alone(notes, ratings);
    let apart = apart_from_others(taster, &ratings);
    let own = notes.iter().filter(|it| it.taster == taster.id);
    let own: Vec<&CodedNotes> = own.collect();
    let mut told = Vec::new();
    let mut before: Option<Day> = None;
    for sitting in own.chunk_by(|a, b| a.sitting == b.sitting) {
        let typed_then =
            |it: &&&CodedNotes| matches!(it.source, NotesSource::App | NotesSource::Plain);
        let glasses: Vec<(f64, f64)> = sitting
            .iter()
            .filter(typed_then)
            .filter_map(|it| Some((f64::from(it.position?), *apart.get(&it.notes)?)))
            .collect();
        let day = sitting[0].tasted_on;
        if let Some(last) = before.filter(|_| !glasses.is_empty()) {
            told.push(ToldSitting {
                hour: local_hour(sitting[0].typed_on),
                pause: day.days_since(last).max(1) as f64,
                glasses,
            });
        }
        before = Some(day);
    }
    let glasses = told.iter().map(|it| it.glasses.len()).sum();
    (told, glasses)
}

/// The answers of tasters who were not led and had a good nose.
fn in_form_alone(notes: &[CodedNotes], ratings: &[CodedRating]) -> Vec<CodedRating> {
    let counted = notes.iter().filter(|it| is_in_form(it));
    let counted: HashSet<&NotesId> = counted.map(|it| &it.notes).collect();
    let ratings = ratings.iter();
    ratings
        .filter(|it| counted.contains(&it.of.notes))
        .cloned()
        .collect()
}

/// How far each of a taster's glasses stands from the others.
fn apart_from_others<'a>(taster: &Taster, ratings: &'a [CodedRating]) -> HashMap<&'a NotesId, f64> {
    let mut gaps: Vec<(&NotesId, &str, f64)> = Vec::new();
    for block in ratings.chunk_by(|a, b| a.of.sitting == b.of.sitting && a.scale == b.scale) {
        if block[0].scale.stage.is_none() {
            continue;
        }
        for own in block.iter().filter(|it| it.of.taster == taster.id) {
            let others = block
                .iter()
                .filter(|it| it.of.taster != taster.id && it.of.beer == own.of.beer);
            let (sum, count) = others.fold((0.0, 0.0), |(sum, count), it| {
                (sum + it.scale.digits(it.value), count + 1.0)
            });
            if count > 0.0 {
                let gap = own.scale.digits(own.value) - sum / count;
                gaps.push((&own.of.notes, own.scale.id, gap));
            }
        }
    }
    let mut usual: HashMap<&str, (f64, f64)> = HashMap::new();
    for (_, scale, gap) in &gaps {
        let all = usual.entry(scale).or_insert((0.0, 0.0));
        *all = (all.0 + gap, all.1 + 1.0);
    }
    let mut glasses: HashMap<&NotesId, (f64, f64)> = HashMap::new();
    for (notes, scale, gap) in gaps {
        let (sum, count) = usual.get(scale).copied().unwrap_or((0.0, 1.0));
        let all = glasses.entry(notes).or_insert((0.0, 0.0));
        *all = (all.0 + (gap - sum / count).abs(), all.1 + 1.0);
    }
    let means = glasses.into_iter();
    means
        .map(|(notes, (sum, count))| (notes, sum / count))
        .collect()
}
