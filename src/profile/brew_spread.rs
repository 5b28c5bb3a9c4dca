//! How far brews of one recipe lie apart, from gaps between them that taste alone blurs.

use crate::profile::Evidence;
use crate::statistics::integral;

/// The standard deviation of one brew around what its recipe gives on average, in digits, before a repeat brew
/// has measured it (judgement).
pub const DEFAULT_BREW_SD: f64 = 0.7;

/// How far that may be off: the standard deviation of its natural logarithm (judgement).
const DEFAULT_LOG_SD: f64 = 0.5;

/// How far its logarithm is looked at to either side, in these standard deviations, and in how many pieces.
const REACH: f64 = 9.0;
const PIECES: u32 = 24;

/// The standard deviation of one brew around what its recipe gives on average, in digits, from gaps between two
/// brews of one recipe; the default where there are none.
///
/// A gap is normal around 0 with the variance 2σ² + v, v being the noise of taste. The logarithm of σ is thought
/// to be normal beforehand; its mean afterwards is found by quadrature (Gelman et al. 2013, Bayesian Data Analysis,
/// 3rd ed., section 10.2).
#[must_use]
pub fn brew_spread(apart: &[Evidence]) -> f64 {
    let gaps: Vec<(f64, f64)> = apart
        .iter()
        .map(|it| (it.gap() * it.gap(), it.variance().value()))
        .collect();
    spread(&gaps)
}

/// The same from squared gaps, each with its noise of taste.
fn spread(gaps: &[(f64, f64)]) -> f64 {
    let middle = DEFAULT_BREW_SD.ln();
    let log_weight = |ln_sd: f64| {
        let brews = 2.0 * (2.0 * ln_sd).exp();
        let z = (ln_sd - middle) / DEFAULT_LOG_SD;
        let of_gap = |(squared, noise): &(f64, f64)| {
            let variance = brews + noise;
            variance.ln() + squared / variance
        };
        -0.5 * (z * z + gaps.iter().map(of_gap).sum::<f64>())
    };
    let (low, high) = (
        middle - REACH * DEFAULT_LOG_SD,
        middle + REACH * DEFAULT_LOG_SD,
    );
    // Weights are taken beside the largest one, so that many gaps do not leave the numbers.
    let steps = (0..=1_000).map(|it| low + (high - low) * f64::from(it) / 1_000.0);
    let largest = steps.map(log_weight).fold(f64::NEG_INFINITY, f64::max);
    let weight = |ln_sd: f64| (log_weight(ln_sd) - largest).exp();
    let mass = integral(low, high, PIECES, weight);
    (integral(low, high, PIECES, |it| it * weight(it)) / mass).exp()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Dice;

    /// The noise of one glass each by a taster of whom nothing is known: 2(0.9² + 1/12 + 0.7²).
    const ONE_GLASS_EACH: f64 = 2.766_666_666_666_667;

    #[test]
    fn gaps_move_the_default_by_what_they_are_worth() {
        // A plain sum over 20,001 places in another program (Python), as the documentation says.
        for (gaps, expected) in [
            (vec![], DEFAULT_BREW_SD),
            (vec![(4.0, 0.0)], 1.007_664_522_4),
            (vec![(49.0, ONE_GLASS_EACH)], 1.494_846_973_4),
            (vec![(0.0, ONE_GLASS_EACH); 12], 0.447_364_042_1),
            (vec![(0.0, 0.5); 480], 0.067_498_130_9),
        ] {
            let found = spread(&gaps);
            assert!((found - expected).abs() < 1e-6, "{found} {expected}");
        }
    }

    #[test]
    fn many_repeat_brews_of_a_known_kitchen_are_found_out() {
        let mut dice = Dice::from_seed(11);
        for (truth, noise) in [(1.2_f64, 0.6_f64), (0.4, 0.3)] {
            let mut gap = || {
                let brews = truth * (dice.normal() - dice.normal());
                (brews + noise.sqrt() * dice.normal()).powi(2)
            };
            let gaps: Vec<(f64, f64)> = (0..1_200).map(|_| (gap(), noise)).collect();
            // The mean of 1,200 squares is good to √(2/1200) = 4 % of 2σ² + v; taking v off leaves at most 8 % of
            // σ² here, 4 % of σ. Three times that is allowed.
            let found = spread(&gaps);
            assert!((found / truth - 1.0).abs() < 0.12, "{truth}: {found}");
        }
    }
}
