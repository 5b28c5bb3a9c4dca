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
