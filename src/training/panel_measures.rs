//! How far ratings of a panel can be trusted: each taster with themselves, and all with one another.

use std::collections::BTreeMap;

use crate::domain::Day;
use crate::domain::PanelRating;
use crate::statistics::CompleteTable;
use crate::statistics::GroupsRefused;
use crate::statistics::Intraclass;
use crate::statistics::IntraclassForm;
use crate::statistics::KrippendorffAlpha;
use crate::statistics::Metric;
use crate::statistics::NoAlpha;
use crate::statistics::Precision;
use crate::statistics::RankAgreement;
use crate::statistics::TableSquares;
use crate::statistics::krippendorff_alpha;
use crate::statistics::precision;
use crate::statistics::rank_agreement;
use crate::training::GatheredRatings;
use crate::training::GlassRating;
use crate::training::RatingGatherer;
use crate::training::RatingSums;
use crate::training::TasterMeasures;
use crate::training::taster_measures;

/// The measures of a panel.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelMeasures {
    /// How many ratings there are.
    pub ratings: usize,
    /// The days of the first and the last.
    pub days: Option<(Day, Day)>,
    /// Line by line, in the order of their names: how far the panel agrees.
    pub lines: Vec<LineAgreement>,
    /// Taster by taster, in the order of their names.
    pub tasters: Vec<TasterMeasures>,
}

/// How far a panel agrees on one line; each measure, or why there is none, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct LineAgreement {
    /// The line.
    pub line: String,
    /// Glasses: samples in sittings, the glasses of one sample averaged.
    pub glasses: usize,
    /// Tasters who rated any of them.
    pub tasters: usize,
    /// The six forms of the intraclass correlation; of glasses that everybody rated.
    pub intraclass: Result<Vec<Intraclass>, String>,
    /// Friedman's test and Kendall's W; of the same.
    pub ranks: Result<RankAgreement, String>,
    /// Krippendorff's alpha for intervals, which bears gaps.
    pub alpha: Result<KrippendorffAlpha, NoAlpha>,
    /// The same by order alone, for those who use the digits of the scale each in their way.
    pub ordinal_alpha: Result<KrippendorffAlpha, NoAlpha>,
    /// How far answers of one taster and of several differ about the same glass.
    pub precision: Result<LinePrecision, GroupsRefused>,
}

/// Precision on one line (ISO 5725-2), over the glasses of which somebody had two.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePrecision {
    /// How many glasses.
    pub glasses: usize,
    /// `s_r`: answers of one taster; variances pooled by their degrees of freedom.
    pub repeatability_sd: f64,
    /// `s_R`: answers of different tasters; variances between tasters averaged over the glasses.
    pub reproducibility_sd: f64,
}

/// Ratings by taster (outer) and line, each by glass.
type Glass<'a> = (Day, &'a str, &'a str);
type Glasses<'a> = BTreeMap<Glass<'a>, Vec<f64>>;
type ByTaster<'a> = BTreeMap<&'a str, BTreeMap<&'a str, Glasses<'a>>>;

/// All measures of the ratings of a panel.
#[must_use]
pub fn panel_measures(ratings: &[PanelRating]) -> PanelMeasures {
    let mut by_taster: ByTaster<'_> = BTreeMap::new();
    for it in ratings {
        let glass = (it.tasted_on, it.sitting.as_str(), it.sample.as_str());
        let own = by_taster.entry(it.taster.as_str()).or_default();
        let line = own.entry(it.line.as_str()).or_default();
        line.entry(glass).or_default().push(it.digits);
    }
    let lines = names(ratings.iter().map(|it| it.line.as_str()));
    let days = ratings.iter().map(|it| it.tasted_on);
    PanelMeasures {
        ratings: ratings.len(),
        days: days.clone().min().zip(days.max()),
        lines: lines
            .iter()
            .map(|line| agreement(&by_taster, line))
            .collect(),
        tasters: taster_measures(&gathered(ratings, &lines)),
    }
}

/// The day, the sitting, and the number of the line.
type SittingLine<'a> = (Day, &'a str, u32);

/// Names, each once, in their order.
fn names<'a>(all: impl Iterator<Item = &'a str>) -> Vec<&'a str> {
    let mut names: Vec<&str> = all.collect();
    names.sort_unstable();
    names.dedup();
    names
}

/// The sums of every taster on every line.
fn gathered(ratings: &[PanelRating], lines: &[&str]) -> GatheredRatings {
    let tasters = names(ratings.iter().map(|it| it.taster.as_str()));
    let samples = names(ratings.iter().map(|it| it.sample.as_str()));
    let number = |names: &[&str], name: &str| {
        let at = names.binary_search(&name).unwrap_or(names.len());
        u32::try_from(at).unwrap_or(u32::MAX)
    };
    let mut sittings: BTreeMap<SittingLine<'_>, Vec<(u16, GlassRating)>> = BTreeMap::new();
    for it in ratings {
        let line = number(lines, it.line.as_str());
        let rows = sittings.entry((it.tasted_on, it.sitting.as_str(), line));
        let rating = GlassRating {
            taster: number(&tasters, it.taster.as_str()),
            sample: number(&samples, it.sample.as_str()),
            day: it.tasted_on,
            digits: it.digits,
        };
        rows.or_default().push((it.replicate, rating));
    }
    let mut gatherer = RatingGatherer::default();
    for ((_, _, line), mut rows) in sittings {
        rows.sort_by_key(|it| it.0);
        let rows: Vec<GlassRating> = rows.into_iter().map(|it| it.1).collect();
        gatherer.add(line, &rows);
    }
    let sums = gatherer.gathered();
    let of = |taster: &str, line: &str| {
        let at = (number(&tasters, taster), number(lines, line));
        sums.get(&at).copied().unwrap_or(RatingSums::NONE)
    };
    let rows = tasters.iter().map(|taster| {
        let each = lines.iter().map(|line| of(taster, line)).collect();
        ((*taster).to_owned(), each)
    });
    GatheredRatings {
        lines: lines.iter().map(|it| (*it).to_owned()).collect(),
        tasters: rows.collect(),
    }
}

/// The mean of each glass of one taster on one line.
fn means<'a>(by_taster: &ByTaster<'a>, taster: &str, line: &str) -> BTreeMap<Glass<'a>, f64> {
    let glasses = by_taster.get(taster).and_then(|it| it.get(line));
    let glasses = glasses.into_iter().flatten();
    glasses
        .map(|(glass, values)| (*glass, values.iter().sum::<f64>() / values.len() as f64))
        .collect()
}

fn agreement(by_taster: &ByTaster<'_>, line: &str) -> LineAgreement {
    let tasters: Vec<&str> = by_taster.keys().copied().collect();
    let means: Vec<_> = tasters
        .iter()
        .map(|it| means(by_taster, it, line))
        .collect();
    let rated: Vec<_> = means.iter().filter(|it| !it.is_empty()).collect();
    let mut glasses: Vec<Glass<'_>> = rated.iter().flat_map(|it| it.keys().copied()).collect();
    glasses.sort_unstable();
    glasses.dedup();
    let everybody = |glass: &&Glass<'_>| rated.iter().all(|it| it.contains_key(*glass));
    let shared: Vec<_> = glasses.iter().filter(everybody).collect();
    let by_glass: Vec<Vec<Option<f64>>> = shared
        .iter()
        .map(|glass| rated.iter().map(|it| it.get(*glass).copied()).collect())
        .collect();
    let by_judge: Vec<Vec<Option<f64>>> = rated
        .iter()
        .map(|it| shared.iter().map(|glass| it.get(*glass).copied()).collect())
        .collect();
    let with_gaps: Vec<Vec<Option<f64>>> = rated
        .iter()
        .map(|it| glasses.iter().map(|glass| it.get(glass).copied()).collect())
        .collect();
    LineAgreement {
        line: line.to_owned(),
        glasses: glasses.len(),
        tasters: rated.len(),
        intraclass: intraclass(&by_glass),
        ranks: ranks(&by_judge),
        alpha: krippendorff_alpha(&with_gaps, Metric::Interval),
        ordinal_alpha: krippendorff_alpha(&with_gaps, Metric::Ordinal),
        precision: line_precision(by_taster, line),
    }
}

fn intraclass(by_glass: &[Vec<Option<f64>>]) -> Result<Vec<Intraclass>, String> {
    let table = CompleteTable::new(by_glass).map_err(|it| it.to_string())?;
    let squares = TableSquares::of(&table);
    let forms = IntraclassForm::ALL.into_iter();
    forms
        .map(|form| squares.intraclass(form).map_err(|it| it.to_string()))
        .collect()
}

fn ranks(by_judge: &[Vec<Option<f64>>]) -> Result<RankAgreement, String> {
    let table = CompleteTable::new(by_judge).map_err(|it| it.to_string())?;
    rank_agreement(&table).map_err(|it| it.to_string())
}

/// Repeatability and reproducibility on one line, of glasses that several tasters had and one of them twice.
fn line_precision(by_taster: &ByTaster<'_>, line: &str) -> Result<LinePrecision, GroupsRefused> {
    let mut glasses: BTreeMap<Glass<'_>, Vec<Vec<f64>>> = BTreeMap::new();
    for own in by_taster.values() {
        for (glass, values) in own.get(line).into_iter().flatten() {
            glasses.entry(*glass).or_default().push(values.clone());
        }
    }
    let each: Vec<_> = glasses.values().map(|it| precision(it)).collect();
    let known: Vec<Precision> = each.iter().filter_map(|it| it.ok()).collect();
    if known.is_empty() {
        let refused = each.into_iter().find_map(Result::err);
        return Err(refused.unwrap_or(GroupsRefused::TooFewGroups(0)));
    }
    let freedom: usize = known.iter().map(|it| it.freedom).sum();
    let within = known
        .iter()
        .map(|it| it.within_sd.powi(2) * it.freedom as f64);
    let within = within.sum::<f64>() / freedom as f64;
    // Put to 0 one by one, variances that are none would add up to one.
    let between = known
        .iter()
        .map(|it| it.between_excess)
        .sum::<f64>()
        .max(0.0);
    Ok(LinePrecision {
        glasses: known.len(),
        repeatability_sd: within.sqrt(),
        reproducibility_sd: (within + between / known.len() as f64).sqrt(),
    })
}

#[cfg(test)]
mod tests {
    use crate::domain::Name;

    use super::*;

    /// Rows of (taster, sample, replicate, digits) on one line in one sitting.
    fn ratings(rows: &[(&str, &str, u16, f64)]) -> Vec<PanelRating> {
        let name = |text: &str| Name::new("a name", text).unwrap();
        rows.iter()
            .map(|(taster, sample, replicate, digits)| PanelRating {
                taster: name(taster),
                sitting: name("one"),
                sample: name(sample),
                replicate: *replicate,
                tasted_on: Day::parse("2026-03-14").unwrap(),
                line: name("bitter"),
                digits: *digits,
            })
            .collect()
    }

    #[test]
    fn the_classic_table_of_six_targets_and_four_judges_gives_its_published_forms() {
        // Shrout & Fleiss 1979, tables 2 and 4: .17 .29 .71 .44 .62 .91 (values halved here, which no form
        // feels, so that they fit on 0 to 9).
        let table = [
            [9, 2, 5, 8],
            [6, 1, 3, 2],
            [8, 4, 6, 8],
            [7, 1, 2, 6],
            [10, 5, 6, 9],
            [6, 2, 4, 7],
        ];
        let mut rows = Vec::new();
        for (sample, judged) in ["a", "b", "c", "d", "e", "f"].iter().zip(table) {
            for (taster, value) in ["A", "B", "C", "D"].iter().zip(judged) {
                rows.push((*taster, *sample, 1, f64::from(value) / 2.0));
            }
        }
        let it = panel_measures(&ratings(&rows));
        let forms = it.lines[0].intraclass.as_ref().unwrap();
        for (found, published) in forms.iter().zip([0.17, 0.29, 0.71, 0.44, 0.62, 0.91]) {
            assert!((found.value - published).abs() < 0.005, "{found:?}");
        }
        // Nobody had anything twice: no repeatability, and a reason why there is no discrimination.
        assert!(it.tasters.iter().all(|it| it.noise.is_none()));
        assert!(it.tasters[0].lines[0].discrimination.is_err());
    }

    #[test]
    fn an_assessor_of_the_standard_has_the_published_f() {
        // ISO 8586:2012 Annex C, assessor 1, six batches with three replicates: F 13.36, s_r 0.7454.
        let assessors: [[[u8; 3]; 6]; 3] = include!("../../tests/standards/iso-8586-annex-c.in");
        let mut rows = Vec::new();
        for (sample, values) in ["a", "b", "c", "d", "e", "f"].iter().zip(assessors[0]) {
            for (replicate, value) in (1..).zip(values) {
                rows.push(("Ana", *sample, replicate, f64::from(value)));
            }
        }
        let it = panel_measures(&ratings(&rows));
        let own = &it.tasters[0].lines[0];
        let found = own.discrimination.as_ref().unwrap();
        assert!((found.repeatability_sd - 0.7454).abs() < 5e-5);
        assert!((found.between / found.error - 13.36).abs() < 0.005);
        // Four of the six pairs have a mean from 2 to 7: 6.5, 7, 4.5, 6, 4.5 and 5.5 lie in it, 8 does not.
        assert_eq!(own.noise.unwrap().pairs, 5);
    }

    #[test]
    fn one_taster_one_sample_or_nothing_gives_reasons_and_no_number() {
        let alone = panel_measures(&ratings(&[("Ana", "a", 1, 5.0)]));
        let line = &alone.lines[0];
        assert!(line.intraclass.is_err() && line.ranks.is_err() && line.alpha.is_err());
        let own = &alone.tasters[0].lines[0];
        assert!(own.concordance.is_err() && own.bias.is_err() && own.noise.is_err());
        assert!(panel_measures(&[]).tasters.is_empty());
    }
}
