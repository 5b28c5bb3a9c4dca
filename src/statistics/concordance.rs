//! How closely pairs of readings lie to the line on which both are the same.

use thiserror::Error;

use crate::statistics::Interval;
use crate::statistics::Moments;
use crate::statistics::PairSums;
use crate::statistics::interval::normal_reach;

/// What rounding leaves of 1 − ρ².
const ROUNDING: f64 = 1e-12;

/// Lin's concordance of two readings.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Concordance {
    /// Pairs.
    pub pairs: usize,
    /// `ρ_c`, −1 to 1: 1 where every pair agrees.
    pub coefficient: f64,
    /// Pearson's r: how closely they lie to any line.
    pub correlation: f64,
    /// `C_b` = `ρ_c`/r, above 0 and at most 1: how near that line is to the one of agreement.
    pub bias_correction: f64,
    /// Standard error of `ρ_c`.
    pub standard_error: f64,
    /// The 95 % interval by Fisher's z; none where the pairs lie on a line and leave no error.
    pub interval: Option<Interval>,
}

/// Why pairs have no concordance. Places count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum NoConcordance {
    /// There are fewer than three pairs.
    #[error("there are {0} pairs, and at least 3 are needed")]
    TooFewPairs(usize),
    /// The first or the second readings are all the same.
    #[error("one of the two sides always reads the same, so the two cannot go together")]
    OneSideConstant,
}

/// The concordance of pairs of readings, from the sums over them.
///
/// Lin 1989 (Biometrics 45:255-268): `ρ_c` = `2s_xy`/(`s_x²` + `s_y²` + (x̄ − ȳ)²) with divisor n; its
/// variance with n − 2 as corrected by Lin 2000 (Biometrics 56:324-325), written here with `C_b` for
/// `ρ_c`/r so that r = 0 divides nothing; the interval through z = artanh `ρ_c`.
///
/// # Errors
/// There are fewer than three pairs, or one side never changes.
pub fn concordance(sums: &PairSums) -> Result<Concordance, NoConcordance> {
    let pairs = usize::try_from(sums.pairs()).unwrap_or(usize::MAX);
    if pairs < 3 {
        return Err(NoConcordance::TooFewPairs(pairs));
    }
    let n = pairs as f64;
    let [middle, other_middle] = sums.sides().map(Moments::mean);
    let [sd, other_sd] = sums.sides().map(|it| (it.squares() / n).sqrt());
    if sd <= 0.0 || other_sd <= 0.0 {
        return Err(NoConcordance::OneSideConstant);
    }
    let correlation = (sums.products() / n / sd / other_sd).clamp(-1.0, 1.0);
    let shift = (middle - other_middle) / sd.sqrt() / other_sd.sqrt();
    let stretch = sd / other_sd;
    let bias_correction = 2.0 / (stretch + 1.0 / stretch + shift * shift);
    let coefficient = correlation * bias_correction;
    let standard_error = standard_error(correlation, bias_correction, shift, n);
    Ok(Concordance {
        pairs,
        coefficient,
        correlation,
        bias_correction,
        standard_error,
        interval: interval(coefficient, standard_error),
    })
}

fn standard_error(correlation: f64, bias_correction: f64, shift: f64, n: f64) -> f64 {
    let rho = correlation * bias_correction;
    let far = shift * shift * bias_correction;
    let scatter = (1.0 - correlation * correlation) * bias_correction.powi(2) * (1.0 - rho * rho);
    let moved = rho * rho * far * (2.0 * (1.0 - rho) - far / 2.0);
    ((scatter + moved).max(0.0) / (n - 2.0)).sqrt()
}

fn interval(rho: f64, error: f64) -> Option<Interval> {
    let below_one = 1.0 - rho * rho;
    if below_one <= ROUNDING || error <= ROUNDING {
        return None;
    }
    let on_line = Interval::around(rho.atanh(), normal_reach() * error / below_one);
    Some(Interval {
        low: on_line.low.tanh(),
        high: on_line.high.tanh(),
    })
}

#[cfg(test)]
mod tests {
    use crate::statistics::Dice;
    use crate::statistics::near::near;
    use crate::statistics::peak_flow::PEAK_FLOW;
    use crate::statistics::squares::squares;

    use super::*;

    #[test]
    fn peak_flow_has_the_concordance_of_another_program() {
        // Stata's concord prints 0.943 (from memory); scipy 1.17: ρc 0.942742, r 0.943279, C_b 0.999431,
        // SE of the 2000 corrigendum 0.02862, Fisher-z 0.8505 to 0.9787, to the digits noted down.
        let found = concordance(&PairSums::of(&PEAK_FLOW)).unwrap();
        near(found.coefficient, 0.943, 5e-4);
        near(found.coefficient, 0.942_742, 5.1e-7);
        near(found.correlation, 0.943_279, 5.1e-7);
        near(found.bias_correction, 0.999_431, 5.1e-7);
        near(found.standard_error, 0.028_62, 5.1e-6);
        near(found.interval.unwrap().low, 0.8505, 5.1e-5);
        near(found.interval.unwrap().high, 0.9787, 5.1e-5);
    }

    /// Pairs with correlation ρ, the second one stretched and moved.
    fn drawn([rho, stretch, shift]: [f64; 3], number: u32, dice: &mut Dice) -> Vec<[f64; 2]> {
        let mut pair = |_| {
            let [one, other] = [dice.normal(), dice.normal()];
            let along = rho * one + (1.0 - rho * rho).sqrt() * other;
            [one, shift + stretch * along]
        };
        (0..number).map(&mut pair).collect()
    }

    #[test]
    fn intervals_and_errors_are_as_wide_as_many_samples_scatter() {
        // 2,000 samples of 100 pairs, near the line of agreement and far from it. Five standard errors of
        // a share of 95 %, and one in a hundred for a large-sample interval; the standard deviation of the
        // coefficients is known to 1/√4000, so that five of those and 3 % are allowed for the mean error.
        let mut dice = Dice::from_seed(34);
        for [rho, stretch, shift] in [[0.8, 1.2, 0.3], [0.95, 1.0, 1.5], [0.4, 0.7, -1.0]] {
            let truth = 2.0 * rho * stretch / (1.0 + stretch * stretch + shift * shift);
            let (mut held, mut errors) = (0.0, 0.0);
            let mut values = Vec::new();
            for _ in 0..2_000 {
                let found =
                    concordance(&PairSums::of(&drawn([rho, stretch, shift], 100, &mut dice)))
                        .unwrap();
                held += f64::from(u8::from(found.interval.unwrap().holds(truth)));
                errors += found.standard_error / 2_000.0;
                values.push(found.coefficient);
            }
            let share_error = (0.95 * 0.05 / 2_000.0_f64).sqrt();
            near(held / 2_000.0, 0.95, 5.0 * share_error + 0.01);
            let scatter = (squares(&values) / 1_999.0).sqrt();
            near(errors / scatter, 1.0, 5.0 / 4_000.0_f64.sqrt() + 0.03);
        }
    }

    #[test]
    fn pairs_that_agree_wholly_have_no_interval() {
        let found = concordance(&PairSums::of(&[[0.1, 0.1], [0.2, 0.2], [0.7, 0.7]])).unwrap();
        near(found.coefficient, 1.0, 1e-12);
        assert_eq!(found.interval, None);
        let opposite = concordance(&PairSums::of(&[[-1.0, 1.0], [0.0, 0.0], [1.0, -1.0]])).unwrap();
        near(opposite.coefficient, -1.0, 1e-12);
        assert_eq!(opposite.interval, None);
    }

    #[test]
    fn a_correlation_of_nothing_divides_nothing() {
        // By hand: covariance 0, equal spread, equal means: C_b 1, variance 1/(n − 2).
        let found = concordance(&PairSums::of(&[
            [-1.0, 0.0],
            [1.0, 0.0],
            [0.0, -1.0],
            [0.0, 1.0],
        ]))
        .unwrap();
        near(found.coefficient, 0.0, 1e-12);
        near(found.bias_correction, 1.0, 1e-12);
        near(found.standard_error, 0.5_f64.sqrt(), 1e-12);
    }

    #[test]
    fn pairs_that_cannot_go_together_are_refused_with_the_reason() {
        let refused = |pairs: &[[f64; 2]]| concordance(&PairSums::of(pairs)).unwrap_err();
        assert_eq!(refused(&[]), NoConcordance::TooFewPairs(0));
        assert_eq!(refused(&[[1.0, 2.0]; 2]), NoConcordance::TooFewPairs(2));
        assert_eq!(refused(&[[0.1, 0.1]; 3]), NoConcordance::OneSideConstant);
        let constant = [[1.0, 5.0], [2.0, 5.0], [3.0, 5.0]];
        assert_eq!(refused(&constant), NoConcordance::OneSideConstant);
    }
}
