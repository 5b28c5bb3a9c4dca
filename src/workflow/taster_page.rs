//! One taster's page: how far the notes can be trusted, whether that changes, and what to practise next.

use std::collections::HashSet;

use crate::domain::DescriptorId;
use crate::domain::NotesId;
use crate::domain::SCALES;
use crate::domain::Taster;
use crate::statistics::Drift;
use crate::statistics::FOutcome;
use crate::statistics::Probability;
use crate::statistics::discoveries;
use crate::storage::CodedNotes;
use crate::training::ChartKind;
use crate::training::GapToOthers;
use crate::training::NamingRecord;
use crate::training::TasterCharts;
use crate::training::TasterLine;
use crate::training::TasterMeasures;
use crate::training::taster_charts;
use crate::training::taster_measures;
use crate::workflow::Circumstances;
use crate::workflow::Confidence;
use crate::workflow::Home;
use crate::workflow::NoCircumstances;
use crate::workflow::TestRecord;
use crate::workflow::WorkflowError;
use crate::workflow::taster_ratings::TasterRatings;
use crate::workflow::taster_ratings::is_in_form;
use crate::workflow::taster_series::circumstances;

/// The share of claims about lines that may be chance alone.
const LEVEL: Probability = Probability::new(0.05).expect("5 % is a probability");

/// Repeats before it is told whether beers are told apart (judgement).
const LEAST_REPEATS: usize = 4;

/// Jars that are named to practise next.
const JARS: usize = 3;

/// Everything one taster's page tells.
#[derive(Debug, Clone, PartialEq)]
pub struct TasterPage {
    /// Who.
    pub taster: Taster,
    /// Coded glasses that count.
    pub glasses: usize,
    /// Coded glasses that do not, because the taster was led or not in form.
    pub off_form: usize,
    /// Sittings of the glasses that count.
    pub sittings: usize,
    /// Ratings that were read in.
    pub imported: u64,
    /// Repeatability, days, and line by line bias, agreement and discrimination.
    pub measures: TasterMeasures,
    /// Lines on which the taster stands above or below the others beyond chance, all lines judged together.
    pub biased: Vec<String>,
    /// Lines on which beers are told apart beyond chance, all lines judged together; and those on which they
    /// were tried and are not.
    pub told_apart: Vec<String>,
    /// Lines on which beers were tried and are not told apart.
    pub not_told_apart: Vec<String>,
    /// How reliably words are named.
    pub naming: NamingRecord,
    /// What practice says.
    pub confidence: Confidence,
    /// Answers in blind tests.
    pub blind: TestRecord,
    /// The charts over time.
    pub charts: TasterCharts,
    /// What order, hour and pause do.
    pub circumstances: Result<Circumstances, NoCircumstances>,
    /// What to practise next, the most useful first.
    pub to_practise: Vec<ToPractise>,
}

/// One thing to practise.
#[derive(Debug, Clone, PartialEq)]
pub enum ToPractise {
    /// More glasses poured twice: so many pairs on a line like any other so far, of eight.
    Duplicates {
        /// Pairs on the line that has fewest of those that were rated.
        pairs: u32,
    },
    /// A scale on which the taster stands apart from the others: a series from weak to strong.
    Series {
        /// The line.
        line: String,
        /// Which way.
        side: Drift,
    },
    /// Jars of these words.
    Jars(Vec<DescriptorId>),
}

impl Home {
    /// The page of a taster.
    ///
    /// # Errors
    /// Nobody has the name, the taster has open notes, or the store cannot be read.
    pub fn taster_page(
        &mut self,
        name: &str,
        kind: ChartKind,
    ) -> Result<TasterPage, WorkflowError> {
        let taster = self.ensure_page_may_be_told(name)?;
        let ratings = self.taster_ratings()?;
        let measures = measures_of(&ratings, &taster)?;
        let coded = &ratings.coded;
        let own = ratings.notes.iter().filter(|it| it.taster == taster.id);
        let (counted, off_form): (Vec<&CodedNotes>, Vec<_>) = own.partition(|it| is_in_form(it));
        let mut sittings: Vec<&str> = counted.iter().map(|it| it.sitting.as_str()).collect();
        sittings.dedup();
        let of_counted: HashSet<&NotesId> = counted.iter().map(|it| &it.notes).collect();
        let profile = coded.iter().filter(|it| it.scale.stage.is_some());
        let from_here = profile
            .filter(|it| of_counted.contains(&it.of.notes))
            .count() as u64;
        let series = self.taster_series(&taster, &ratings.notes, coded)?;
        let biased = biased(&measures.lines);
        let (told_apart, not_told_apart) = told_apart(&measures.lines);
        Ok(TasterPage {
            glasses: counted.len(),
            off_form: off_form.len(),
            sittings: sittings.len(),
            imported: measures.ratings.saturating_sub(from_here),
            to_practise: self.practise_next(&taster, &measures, &biased)?,
            biased,
            told_apart,
            not_told_apart,
            naming: self.taster_naming(&ratings.notes)?.of(&taster.name),
            confidence: self.confidence(&taster)?,
            blind: self.test_record(taster.name.as_str())?,
            charts: taster_charts(&series, kind),
            circumstances: circumstances(&taster, &ratings.notes, coded),
            measures,
            taster,
        })
    }

    /// Lets pass only if the taster has no open notes.
    ///
    /// # Errors
    /// Nobody has the name, or the taster has open notes.
    pub fn ensure_page_may_be_told(&self, name: &str) -> Result<Taster, WorkflowError> {
        let taster = self.taster(name)?;
        if self.is_tasting(&taster)? {
            let mut waiting = self.store.waiting_glasses()?.into_iter();
            let own = waiting.find(|it| it.taster.id == taster.id);
            return Err(WorkflowError::PageWaits {
                taster: taster.name.to_string(),
                panel: own.map(|it| it.number),
            });
        }
        Ok(taster)
    }

    fn practise_next(
        &mut self,
        taster: &Taster,
        measures: &TasterMeasures,
        biased: &[String],
    ) -> Result<Vec<ToPractise>, WorkflowError> {
        let mut all = Vec::new();
        let pairs = measures.noise.map_or(0, |it| it.pairs);
        let lines = measures.lines.iter().filter_map(|it| it.noise.ok());
        let fewest = lines.map(|it| it.pairs).min().unwrap_or(0);
        if pairs == 0 || fewest < 8 {
            all.push(ToPractise::Duplicates { pairs: fewest });
        }
        let has_series = |line: &&String| {
            SCALES
                .iter()
                .any(|it| it.id == **line && it.anchors.is_some_and(|it| it.series.is_some()))
        };
        if let Some(line) = biased.iter().find(has_series) {
            let found = measures.lines.iter().find(|it| it.line == *line);
            let above = found
                .and_then(|it| it.standing)
                .is_some_and(|it| it.value > 0.0);
            all.push(ToPractise::Series {
                line: line.clone(),
                side: if above { Drift::Up } else { Drift::Down },
            });
        }
        // What would be chosen now stands before a taster who practises, under codes.
        let practises = !self.store.open_practices(&taster.id)?.is_empty();
        let jars = self.jars_to_name(taster, JARS)?;
        if !jars.is_empty() && !practises {
            all.push(ToPractise::Jars(jars));
        }
        Ok(all)
    }
}

/// The measures of one taster among those of all.
fn measures_of(ratings: &TasterRatings, taster: &Taster) -> Result<TasterMeasures, WorkflowError> {
    let row = ratings.tasters.iter().position(|it| *it == taster.id);
    let measures = row.and_then(|row| {
        let mut all = taster_measures(&ratings.gathered);
        (row < all.len()).then(|| all.swap_remove(row))
    });
    // In another window the taster may have been forgotten meanwhile.
    measures.ok_or_else(|| WorkflowError::NoTaster {
        asked: taster.name.to_string(),
        known: Vec::new(),
    })
}

/// The lines on which a taster stands apart from the others beyond chance, the farthest first.
fn biased(lines: &[TasterLine]) -> Vec<String> {
    let known: Vec<(&TasterLine, GapToOthers)> = lines
        .iter()
        .filter_map(|line| Some((line, line.standing?)))
        .collect();
    let p: Vec<Probability> = known.iter().map(|it| it.1.p).collect();
    let found = discoveries(&p, LEVEL);
    let mut found: Vec<(&str, f64)> = known
        .iter()
        .zip(found)
        .filter_map(|(it, found)| found.then_some((it.0.line.as_str(), it.1.value.abs())))
        .collect();
    found.sort_by(|a, b| b.1.total_cmp(&a.1));
    found.into_iter().map(|it| it.0.to_owned()).collect()
}

/// The lines on which beers are told apart beyond chance, and those on which they are not.
fn told_apart(lines: &[TasterLine]) -> (Vec<String>, Vec<String>) {
    let known: Vec<(&str, Probability)> = lines
        .iter()
        .filter_map(|line| {
            let tried = line.discrimination.as_ref().ok()?;
            // From whole digits one lucky pair leaves no error at all, and every beer would be told apart.
            let FOutcome::Ratio { p, .. } = tried.test.outcome else {
                return None;
            };
            (tried.test.below >= LEAST_REPEATS).then_some((line.line.as_str(), p))
        })
        .collect();
    let p: Vec<Probability> = known.iter().map(|it| it.1).collect();
    let found = discoveries(&p, LEVEL);
    let (told, not): (Vec<_>, Vec<_>) = known.iter().zip(found).partition(|it| it.1);
    let names = |all: Vec<(&(&str, Probability), bool)>| {
        all.into_iter().map(|it| it.0.0.to_owned()).collect()
    };
    (names(told), names(not))
}
