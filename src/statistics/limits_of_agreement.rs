//! How far two methods of measuring the same thing differ, and how sure that is.

use thiserror::Error;

use crate::statistics::Interval;
use crate::statistics::PairSums;
use crate::statistics::interval::normal_reach;
use crate::statistics::interval::student_reach;

/// How many standard deviations of a difference hold 95 % of differences.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CoverFactor {
    /// 2, as Bland & Altman 1986 calculate.
    Two,
    /// 1.959964, the quantile of the normal distribution.
    Normal,
}

impl CoverFactor {
    /// The number.
    #[must_use]
    pub fn get(self) -> f64 {
        match self {
            Self::Two => 2.0,
            Self::Normal => normal_reach(),
        }
    }
}

/// An estimate with its 95 % interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// The estimate.
    pub value: f64,
    /// Its interval.
    pub interval: Interval,
}

/// Limits between which most differences of two methods lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LimitsOfAgreement {
    /// Pairs.
    pub pairs: usize,
    /// The mean difference, first less second.
    pub bias: Limit,
    /// Standard deviation of the differences, with divisor n − 1.
    pub sd: f64,
    /// The lower limit of agreement.
    pub low: Limit,
    /// The upper limit of agreement.
    pub high: Limit,
}

/// Why pairs have no limits of agreement. Places count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum NoLimits {
    /// There are fewer than two pairs.
    #[error("there are {0} pairs, and at least 2 are needed")]
    TooFewPairs(usize),
    /// All differences are the same, so that nothing says how far others may lie from it.
    #[error("all pairs differ by {difference}, so nothing says how far others may differ")]
    OneDifference {
        /// The difference of every pair.
        difference: f64,
    },
}

/// The limits of agreement of two methods, from the sums over their pairs of readings.
///
/// Bland & Altman 1986 (Lancet 327:307-310): d̄ ± `factor`·s, with standard errors s/√n of the bias and
/// √(3s²/n) of a limit, and Student's t on n − 1 degrees of freedom.
///
/// # Errors
/// There are fewer than two pairs, or all differ by the same.
pub fn limits_of_agreement(
    sums: &PairSums,
    factor: CoverFactor,
) -> Result<LimitsOfAgreement, NoLimits> {
    let pairs = usize::try_from(sums.pairs()).unwrap_or(usize::MAX);
    if pairs < 2 {
        return Err(NoLimits::TooFewPairs(pairs));
    }
    let n = pairs as f64;
    let bias = sums.differences().mean();
    let variance = sums.differences().squares() / (n - 1.0);
    if variance <= 0.0 {
        return Err(NoLimits::OneDifference { difference: bias });
    }
    let sd = variance.sqrt();
    let t = student_reach(pairs - 1);
    let limit = |value: f64, error: f64| Limit {
        value,
        interval: Interval::around(value, t * error),
    };
    let error = (3.0 * variance / n).sqrt();
    Ok(LimitsOfAgreement {
        pairs,
        bias: limit(bias, sd / n.sqrt()),
        sd,
        low: limit(bias - factor.get() * sd, error),
        high: limit(bias + factor.get() * sd, error),
    })
}

#[cfg(test)]
mod tests {
    use crate::statistics::Dice;
    use crate::statistics::near::near;
    use crate::statistics::peak_flow::PEAK_FLOW;

    use super::*;

    #[test]
    fn peak_flow_has_the_limits_of_the_paper() {
        // Bland & Altman 1986: limits −79.7 and 75.5, interval of the bias −22.0 to 17.8 (read there),
        // of the limits −114.3 to −45.1 and 40.9 to 110.1 (from memory). The paper goes on from rounded
        // figures (−2.1, 38.8), so that its digits are off by up to 0.2.
        let found = limits_of_agreement(&PairSums::of(&PEAK_FLOW), CoverFactor::Two).unwrap();
        near(found.low.value, -79.7, 0.2);
        near(found.high.value, 75.5, 0.2);
        near(found.bias.interval.low, -22.0, 0.2);
        near(found.bias.interval.high, 17.8, 0.2);
        near(found.low.interval.low, -114.3, 0.2);
        near(found.low.interval.high, -45.1, 0.2);
        near(found.high.interval.low, 40.9, 0.2);
        near(found.high.interval.high, 110.1, 0.2);
    }

    #[test]
    fn peak_flow_has_the_unrounded_limits_of_another_program() {
        // scipy 1.17, to the digits noted down.
        let found = limits_of_agreement(&PairSums::of(&PEAK_FLOW), CoverFactor::Two).unwrap();
        near(found.bias.value, -2.1176, 5.1e-5);
        near(found.sd, 38.7651, 5.1e-5);
        near(found.low.value, -79.65, 5.1e-3);
        near(found.high.value, 75.41, 5.1e-3);
        near(found.bias.interval.low, -22.05, 5.1e-3);
        near(found.bias.interval.high, 17.81, 5.1e-3);
        near(found.low.interval.low, -114.17, 5.1e-3);
        near(found.low.interval.high, -45.13, 5.1e-3);
        near(found.high.interval.low, 40.89, 5.1e-3);
        near(found.high.interval.high, 109.93, 5.1e-3);
        let normal = limits_of_agreement(&PairSums::of(&PEAK_FLOW), CoverFactor::Normal).unwrap();
        near(normal.low.value, -78.10, 5.1e-3);
        near(normal.high.value, 73.86, 5.1e-3);
    }

    #[test]
    fn methods_exchanged_have_the_limits_mirrored() {
        let mut dice = Dice::from_seed(33);
        for _ in 0..50 {
            let pairs: Vec<[f64; 2]> = (0..dice.whole(2, 9))
                .map(|_| [dice.normal(), dice.normal()])
                .collect();
            let turned: Vec<[f64; 2]> = pairs.iter().map(|[one, other]| [*other, *one]).collect();
            let [one, other] = [pairs, turned]
                .map(|it| limits_of_agreement(&PairSums::of(&it), CoverFactor::Normal).unwrap());
            near(one.low.value, -other.high.value, 1e-12);
            near(one.low.interval.low, -other.high.interval.high, 1e-9);
            near(one.bias.value, -other.bias.value, 1e-12);
        }
    }

    #[test]
    fn pairs_that_say_nothing_of_spread_are_refused_with_the_reason() {
        let refused = |pairs: &[[f64; 2]]| {
            limits_of_agreement(&PairSums::of(pairs), CoverFactor::Two).unwrap_err()
        };
        assert_eq!(refused(&[]), NoLimits::TooFewPairs(0));
        assert_eq!(refused(&[[1.0, 2.0]]), NoLimits::TooFewPairs(1));
        let one = NoLimits::OneDifference { difference: -1.0 };
        assert_eq!(refused(&[[1.0, 2.0], [4.0, 5.0]]), one);
    }
}
