//! The F distribution, and a test by it that says so where there is nothing to divide by.

use statrs::function::beta::beta_reg;

use crate::statistics::Probability;

/// The F distribution.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FisherF {
    above: f64,
    below: f64,
}

impl FisherF {
    /// With `above` degrees of freedom of the numerator and `below` of the denominator, whole or not;
    /// `None` unless both are above 0 and finite.
    #[must_use]
    pub fn new(above: f64, below: f64) -> Option<Self> {
        let good = |it: f64| it > 0.0 && it.is_finite();
        (good(above) && good(below)).then_some(Self { above, below })
    }

    /// P(F ≥ f); 1 below 0.
    ///
    /// Iₓ(ν₂/2, ν₁/2) with x = ν₂/(ν₂ + ν₁f) (Abramowitz & Stegun 1964, 26.6.2).
    #[must_use]
    pub fn upper_tail(self, f: f64) -> Probability {
        let part = self.above * f;
        if part <= 0.0 {
            return Probability::ONE;
        }
        if part.is_infinite() {
            return Probability::ZERO;
        }
        let [above, below] = [self.above / 2.0, self.below / 2.0];
        let whole = self.below + part;
        // From the side that is small, so that neither a tiny nor a huge f loses its digits.
        Probability::rounded(if f < 1.0 {
            1.0 - beta_reg(above, below, part / whole)
        } else {
            beta_reg(below, above, self.below / whole)
        })
    }

    /// The value that F reaches or passes with this probability; `None` where a float holds none.
    ///
    /// Found by halving, to the last digit that `upper_tail` resolves.
    #[must_use]
    pub fn upper_quantile(self, p: Probability) -> Option<f64> {
        let beyond = |f: f64| self.upper_tail(f) > p;
        let mut high = 1.0;
        while beyond(high) {
            high *= 2.0;
            if high > f64::MAX / 4.0 {
                return None;
            }
        }
        let mut low = if high > 1.0 { high / 2.0 } else { 0.0 };
        loop {
            let middle = f64::midpoint(low, high);
            if middle <= low || middle >= high {
                return (p > Probability::ZERO).then_some(high);
            }
            if beyond(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
    }
}

/// What became of dividing two mean squares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FOutcome {
    /// The ratio, and the chance of one as large or larger where nothing differs.
    Ratio {
        /// The ratio.
        f: f64,
        /// The chance.
        p: Probability,
    },
    /// What is tested differs, and nothing scatters that it could be held against.
    NothingScatters,
    /// Nothing differs and nothing scatters.
    NothingDiffers,
}

/// An F test of two mean squares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FTest {
    /// Degrees of freedom of the numerator.
    pub above: usize,
    /// Degrees of freedom of the denominator.
    pub below: usize,
    /// What came of it.
    pub outcome: FOutcome,
}

impl FTest {
    /// The test of two mean squares (neither below 0), each with its degrees of freedom (at least one).
    pub(in crate::statistics) fn of(above: (f64, usize), below: (f64, usize)) -> Self {
        let distribution = FisherF::new(above.1.max(1) as f64, below.1.max(1) as f64)
            .expect("there is a degree of freedom on either side");
        let f = above.0 / below.0;
        let outcome = if below.0 > 0.0 && f.is_finite() {
            let p = distribution.upper_tail(f);
            FOutcome::Ratio { f, p }
        } else if above.0 > 0.0 {
            FOutcome::NothingScatters
        } else {
            FOutcome::NothingDiffers
        };
        Self {
            above: above.1,
            below: below.1,
            outcome,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fisher(above: f64, below: f64) -> FisherF {
        FisherF::new(above, below).unwrap()
    }

    fn chance(p: f64) -> Probability {
        Probability::new(p).unwrap()
    }

    #[test]
    fn quantiles_are_those_of_printed_tables() {
        // Tables of F as printed in most textbooks (from memory), upper 5 % and 2.5 %, to the digits
        // printed; F(1, ν) is the square of t, 12.706² at 2.5 % on each side of one degree.
        for (above, below, p, expected) in [
            (1.0, 1.0, 0.05, 161.4),
            (2.0, 10.0, 0.05, 4.10),
            (5.0, 12.0, 0.05, 3.11),
            (4.0, 20.0, 0.05, 2.87),
            (10.0, 10.0, 0.05, 2.98),
            (5.0, 15.0, 0.025, 3.58),
            (5.0, 18.0, 0.025, 3.38),
            (15.0, 5.0, 0.025, 6.43),
        ] {
            let found = fisher(above, below).upper_quantile(chance(p)).unwrap();
            let digit = if expected > 100.0 { 0.05 } else { 0.005 };
            assert!(
                (found - expected).abs() <= digit + 1e-9,
                "{above} {below}: {found}"
            );
        }
    }

    #[test]
    fn two_degrees_above_have_the_tail_of_a_power() {
        // Closed form: P(F ≥ f) = (1 + 2f/ν)^(−ν/2) with 2 and ν degrees of freedom.
        for nu in [1.0_f64, 2.99, 12.0, 300.0] {
            for f in [1e-9_f64, 0.3, 1.0, 4.0, 50.0] {
                let expected = (-nu / 2.0 * (2.0 * f / nu).ln_1p()).exp();
                let found = fisher(2.0, nu).upper_tail(f).get();
                assert!((found / expected - 1.0).abs() < 1e-11, "{nu} {f}: {found}");
            }
        }
    }

    #[test]
    fn a_ratio_turned_round_has_the_tail_turned_round() {
        // P(F ≥ f) with (a, b) degrees of freedom is P(F ≤ 1/f) with (b, a).
        for (above, below) in [(1.0, 3.0), (5.0, 18.0), (0.7, 9.0), (40.0, 2.0)] {
            for f in [0.01, 0.5, 1.0, 3.0, 80.0] {
                let one = fisher(above, below).upper_tail(f).get();
                let other = fisher(below, above).upper_tail(1.0 / f).get();
                assert!((one + other - 1.0).abs() < 1e-12, "{above} {below} {f}");
            }
        }
    }

    #[test]
    fn the_ends_are_certain_and_have_no_endless_quantile() {
        let some = fisher(5.0, 12.0);
        assert_eq!(some.upper_tail(0.0), Probability::ONE);
        assert_eq!(some.upper_tail(-1.0), Probability::ONE);
        assert_eq!(some.upper_tail(f64::INFINITY), Probability::ZERO);
        assert_eq!(some.upper_quantile(Probability::ZERO), None);
        assert!(some.upper_quantile(Probability::ONE).unwrap() < 1e-6);
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert_eq!(FisherF::new(bad, 1.0), None);
            assert_eq!(FisherF::new(1.0, bad), None);
        }
    }

    #[test]
    fn nothing_is_divided_by_nothing() {
        let outcome = |above, below| FTest::of((above, 2), (below, 3)).outcome;
        assert_eq!(outcome(0.0, 0.0), FOutcome::NothingDiffers);
        assert_eq!(outcome(1.0, 0.0), FOutcome::NothingScatters);
        assert!(matches!(
            outcome(0.0, 1.0),
            FOutcome::Ratio {
                p: Probability::ONE,
                ..
            }
        ));
    }
}
