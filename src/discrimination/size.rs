//! How many answers a test needs, and what a number of answers is worth.

use crate::discrimination::Aim;
use crate::discrimination::Alpha;
use crate::discrimination::Effect;
use crate::discrimination::Method;
use crate::discrimination::Refused;
use crate::discrimination::Ways;
use crate::discrimination::scan::Scan;
use crate::discrimination::scan::surely_enough;
use crate::discrimination::scan::within;
use crate::statistics::Count;
use crate::statistics::Probability;
use crate::statistics::binomial_upper_tail;

/// The longest test that is looked through.
const LONGEST: u32 = 1_000_000;

/// Power that falls short by the rounding of its last digits is reached.
const ROUNDING: f64 = 1e-12;

/// What a number of answers is worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plan {
    /// The number of answers.
    pub trials: u32,
    /// The smallest count that is significant; none where even all right answers are not.
    pub critical: Option<u32>,
    /// The chance of that count or more where the beers are the same; both ways together where no
    /// direction is fixed.
    pub true_alpha: Probability,
    /// The chance of it at the effect. Where no direction is fixed, in the right direction.
    pub power: Probability,
}

/// The two answers to "how many", because power is a saw-tooth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sizes {
    /// The first number with enough power, which printed tables give. A few answers more can have too
    /// little again.
    pub first: Plan,
    /// The number from which enough power is never lost again.
    pub stable: Plan,
}

/// The risk of one end.
fn one_end(method: &Method, alpha: Alpha) -> f64 {
    match method.ways {
        Ways::One => alpha.get(),
        Ways::Either => alpha.get() / 2.0,
    }
}

/// The smallest count that is significant, by exact tails (ISO 4120, ISO 5495); none where even all right
/// answers are not. Where no direction is fixed, of the beer chosen more often.
#[must_use]
pub fn critical_count(method: &Method, trials: u32, alpha: Alpha) -> Option<u32> {
    let risk = one_end(method, alpha);
    let enough = |hits: u32| {
        let count = Count::new(hits, trials)?;
        let tail = binomial_upper_tail(count, method.guess()).get();
        within(tail, risk).then_some(hits)
    };
    let mut critical = enough(trials).filter(|_| trials > 0)?;
    let mut too_few = 0;
    while too_few + 1 < critical {
        let middle = u32::midpoint(too_few, critical);
        if enough(middle).is_some() {
            critical = middle;
        } else {
            too_few = middle;
        }
    }
    Some(critical)
}

/// What a number of answers is worth.
#[must_use]
pub fn plan(method: &Method, trials: u32, alpha: Alpha, effect: Effect) -> Plan {
    let critical = critical_count(method, trials, alpha);
    let chance = |chance| {
        let count = critical.and_then(|it| Count::new(it, trials));
        count.map_or(Probability::ZERO, |it| binomial_upper_tail(it, chance))
    };
    let one_end = chance(method.guess());
    let true_alpha = match method.ways {
        Ways::One => one_end,
        Ways::Either => twice(one_end),
    };
    Plan {
        trials,
        critical,
        true_alpha,
        power: chance(method.correct_at(effect)),
    }
}

/// Twice a chance, at most 1.
pub(in crate::discrimination) fn twice(chance: Probability) -> Probability {
    Probability::new(2.0 * chance.get()).unwrap_or(Probability::ONE)
}

/// How many answers find an effect.
///
/// # Errors
/// The effect is so small that it may take more than a million.
pub fn sizes(method: &Method, aim: Aim) -> Result<Sizes, Refused> {
    let Aim {
        alpha,
        beta,
        effect,
    } = aim;
    let risk = one_end(method, alpha);
    let (first, stable) =
        first_and_stable(method.guess(), method.correct_at(effect), risk, beta.get())?;
    let at = |trials| plan(method, trials, alpha, effect);
    Ok(Sizes {
        first: at(first),
        stable: at(stable),
    })
}

/// The first number of answers whose power against `other` leaves at most `miss`, and the one from which
/// it always does.
pub(in crate::discrimination) fn first_and_stable(
    null: Probability,
    other: Probability,
    risk: f64,
    miss: f64,
) -> Result<(u32, u32), Refused> {
    let enough = surely_enough((other.get() - null.get()).max(0.0), risk, miss);
    if enough.is_nan() || enough > f64::from(LONGEST) {
        return Err(Refused::TooSmallAnEffect { most: LONGEST });
    }
    let mut scan = Scan::new(null, other, risk);
    let mut first = None;
    let mut stable = 1;
    let mut trials = 0;
    while f64::from(trials) < enough || first.is_none() {
        trials += 1;
        scan.advance();
        if scan.power() < 1.0 - miss - ROUNDING {
            stable = trials + 1;
        } else if first.is_none() {
            first = Some(trials);
        }
    }
    Ok((first.unwrap_or(stable), stable))
}

#[cfg(test)]
mod tests {
    use crate::discrimination::Beta;
    use crate::discrimination::DPrime;
    use crate::discrimination::METHODS;
    use crate::discrimination::Pd;
    use crate::statistics::binomial_term;

    use super::*;

    fn method(id: &str) -> &'static Method {
        Method::from_id(id).unwrap()
    }

    fn alpha(value: f64) -> Alpha {
        Alpha::new(value).unwrap()
    }

    fn pd(value: f64) -> Effect {
        Effect::Pd(Pd::new(value).unwrap())
    }

    fn aim(alpha: f64, beta: f64, effect: Effect) -> Aim {
        Aim {
            alpha: Alpha::new(alpha).unwrap(),
            beta: Beta::new(beta).unwrap(),
            effect,
        }
    }

    fn first_and_stable(method: &Method, aim: Aim) -> (u32, u32) {
        let found = sizes(method, aim).unwrap();
        (found.first.trials, found.stable.trials)
    }

    /// FAO V7180E (1995), appendix A, after ISO 4120 and Roessler et al. 1978: smallest significant counts
    /// of the triangle test at 10, 5, 1 and 0.1 %; 0 for a dash. The last column is the exact tail at 5 %,
    /// by scipy 1.17.1.
    const TRIANGLE_TABLE: [(u32, [u32; 4], f64); 29] = [
        (3, [3, 3, 0, 0], 0.037_037),
        (4, [4, 4, 0, 0], 0.012_346),
        (5, [4, 4, 5, 0], 0.045_267),
        (7, [5, 5, 6, 7], 0.045_267),
        (8, [5, 6, 7, 8], 0.019_662),
        (10, [6, 7, 8, 9], 0.019_662),
        (11, [7, 7, 8, 10], 0.038_629),
        (13, [8, 8, 9, 11], 0.034_655),
        (14, [8, 9, 10, 11], 0.017_434),
        (16, [9, 9, 11, 12], 0.049_962),
        (17, [9, 10, 11, 13], 0.027_284),
        (19, [10, 11, 12, 14], 0.024_072),
        (20, [10, 11, 13, 14], 0.037_637),
        (22, [11, 12, 14, 15], 0.032_704),
        (23, [12, 12, 14, 16], 0.048_050),
        (25, [12, 13, 15, 17], 0.041_514),
        (26, [13, 14, 15, 17], 0.024_754),
        (28, [14, 15, 16, 18], 0.021_562),
        (29, [14, 15, 17, 19], 0.031_139),
        (30, [14, 15, 17, 19], 0.043_482),
        (31, [15, 16, 18, 20], 0.027_024),
        (32, [15, 16, 18, 20], 0.037_653),
        (34, [16, 17, 19, 21], 0.032_651),
        (35, [16, 17, 19, 22], 0.044_199),
        (42, [19, 20, 22, 25], 0.038_368),
        (54, [23, 25, 27, 30], 0.032_483),
        (66, [28, 29, 32, 35], 0.046_920),
        (78, [32, 34, 37, 40], 0.037_757),
        (90, [37, 38, 42, 45], 0.048_612),
    ];

    #[test]
    fn the_printed_table_of_the_triangle_test_is_met() {
        for (trials, row, tail) in TRIANGLE_TABLE {
            for (risk, expected) in [0.1, 0.05, 0.01, 0.001].into_iter().zip(row) {
                for id in ["triangle", "tetrad", "3-afc"] {
                    let found = critical_count(method(id), trials, alpha(risk));
                    assert_eq!(found.unwrap_or(0), expected, "{id}, {trials} at {risk}");
                }
            }
            let found = plan(method("triangle"), trials, alpha(0.05), pd(0.5)).true_alpha;
            assert!((found.get() - tail).abs() < 5.1e-7, "{trials}: {found:?}");
        }
    }

    #[test]
    fn the_printed_table_of_the_paired_comparison_is_met() {
        // ISO 5495:2005, table A.1: 20, 10, 5, 1 and 0.1 %, one-sided.
        for (trials, row) in [
            (10, [7, 8, 9, 10, 10]),
            (11, [8, 9, 9, 10, 11]),
            (12, [8, 9, 10, 11, 12]),
            (13, [9, 10, 10, 12, 13]),
            (14, [10, 10, 11, 12, 13]),
            (15, [10, 11, 12, 13, 14]),
            (16, [11, 12, 12, 14, 15]),
            (18, [12, 13, 13, 15, 16]),
            (20, [13, 14, 15, 16, 18]),
            (36, [22, 23, 24, 26, 28]),
            (38, [23, 24, 25, 27, 29]),
            (40, [24, 25, 26, 28, 31]),
            (44, [26, 27, 28, 31, 33]),
            (48, [28, 29, 31, 33, 36]),
            (56, [32, 34, 35, 38, 40]),
            (60, [34, 36, 37, 40, 43]),
            (64, [36, 38, 40, 42, 45]),
        ] {
            for (risk, expected) in [0.2, 0.1, 0.05, 0.01, 0.001].into_iter().zip(row) {
                for id in ["2-afc", "duo-trio"] {
                    let found = critical_count(method(id), trials, alpha(risk));
                    assert_eq!(found, Some(expected), "{id}, {trials} at {risk}");
                }
            }
        }
    }

    #[test]
    fn without_a_direction_both_ends_share_the_risk() {
        // 2·P(X ≥ x) ≤ 0.05 in whole-number arithmetic.
        for (trials, either, one) in [
            (10, 9, 9),
            (12, 10, 10),
            (20, 15, 15),
            (30, 21, 20),
            (40, 27, 26),
        ] {
            let found = critical_count(method("2-afc-either"), trials, alpha(0.05));
            assert_eq!(found, Some(either), "{trials}");
            let found = critical_count(method("2-afc"), trials, alpha(0.05));
            assert_eq!(found, Some(one), "{trials}");
        }
        // 10 of 12: 2·(66 + 12 + 1)/4096.
        let found = plan(method("2-afc-either"), 12, alpha(0.05), pd(0.5)).true_alpha;
        assert!((found.get() - 158.0 / 4_096.0).abs() < 1e-15);
        // scipy 1.17.1, binom.sf with half the risk.
        for (effect, expected) in [
            (0.2, [(327, 333), (199, 210), (373, 384)]),
            (0.3, [(145, 152), (90, 97), (164, 169)]),
            (0.5, [(49, 54), (30, 35), (57, 59)]),
        ] {
            let risks = [(0.05, 0.05), (0.05, 0.2), (0.01, 0.1)];
            for ((one, other), expected) in risks.into_iter().zip(expected) {
                let found = first_and_stable(method("2-afc-either"), aim(one, other, pd(effect)));
                assert_eq!(found, expected, "{effect} {one} {other}");
            }
        }
    }

    #[test]
    fn the_formula_printed_under_the_tables_is_not_the_table() {
        // n/3 + z·√(2n/9), the next whole number, from the foot-notes of ISO 4120:2004 (from memory), and
        // with a half more. The last column is the true size of the plain one, by scipy 1.17.1.
        let formula = |trials: u32, more: f64| {
            let n = f64::from(trials);
            (n / 3.0 + 1.64 * (2.0 * n / 9.0).sqrt() + more).ceil()
        };
        for (trials, exact, plain, halved, size) in [
            (20, 11, 11, 11.0, 0.0376),
            (22, 12, 11, 12.0, 0.0787),
            (26, 14, 13, 14.0, 0.0583),
            (28, 15, 14, 14.0, 0.0503),
            (33, 17, 16, 16.0, 0.0510),
            (56, 26, 25, 25.0, 0.0513),
        ] {
            let triangle = method("triangle");
            let found = critical_count(triangle, trials, alpha(0.05));
            assert_eq!(found, Some(exact), "{trials}");
            assert!((formula(trials, 0.0) - f64::from(plain)).abs() < 0.5);
            assert!((formula(trials, 0.5) - halved).abs() < 0.5, "{trials}");
            let count = Count::new(plain, trials).unwrap();
            let found = binomial_upper_tail(count, triangle.guess()).get();
            assert!((found - size).abs() < 5.1e-5, "{trials}: {found}");
            assert_eq!(found > 0.05, plain < exact, "{trials}");
        }
    }

    #[test]
    fn few_answers_cannot_be_significant_and_get_no_count_of_one_more() {
        assert_eq!(critical_count(method("triangle"), 0, alpha(0.5)), None);
        assert_eq!(critical_count(method("triangle"), 2, alpha(0.05)), None);
        assert_eq!(critical_count(method("2-afc-either"), 5, alpha(0.05)), None);
        let nothing = plan(method("triangle"), 2, alpha(0.05), pd(1.0));
        assert_eq!(nothing.true_alpha, Probability::ZERO);
        assert_eq!(nothing.power, Probability::ZERO);
        // A risk that is reached exactly is not exceeded: 1/8 with 3 of 3.
        assert_eq!(critical_count(method("2-afc"), 3, alpha(0.125)), Some(3));
    }

    /// pd, alpha, and the sizes of five betas.
    type SizesRow = (f64, f64, [(u32, u32); 5]);

    /// First number / stable number. The first are the printed tables (ISO 4120:2004 table A.3, ASTM E1885
    /// table 1, Schlich 1993; from memory, then all met by scipy 1.17.1), the second by scipy 1.17.1.
    /// Columns: β = 0.20, 0.10, 0.05, 0.01, 0.001.
    const TRIANGLE_SIZES: [SizesRow; 10] = [
        (0.5, 0.2, [(7, 11), (12, 14), (16, 16), (25, 25), (36, 36)]),
        (0.5, 0.1, [(12, 14), (15, 19), (20, 22), (30, 32), (43, 45)]),
        (
            0.5,
            0.05,
            [(16, 16), (20, 22), (23, 29), (35, 39), (48, 52)],
        ),
        (
            0.5,
            0.01,
            [(25, 25), (30, 32), (35, 39), (47, 51), (62, 68)],
        ),
        (
            0.5,
            0.001,
            [(36, 36), (43, 45), (48, 52), (62, 68), (81, 87)],
        ),
        (
            0.3,
            0.2,
            [(20, 24), (28, 35), (39, 46), (64, 68), (97, 102)],
        ),
        (
            0.3,
            0.1,
            [(30, 32), (43, 45), (54, 58), (81, 85), (119, 121)],
        ),
        (
            0.3,
            0.05,
            [(40, 42), (53, 57), (66, 73), (98, 102), (136, 143)],
        ),
        (
            0.3,
            0.01,
            [(62, 68), (82, 86), (97, 101), (131, 138), (181, 183)],
        ),
        (
            0.3,
            0.001,
            [(93, 97), (120, 122), (138, 142), (181, 183), (233, 235)],
        ),
    ];

    #[test]
    fn the_printed_sizes_of_the_triangle_test_are_met() {
        let triangle = method("triangle");
        for (effect, risk, row) in TRIANGLE_SIZES {
            for (beta, expected) in [0.2, 0.1, 0.05, 0.01, 0.001].into_iter().zip(row) {
                let found = first_and_stable(triangle, aim(risk, beta, pd(effect)));
                assert_eq!(found, expected, "{effect} {risk} {beta}");
            }
        }
        for (risk, beta, expected) in [
            (0.2, 0.2, (149, 173)),
            (0.2, 0.1, (238, 257)),
            (0.1, 0.2, (240, 256)),
            (0.1, 0.1, (348, 367)),
            (0.05, 0.2, (325, 349)),
            (0.05, 0.1, (447, 471)),
        ] {
            let found = first_and_stable(triangle, aim(risk, beta, pd(0.1)));
            assert_eq!(found, expected, "{risk} {beta}");
        }
    }

    #[test]
    fn sizes_by_distance_are_those_of_scipy() {
        // scipy 1.17.1, alpha 0.05 and power 80 %. Columns: triangle, duo-trio, 2-AFC, 3-AFC, tetrad.
        for (distance, row) in [
            (1.0, [(202, 220), (228, 241), (23, 26), (16, 22), (61, 65)]),
            (1.5, [(53, 57), (60, 65), (13, 13), (9, 9), (16, 20)]),
            (2.0, [(23, 23), (26, 28), (8, 8), (5, 5), (7, 9)]),
        ] {
            let effect = Effect::DPrime(DPrime::new(distance).unwrap());
            let ids = ["triangle", "duo-trio", "2-afc", "3-afc", "tetrad"];
            for (id, expected) in ids.into_iter().zip(row) {
                let found = first_and_stable(method(id), aim(0.05, 0.2, effect));
                assert_eq!(found, expected, "{id} {distance}");
            }
        }
    }

    #[test]
    fn power_is_a_saw() {
        // scipy 1.17.1: pd 0.30, alpha 0.05.
        for (trials, critical, power) in [
            (39, 19, 0.7701),
            (40, 19, 0.8155),
            (41, 20, 0.7709),
            (42, 20, 0.8152),
            (43, 20, 0.8530),
            (44, 21, 0.8151),
            (46, 22, 0.8151),
            (49, 23, 0.8509),
        ] {
            let found = plan(method("triangle"), trials, alpha(0.05), pd(0.3));
            assert_eq!(found.critical, Some(critical), "{trials}");
            assert!((found.power.get() - power).abs() < 5.1e-5, "{found:?}");
        }
        // Published for 35 triangles: 4.4 % and 84 % at pd 1/3.
        let found = plan(method("triangle"), 35, alpha(0.05), pd(1.0 / 3.0));
        assert!((found.true_alpha.get() - 0.0442).abs() < 5e-5);
        assert!((found.power.get() - 0.8417).abs() < 5e-5);
    }

    #[test]
    fn the_running_sums_are_the_exact_tails() {
        for (id, risk, effect) in [
            ("triangle", 0.001, 0.1),
            ("2-afc-either", 0.05, 0.2),
            ("duo-trio", 0.3, 1.0),
        ] {
            let method = method(id);
            let correct = method.correct_at(pd(effect));
            let mut scan = Scan::new(method.guess(), correct, one_end(method, alpha(risk)));
            for trials in 1..=3_000 {
                scan.advance();
                if trials % 97 < 12 || trials < 40 {
                    let exact = plan(method, trials, alpha(risk), pd(effect)).power.get();
                    let miss = (scan.power() - exact).abs();
                    assert!(miss < 1e-12, "{id} {trials}: {} {exact}", scan.power());
                }
            }
        }
    }

    #[test]
    fn the_critical_count_is_the_smallest_whose_outcomes_stay_within_the_risk() {
        // All outcomes summed one by one, for every method and every number of answers up to 60.
        for method in METHODS {
            for (trials, risk) in (0..=60).flat_map(|it| [0.2, 0.05, 0.01].map(|risk| (it, risk))) {
                let from = |least: u32| -> f64 {
                    let term = |hits| {
                        let count = Count::new(hits, trials).unwrap();
                        binomial_term(count, method.guess()).get()
                    };
                    let one_end: f64 = (least..=trials).map(term).sum();
                    match method.ways {
                        Ways::One => one_end,
                        Ways::Either => 2.0 * one_end,
                    }
                };
                let smallest = (0..=trials).find(|it| from(*it) <= risk);
                let found = plan(method, trials, alpha(risk), pd(0.3));
                assert_eq!(found.critical, smallest, "{} {trials} {risk}", method.id);
                let size = smallest.map_or(0.0, from);
                assert!((found.true_alpha.get() - size).abs() < 1e-13, "{found:?}");
            }
        }
    }

    #[test]
    fn what_is_next_to_nothing_is_not_looked_for_without_end() {
        for effect in [0.0, 0.001] {
            let refused = sizes(method("triangle"), aim(0.05, 0.05, pd(effect)));
            let most = LONGEST;
            assert_eq!(refused, Err(Refused::TooSmallAnEffect { most }), "{effect}");
        }
        // Where everybody tells them apart: 1/3^3 is below 5 %.
        assert_eq!(
            first_and_stable(method("triangle"), aim(0.05, 0.05, pd(1.0))),
            (3, 3)
        );
    }
}
