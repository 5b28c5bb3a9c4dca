//! How far each taster can be trusted, line by line, from the sums over all ratings.

use thiserror::Error;

use crate::statistics::AssessorVariance;
use crate::statistics::Concordance;
use crate::statistics::CoverFactor;
use crate::statistics::DayPairs;
use crate::statistics::Duplicates;
use crate::statistics::GroupsRefused;
use crate::statistics::Interval;
use crate::statistics::LimitsOfAgreement;
use crate::statistics::LineNoise;
use crate::statistics::NoConcordance;
use crate::statistics::NoLimits;
use crate::statistics::NoiseHierarchy;
use crate::statistics::NoisePriors;
use crate::statistics::Probability;
use crate::statistics::RaterNoise;
use crate::statistics::Scatter;
use crate::statistics::Sd;
use crate::statistics::StudentT;
use crate::statistics::concordance;
use crate::statistics::day_scatter;
use crate::statistics::limits_of_agreement;
use crate::training::RatingSums;

/// The sums of all tasters on all lines.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GatheredRatings {
    /// The lines, by a name of the caller's.
    pub lines: Vec<String>,
    /// The tasters by name, each with the sums on every line.
    pub tasters: Vec<(String, Vec<RatingSums>)>,
}

/// The measures of one taster.
#[derive(Debug, Clone, PartialEq)]
pub struct TasterMeasures {
    /// Who.
    pub taster: String,
    /// How many ratings.
    pub ratings: u64,
    /// How far answers scatter over all lines; none where nobody was served anything twice.
    pub noise: Option<RaterNoise>,
    /// How far answers move from day to day, and from how many pairs of days; what is believed beforehand where
    /// there are none.
    pub days: (Scatter, u32),
    /// Line by line, in the order of the lines; only those with a rating.
    pub lines: Vec<TasterLine>,
}

/// The measures of one taster on one line.
#[derive(Debug, Clone, PartialEq)]
pub struct TasterLine {
    /// The line.
    pub line: String,
    /// How many ratings.
    pub ratings: u64,
    /// Repeatability, borrowed in part from other lines and tasters.
    pub noise: Result<LineNoise, NoScatter>,
    /// Whether samples are told apart (ISO 8586): F of samples within the taster.
    pub discrimination: Result<AssessorVariance, GroupsRefused>,
    /// Agreement with the mean of the others.
    pub concordance: Result<Concordance, NoConcordance>,
    /// Bias against the mean of the others, with its limits.
    pub bias: Result<LimitsOfAgreement, NoLimits>,
    /// How many times as wide as the others the taster uses the scale; none before ten glasses shared, or where
    /// the others never vary.
    pub spread: Option<f64>,
    /// How far above the others, judged by sittings; none before three of them.
    pub standing: Option<GapToOthers>,
}

/// How far a taster stands above the others on a line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GapToOthers {
    /// The mean over sittings, in digits.
    pub value: f64,
    /// The 95 % interval.
    pub interval: Interval,
    /// How often chance alone makes so large a mean.
    pub p: Probability,
    /// How many sittings.
    pub sittings: u64,
}

/// Sittings before it is told how far a taster stands above the others (judgement).
const STANDING_SITTINGS: u64 = 3;

/// Why nothing is said of how far a taster's answers on a line scatter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NoScatter {
    /// Nobody was served the same beer twice.
    #[error("nobody was served the same beer twice in one sitting")]
    NothingTwice,
    /// All answers on the line are the same.
    #[error(
        "every answer on this line was the same, which says nothing of how far answers scatter"
    )]
    AlwaysTheSame,
}

/// Glasses shared with others before the use of a scale is told (judgement).
const SPREAD_GLASSES: u64 = 10;

/// The scatter of all tasters on all lines; none where nobody was served anything twice.
#[must_use]
pub fn noise_of(all: &GatheredRatings) -> Option<NoiseHierarchy> {
    let rows: Vec<Vec<Duplicates>> = all
        .tasters
        .iter()
        .map(|it| it.1.iter().map(telling).collect())
        .collect();
    let any = rows.iter().flatten().any(|it| it.freedom() > 0);
    any.then(|| NoiseHierarchy::of(&rows, NoisePriors::DEFAULT).ok())?
}

/// The pairs of a line, unless every answer on it was the same.
fn telling(sums: &RatingSums) -> Duplicates {
    if sums.is_always_the_same() {
        Duplicates::NONE
    } else {
        sums.duplicates
    }
}

/// How far the answers of one taster move from day to day, and from how many pairs of days on the line that has
/// most.
#[must_use]
pub fn days_of(sums: &[RatingSums], within: impl Fn(usize) -> Option<LineNoise>) -> (Scatter, u32) {
    let usual = NoisePriors::DEFAULT.middle.exp();
    let lines: Vec<(DayPairs, Sd)> = sums
        .iter()
        .enumerate()
        .filter_map(|(line, it)| {
            let sd = within(line).map_or(usual, |it| it.scatter.sd());
            Some((it.days, Sd::new(sd)?))
        })
        .collect();
    let pairs = lines.iter().map(|it| it.0.pairs()).max().unwrap_or(0);
    (day_scatter(&lines), pairs)
}

/// All measures of all tasters.
#[must_use]
pub fn taster_measures(all: &GatheredRatings) -> Vec<TasterMeasures> {
    let noise = noise_of(all);
    let measured = |(place, (name, sums)): (usize, &(String, Vec<RatingSums>))| {
        let within = |line| noise.as_ref().and_then(|it| it.line(place, line));
        let lines = all.lines.iter().zip(sums).enumerate();
        let rated = lines.filter(|(_, (_, sums))| sums.ratings > 0);
        TasterMeasures {
            taster: name.clone(),
            ratings: sums.iter().map(|it| it.ratings).sum(),
            noise: noise.as_ref().and_then(|it| it.rater(place)),
            days: days_of(sums, within),
            lines: rated
                .map(|(line, (name, sums))| taster_line(name, sums, within(line)))
                .collect(),
        }
    };
    all.tasters.iter().enumerate().map(measured).collect()
}

fn taster_line(line: &str, sums: &RatingSums, noise: Option<LineNoise>) -> TasterLine {
    TasterLine {
        line: line.to_owned(),
        ratings: sums.ratings,
        noise: if sums.is_always_the_same() {
            Err(NoScatter::AlwaysTheSame)
        } else {
            noise.ok_or(NoScatter::NothingTwice)
        },
        discrimination: sums.repeats.variance(),
        concordance: concordance(&sums.beside),
        bias: limits_of_agreement(&sums.beside, CoverFactor::Normal),
        spread: spread(sums, noise),
        standing: standing(sums),
    }
}

/// The ratio of both standard deviations, without what the noise adds: one answer of the taster strays more than
/// the mean of several others.
fn spread(sums: &RatingSums, noise: Option<LineNoise>) -> Option<f64> {
    let pairs = sums.beside.pairs();
    if pairs < SPREAD_GLASSES {
        return None;
    }
    let usual = NoisePriors::DEFAULT.middle.exp();
    let sd = noise.map_or(usual, |it| it.scatter.sd());
    let error = sd * sd + 1.0 / 12.0;
    // (n − 1)/n of n tasters, so that n − 1 others.
    let share = sums.shares / pairs as f64;
    let others = (share / (1.0 - share)).max(1.0);
    let [own, mean] = sums
        .beside
        .sides()
        .map(|it| it.squares() / (pairs - 1) as f64);
    let (own, mean) = (own - error, mean - error / others);
    (own > 0.0 && mean > 0.0).then(|| (own / mean).sqrt())
}

/// How far a taster stands above the others, by sittings; none before three of them.
fn standing(sums: &RatingSums) -> Option<GapToOthers> {
    let sittings = sums.standing.count();
    if sittings < STANDING_SITTINGS {
        return None;
    }
    let freedom = (sittings - 1) as f64;
    let variance = sums.standing.squares() / freedom;
    let error = (variance / sittings as f64).sqrt();
    let student = StudentT::new(freedom)?;
    let value = sums.standing.mean();
    let reach = student.quantile(Probability::new(0.975)?) * error;
    // Gaps that never vary are no evidence of how far they may.
    let p = if error > 0.0 {
        student.two_sided_p(value / error)
    } else {
        Probability::ONE
    };
    Some(GapToOthers {
        value,
        interval: Interval::around(value, reach),
        p,
        sittings,
    })
}
