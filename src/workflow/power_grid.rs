//! What any number of friends with any number of rounds would notice.

use std::ops::RangeInclusive;

use crate::discrimination::Aim;
use crate::discrimination::Effect;
use crate::discrimination::Method;
use crate::discrimination::plan;

/// Friends round a kitchen table.
const FRIENDS: RangeInclusive<u32> = 3..=24;

/// More sets in one sitting tire the tongue.
pub const MOST_ROUNDS: u32 = 4;

/// The power of every number of friends with every number of rounds.
#[derive(Debug, Clone, PartialEq)]
pub struct PowerGrid {
    /// The method.
    pub method: &'static Method,
    /// The risk and the difference that matters.
    pub aim: Aim,
    /// Friends, from few to many.
    pub friends: Vec<u32>,
    /// Power by rounds, from one on, and by friends; none where so many answers can never show
    /// anything.
    pub power: Vec<Vec<Option<f64>>>,
}

/// The power of 3 to 24 friends with one to four sets each; exact for independent answers.
#[must_use]
pub fn power_grid(method: &'static Method, aim: Aim) -> PowerGrid {
    let power = |answers| {
        let plan = plan(method, answers, aim.alpha, aim.effect);
        plan.critical.map(|_| plan.power.get())
    };
    PowerGrid {
        method,
        aim,
        friends: FRIENDS.collect(),
        power: (1..=MOST_ROUNDS)
            .map(|rounds| FRIENDS.map(|friends| power(friends * rounds)).collect())
            .collect(),
    }
}

/// The same aim for another method: the two beers lie as far apart as this effect puts them in the first
/// one. Where no distance is far enough, the effect stays.
#[must_use]
pub fn as_far_apart(of: &Method, aim: Aim, method: &Method) -> Aim {
    match of.distance_at(of.correct_at(aim.effect)) {
        Some(distance) if of.id != method.id => Aim {
            effect: Effect::DPrime(distance),
            ..aim
        },
        _ => aim,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::discrimination::Alpha;
    use crate::discrimination::Beta;
    use crate::discrimination::Pd;

    fn grid(alpha: f64) -> PowerGrid {
        let aim = Aim {
            alpha: Alpha::new(alpha).unwrap(),
            beta: Beta::new(0.2).unwrap(),
            effect: Effect::Pd(Pd::new(0.5).unwrap()),
        };
        power_grid(Method::from_id("triangle").unwrap(), aim)
    }

    #[test]
    fn three_friends_need_all_right_and_seven_need_five() {
        // Whole numbers: all of 3 with chance 2/3 is 8/27; 5 or more of 7 is 1248/2187.
        let power = &grid(0.05).power[0];
        assert!((power[0].unwrap() - 8.0 / 27.0).abs() < 1e-12);
        assert!((power[4].unwrap() - 1248.0 / 2187.0).abs() < 1e-12);
    }

    #[test]
    fn friends_who_can_never_show_anything_have_no_power() {
        // 3⁻³ = 0.037 is above a risk of 1 %, 3⁻⁵ is not.
        let power = &grid(0.01).power[0];
        assert_eq!((power[0], power[2].is_some()), (None, true));
    }
}
