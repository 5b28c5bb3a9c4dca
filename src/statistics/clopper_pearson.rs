//! Limits of a chance from a count: exact ones, and those of Wilson.

use crate::statistics::Count;
use crate::statistics::Normal;
use crate::statistics::Probability;
use crate::statistics::binomial_lower_tail;
use crate::statistics::binomial_upper_tail;
use crate::statistics::root;

/// From here to there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// The lower limit.
    pub low: Probability,
    /// The upper limit.
    pub high: Probability,
}

impl Limits {
    /// Whether `value` lies within, its ends included.
    #[must_use]
    pub fn hold(self, value: Probability) -> bool {
        self.low <= value && value <= self.high
    }
}

/// Exact limits with `risk` in all, half of it at each end (Clopper & Pearson 1934, Biometrika
/// 26:404-413): they hold the true chance at least as often as they say.
#[must_use]
pub fn clopper_pearson(count: Count, risk: Probability) -> Limits {
    let half = Probability::rounded(risk.get() / 2.0);
    Limits {
        low: exact_lower(count, half),
        high: exact_upper(count, half),
    }
}

/// The chance at which so many hits or more come with probability `risk`: the exact one-sided lower
/// limit; 0 without a hit.
#[must_use]
pub fn exact_lower(count: Count, risk: Probability) -> Probability {
    if count.hits() == 0 || risk.get() <= 0.0 {
        return Probability::ZERO;
    }
    if count.misses() == 0 {
        return Probability::rounded(risk.get().powf(1.0 / f64::from(count.tries())));
    }
    let share = f64::from(count.hits()) / f64::from(count.tries());
    solved(risk, share, |chance| binomial_upper_tail(count, chance))
}

/// The chance at which so many hits or fewer come with probability `risk`: the exact one-sided upper
/// limit; 1 without a miss.
#[must_use]
pub fn exact_upper(count: Count, risk: Probability) -> Probability {
    if count.misses() == 0 || risk.get() <= 0.0 {
        return Probability::ONE;
    }
    if count.hits() == 0 {
        let ln_miss = risk.get().ln() / f64::from(count.tries());
        return Probability::rounded(-ln_miss.exp_m1());
    }
    let share = f64::from(count.hits()) / f64::from(count.tries());
    solved(risk, share, |chance| binomial_lower_tail(count, chance))
}

/// Where a tail comes to `risk`. Sought in the logit of the chance and the logarithm of the tail, which
/// are nearly straight to each other, so that few looks are enough and a tiny chance keeps its digits.
fn solved(risk: Probability, share: f64, tail: impl Fn(Probability) -> Probability) -> Probability {
    let ln_risk = risk.get().ln();
    let off = |logit: f64| {
        let found = tail(from_logit(logit)).get();
        found.max(f64::MIN_POSITIVE).ln() - ln_risk
    };
    let middle = (share / (1.0 - share)).ln();
    let mut reach = 1.0;
    while off(middle - reach) * off(middle + reach) > 0.0 && reach < 100.0 {
        reach *= 2.0;
    }
    from_logit(root(middle - reach, middle + reach, off))
}

fn from_logit(logit: f64) -> Probability {
    Probability::rounded(1.0 / (1.0 + (-logit).exp()))
}

/// Limits with `risk` in all by the score test (Wilson 1927, J. Am. Statist. Assoc. 22:209-212):
/// narrower than the exact ones, and right on average only. All of 0 to 1 without a try.
#[must_use]
pub fn wilson(count: Count, risk: Probability) -> Limits {
    let tries = f64::from(count.tries());
    if tries <= 0.0 {
        return Limits {
            low: Probability::ZERO,
            high: Probability::ONE,
        };
    }
    let z = -Normal::STANDARD.quantile(Probability::rounded(risk.get() / 2.0));
    let share = f64::from(count.hits()) / tries;
    let middle = share + z * z / (2.0 * tries);
    let reach = z * (share * (1.0 - share) / tries + z * z / (4.0 * tries * tries)).sqrt();
    let scale = 1.0 + z * z / tries;
    Limits {
        low: Probability::rounded((middle - reach) / scale),
        high: Probability::rounded((middle + reach) / scale),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(hits: u32, tries: u32) -> Count {
        Count::new(hits, tries).unwrap()
    }

    fn p(value: f64) -> Probability {
        Probability::new(value).unwrap()
    }

    #[test]
    fn exact_limits_are_the_beta_quantiles_of_scipy() {
        // scipy 1.17.1, beta.ppf(risk/2, x, n-x+1) and beta.ppf(1-risk/2, x+1, n-x). R's example of
        // binom.test, Mendel's peas 682 of 925 (Conover 1971), prints 0.7076683 and 0.7654066.
        for (hits, tries, risk, low, high) in [
            (
                25,
                50,
                0.05,
                0.355_272_997_129_908_6,
                0.644_727_002_870_091_3,
            ),
            (
                15,
                30,
                0.05,
                0.312_970_285_868_027_44,
                0.687_029_714_131_972_6,
            ),
            (10, 10, 0.05, 0.691_502_892_181_239_2, 1.0),
            (
                81,
                263,
                0.05,
                0.252_736_745_585_271_26,
                0.367_621_922_601_351_35,
            ),
            (
                15,
                148,
                0.05,
                0.057_844_010_083_448_57,
                0.161_650_490_349_479,
            ),
            (
                682,
                925,
                0.05,
                0.707_668_264_079_039,
                0.765_406_558_241_525_3,
            ),
            (0, 20, 0.05, 0.0, 0.168_433_470_983_085_3),
            (
                33_000,
                100_000,
                0.05,
                0.327_085_609_323_016_2,
                0.332_924_253_562_922_5,
            ),
            (
                1,
                100_000,
                0.01,
                5.012_541_697_916_406_6e-8,
                7.429_890_621_390_486e-5,
            ),
            (
                22,
                66,
                0.1,
                0.237_615_557_949_988_65,
                0.440_692_321_657_429_7,
            ),
        ] {
            let found = clopper_pearson(count(hits, tries), p(risk));
            for (found, expected) in [(found.low, low), (found.high, high)] {
                let miss = (found.get() - expected).abs();
                assert!(miss <= 1e-12 * expected, "{hits} of {tries}: {found:?}");
            }
        }
    }

    #[test]
    fn at_an_exact_limit_the_tail_is_the_risk() {
        for (hits, tries) in [(1, 3), (2, 7), (11, 20), (450, 500), (3, 50_000)] {
            for risk in [1e-6, 0.025, 0.4] {
                let count = count(hits, tries);
                let upper = binomial_upper_tail(count, exact_lower(count, p(risk))).get();
                let lower = binomial_lower_tail(count, exact_upper(count, p(risk))).get();
                assert!(
                    (upper / risk - 1.0).abs() < 1e-10,
                    "{hits} of {tries}: {upper}"
                );
                assert!(
                    (lower / risk - 1.0).abs() < 1e-10,
                    "{hits} of {tries}: {lower}"
                );
            }
        }
    }

    #[test]
    fn the_limits_of_wilson_are_those_printed() {
        // Newcombe 1998, Statistics in Medicine 17:857, table I, method 3, four digits.
        for (hits, tries, low, high) in [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605)] {
            let found = wilson(count(hits, tries), p(0.05));
            assert!((found.low.get() - low).abs() < 5.1e-5, "{found:?}");
            assert!((found.high.get() - high).abs() < 5.1e-5, "{found:?}");
        }
    }

    #[test]
    fn no_try_says_nothing_and_no_hit_or_miss_has_its_end() {
        let nothing = clopper_pearson(count(0, 0), p(0.05));
        assert!(nothing.hold(Probability::ZERO) && nothing.hold(Probability::ONE));
        assert_eq!(wilson(count(0, 0), p(0.05)), nothing);
        assert_eq!(clopper_pearson(count(5, 5), p(0.05)).high, Probability::ONE);
        assert_eq!(clopper_pearson(count(0, 5), p(0.05)).low, Probability::ZERO);
        assert!(!clopper_pearson(count(0, 5), p(0.05)).hold(Probability::ONE));
    }
}
