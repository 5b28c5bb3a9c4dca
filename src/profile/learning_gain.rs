//! What learning gains: every batch predicted from the others, and when an improvement may be claimed.

use crate::profile::Calibration;
use crate::profile::Named;
use crate::profile::Naming;
use crate::profile::Residual;
use crate::statistics::Probability;
use crate::statistics::chance_of_mean_above;

/// Batches below which nothing is learnt and nothing claimed.
pub const LEAST_BATCHES: usize = 3;

/// Batches below which no improvement in naming is claimed: with three, one that is none was claimed in 6 % of
/// 1,000 invented tasters (`trial_learning`).
pub const LEAST_FOR_NAMING: usize = 5;

/// How often an improvement that is none may be claimed.
const LEVEL: f64 = 0.05;

/// One batch, predicted by what the others taught.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeftOut {
    /// Which batch, by the number of the caller's.
    pub batch: usize,
    /// How far the prediction alone was off, on average over the lines.
    pub raw: f64,
    /// How far it was off with what the other batches taught.
    pub learnt: f64,
}

/// What learning gained over all batches.
#[derive(Debug, Clone, PartialEq)]
pub struct LearningGain {
    /// Batch by batch, in the order of their numbers.
    pub batches: Vec<LeftOut>,
    /// How often chance alone makes such a gain, or a larger one; none before there are enough batches.
    pub chance: Option<Probability>,
}

impl LearningGain {
    fn of(batches: Vec<LeftOut>, least: usize) -> Self {
        let gains: Vec<f64> = batches.iter().map(|it| it.raw - it.learnt).collect();
        let enough = batches.len() >= least;
        Self {
            chance: enough.then(|| chance_of_mean_above(&gains)).flatten(),
            batches,
        }
    }

    /// True when the gain is above 0 by a one-sided 5 % paired t over batches.
    #[must_use]
    pub fn is_claimed(&self) -> bool {
        self.chance.is_some_and(|it| it.get() <= LEVEL)
    }

    /// How far the prediction alone was off, and with learning: the mean over batches.
    #[must_use]
    pub fn means(&self) -> Option<(f64, f64)> {
        let number = self.batches.len() as f64;
        let mean = |of: fn(&LeftOut) -> f64| self.batches.iter().map(of).sum::<f64>() / number;
        (!self.batches.is_empty()).then(|| (mean(|it| it.raw), mean(|it| it.learnt)))
    }
}

/// The mean absolute error in digits, batch by batch, each predicted from the others.
#[must_use]
pub fn gain_in_digits(residuals: &[Residual]) -> LearningGain {
    let all = numbers(residuals.iter().map(|it| it.batch));
    let left_out = all.into_iter().filter_map(|batch| {
        let (own, others) = parted(residuals, |it| it.batch == batch);
        let learnt = Calibration::learn(&others);
        let raw = own.iter().map(|it| it.gap.abs());
        let after = own
            .iter()
            .map(|it| (it.gap - learnt.offset(it.line).mean).abs());
        left_out(batch, raw, after)
    });
    LearningGain::of(left_out.collect(), LEAST_BATCHES)
}

/// The mean squared error of the chance to be named (Brier 1950, Monthly Weather Review 78:1-3), batch by batch,
/// each predicted from the others.
#[must_use]
pub fn gain_in_naming(named: &[Named]) -> LearningGain {
    let all = numbers(named.iter().map(|it| it.batch));
    let of_all = Naming::learn(named);
    let left_out = all.into_iter().filter_map(|batch| {
        let (own, others) = parted(named, |it| it.batch == batch);
        let learnt = of_all.learn_near(&others);
        let raw = own.iter().map(|it| (it.share - it.chance).powi(2));
        let after = own
            .iter()
            .map(|it| (it.share - learnt.chance(it.chance, it.line)).powi(2));
        left_out(batch, raw, after)
    });
    LearningGain::of(left_out.collect(), LEAST_FOR_NAMING)
}

fn left_out(
    batch: usize,
    raw: impl Iterator<Item = f64>,
    learnt: impl Iterator<Item = f64>,
) -> Option<LeftOut> {
    let (raw, learnt) = (mean(raw)?, mean(learnt)?);
    Some(LeftOut { batch, raw, learnt })
}

fn mean(values: impl Iterator<Item = f64>) -> Option<f64> {
    let (count, sum) = values.fold((0.0, 0.0), |(count, sum), it| (count + 1.0, sum + it));
    let mean: f64 = sum / count;
    mean.is_finite().then_some(mean)
}

/// Each number once, rising.
fn numbers(all: impl Iterator<Item = usize>) -> Vec<usize> {
    let mut all: Vec<usize> = all.collect();
    all.sort_unstable();
    all.dedup();
    all
}

fn parted<T: Copy>(all: &[T], is_own: impl Fn(&T) -> bool) -> (Vec<T>, Vec<T>) {
    all.iter().partition(|it| is_own(it))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn always(gap: f64, batches: usize) -> Vec<Residual> {
        (0..batches)
            .flat_map(|batch| {
                (0..4).map(move |line| Residual {
                    batch,
                    line,
                    // A little that differs from batch to batch, so that gains scatter.
                    gap: gap + 0.1 * (batch as f64 - line as f64),
                    variance: 1.0,
                })
            })
            .collect()
    }

    #[test]
    fn what_is_always_two_above_is_learnt_and_claimed_from_three_batches() {
        assert!(gain_in_digits(&always(2.0, 3)).is_claimed());
        let two = gain_in_digits(&always(2.0, 2));
        assert_eq!((two.chance, two.is_claimed()), (None, false));
        assert_eq!(two.batches.len(), 2);
    }

    #[test]
    fn a_batch_is_never_predicted_from_itself() {
        // By hand: gaps of 6, 0 and 0 on one line. Of the first the others say 0, so 6 stays 6; of the others the
        // rest says something above 0, so that 0 becomes worse.
        let gaps = [6.0, 0.0, 0.0];
        let all: Vec<Residual> = gaps
            .iter()
            .enumerate()
            .map(|(batch, gap)| Residual {
                batch,
                line: 0,
                gap: *gap,
                variance: 1.0,
            })
            .collect();
        let gain = gain_in_digits(&all);
        assert!((gain.batches[0].raw - 6.0).abs() < 1e-12);
        assert!((gain.batches[0].learnt - 6.0).abs() < 1e-12);
        assert!(gain.batches[1].learnt > 0.1 && gain.batches[2].learnt > 0.1);
        assert!(!gain.is_claimed());
    }

    #[test]
    fn naming_is_learnt_from_what_was_not_named_too() {
        let all: Vec<Named> = (0..6)
            .flat_map(|batch| {
                (0..8).map(move |line| Named {
                    batch,
                    line,
                    chance: 0.8,
                    share: f64::from(u8::from((batch + line) % 6 == 0)),
                })
            })
            .collect();
        let gain = gain_in_naming(&all);
        let (raw, learnt) = gain.means().unwrap();
        assert!(gain.is_claimed() && learnt < raw, "{gain:?}");
        // By hand for the first batch: lines 0 and 6 named, (2·0.2² + 6·0.8²)/8 = 0.49.
        assert!((gain.batches[0].raw - 0.49).abs() < 1e-9);
    }
}
