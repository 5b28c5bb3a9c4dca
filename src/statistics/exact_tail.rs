//! The exact upper tail of the binomial distribution.

use std::f64::consts::PI;

use crate::statistics::Probability;

/// So many of so many tries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Count {
    hits: u32,
    tries: u32,
}

impl Count {
    /// `hits` of `tries`; `None` when there are more hits than tries.
    #[must_use]
    pub const fn new(hits: u32, tries: u32) -> Option<Self> {
        if hits <= tries {
            Some(Self { hits, tries })
        } else {
            None
        }
    }

    /// How many hits.
    #[must_use]
    pub const fn hits(self) -> u32 {
        self.hits
    }

    /// How many tries.
    #[must_use]
    pub const fn tries(self) -> u32 {
        self.tries
    }

    /// How many tries that were no hit.
    #[must_use]
    pub const fn misses(self) -> u32 {
        self.tries - self.hits
    }
}

/// P(K ≥ hits) when each of the tries hits with `chance`, independently.
///
/// The term at `hits` comes by its logarithm, the others by their ratio to it, from the side of the
/// distribution where they fall; what is smaller than a float can be is 0.
#[must_use]
pub fn binomial_upper_tail(count: Count, chance: Probability) -> Probability {
    let Count { hits, tries } = count;
    let p = chance.get();
    if hits == 0 || p >= 1.0 {
        return Probability::ONE;
    }
    if p <= 0.0 {
        return Probability::ZERO;
    }
    let odds = p / (1.0 - p);
    if f64::from(hits) > f64::from(tries) * p {
        let ratio = |k: u32| f64::from(tries - k) / f64::from(k + 1) * odds;
        let sum = falling_sum((hits..tries).map(ratio));
        Probability::rounded((ln_term(count, p) + sum.ln()).exp())
    } else {
        let last = Count {
            hits: hits - 1,
            tries,
        };
        let ratio = |k: u32| f64::from(k) / f64::from(tries - k + 1) / odds;
        let sum = falling_sum((1..hits).rev().map(ratio));
        Probability::rounded(1.0 - (ln_term(last, p) + sum.ln()).exp())
    }
}

/// 1 and the products of more and more ratios, until they add nothing.
fn falling_sum(ratios: impl Iterator<Item = f64>) -> f64 {
    let mut term = 1.0;
    let mut sum = 1.0;
    for ratio in ratios {
        term *= ratio;
        sum += term;
        if term < sum * 1e-18 {
            break;
        }
    }
    sum
}

/// ln P(K = hits) by the saddle point (Loader 2000, "Fast and accurate computation of binomial
/// probabilities"): no difference of large logarithms, so no digit is lost with many tries.
fn ln_term(count: Count, p: f64) -> f64 {
    let tries = f64::from(count.tries);
    let hits = f64::from(count.hits);
    let misses = f64::from(count.misses());
    if count.hits == 0 {
        return tries * (-p).ln_1p();
    }
    if count.hits == count.tries {
        return tries * p.ln();
    }
    stirling_rest(tries)
        - stirling_rest(hits)
        - stirling_rest(misses)
        - deviance(hits, tries * p)
        - deviance(misses, tries * (1.0 - p))
        + 0.5 * (tries / (2.0 * PI * hits * misses)).ln()
}

/// ln n! − ½ ln(2πn) − n ln n + n: summed from the factorial to 15, then by the series of
/// Stirling (Abramowitz & Stegun 1964, 6.1.41).
fn stirling_rest(n: f64) -> f64 {
    if n <= 15.0 {
        let mut ln_factorial = 0.0;
        let mut factor = 2.0;
        while factor <= n {
            ln_factorial += f64::ln(factor);
            factor += 1.0;
        }
        return ln_factorial - 0.5 * (2.0 * PI * n).ln() - n * n.ln() + n;
    }
    let square = n * n;
    (1.0 / 12.0
        - (1.0 / 360.0
            - (1.0 / 1_260.0 - (1.0 / 1_680.0 - 1.0 / 1_188.0 / square) / square) / square)
            / square)
        / n
}

/// x ln(x/m) + m − x, by its series where x is near m and the difference would lose digits (Loader 2000).
fn deviance(x: f64, m: f64) -> f64 {
    let gap = x - m;
    if gap.abs() >= 0.1 * (x + m) {
        return x * (x / m).ln() + m - x;
    }
    let v = gap / (x + m);
    let mut sum = gap * v;
    let mut power = 2.0 * x * v;
    let mut odd = 1.0;
    loop {
        power *= v * v;
        odd += 2.0;
        let next = sum + power / odd;
        if (next - sum).abs() <= f64::EPSILON * next.abs() {
            return next;
        }
        sum = next;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tail(hits: u32, tries: u32, chance: f64) -> f64 {
        let count = Count::new(hits, tries).unwrap();
        binomial_upper_tail(count, Probability::new(chance).unwrap()).get()
    }

    #[test]
    fn tails_are_those_of_whole_number_arithmetic() {
        // Sums of whole numbers (Python fractions) up to 1,000 tries; above, mpmath 1.3 with 40 digits.
        for (hits, tries, chance, expected) in [
            (1, 1, 0.03, 0.03),
            (2, 2, 0.03, 0.0009),
            (2, 3, 0.03, 0.002_646),
            (3, 3, 0.03, 2.7e-5),
            (4, 20, 0.03, 0.002_668_830_748_368_863),
            (10, 10, 0.5, 0.000_976_562_5),
            (50, 1_000, 0.03, 0.000_420_766_545_248_194),
            (25, 1_000, 0.03, 0.846_639_484_273_061_1),
            (3_200, 100_000, 0.03, 0.000_124_897_269_989_835_64),
            (50_000, 100_000, 0.5, 0.501_261_563_107_098_4),
            (50_500, 100_000, 0.5, 0.000_791_179_939_425_797_8),
            (99_990, 100_000, 0.999, 1.092_447_841_469_043_3e-30),
            (5_000, 100_000, 0.03, 2.988_572_461_556_972e-252),
            (2_900, 100_000, 0.03, 0.969_281_104_914_843_1),
        ] {
            let found = tail(hits, tries, chance);
            // Relative: a logarithm near 580, of a chance near 1e-252, keeps 13 digits.
            let miss = (found / expected - 1.0).abs();
            assert!(miss < 1e-12, "{hits} of {tries}: {found}, off by {miss:e}");
        }
    }

    #[test]
    fn the_triangle_table_of_the_standard_is_met() {
        // FAO V7180E (1995) appendix A, after ISO 4120: smallest numbers correct at 5 %, chance 1/3.
        for (tries, correct) in [(5, 4), (10, 7), (20, 11), (30, 15), (54, 25), (90, 38)] {
            assert!(tail(correct, tries, 1.0 / 3.0) <= 0.05, "{tries}");
            assert!(tail(correct - 1, tries, 1.0 / 3.0) > 0.05, "{tries}");
        }
    }

    #[test]
    fn what_is_certain_is_certain_and_what_cannot_be_cannot() {
        let always = |hits, chance: f64| tail(hits, 10, chance);
        for (found, expected) in [
            (always(0, 0.0), 1.0),
            (always(0, 0.3), 1.0),
            (always(10, 1.0), 1.0),
            (always(1, 0.0), 0.0),
        ] {
            assert!((found - expected).abs() < f64::EPSILON);
        }
        // 2.7e-637 (whole-number arithmetic): below the smallest float.
        assert!(tail(300, 1_000, 0.001) < f64::MIN_POSITIVE);
        assert_eq!(Count::new(3, 2), None);
    }
}
