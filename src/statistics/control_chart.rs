//! Charts that watch a series for a drift: the weighted mean and the cumulative sum.

use thiserror::Error;

use crate::statistics::Interval;
use crate::statistics::Probability;
use crate::statistics::Sd;
use crate::statistics::StudentT;
use crate::statistics::squares::mean;
use crate::statistics::squares::squares;
use crate::statistics::squares::usable;

/// Points that a baseline needs: with fewer the spread is so uncertain that the limits say nothing.
pub const BASELINE_POINTS: usize = 20;

/// The chance that any of the charts of one person signals though nothing moved.
const JOINT_CHANCE: f64 = 0.05;

/// What a series is held against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Baseline {
    target: f64,
    sd: Sd,
}

/// Why there is no chart. Places count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NoChart {
    /// There are fewer points than a baseline needs.
    #[error("the baseline has {0} points, and {BASELINE_POINTS} are needed")]
    ShortBaseline(usize),
    /// All points of the baseline are the same.
    #[error("all points of the baseline are the same, so any other would be a signal")]
    NoSpread,
    /// A setting lies outside its range.
    #[error("a setting of the chart lies outside its range")]
    Setting,
    /// A point is no number, or larger than 10⁶⁰.
    #[error("point {0} is no number, or too large")]
    OutOfRange(usize),
}

impl Baseline {
    /// A target and a spread that are known.
    ///
    /// # Errors
    /// The target is no number, or larger than 10⁶⁰.
    pub fn known(target: f64, sd: Sd) -> Result<Self, NoChart> {
        let good = usable(target) && usable(sd.get());
        good.then_some(Self { target, sd }).ok_or(NoChart::Setting)
    }

    /// The mean and standard deviation (divisor n − 1) of a quiet series.
    ///
    /// # Errors
    /// It has fewer than 20 points, or they are all the same, or one is no number.
    pub fn measured(points: &[f64]) -> Result<Self, NoChart> {
        check(points)?;
        if points.len() < BASELINE_POINTS {
            return Err(NoChart::ShortBaseline(points.len()));
        }
        let variance = squares(points) / (points.len() - 1) as f64;
        let sd = Sd::new(variance.sqrt()).ok_or(NoChart::NoSpread)?;
        Self::known(mean(points), sd)
    }

    /// The target.
    #[must_use]
    pub const fn target(self) -> f64 {
        self.target
    }

    /// The spread.
    #[must_use]
    pub const fn sd(self) -> Sd {
        self.sd
    }
}

/// On which side a chart gives its signal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drift {
    /// Above the target.
    Up,
    /// Below it.
    Down,
}

/// Limits of a weighted mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EwmaLimits {
    /// Those it has after many points, from the first point on.
    Steady,
    /// Those of each point, narrower at first.
    FromStart,
    /// Those of each point where the target is itself the mean of so many points of a baseline.
    OfBaseline(usize),
}

/// An exponentially weighted moving average chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ewma {
    baseline: Baseline,
    weight: f64,
    width: f64,
}

/// A point of a weighted mean.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EwmaPoint {
    /// Its place in the series, from 0.
    pub index: usize,
    /// The weighted mean.
    pub value: f64,
    /// Its limits.
    pub limits: Interval,
    /// The signal, if it lies beyond them.
    pub signal: Option<Drift>,
}

impl Ewma {
    /// A chart with `weight` λ for the newest point and limits `width` standard deviations away.
    ///
    /// # Errors
    /// The weight is not above 0 and at most 1, or the width is not above 0 or above 100.
    pub fn new(baseline: Baseline, weight: f64, width: f64) -> Result<Self, NoChart> {
        let good = weight > 0.0 && weight <= 1.0 && width > 0.0 && width <= 100.0;
        let chart = Self {
            baseline,
            weight,
            width,
        };
        good.then_some(chart).ok_or(NoChart::Setting)
    }

    /// The weighted means of a series.
    ///
    /// Zᵢ = λxᵢ + (1 − λ)Zᵢ₋₁ from Z₀ = the target (Roberts 1959, Technometrics 1:239-250), limits
    /// target ± kσ√(λ/(2 − λ)·(1 − (1 − λ)²ⁱ)), the last factor left out for steady ones (NIST/SEMATECH
    /// e-Handbook of Statistical Methods, 6.3.2.4).
    ///
    /// # Errors
    /// A point is no number.
    pub fn chart(&self, points: &[f64], limits: EwmaLimits) -> Result<Vec<EwmaPoint>, NoChart> {
        check(points)?;
        let Self {
            baseline,
            weight,
            width,
        } = *self;
        let steady = width * baseline.sd.get() * (weight / (2.0 - weight)).sqrt();
        let mut value = baseline.target;
        let mut left = 1.0;
        let one = |(index, point): (usize, &f64)| {
            value = weight * point + (1.0 - weight) * value;
            left *= (1.0 - weight) * (1.0 - weight);
            let reach = match limits {
                EwmaLimits::Steady => steady,
                EwmaLimits::FromStart => steady * (1.0 - left).sqrt(),
                EwmaLimits::OfBaseline(points) => {
                    let own = weight / (2.0 - weight) * (1.0 - left);
                    width * baseline.sd.get() * (own + 1.0 / points as f64).sqrt()
                }
            };
            let limits = Interval::around(baseline.target, reach);
            EwmaPoint {
                index,
                value,
                limits,
                signal: beyond(value, limits),
            }
        };
        Ok(points.iter().enumerate().map(one).collect())
    }
}

/// The width at which so many charts together, of so many points each, signal once by chance in 1 of 20 times at
/// most, when each has its target and its spread from a baseline of so many points.
///
/// A weighted mean less the mean of the baseline, over the baseline's spread, is Student's t with one degree of
/// freedom less than points; every point of every chart gets its share of the chance (Bonferroni), which holds
/// however charts and points hang together.
#[must_use]
pub fn joint_width(charts: usize, points: usize, baseline: usize) -> f64 {
    let each = JOINT_CHANCE / (2.0 * charts.max(1) as f64 * points.max(1) as f64);
    let student = StudentT::new(baseline.saturating_sub(1).max(1) as f64);
    let quantile = |it: StudentT| -it.quantile(Probability::rounded(each));
    // Without a degree of freedom nothing may signal.
    student.map_or(f64::INFINITY, quantile)
}

/// The limit of a cumulative sum, in spreads of the baseline, at which so many charts of so many points signal
/// together in about 1 of 20 times by chance, if target and spread were known.
///
/// The mean run of one side is (e^{2kb} − 2kb − 1)/(2k²) with b = h + 1.166 (Siegmund 1985, Sequential Analysis,
/// equation 2.56); it is put at 20 times as many points as both sides of all charts have.
#[must_use]
pub fn joint_cusum_limit(charts: usize, points: usize, slack: f64) -> f64 {
    let run = 2.0 * charts.max(1) as f64 * points.max(1) as f64 / JOINT_CHANCE;
    let far = 2.0 * slack * slack * run;
    // x = 2kb solves e^x − x − 1 = far; x ← ln(far + x + 1) draws together by 1/(far + x + 1) at each step.
    let mut x: f64 = 1.0;
    for _ in 0..60 {
        x = (far + x + 1.0).ln();
    }
    (x / (2.0 * slack) - 1.166).max(0.1)
}

fn beyond(value: f64, limits: Interval) -> Option<Drift> {
    if value > limits.high {
        Some(Drift::Up)
    } else if value < limits.low {
        Some(Drift::Down)
    } else {
        None
    }
}

/// A two-sided cumulative sum chart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cusum {
    target: f64,
    slack: f64,
    limit: f64,
}

/// A point of a cumulative sum.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CusumPoint {
    /// Its place in the series, from 0.
    pub index: usize,
    /// The sum of what lay above target and slack, never below 0.
    pub high: f64,
    /// The sum of what lay below them, never below 0.
    pub low: f64,
    /// The signal, if one of them is above the limit; the larger one where both are.
    pub signal: Option<Drift>,
}

impl Cusum {
    /// A chart around `target` with `slack` k and `limit` h, both in the units of the series.
    ///
    /// # Errors
    /// A setting is no number, or the slack is below 0, or the limit not above 0.
    pub fn new(target: f64, slack: f64, limit: f64) -> Result<Self, NoChart> {
        let usable = usable(target) && usable(slack) && usable(limit);
        let chart = Self {
            target,
            slack,
            limit,
        };
        let good = usable && slack >= 0.0 && limit > 0.0;
        good.then_some(chart).ok_or(NoChart::Setting)
    }

    /// A chart with slack and limit in standard deviations of the baseline.
    ///
    /// # Errors
    /// As of `new`.
    pub fn in_sds(baseline: Baseline, slack: f64, limit: f64) -> Result<Self, NoChart> {
        let sd = baseline.sd.get();
        Self::new(baseline.target, slack * sd, limit * sd)
    }

    /// The sums of a series.
    ///
    /// Hᵢ = max(0, Hᵢ₋₁ + xᵢ − T − k) and Lᵢ = max(0, Lᵢ₋₁ + T − k − xᵢ), a signal above h (Page 1954,
    /// Biometrika 41:100-115; NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3).
    ///
    /// # Errors
    /// A point is no number.
    pub fn chart(&self, points: &[f64]) -> Result<Vec<CusumPoint>, NoChart> {
        check(points)?;
        let (mut high, mut low) = (0.0_f64, 0.0_f64);
        let one = |(index, point): (usize, &f64)| {
            high = (high + point - self.target - self.slack).max(0.0);
            low = (low + self.target - self.slack - point).max(0.0);
            let signal = match (high > self.limit, low > self.limit) {
                (false, false) => None,
                _ if high >= low => Some(Drift::Up),
                _ => Some(Drift::Down),
            };
            CusumPoint {
                index,
                high,
                low,
                signal,
            }
        };
        Ok(points.iter().enumerate().map(one).collect())
    }
}

fn check(points: &[f64]) -> Result<(), NoChart> {
    match points.iter().position(|it| !usable(*it)) {
        Some(at) => Err(NoChart::OutOfRange(at)),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use crate::statistics::Dice;
    use crate::statistics::near::near;

    use super::*;

    fn known(target: f64, sd: f64) -> Baseline {
        Baseline::known(target, Sd::new(sd).unwrap()).unwrap()
    }

    #[test]
    fn the_weighted_mean_of_the_handbook_comes_out() {
        // NIST/SEMATECH e-Handbook, 6.3.2.4: λ 0.3, target 50, s 2.0539, k 3; means as printed, two digits,
        // and limits 47.4115 and 52.5884; nothing out of control.
        let points = [
            52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3,
            47.8, 51.2, 52.6, 52.4, 53.6, 52.1,
        ];
        let printed = [
            50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36,
            49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
        ];
        let chart = Ewma::new(known(50.0, 2.0539), 0.3, 3.0).unwrap();
        let found = chart.chart(&points, EwmaLimits::Steady).unwrap();
        for (point, expected) in found.iter().zip(printed) {
            near(point.value, expected, 5.1e-3);
            near(point.limits.low, 47.4115, 1.1e-4);
            near(point.limits.high, 52.5884, 1.1e-4);
            assert_eq!(point.signal, None);
        }
        assert_eq!(found.len(), printed.len());
        // Limits of the first points, recomputed with scipy 1.17.
        let found = chart.chart(&points, EwmaLimits::FromStart).unwrap();
        let first = [(48.151, 51.849), (47.744, 52.256), (47.569, 52.431)];
        for (point, (low, high)) in found.iter().zip(first) {
            near(point.limits.low, low, 5.1e-4);
            near(point.limits.high, high, 5.1e-4);
        }
        near(
            found[19].limits.low,
            found[19].limits.high.mul_add(-1.0, 100.0),
            1e-9,
        );
    }

    #[test]
    fn the_cumulative_sum_of_the_handbook_comes_out() {
        // NIST/SEMATECH e-Handbook, 6.3.2.3 (from memory): target 325, k 0.3175, h 4.1959; sums as
        // printed, two digits; the first signal is point 14, counted from 1.
        let points = [
            324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225,
            324.600, 324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775,
            326.875, 328.350,
        ];
        let high = [
            0.00, 0.00, 0.00, 0.00, 0.03, 0.00, 0.00, 0.00, 0.00, 0.00, 0.00, 0.00, 3.01, 4.94,
            7.45, 10.63, 11.99, 14.44, 16.00, 19.04,
        ];
        let low = [
            0.00, 0.01, 0.00, 0.33, 0.00, 0.00, 0.56, 0.72, 0.17, 0.25, 0.31, 0.00, 0.00, 0.00,
            0.00, 0.00, 0.00, 0.00, 0.00, 0.00,
        ];
        let found = Cusum::new(325.0, 0.3175, 4.1959)
            .unwrap()
            .chart(&points)
            .unwrap();
        for (point, (high, low)) in found.iter().zip(high.into_iter().zip(low)) {
            near(point.high, high, 5.1e-3);
            near(point.low, low, 5.1e-3);
        }
        let signals: Vec<usize> = found
            .iter()
            .filter(|it| it.signal == Some(Drift::Up))
            .map(|it| it.index)
            .collect();
        assert_eq!(signals, [13, 14, 15, 16, 17, 18, 19]);
        assert!(found.iter().all(|it| it.signal != Some(Drift::Down)));
    }

    #[test]
    fn quiet_series_signal_as_seldom_as_published() {
        // Lucas & Saccucci 1990 (Technometrics 32:1-12, table 3, from memory): λ 0.25, width 2.998 has a mean
        // run of 500 points; Hawkins & Olwell 1998 (from memory): k ½ and h 5 have 465. A run length is
        // nearly exponential, so that its SD is its mean: 400 runs, five standard errors.
        let mut dice = Dice::from_seed(37);
        let base = known(0.0, 1.0);
        let ewma = Ewma::new(base, 0.25, 2.998).unwrap();
        let cusum = Cusum::in_sds(base, 0.5, 5.0).unwrap();
        let (mut of_ewma, mut of_cusum) = (0.0, 0.0);
        for _ in 0..400 {
            let points: Vec<f64> = (0..6_000).map(|_| dice.normal()).collect();
            let means = ewma.chart(&points, EwmaLimits::Steady).unwrap();
            let sums = cusum.chart(&points).unwrap();
            let first = means.iter().position(|it| it.signal.is_some());
            of_ewma += (first.unwrap_or(6_000) + 1) as f64 / 400.0;
            let first = sums.iter().position(|it| it.signal.is_some());
            of_cusum += (first.unwrap_or(6_000) + 1) as f64 / 400.0;
        }
        near(of_ewma, 500.0, 5.0 * 500.0 / 20.0);
        near(of_cusum, 465.0, 5.0 * 465.0 / 20.0);
    }

    #[test]
    fn seventeen_quiet_charts_together_seldom_signal_though_their_baselines_are_short() {
        // By the bound of Bonferroni at most 1 of 20 plays has a signal: 400 plays, four standard errors of
        // 400·0.05·0.95 above. With width 3 and known limits it would be most of them.
        let mut dice = Dice::from_seed(11);
        let width = joint_width(17, 30, 20);
        let (mut wide, mut narrow) = (0, 0);
        for _ in 0..400 {
            let mut signals = [false; 2];
            for _ in 0..17 {
                let points: Vec<f64> = (0..50).map(|_| dice.normal()).collect();
                let base = Baseline::measured(&points[..20]).unwrap();
                for (signal, width) in signals.iter_mut().zip([width, 3.0]) {
                    let chart = Ewma::new(base, 0.2, width).unwrap();
                    let found = chart
                        .chart(&points[20..], EwmaLimits::OfBaseline(20))
                        .unwrap();
                    *signal |= found.iter().any(|it| it.signal.is_some());
                }
            }
            wide += u32::from(signals[0]);
            narrow += u32::from(signals[1]);
        }
        assert!(wide <= 37, "{wide}");
        assert!(narrow > 200, "{narrow}");
    }

    #[test]
    fn a_taster_who_moves_by_four_spreads_is_seen_within_ten_sittings() {
        let mut dice = Dice::from_seed(12);
        let chart = |points: &[f64]| {
            let base = Baseline::measured(&points[..20]).unwrap();
            let ewma = Ewma::new(base, 0.2, joint_width(17, 30, 20)).unwrap();
            ewma.chart(&points[20..], EwmaLimits::OfBaseline(20))
                .unwrap()
        };
        let seen = (0..200).filter(|_| {
            let moved = |at: usize| if at < 20 { 0.0 } else { 4.0 };
            let points: Vec<f64> = (0..30).map(|at| moved(at) + dice.normal()).collect();
            chart(&points).iter().any(|it| it.signal == Some(Drift::Up))
        });
        assert!(seen.count() > 150);
    }

    #[test]
    fn the_limit_of_a_cumulative_sum_has_the_published_run() {
        // Hawkins & Olwell 1998 (from memory): k ½ and h 5 have a mean run of 465 on two sides, 930 on one.
        // One chart with 23.25 points of chance 1/20 is that run: 2·23.25/0.05 = 930.
        let limit = joint_cusum_limit(1, 23, 0.5);
        assert!((limit - 5.0).abs() < 0.06, "{limit}");
        assert!(joint_cusum_limit(17, 30, 0.5) > limit);
    }

    #[test]
    fn a_baseline_needs_twenty_points_that_differ() {
        assert_eq!(
            Baseline::measured(&[1.0; 19]),
            Err(NoChart::ShortBaseline(19))
        );
        assert_eq!(Baseline::measured(&[0.1; 20]), Err(NoChart::NoSpread));
        assert_eq!(
            Baseline::measured(&[f64::NAN; 20]),
            Err(NoChart::OutOfRange(0))
        );
        // By hand: ten times 1 and ten times 3, variance 20/19.
        let points = [[1.0; 10], [3.0; 10]].concat();
        let found = Baseline::measured(&points).unwrap();
        near(found.target(), 2.0, 1e-12);
        near(found.sd().squared(), 20.0 / 19.0, 1e-12);
    }

    #[test]
    fn settings_and_points_out_of_range_are_refused() {
        let base = known(0.0, 1.0);
        for (weight, width) in [
            (0.0, 3.0),
            (1.1, 3.0),
            (f64::NAN, 3.0),
            (0.3, 0.0),
            (0.3, f64::INFINITY),
        ] {
            assert_eq!(Ewma::new(base, weight, width), Err(NoChart::Setting));
        }
        for (slack, limit) in [
            (-0.1, 1.0),
            (0.0, 0.0),
            (f64::NAN, 1.0),
            (0.5, f64::INFINITY),
        ] {
            assert_eq!(Cusum::new(0.0, slack, limit), Err(NoChart::Setting));
        }
        let cusum = Cusum::new(0.0, 0.0, 1.0).unwrap();
        assert_eq!(
            cusum.chart(&[1.0, f64::INFINITY]),
            Err(NoChart::OutOfRange(1))
        );
        assert_eq!(cusum.chart(&[]), Ok(Vec::new()));
    }
}
