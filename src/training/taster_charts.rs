//! Whether one taster has moved against the others, chart by chart, all charts judged together.

use std::collections::BTreeMap;

use crate::domain::Day;
use crate::statistics::BASELINE_POINTS;
use crate::statistics::Baseline;
use crate::statistics::Cusum;
use crate::statistics::Drift;
use crate::statistics::Duplicates;
use crate::statistics::Ewma;
use crate::statistics::EwmaLimits;
use crate::statistics::Moments;
use crate::statistics::joint_cusum_limit;
use crate::statistics::joint_width;
use crate::training::GlassRating;
use crate::training::rating_sums::pairs_of;

/// The weight of the newest point in the weighted mean (judgement, within the 0.2 to 0.3 that the NIST/SEMATECH
/// e-Handbook, 6.3.2.4, calls usual).
const WEIGHT: f64 = 0.2;

/// Points that are watched after the baseline; what lies before them is the baseline.
const WATCHED: usize = 30;

/// Slack of the cumulative sum in spreads: half of a move of one spread (NIST/SEMATECH e-Handbook, 6.3.2.3).
const SLACK: f64 = 0.5;

/// How far one taster's mean lay above that of the others, sitting by sitting, oldest first.
#[derive(Debug, Clone, PartialEq)]
pub struct TasterSeries {
    /// The line.
    pub line: String,
    /// The sittings.
    pub points: Vec<SeriesPoint>,
}

/// One sitting of a series.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SeriesPoint {
    /// The day.
    pub day: Day,
    /// The gap, in digits.
    pub gap: f64,
    /// How far such a gap strays beside others: more glasses and more people make it steadier.
    pub variance: f64,
}

/// Which chart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ChartKind {
    /// The exponentially weighted moving average.
    WeightedMean,
    /// The cumulative sum.
    CumulativeSum,
}

/// One chart.
#[derive(Debug, Clone, PartialEq)]
pub struct TasterChart {
    /// The line.
    pub line: String,
    /// Points of the baseline.
    pub baseline: usize,
    /// Its mean, in digits above the others.
    pub target: f64,
    /// What is watched: the day, the gap itself, the charted value and its two limits.
    pub points: Vec<ChartPoint>,
    /// Which way and when it first left its limits; none of a cumulative sum, which is only to be looked at.
    pub signal: Option<(Drift, Day)>,
}

/// One watched point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChartPoint {
    /// The day of the sitting.
    pub day: Day,
    /// The gap to the others, in digits.
    pub gap: f64,
    /// The weighted mean, or the larger of the two sums with its sign.
    pub value: f64,
    /// The limits of the value.
    pub limits: [f64; 2],
}

/// The charts of one taster, or how far it is to the first.
#[derive(Debug, Clone, PartialEq)]
pub enum TasterCharts {
    /// No line has enough sittings: the most there are, and how many it takes.
    NotYet {
        /// Sittings on the line that has most.
        sittings: usize,
        /// How many it takes.
        needed: usize,
    },
    /// The charts of all lines that have enough.
    Charts {
        /// Which kind.
        kind: ChartKind,
        /// The charts.
        charts: Vec<TasterChart>,
    },
}

/// How far a taster's mean lay above that of the others over the glasses of one sitting on one line, and how far
/// that strays with the noise of a taster nobody has measured: (σ² + 1/12)(1/R + 1/R') a glass, and ω²(1 + 1/n) for the
/// days of the taster and of n others. None where nobody else had one of the glasses.
#[must_use]
pub fn gap_to_others(ratings: &[GlassRating], taster: u32) -> Option<(f64, f64)> {
    let moments = |sample: u32, own: bool| {
        let values = ratings
            .iter()
            .filter(|it| it.sample == sample && (it.taster == taster) == own);
        let values: Vec<f64> = values.map(|it| it.digits).collect();
        Some(Moments::of(&values)).filter(|it| it.count() > 0)
    };
    let mut samples: Vec<u32> = ratings.iter().map(|it| it.sample).collect();
    samples.sort_unstable();
    samples.dedup();
    let mut others: Vec<u32> = ratings.iter().map(|it| it.taster).collect();
    others.sort_unstable();
    others.dedup();
    let (mut gaps, mut glasses) = (Moments::NONE, 0.0);
    for sample in samples {
        if let (Some(own), Some(all)) = (moments(sample, true), moments(sample, false)) {
            gaps.add(own.mean() - all.mean());
            glasses += 1.0 / own.count() as f64 + 1.0 / all.count() as f64;
        }
    }
    let count = gaps.count() as f64;
    let people = (others.len() as f64 - 1.0).max(1.0);
    let variance = ONE_GLASS * glasses / (count * count) + ONE_DAY * (1.0 + 1.0 / people);
    (count > 0.0).then_some((gaps.mean(), variance))
}

/// How far one answer strays within a day, rounding with it: 0.9² + 1/12 (judgement).
const ONE_GLASS: f64 = 0.81 + 1.0 / 12.0;

/// How far a day moves answers: 0.7² (judgement).
const ONE_DAY: f64 = 0.49;

/// A taster's glasses of the same beer in one sitting on one line, as pairs that say how far answers stray.
#[must_use]
pub fn pairs_of_taster(ratings: &[GlassRating], taster: u32) -> Duplicates {
    let mut samples: BTreeMap<u32, Vec<f64>> = BTreeMap::new();
    for it in ratings.iter().filter(|it| it.taster == taster) {
        samples.entry(it.sample).or_default().push(it.digits);
    }
    pairs_of(&samples.into_values().collect::<Vec<_>>())
}

/// The charts of a taster's series. Below twenty points of a baseline and one more there is none, and no
/// sentence about drift; all weighted means together signal by chance in 1 of 20 times at most, and cumulative sums give
/// no signal.
#[must_use]
pub fn taster_charts(series: &[TasterSeries], kind: ChartKind) -> TasterCharts {
    let usable =
        |it: &&TasterSeries| it.points.len() > BASELINE_POINTS && baseline_of(it).is_some();
    let long: Vec<&TasterSeries> = series.iter().filter(usable).collect();
    if long.is_empty() {
        return TasterCharts::NotYet {
            sittings: series.iter().map(|it| it.points.len()).max().unwrap_or(0),
            needed: BASELINE_POINTS + 1,
        };
    }
    let count = long.len();
    let charts = long.into_iter().filter_map(|it| chart(it, count, kind));
    TasterCharts::Charts {
        kind,
        charts: charts.collect(),
    }
}

/// How many points the baseline has, and what they come to.
fn baseline_of(series: &TasterSeries) -> Option<(usize, Baseline)> {
    let own = series
        .points
        .len()
        .saturating_sub(WATCHED)
        .max(BASELINE_POINTS);
    let points = steadied(series, own);
    Some((own, Baseline::measured(points.get(..own)?).ok()?))
}

/// The gaps as they would be if all strayed alike: each drawn towards the mean of the baseline, or away from it, by
/// √(v̄/v), because one beer alone strays farther than the mean of six.
fn steadied(series: &TasterSeries, own: usize) -> Vec<f64> {
    let first = series.points.iter().take(own);
    let target = Moments::of(&first.clone().map(|it| it.gap).collect::<Vec<f64>>()).mean();
    let usual = Moments::of(&first.map(|it| it.variance).collect::<Vec<f64>>()).mean();
    let steady = |it: &SeriesPoint| target + (it.gap - target) * (usual / it.variance).sqrt();
    series.points.iter().map(steady).collect()
}

fn chart(series: &TasterSeries, charts: usize, kind: ChartKind) -> Option<TasterChart> {
    let (own, baseline) = baseline_of(series)?;
    let watched = series.points.get(own..)?;
    let gaps = steadied(series, own).split_off(own);
    let found = match kind {
        ChartKind::WeightedMean => means(&gaps, baseline, own, charts)?,
        ChartKind::CumulativeSum => sums(&gaps, baseline, charts)?,
    };
    let both = watched.iter().zip(&found);
    // Limits of a sum hold for a target that is known; from a short baseline they would signal too often.
    let may_signal = kind == ChartKind::WeightedMean;
    let signal = both.clone().filter(|_| may_signal);
    let signal = signal
        .into_iter()
        .find_map(|(point, it)| Some((it.signal?, point.day)));
    let points = both.map(|(point, it)| ChartPoint {
        day: point.day,
        gap: point.gap,
        value: it.value,
        limits: it.limits,
    });
    Some(TasterChart {
        line: series.line.clone(),
        baseline: own,
        target: baseline.target(),
        points: points.collect(),
        signal,
    })
}

/// What a chart shows of one point.
struct Charted {
    value: f64,
    limits: [f64; 2],
    signal: Option<Drift>,
}

fn means(gaps: &[f64], baseline: Baseline, own: usize, charts: usize) -> Option<Vec<Charted>> {
    let width = joint_width(charts, gaps.len(), own);
    let ewma = Ewma::new(baseline, WEIGHT, width).ok()?;
    let points = ewma.chart(gaps, EwmaLimits::OfBaseline(own)).ok()?;
    let charted = points.into_iter().map(|it| Charted {
        value: it.value,
        limits: [it.limits.low, it.limits.high],
        signal: it.signal,
    });
    Some(charted.collect())
}

fn sums(gaps: &[f64], baseline: Baseline, charts: usize) -> Option<Vec<Charted>> {
    let limit = joint_cusum_limit(charts, gaps.len(), SLACK);
    let cusum = Cusum::in_sds(baseline, SLACK, limit).ok()?;
    let limit = limit * baseline.sd().get();
    let charted = cusum.chart(gaps).ok()?.into_iter().map(|it| Charted {
        value: if it.high >= it.low { it.high } else { -it.low },
        limits: [-limit, limit],
        signal: it.signal,
    });
    Some(charted.collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Dice;

    fn series(line: &str, moved: f64, points: usize) -> TasterSeries {
        let mut dice = Dice::from_seed(points as u64);
        let first = Day::parse("2026-01-01").unwrap();
        let point = |at: usize, dice: &mut Dice| {
            let days = u16::try_from(7 * at).unwrap();
            let drift = if at < 25 { 0.0 } else { moved };
            SeriesPoint {
                day: first.days_later(days),
                gap: 0.5 * dice.normal() + drift,
                variance: 0.8,
            }
        };
        TasterSeries {
            line: line.to_owned(),
            points: (0..points).map(|at| point(at, &mut dice)).collect(),
        }
    }

    #[test]
    fn before_twenty_sittings_there_is_no_chart_and_it_is_said_how_many_it_takes() {
        let found = taster_charts(&[series("bitter", 0.0, 12)], ChartKind::WeightedMean);
        let (sittings, needed) = (12, 21);
        assert_eq!(found, TasterCharts::NotYet { sittings, needed });
        let none = taster_charts(&[], ChartKind::WeightedMean);
        assert!(matches!(none, TasterCharts::NotYet { sittings: 0, .. }));
    }

    #[test]
    fn a_taster_who_moved_is_seen_in_both_charts_and_one_who_did_not_is_not() {
        for kind in [ChartKind::WeightedMean, ChartKind::CumulativeSum] {
            let all = [series("bitter", 3.0, 50), series("sweet", 0.0, 50)];
            let TasterCharts::Charts { charts, .. } = taster_charts(&all, kind) else {
                panic!("{kind:?}");
            };
            assert_eq!(charts.len(), 2);
            assert_eq!((charts[0].baseline, charts[0].points.len()), (20, 30));
            let expected = (kind == ChartKind::WeightedMean).then_some(Drift::Up);
            assert_eq!(charts[0].signal.map(|it| it.0), expected, "{kind:?}");
            let beyond = |it: &ChartPoint| it.value > it.limits[1];
            assert!(charts[0].points.iter().any(beyond), "{kind:?}");
            assert_eq!(charts[1].signal, None, "{kind:?}");
        }
    }

    #[test]
    fn sittings_with_one_beer_after_many_with_eight_make_no_signal() {
        // Eight beers stray by 0.3, one alone by 0.85: without their variances the one would leave the limits.
        let mut signals = 0;
        for seed in 0..200 {
            let mut dice = Dice::from_seed(seed);
            let mut one = series("bitter", 0.0, 50);
            for (at, point) in one.points.iter_mut().enumerate() {
                let sd: f64 = if at < 20 { 0.3 } else { 0.85 };
                point.gap = sd * dice.normal();
                point.variance = sd * sd;
            }
            let TasterCharts::Charts { charts, .. } =
                taster_charts(&[one], ChartKind::WeightedMean)
            else {
                panic!("{seed}");
            };
            signals += u32::from(charts[0].signal.is_some());
        }
        // 1 of 20 at most: 10 of 200, three standard errors above.
        assert!(signals <= 19, "{signals}");
    }

    #[test]
    fn answers_that_never_vary_have_no_chart() {
        let mut still = series("bitter", 0.0, 50);
        for point in &mut still.points {
            point.gap = 0.0;
        }
        let found = taster_charts(&[still], ChartKind::WeightedMean);
        assert!(matches!(found, TasterCharts::NotYet { .. }));
    }

    #[test]
    fn the_gap_is_that_of_the_glasses_somebody_else_had_too() {
        let day = Day::parse("2026-03-14").unwrap();
        let rated = |taster, sample, digits| GlassRating {
            taster,
            sample,
            day,
            digits,
        };
        let ratings = [
            rated(1, 1, 5.0),
            rated(2, 1, 3.0),
            rated(3, 1, 4.0),
            rated(1, 2, 9.0),
            rated(1, 3, 2.0),
            rated(2, 3, 3.0),
        ];
        // By hand: 5 - 3.5 and 2 - 3; nobody else had sample 2.
        let (gap, variance) = gap_to_others(&ratings, 1).unwrap();
        assert!((gap - 0.25).abs() < 1e-12);
        // By hand: (0.893333·(1 + 1/2) + 0.893333·(1 + 1))/4 + 0.49·(1 + 1/2), with two others.
        assert!((variance - (0.893_333 * 3.5 / 4.0 + 0.735)).abs() < 1e-5);
        assert_eq!(gap_to_others(&ratings[3..4], 1), None);
        let again = [rated(1, 1, 5.0), rated(1, 2, 4.0), rated(1, 1, 2.0)];
        assert_eq!(Some(pairs_of_taster(&again, 1)), Duplicates::new(4.5, 1));
        assert_eq!(pairs_of_taster(&again, 2), Duplicates::NONE);
    }
}
