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
