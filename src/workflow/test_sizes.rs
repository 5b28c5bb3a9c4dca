//! How many answers a blind test takes, what so many are worth, and what they cost in beer.

use crate::brewing::alcohol_grams;
use crate::discrimination::Aim;
use crate::discrimination::Effect;
use crate::discrimination::METHODS;
use crate::discrimination::Method;
use crate::discrimination::Plan;
use crate::discrimination::Refused;
use crate::discrimination::Side;
use crate::discrimination::Similarity;
use crate::discrimination::Sizes;
use crate::discrimination::critical_count;
use crate::discrimination::plan;
use crate::discrimination::similarity;
use crate::discrimination::similarity_sizes;
use crate::discrimination::sizes;
use crate::domain::Abv;
use crate::domain::Millilitres;
use crate::domain::Purpose;
use crate::workflow::BlindError;
use crate::workflow::planned_test::method_called;

/// Rounds for which the power of some friends is told.
const ROUNDS: u32 = 6;

/// The fewest answers that can be significant are looked for up to here.
const MOST_LEAST: u32 = 200;

/// The people and the beer there are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Table {
    /// Friends, if it is known how many.
    pub friends: Option<u32>,
    /// Sets for each of them.
    pub rounds: u32,
    /// What goes into a glass.
    pub glass: Millilitres,
    /// How strong the beers are.
    pub abv: Abv,
}

/// What so many sets cost.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cost {
    /// Millilitres of either beer, all sets together, as they come out over many sets; where a
    /// direction is fixed, the second is the one expected to have more.
    pub of_each: [f64; 2],
    /// Coded and reference glasses before one taster, all rounds together.
    pub glasses: f64,
    /// Grams of alcohol for one taster who drinks everything.
    pub grams: f64,
    /// How strong the beers are taken to be.
    pub abv: Abv,
}

/// What some friends are worth with so many rounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worth {
    /// Sets for each.
    pub rounds: u32,
    /// The answers and what they show.
    pub plan: Plan,
    /// What likeness they show; only of one answer each.
    pub alike: Option<Similarity>,
    /// What they cost.
    pub cost: Cost,
}

/// One method at the same distance of the two beers.
#[derive(Debug, Clone, PartialEq)]
pub struct MethodSize {
    /// The method.
    pub method: &'static Method,
    /// How many answers.
    pub sizes: Result<Sizes, Refused>,
    /// What the answers of these friends show there, where there are some.
    pub here: Option<Plan>,
    /// Millilitres of either beer for one set, on average.
    pub of_each: [f64; 2],
}

/// How many answers a test takes.
#[derive(Debug, Clone, PartialEq)]
pub struct TestSizes {
    /// What is asked about first.
    pub purpose: Purpose,
    /// The method.
    pub method: &'static Method,
    /// The risks and the difference that matters.
    pub aim: Aim,
    /// The people and the beer.
    pub table: Table,
    /// For a difference.
    pub difference: Result<Sizes, Refused>,
    /// For likeness: the first number, and the one from which it is never lost again.
    pub alike: Result<(Similarity, Similarity), Refused>,
    /// The fewest answers that can be significant at all.
    pub fewest: Option<u32>,
    /// What the first number of answers for the purpose costs, one for each taster.
    pub cost: Option<Cost>,
    /// What the friends are worth, round by round; nothing where nobody said how many.
    pub worth: Vec<Worth>,
    /// Every method at the same distance d′.
    pub methods: Vec<MethodSize>,
}

/// How many answers a test by a method takes.
///
/// # Errors
/// No method has the name.
pub fn test_sizes(
    method: &str,
    purpose: Purpose,
    aim: Aim,
    table: Table,
) -> Result<TestSizes, BlindError> {
    let method = method_called(method)?;
    let worth = table.friends.map_or_else(Vec::new, |friends| {
        let all = (1..=ROUNDS.max(table.rounds))
            .map(|rounds| worth(method, aim, table, [friends, rounds]));
        all.collect()
    });
    let enough = |it: &u32| critical_count(method, *it, aim.alpha).is_some();
    let difference = sizes(method, aim);
    let alike = similarity_sizes(method, aim);
    let first = match purpose {
        Purpose::Difference => difference.as_ref().ok().map(|it| it.first.trials),
        Purpose::Similarity => alike.as_ref().ok().map(|it| it.0.trials),
    };
    Ok(TestSizes {
        purpose,
        method,
        aim,
        cost: first.map(|answers| cost(method, table, answers, 1)),
        difference,
        alike,
        fewest: (1..=MOST_LEAST).find(enough),
        worth,
        methods: at_same_distance(method, aim, table),
        table,
    })
}

fn worth(method: &Method, aim: Aim, table: Table, [friends, rounds]: [u32; 2]) -> Worth {
    let answers = friends.saturating_mul(rounds);
    Worth {
        rounds,
        plan: plan(method, answers, aim.alpha, aim.effect),
        alike: (rounds == 1).then(|| similarity(method, answers, aim.beta, aim.effect)),
        cost: cost(method, table, answers, rounds),
    }
}

/// What so many sets cost, with so many before each taster.
#[must_use]
pub fn cost(method: &Method, table: Table, sets: u32, rounds: u32) -> Cost {
    let glass = table.glass.get();
    let a_set = glasses_of_each(method);
    let glasses = (a_set[0] + a_set[1]) * f64::from(rounds);
    Cost {
        of_each: a_set.map(|it| it * f64::from(sets) * glass),
        abv: table.abv,
        glasses,
        grams: alcohol_grams(glasses * glass, table.abv.get()).unwrap_or(0.0),
    }
}

/// Glasses of either beer in one set, the mean over all ways they stand.
fn glasses_of_each(method: &Method) -> [f64; 2] {
    [Side::A, Side::B].map(|side| {
        let all = method.presentations.iter();
        let glasses: usize = all.map(|it| it.glasses_of(side)).sum();
        glasses as f64 / method.presentations.len() as f64
    })
}

/// Every method where the two beers lie as far apart as this effect puts them in `method`.
fn at_same_distance(method: &Method, aim: Aim, table: Table) -> Vec<MethodSize> {
    let Some(distance) = method.distance_at(method.correct_at(aim.effect)) else {
        return Vec::new();
    };
    let effect = Effect::DPrime(distance);
    let answers = table.friends.map(|it| it.saturating_mul(table.rounds));
    let all = METHODS.iter().map(|it| MethodSize {
        method: it,
        sizes: sizes(it, Aim { effect, ..aim }),
        here: answers.map(|answers| plan(it, answers, aim.alpha, effect)),
        of_each: glasses_of_each(it).map(|it| it * table.glass.get()),
    });
    all.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::discrimination::Alpha;
    use crate::discrimination::Beta;
    use crate::discrimination::Pd;

    fn asked(method: &str, friends: Option<u32>) -> TestSizes {
        let aim = Aim {
            alpha: Alpha::new(0.05).unwrap(),
            beta: Beta::new(0.2).unwrap(),
            effect: Effect::Pd(Pd::new(0.5).unwrap()),
        };
        let table = Table {
            friends,
            rounds: 1,
            glass: Millilitres::new(30.0).unwrap(),
            abv: Abv::new(5.0).unwrap(),
        };
        test_sizes(method, Purpose::Difference, aim, table).unwrap()
    }

    #[test]
    fn seven_friends_notice_a_difference_that_half_can_taste_57_times_in_100() {
        let it = asked("triangle", Some(7));
        let once = it.worth[0];
        // Whole numbers: 5 of 7 is critical; (21·2⁵ + 7·2⁶ + 2⁷)/3⁷ = 1248/2187.
        assert_eq!(once.plan.critical, Some(5));
        assert!((once.plan.power.get() - 1248.0 / 2187.0).abs() < 1e-12);
        // By hand: 7 sets of 3 glasses of 30 mL are 630 mL, half of each; 90 mL at 5 % are 3.55 g.
        assert!(once.cost.of_each.iter().all(|it| (it - 315.0).abs() < 1e-9));
        assert!((once.cost.grams - 3.5505).abs() < 1e-9);
        assert_eq!(it.fewest, Some(3));
    }

    #[test]
    fn the_sizes_of_the_triangle_are_those_of_the_standard() {
        // ISO 4120:2004 table A.3: pd 50 %, α 5 %, β 20 % takes 16; it is never lost again from there on.
        let it = asked("triangle", None).difference.unwrap();
        assert_eq!((it.first.trials, it.stable.trials), (16, 16));
    }

    #[test]
    fn at_the_same_distance_the_directed_methods_and_the_tetrad_take_fewer_than_the_triangle() {
        let it = asked("triangle", Some(7));
        let takes = |id: &str| {
            let row = it.methods.iter().find(|it| it.method.id == id).unwrap();
            row.sizes.as_ref().unwrap().first.trials
        };
        // The order of the methods by power is that of Ennis (1993, Journal of Sensory Studies 8:353-370)
        // and, for the tetrad, of ASTM E3009.
        assert_eq!(takes("triangle"), 16);
        assert!(takes("tetrad") < takes("triangle") && takes("3-afc") <= takes("tetrad"));
        assert!(takes("duo-trio") > takes("triangle"));
    }

    #[test]
    fn a_reference_is_poured_too() {
        let it = asked("duo-trio", Some(4));
        // By hand: reference and two glasses; 4 sets are 12 glasses of 30 mL, half of each.
        assert!(
            it.worth[0]
                .cost
                .of_each
                .iter()
                .all(|it| (it - 180.0).abs() < 1e-9)
        );
        assert!((it.worth[0].cost.glasses - 3.0).abs() < 1e-9);
    }

    #[test]
    fn three_alternatives_take_twice_as_much_of_the_beer_that_has_less() {
        let it = asked("3-afc", Some(6));
        // By hand: six sets of one glass of the stronger and two of the other, 30 mL each.
        let [other, more] = it.worth[0].cost.of_each;
        assert!((other - 360.0).abs() < 1e-9 && (more - 180.0).abs() < 1e-9);
        assert!((it.worth[0].cost.glasses - 3.0).abs() < 1e-9);
    }

    #[test]
    fn an_unknown_method_is_told_which_there_are() {
        let aim = asked("triangle", None).aim;
        let table = asked("triangle", None).table;
        let refused = test_sizes("quartet", Purpose::Difference, aim, table);
        let refused = refused.unwrap_err().to_string();
        assert!(refused.contains("triangle, tetrad, duo-trio"), "{refused}");
    }
}
