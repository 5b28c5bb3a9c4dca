//! What a prediction learns of one taster in one kitchen: how far they answer above it, line by line, and how sure.

use crate::profile::Offset;
use crate::profile::Residual;
use crate::profile::range_factor::Scatter;
use crate::profile::range_factor::scatter;
use crate::profile::residual::Averaged;
use crate::profile::residual::means;

/// How far all answers of a taster lie above a prediction, before any is known, in digits (judgement).
const COMMON_SD: f64 = 1.0;

/// What was learnt of one taster.
///
/// A residual is r = c + δ + u + ε: a common offset c ~ N(0, 1), one δ ~ N(0, τ²) for each line, what the batch
/// and its day move together u, and the rest. τ² is estimated over the taster's lines (`DerSimonian` & Laird
/// 1986, Controlled Clinical Trials 7:177-188), and each line is drawn towards the common offset by
/// τ²/(τ² + v), where v is the variance of its mean (Efron & Morris 1975, J. Am. Statist. Assoc. 70:311-319).
#[derive(Debug, Clone, PartialEq)]
pub struct Calibration {
    /// c, as far as it is believed.
    common: Offset,
    /// c before it was drawn towards 0.
    common_raw: f64,
    /// The variance of `common_raw` without what batches add to all lines.
    common_error: f64,
    /// τ².
    between: f64,
    scatter: Scatter,
    /// How many batches there are.
    batches: usize,
    lines: Vec<Averaged>,
}

impl Calibration {
    /// Learns from residuals; those that are no numbers are left out.
    #[must_use]
    pub fn learn(residuals: &[Residual]) -> Self {
        let sound = residuals.iter().filter(|it| it.is_sound());
        let residuals: Vec<Residual> = sound.copied().collect();
        let lines = means(&residuals, |it| it.line);
        let batches = means(&residuals, |it| it.batch).len();
        let scatter = scatter(&residuals, &lines);
        let mut learnt = Self {
            common: Offset::NONE,
            common_raw: 0.0,
            common_error: f64::INFINITY,
            between: 0.0,
            scatter,
            batches,
            lines,
        };
        learnt.between = learnt.between_lines();
        learnt.find_common();
        learnt
    }

    /// The variance of the mean of a line, without what batches add to all lines.
    fn error(&self, line: &Averaged) -> f64 {
        self.scatter.factor_squared * (1.0 - self.scatter.shared) / line.weight
    }

    /// τ² by the moments of `DerSimonian` & Laird: (Q − (k − 1))/(Σw − Σw²/Σw), 0 at least.
    fn between_lines(&self) -> f64 {
        let weights: Vec<f64> = self.lines.iter().map(|it| 1.0 / self.error(it)).collect();
        let sum: f64 = weights.iter().sum();
        let of = |value: &dyn Fn(&Averaged) -> f64| -> f64 {
            let both = self.lines.iter().zip(&weights);
            both.map(|(line, weight)| weight * value(line)).sum()
        };
        let mean = of(&|it| it.mean) / sum;
        let scatter = of(&|it| (it.mean - mean).powi(2));
        let squares: f64 = weights.iter().map(|it| it * it).sum();
        let between = (scatter - (weights.len() as f64 - 1.0)) / (sum - squares / sum);
        // One line, or none, tells nothing of how lines differ.
        if between.is_finite() {
            between.max(0.0)
        } else {
            0.0
        }
    }

    /// ĉ = Σd/(v + τ²) / Σ1/(v + τ²), drawn towards 0 by 1/(1 + Var(ĉ)).
    fn find_common(&mut self) {
        let weight = |it: &Averaged| 1.0 / (self.error(it) + self.between);
        let sum: f64 = self.lines.iter().map(weight).sum();
        if sum <= 0.0 {
            self.common.variance = COMMON_SD * COMMON_SD;
            return;
        }
        let products = self.lines.iter().map(|it| weight(it) * it.mean);
        let raw = products.sum::<f64>() / sum;
        let error = 1.0 / sum;
        let variance = error + self.day_error();
        let prior = COMMON_SD * COMMON_SD;
        let kept = prior / (prior + variance);
        self.common_raw = raw;
        self.common_error = error;
        self.common = Offset {
            mean: kept * raw,
            variance: kept * variance,
        };
    }

    /// What batches leave in every mean over them.
    fn day_error(&self) -> f64 {
        self.scatter.day / self.batches.max(1) as f64
    }

    /// What was learnt of all lines together.
    #[must_use]
    pub const fn common(&self) -> Offset {
        self.common
    }

    /// How far a taster answers above the prediction on a line, and the variance of that; of a line never
    /// seen, what all have in common, with τ² on top.
    #[must_use]
    pub fn offset(&self, line: usize) -> Offset {
        let Some(seen) = self.seen(line) else {
            return Offset {
                mean: self.common.mean,
                variance: self.common.variance + self.between,
            };
        };
        let error = self.error(seen);
        let kept = self.between / (self.between + error);
        Offset {
            mean: self.common.mean + kept * (seen.mean - self.common_raw),
            variance: kept * error + (1.0 - kept).powi(2) * self.common_error + self.day_error(),
        }
    }

    fn seen(&self, line: usize) -> Option<&Averaged> {
        crate::profile::range_factor::line_of(&self.lines, line)
    }

    /// In how many batches a line has notes.
    #[must_use]
    pub fn batches_on(&self, line: usize) -> u32 {
        self.seen(line).map_or(0, |it| it.count)
    }

    /// How many batches there are.
    #[must_use]
    pub const fn batches(&self) -> usize {
        self.batches
    }

    /// κ: how many times wider than predicted answers scatter from batch to batch.
    #[must_use]
    pub fn factor(&self) -> f64 {
        self.scatter.factor_squared.sqrt()
    }

    /// τ, how much the offsets of lines differ, in digits.
    #[must_use]
    pub fn between(&self) -> f64 {
        self.between.sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn residual(batch: usize, line: usize, gap: f64) -> Residual {
        Residual {
            batch,
            line,
            gap,
            variance: 1.0,
        }
    }

    #[test]
    fn nothing_is_learnt_from_nothing() {
        let it = Calibration::learn(&[residual(0, 0, f64::NAN)]);
        assert_eq!((it.batches(), it.batches_on(0)), (0, 0));
        assert!(it.offset(0).mean.abs() < 1e-12 && (it.factor() - 1.0).abs() < 1e-9);
        assert!((it.offset(0).variance - 1.0).abs() < 1e-12);
    }

    #[test]
    fn lines_that_do_not_differ_are_all_given_the_common_offset() {
        // By hand: two lines in four batches, all gaps 1 but for ±1 that cancel, so Q = 0 and τ² = 0. Squares
        // 1/(3/4) = 4/3, eight times 3/4 is 6 that count; no day. κ² = (10β + 8)/(16β) with β = 0.7784652
        // (each cut at 2.25κ², not reached) = 1.26730; the mean of eight has variance 0.158413, and it is
        // drawn by 1/1.158413 to 0.863250.
        let gaps = [[2.0, 0.0, 2.0, 0.0], [0.0, 2.0, 0.0, 2.0]];
        let all: Vec<Residual> = gaps
            .iter()
            .enumerate()
            .flat_map(|(line, row)| {
                let row = row.iter().enumerate();
                row.map(move |(batch, gap)| residual(batch, line, *gap))
            })
            .collect();
        let it = Calibration::learn(&all);
        assert!(it.between().abs() < 1e-12);
        assert!((it.factor().powi(2) - 1.267_30).abs() < 1e-4, "{it:?}");
        for line in [0, 1, 9] {
            assert!((it.offset(line).mean - 0.863_25).abs() < 1e-4, "{it:?}");
        }
        assert_eq!(
            (it.batches(), it.batches_on(0), it.batches_on(9)),
            (4, 4, 0)
        );
    }

    #[test]
    fn lines_that_differ_keep_the_more_of_their_own_the_more_they_differ() {
        // By hand: lines at −3 and +3, each twice without scatter: κ² = 10/12 (only the prior, 2 that count 0),
        // v = 5/12 each; d̄ = 0, Q = 2·9·12/5 = 43.2, τ² = (43.2 − 1)/(4.8 − 2·5.76/4.8) = 17.5833; kept
        // 17.5833/18 = 0.976852; offsets ±2.930556.
        let all = [
            residual(0, 0, -3.0),
            residual(1, 0, -3.0),
            residual(0, 1, 3.0),
            residual(1, 1, 3.0),
        ];
        let it = Calibration::learn(&all);
        assert!((it.between().powi(2) - 17.583_33).abs() < 1e-3, "{it:?}");
        assert!((it.offset(0).mean + 2.930_556).abs() < 1e-4, "{it:?}");
        assert!((it.offset(1).mean - 2.930_556).abs() < 1e-4);
        // A line never seen: 0 in the middle, and no surer than lines differ.
        assert!(it.offset(2).mean.abs() < 1e-9 && it.offset(2).variance > 17.0);
    }
}
