//! The binomial distribution, exact: one term, its upper and its lower tail.

use std::f64::consts::PI;

use crate::statistics::Probability;

/// So many of so many tries.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Count {
    hits: u32,
    tries: u32,
}

impl Count {
    /// No try yet.
    pub const NONE: Self = Self { hits: 0, tries: 0 };

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

    /// The same tries with hits and misses exchanged.
    #[must_use]
    pub const fn mirrored(self) -> Self {
        Self {
            hits: self.misses(),
            tries: self.tries,
        }
    }
}

/// A chance and its complement, each with all its digits.
#[derive(Debug, Clone, Copy)]
struct Odds {
    hit: f64,
    miss: f64,
}

impl Odds {
    fn of(chance: Probability) -> Self {
        Self {
            hit: chance.get(),
            miss: chance.complement().get(),
        }
    }

    const fn mirrored(self) -> Self {
        Self {
            hit: self.miss,
            miss: self.hit,
        }
    }
}

/// P(K ≥ hits) when each of the tries hits with `chance`, independently.
///
/// The term at `hits` comes by its logarithm, the others by their ratio to it, from the side of the
/// distribution where they fall; what is smaller than a float can be is 0.
#[must_use]
pub fn binomial_upper_tail(count: Count, chance: Probability) -> Probability {
    upper_tail(count, Odds::of(chance))
}

/// P(K ≤ hits) when each of the tries hits with `chance`, independently; as exact as the upper tail.
#[must_use]
pub fn binomial_lower_tail(count: Count, chance: Probability) -> Probability {
    upper_tail(count.mirrored(), Odds::of(chance).mirrored())
}

/// P(K = hits) when each of the tries hits with `chance`, independently.
#[must_use]
pub fn binomial_term(count: Count, chance: Probability) -> Probability {
    Probability::rounded(ln_binomial_term(count, chance).exp())
}

/// ln P(K = hits), minus infinity for what cannot be: finite where the chance itself is too small for
/// a float.
pub(in crate::statistics) fn ln_binomial_term(count: Count, chance: Probability) -> f64 {
    let odds = Odds::of(chance);
    match count {
        Count { hits: 0, .. } if odds.hit <= 0.0 => 0.0,
        _ if odds.hit <= 0.0 => f64::NEG_INFINITY,
        _ if odds.miss <= 0.0 && count.misses() == 0 => 0.0,
        _ if odds.miss <= 0.0 => f64::NEG_INFINITY,
        _ => ln_term(count, odds),
    }
}

fn upper_tail(count: Count, odds: Odds) -> Probability {
    let Count { hits, tries } = count;
    if hits == 0 || odds.miss <= 0.0 {
        return Probability::ONE;
    }
    if odds.hit <= 0.0 {
        return Probability::ZERO;
    }
    let step = odds.hit / odds.miss;
    if f64::from(hits) > f64::from(tries) * odds.hit {
        let ratio = |k: u32| f64::from(tries - k) / f64::from(k + 1) * step;
        let sum = falling_sum((hits..tries).map(ratio));
        Probability::rounded((ln_term(count, odds) + sum.ln()).exp())
    } else {
        let last = Count {
            hits: hits - 1,
            tries,
        };
        let ratio = |k: u32| f64::from(k) / f64::from(tries - k + 1) / step;
        let sum = falling_sum((1..hits).rev().map(ratio));
        Probability::rounded(1.0 - (ln_term(last, odds) + sum.ln()).exp())
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
fn ln_term(count: Count, odds: Odds) -> f64 {
    let tries = f64::from(count.tries);
    let hits = f64::from(count.hits);
    let misses = f64::from(count.misses());
    if count.hits == 0 {
        return tries * ln_complement(odds.miss, odds.hit);
    }
    if count.misses() == 0 {
        return tries * ln_complement(odds.hit, odds.miss);
    }
    stirling_rest(tries)
        - stirling_rest(hits)
        - stirling_rest(misses)
        - deviance(hits, tries * odds.hit)
        - deviance(misses, tries * odds.miss)
        + 0.5 * (tries / (2.0 * PI * hits * misses)).ln()
}

/// ln of a chance, from its complement where that is the smaller and knows more digits.
fn ln_complement(chance: f64, complement: f64) -> f64 {
    if complement < 0.5 {
        (-complement).ln_1p()
    } else {
        chance.ln()
    }
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
    fn lower_tails_and_terms_are_those_of_mpmath() {
        // mpmath 1.3 with 50 digits, chances as the floats they are; terms and sums of their ratios.
        for (hits, tries, chance, tail, term) in [
            (
                333,
                1_000,
                1.0 / 3.0,
                0.505_946_996_513_857_8,
                0.026_754_059_564_712_522,
            ),
            (
                250,
                1_000,
                1.0 / 3.0,
                6.338_304_881_873_826e-9,
                2.160_453_472_782_7e-9,
            ),
            (
                100,
                1_000,
                1.0 / 3.0,
                5.242_323_029_726_108e-67,
                4.082_307_938_587_089_7e-67,
            ),
            (
                400,
                1_000,
                1.0 / 3.0,
                0.999_995_570_146_593_1,
                1.558_424_463_115_215_3e-6,
            ),
            (
                3_333,
                10_000,
                1.0 / 3.0,
                0.501_880_629_329_139_7,
                0.008_462_596_930_924_599,
            ),
            (
                2_000,
                10_000,
                1.0 / 3.0,
                3.524_254_092_943_292e-192,
                1.763_445_027_604_646e-192,
            ),
            (
                33_333,
                100_000,
                1.0 / 3.0,
                0.500_594_707_956_111_5,
                0.002_676_178_368_719_833,
            ),
            (
                32_000,
                100_000,
                1.0 / 3.0,
                1.466_673_059_816_733_5e-19,
                8.728_552_781_598_895e-21,
            ),
            (
                49_000,
                100_000,
                0.5,
                1.294_358_019_173_449e-10,
                5.194_659_209_890_301e-12,
            ),
            (
                0,
                100_000,
                0.001,
                3.538_527_688_343_435e-44,
                3.538_527_688_343_435e-44,
            ),
            (
                66_000,
                100_000,
                2.0 / 3.0,
                4.063_470_716_574_639e-6,
                1.249_436_086_403_668_7e-7,
            ),
        ] {
            let count = Count::new(hits, tries).unwrap();
            let chance = Probability::new(chance).unwrap();
            for (found, expected) in [
                (binomial_lower_tail(count, chance).get(), tail),
                (binomial_term(count, chance).get(), term),
            ] {
                // Relative: 100,000 tries multiply the rounding of the chance itself.
                let miss = (found / expected - 1.0).abs();
                assert!(miss < 1e-11, "{hits} of {tries}: {found}, off by {miss:e}");
            }
        }
    }

    /// A whole number of any size, its smallest 32 bits first.
    #[derive(Clone)]
    struct Whole(Vec<u32>);

    impl Whole {
        fn times(&self, factor: u32) -> Self {
            let mut carry = 0_u64;
            let mut digits = Vec::new();
            for digit in &self.0 {
                carry += u64::from(*digit) * u64::from(factor);
                digits.push(u32::try_from(carry & 0xffff_ffff).unwrap());
                carry >>= 32;
            }
            digits.push(u32::try_from(carry & 0xffff_ffff).unwrap());
            Self(digits)
        }

        fn plus(&self, other: &Self) -> Self {
            let mut carry = 0_u64;
            let mut digits = Vec::new();
            for place in 0..=self.0.len().max(other.0.len()) {
                let digit = |it: &Self| u64::from(*it.0.get(place).unwrap_or(&0));
                carry += digit(self) + digit(other);
                digits.push(u32::try_from(carry & 0xffff_ffff).unwrap());
                carry >>= 32;
            }
            Self(digits)
        }

        /// Every step rounds in the last of 53 bits.
        fn float(&self) -> f64 {
            let shifted = |sum: f64, digit: &u32| sum * 4_294_967_296.0 + f64::from(*digit);
            self.0.iter().rev().fold(0.0, shifted)
        }
    }

    #[test]
    fn every_tail_of_120_tries_or_fewer_is_that_of_whole_number_arithmetic() {
        // C(n, k) from Pascal's triangle, times (d − 1)^(n − k), summed as whole numbers over d^n.
        for denominator in [2, 3] {
            let mut terms = vec![Whole(vec![1])];
            let mut all = Whole(vec![1]);
            for tries in 1..=120 {
                let none = Whole(vec![0]);
                terms = (0..=tries)
                    .map(|k: usize| {
                        let missed = terms.get(k).unwrap_or(&none).times(denominator - 1);
                        let before = k.checked_sub(1).map_or(&none, |it| &terms[it]);
                        missed.plus(before)
                    })
                    .collect();
                all = all.times(denominator);
                let mut sum = none;
                for (hits, term) in (0..).zip(&terms) {
                    sum = sum.plus(term);
                    let count = Count::new(hits, u32::try_from(tries).unwrap()).unwrap();
                    let chance = Probability::new(1.0 / f64::from(denominator)).unwrap();
                    for (found, expected) in [
                        (binomial_term(count, chance), term),
                        (binomial_lower_tail(count, chance), &sum),
                    ] {
                        // Relative: thirds are no floats, and 120 tries multiply that.
                        let miss = found.get() / (expected.float() / all.float()) - 1.0;
                        assert!(miss.abs() < 1e-13, "{count:?}: {found:?}, off by {miss:e}");
                    }
                }
                let mut sum = Whole(vec![0]);
                for (misses, term) in (0..).zip(terms.iter().rev()) {
                    sum = sum.plus(term);
                    let count = Count::new(misses, u32::try_from(tries).unwrap()).unwrap();
                    let chance = Probability::new(1.0 / f64::from(denominator)).unwrap();
                    let found = binomial_upper_tail(count.mirrored(), chance);
                    let miss = found.get() / (sum.float() / all.float()) - 1.0;
                    assert!(miss.abs() < 1e-13, "{count:?}: {found:?}, off by {miss:e}");
                }
            }
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
