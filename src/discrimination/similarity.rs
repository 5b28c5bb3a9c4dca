//! Whether two beers are alike enough: a test of its own, with its own risk.

use crate::discrimination::Aim;
use crate::discrimination::Beta;
use crate::discrimination::Effect;
use crate::discrimination::Method;
use crate::discrimination::Refused;
use crate::discrimination::scan::within;
use crate::discrimination::size::first_and_stable;
use crate::statistics::Count;
use crate::statistics::Probability;
use crate::statistics::binomial_lower_tail;

/// On which side of what guessing gives the largest allowed count lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// At or above it.
    FromChanceOn,
    /// Below it: newer tables of the standards print a dash, and nothing should be concluded.
    BelowChance,
}

/// What a number of answers is worth for showing that two beers are alike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Similarity {
    /// The number of answers.
    pub trials: u32,
    /// The largest count that still allows "alike"; none where not even 0 does.
    pub most: Option<u32>,
    /// Where that count lies.
    pub standing: Standing,
    /// The chance of that count or fewer at the effect: the true risk of calling alike what is not.
    pub true_beta: Probability,
    /// The chance of it where the beers are the same.
    pub power: Probability,
}

/// The largest count with P(X ≤ x) ≤ β at the effect, by exact tails (ISO 4120 and ISO 5495, tables of
/// similarity). Only for one answer a taster: replicates of the same tasters are no independent answers
/// here. Where no direction is fixed, the count is of the beer chosen more often.
#[must_use]
pub fn similarity(method: &Method, trials: u32, beta: Beta, effect: Effect) -> Similarity {
    let tail = |hits: u32, chance| {
        let count = Count::new(hits, trials);
        count.map_or(Probability::ONE, |it| binomial_lower_tail(it, chance))
    };
    let correct = method.correct_at(effect);
    let allowed = |hits: u32| within(tail(hits, correct).get(), beta.get());
    let (mut too_many, mut fewest_open) = (trials + 1, 0);
    while fewest_open < too_many {
        let middle = u32::midpoint(fewest_open, too_many);
        if middle <= trials && allowed(middle) {
            fewest_open = middle + 1;
        } else {
            too_many = middle;
        }
    }
    let most = too_many.checked_sub(1);
    let chance = |chance| most.map_or(Probability::ZERO, |it| tail(it, chance));
    let by_chance = u64::from(method.chance.right) * u64::from(trials);
    let below = most.is_none_or(|it| u64::from(it) * u64::from(method.chance.of) < by_chance);
    Similarity {
        trials,
        most,
        standing: if below {
            Standing::BelowChance
        } else {
            Standing::FromChanceOn
        },
        true_beta: chance(correct),
        power: chance(method.guess()),
    }
}

/// How many answers it takes to show that two beers are alike: with a risk β of calling alike what
/// differs by the effect, and a risk α of not calling alike what is the same. The first number and the
/// one from which it always does.
///
/// # Errors
/// The effect is so small that it may take more than a million.
pub fn similarity_sizes(method: &Method, aim: Aim) -> Result<(Similarity, Similarity), Refused> {
    let Aim {
        alpha,
        beta,
        effect,
    } = aim;
    // Wrong answers are counted, and the two hypotheses change places.
    let (first, stable) = first_and_stable(
        method.correct_at(effect).complement(),
        method.guess().complement(),
        beta.get(),
        alpha.get(),
    )?;
    let at = |trials| similarity(method, trials, beta, effect);
    Ok((at(first), at(stable)))
}

#[cfg(test)]
mod tests {
    use crate::discrimination::Alpha;
    use crate::discrimination::Pd;

    use super::*;

    fn pd(value: f64) -> Effect {
        Effect::Pd(Pd::new(value).unwrap())
    }

    fn found(id: &str, trials: u32, beta: f64, effect: f64) -> Similarity {
        let method = Method::from_id(id).unwrap();
        similarity(method, trials, Beta::new(beta).unwrap(), pd(effect))
    }

    /// ISO 4120:2004 table A.2 and ASTM E1885 (from memory; all met by scipy 1.17.1): the largest count at
    /// pd 10, 20, 30, 40 and 50 %, and how many of the row lie below chance.
    const TRIANGLE_TABLE: [(u32, f64, [u32; 5], usize); 20] = [
        (18, 0.01, [2, 3, 4, 5, 6], 4),
        (18, 0.05, [3, 4, 5, 6, 8], 3),
        (18, 0.1, [4, 5, 6, 7, 8], 2),
        (18, 0.2, [4, 6, 7, 8, 9], 1),
        (30, 0.01, [5, 7, 9, 11, 13], 3),
        (30, 0.05, [7, 9, 11, 13, 15], 2),
        (30, 0.1, [8, 10, 11, 14, 16], 1),
        (30, 0.2, [9, 11, 13, 15, 17], 1),
        (42, 0.01, [9, 11, 14, 17, 20], 2),
        (42, 0.05, [11, 13, 16, 19, 22], 2),
        (42, 0.1, [12, 14, 17, 20, 23], 1),
        (42, 0.2, [13, 16, 19, 22, 24], 1),
        (54, 0.01, [12, 16, 19, 23, 27], 2),
        (54, 0.05, [15, 18, 22, 25, 29], 1),
        (54, 0.1, [16, 20, 23, 27, 31], 1),
        (54, 0.2, [18, 21, 25, 28, 32], 0),
        (66, 0.01, [16, 20, 25, 29, 34], 2),
        (66, 0.05, [19, 23, 28, 32, 37], 1),
        (66, 0.1, [20, 25, 29, 33, 38], 1),
        (66, 0.2, [22, 26, 31, 35, 40], 0),
    ];

    #[test]
    fn the_printed_table_of_the_triangle_test_is_met() {
        for (trials, beta, row, below) in TRIANGLE_TABLE {
            let effects = [0.1, 0.2, 0.3, 0.4, 0.5];
            for (place, (effect, expected)) in effects.into_iter().zip(row).enumerate() {
                let found = found("triangle", trials, beta, effect);
                assert_eq!(found.most, Some(expected), "{trials} {beta} {effect}");
                let is_below = found.standing == Standing::BelowChance;
                assert_eq!(is_below, place < below, "{trials} {beta} {effect}");
                assert!(found.true_beta.get() <= beta, "{found:?}");
            }
        }
    }

    #[test]
    fn the_printed_table_of_the_paired_comparison_is_met() {
        // ISO 5495, table A.3, 132 answers; where it prints a dash the exact count is 64, below 66.
        for (beta, row) in [(0.2, [67, 73, 80, 87, 94]), (0.1, [64, 71, 78, 85, 92])] {
            for (effect, expected) in [0.1, 0.2, 0.3, 0.4, 0.5].into_iter().zip(row) {
                assert_eq!(
                    found("2-afc", 132, beta, effect).most,
                    Some(expected),
                    "{beta} {effect}"
                );
            }
        }
        assert_eq!(
            found("2-afc", 132, 0.1, 0.1).standing,
            Standing::BelowChance
        );
        assert_eq!(
            found("2-afc", 132, 0.2, 0.1).standing,
            Standing::FromChanceOn
        );
    }

    #[test]
    fn the_hand_formula_under_the_tables_allows_one_more() {
        // 1.5(x/n) − 0.5 + 1.5·z·√((nx − x²)/n³) ≤ pd, printed in the notes of the same standards: 54
        // answers, β 0.05 (z = 1.645), pd 10 %: allows 16, the exact bound 15.
        let formula = |x: f64| {
            1.5 * x / 54.0 - 0.5 + 1.5 * 1.645 * ((54.0 * x - x * x) / 54.0_f64.powi(3)).sqrt()
        };
        assert!(formula(16.0) <= 0.1 && formula(17.0) > 0.1);
        assert_eq!(found("triangle", 54, 0.05, 0.1).most, Some(15));
    }

    #[test]
    fn too_few_answers_show_nothing() {
        // P(X = 0) = (2/3·0.9)^n is 0.078 after 5 answers and 0.047 after 6, by calculator.
        assert_eq!(found("triangle", 5, 0.05, 0.1).most, None);
        assert_eq!(found("triangle", 6, 0.05, 0.1).most, Some(0));
        assert_eq!(found("triangle", 5, 0.05, 0.1).power, Probability::ZERO);
        assert_eq!(
            found("triangle", 0, 0.05, 0.1).standing,
            Standing::BelowChance
        );
    }

    #[test]
    fn sizes_for_showing_likeness_are_those_of_scipy() {
        // scipy 1.17.1, largest x with binom.cdf(x, n, pc) ≤ β, binom.cdf(x, n, 1/3) ≥ 1 − α.
        let triangle = Method::from_id("triangle").unwrap();
        for (effect, alpha, beta, first, stable) in [
            (0.3, 0.1, 0.05, 54, 58),
            (0.3, 0.2, 0.01, 64, 68),
            (0.5, 0.1, 0.05, 20, 22),
            (0.5, 0.05, 0.05, 23, 29),
        ] {
            let aim = Aim {
                alpha: Alpha::new(alpha).unwrap(),
                beta: Beta::new(beta).unwrap(),
                effect: pd(effect),
            };
            let (one, other) = similarity_sizes(triangle, aim).unwrap();
            assert_eq!(
                (one.trials, other.trials),
                (first, stable),
                "{effect} {alpha} {beta}"
            );
            assert!(one.power.get() >= 1.0 - alpha && one.standing == Standing::FromChanceOn);
        }
    }
}
