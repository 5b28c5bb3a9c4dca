//! Invented blind tests of which the truth is known, to measure how often a difference is called that is none, and how often limits hold.

use std::fmt;

use crate::discrimination::METHODS;
use crate::discrimination::Method;
use crate::discrimination::Presentation;
use crate::discrimination::Replicates;
use crate::discrimination::analysis::p_value;
use crate::discrimination::analysis::reading;
use crate::discrimination::analysis::sum;
use crate::discrimination::draw_servings;
use crate::statistics::Count;
use crate::statistics::Dice;
use crate::statistics::Limits;
use crate::statistics::Probability;
use crate::statistics::clopper_pearson;

/// The risk that every test claims.
const CLAIMED: f64 = 0.05;

/// How often a taster with a habit follows it.
const HABIT: f64 = 0.8;

/// Answers that are watched one by one.
const WATCHED: u32 = 70;

/// How tests are run in which nobody tells the beers apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum World {
    /// 24 tasters, each guessing any glass.
    Guessers,
    /// 24 tasters, each with a place of their own that they mostly choose.
    OwnHabits,
    /// 24 tasters who mostly choose the same place.
    SharedHabit,
    /// 6 tasters with 4 sets each and habits of their own.
    Replicates,
    /// 5 days of 7 tasters, summed at the end.
    Days,
    /// The e-value looked at after each of 70 answers, different from 20 on.
    Watched,
    /// A fault: 5 days of 7 tasters, the p-value of the sum looked at every day.
    EveryDay,
    /// A fault: 24 tasters with a shared habit, all served the same presentation.
    OneOrder,
}

/// How often one kind of test called a difference that is none.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// How it was run.
    pub world: World,
    /// The method.
    pub method: &'static str,
    /// How often it was run.
    pub runs: u32,
    /// How often it called a difference.
    pub alarms: u32,
}

/// How often limits held the true proportion of replicated tests.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coverage {
    /// Tasters at the table.
    pub tasters: u32,
    /// Sets for each.
    pub replicates: u32,
    /// How often it was run.
    pub runs: u32,
    /// How often the exact limits of the sum held it: a fault, because answers of one taster hang together.
    pub pooled: u32,
    /// How often the limits of the chance-corrected beta-binomial held it.
    pub population: u32,
    /// How often its one-sided upper bound did.
    pub bound: u32,
}

/// Runs every method in every sound world; the same seed gives the same table.
#[must_use]
pub fn table(runs: u32, seed: u64) -> Vec<Row> {
    let worlds = [
        World::Guessers,
        World::OwnHabits,
        World::SharedHabit,
        World::Replicates,
        World::Days,
        World::Watched,
    ];
    rows(&worlds, METHODS, runs, seed)
}

/// What two faults do; a check that lets these rows pass checks nothing.
#[must_use]
pub fn planted_faults(runs: u32, seed: u64) -> Vec<Row> {
    let [triangle, ..] = METHODS else {
        return Vec::new();
    };
    rows(&[World::EveryDay, World::OneOrder], &[triangle], runs, seed)
}

fn rows(worlds: &[World], methods: &[&'static Method], runs: u32, seed: u64) -> Vec<Row> {
    let mut dice = Dice::from_seed(seed);
    let mut rows = Vec::new();
    for world in worlds {
        for method in methods {
            let alarms = (0..runs).filter(|_| is_alarm(*world, method, &mut dice));
            let alarms = u32::try_from(alarms.count()).unwrap_or(u32::MAX);
            let (world, method) = (*world, method.id);
            rows.push(Row {
                world,
                method,
                runs,
                alarms,
            });
        }
    }
    rows
}

fn is_alarm(world: World, method: &Method, dice: &mut Dice) -> bool {
    let significant = |count| p_value(method, count).get() <= CLAIMED;
    let mut day = |seats, replicates, habit| sum(&evening(method, seats, replicates, habit, dice));
    match world {
        World::Guessers => significant(day(24, 1, Habit::None)),
        World::OwnHabits => significant(day(24, 1, Habit::Own)),
        World::SharedHabit => significant(day(24, 1, Habit::Shared)),
        World::Replicates => significant(day(6, 4, Habit::Own)),
        World::Days => {
            let days: Vec<Count> = (0..5).map(|_| day(7, 1, Habit::Own)).collect();
            significant(sum(&days))
        }
        World::EveryDay => {
            let mut so_far = Count::NONE;
            (0..5).any(|_| {
                so_far = sum(&[so_far, day(7, 1, Habit::None)]);
                significant(so_far)
            })
        }
        World::Watched => {
            let mut so_far = Count::NONE;
            (0..WATCHED).any(|_| {
                so_far = sum(&[so_far, day(1, 1, Habit::None)]);
                reading(method, so_far).e_value() >= 1.0 / CLAIMED
            })
        }
        World::OneOrder => {
            let stands = &method.presentations[0];
            let place = method.choices[method.choices.len() - 1];
            let right = (0..24).filter(|_| is_right(method, stands, Some(place), dice));
            let right = u32::try_from(right.count()).unwrap_or(0);
            Count::new(right, 24).is_some_and(significant)
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Habit {
    None,
    Own,
    Shared,
}

/// The counts of tasters who only guess.
fn evening(
    method: &Method,
    seats: u32,
    replicates: u32,
    habit: Habit,
    dice: &mut Dice,
) -> Vec<Count> {
    let servings = draw_servings(method, seats, replicates, dice);
    let shared = any(method, dice);
    servings
        .chunks(replicates as usize)
        .map(|own| {
            let place = match habit {
                Habit::None => None,
                Habit::Own => Some(any(method, dice)),
                Habit::Shared => Some(shared),
            };
            let stands = own.iter().filter_map(|it| it.stands(method));
            let right = stands.filter(|it| is_right(method, it, place, dice));
            let right = u32::try_from(right.count()).unwrap_or(0);
            Count::new(right, replicates).expect("no more are right than were served")
        })
        .collect()
}

fn is_right(method: &Method, stands: &Presentation, habit: Option<usize>, dice: &mut Dice) -> bool {
    let chosen = match habit {
        Some(place) if dice.share() < HABIT => place,
        _ => any(method, dice),
    };
    chosen == (method.right)(stands)
}

/// Any of the glasses that can be chosen.
fn any(method: &Method, dice: &mut Dice) -> usize {
    let last = u32::try_from(method.choices.len() - 1).unwrap_or(0);
    method.choices[dice.whole(0, last) as usize]
}

/// Runs replicated triangles with the mean and the correlation drawn evenly from 0 to 1, as they are
/// believed before the first answer: then limits of 95 % hold in 95 % of runs, if they are computed
/// rightly.
#[must_use]
pub fn coverage(runs: u32, seed: u64) -> Vec<Coverage> {
    let mut dice = Dice::from_seed(seed);
    [(7, 4), (8, 6)]
        .into_iter()
        .map(|(tasters, replicates)| covered(tasters, replicates, runs, &mut dice))
        .collect()
}

fn covered(tasters: u32, replicates: u32, runs: u32, dice: &mut Dice) -> Coverage {
    let method = METHODS[0];
    let outside = Probability::new(CLAIMED).expect("a twentieth is a probability");
    let mut row = Coverage {
        tasters,
        replicates,
        runs,
        pooled: 0,
        population: 0,
        bound: 0,
    };
    for _ in 0..runs {
        let mean = Probability::new(dice.share()).expect("a share is a probability");
        let shapes = 1.0 / dice.share() - 1.0;
        let counts: Vec<Count> = (0..tasters)
            .map(|_| knowing(method, replicates, mean.get(), shapes, dice))
            .collect();
        let Limits { low, high } = clopper_pearson(sum(&counts), outside);
        let true_correct = method.correct_with(mean);
        row.pooled += u32::from(low <= true_correct && true_correct <= high);
        let read = Replicates::read(method, &counts).and_then(|it| it.population);
        let read = read.expect("tasters with several sets each can be read");
        row.population += u32::from(read.limits(outside).hold(mean));
        row.bound += u32::from(mean <= read.quantile(outside.complement()));
    }
    row
}

/// One taster whose own chance to know is drawn from a beta distribution, by the urn that gives the same
/// counts (Eggenberger & Pólya 1923): it starts with `shapes` balls, and each try adds one of its own kind.
fn knowing(method: &Method, tries: u32, mean: f64, shapes: f64, dice: &mut Dice) -> Count {
    let (mut known, mut right) = (0.0, 0);
    for before in 0..tries {
        let knows = dice.share() < (mean * shapes + known) / (shapes + f64::from(before));
        known += f64::from(u8::from(knows));
        right += u32::from(knows || dice.share() < method.guess().get());
    }
    Count::new(right, tries).expect("no more are right than were asked")
}

impl fmt::Display for Row {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rate = 100.0 * f64::from(self.alarms) / f64::from(self.runs);
        let world = format!("{:?}", self.world);
        write!(f, "{world:<12} {:<13} {rate:>6.2}", self.method)
    }
}

impl fmt::Display for Coverage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let percent = |times: u32| 100.0 * f64::from(times) / f64::from(self.runs);
        write!(
            f,
            "{:>7} {:>10} {:>8.1} {:>10.1} {:>7.1}",
            self.tasters,
            self.replicates,
            percent(self.pooled),
            percent(self.population),
            percent(self.bound),
        )
    }
}

#[cfg(test)]
mod tests {
    use crate::statistics::binomial_lower_tail;
    use crate::statistics::binomial_upper_tail;

    use super::*;

    /// A bound on what is true is broken by chance less often than this.
    const CHANCE: f64 = 1e-4;

    fn holds(row: &Row) -> bool {
        let count = Count::new(row.alarms, row.runs).unwrap();
        binomial_upper_tail(count, Probability::new(CLAIMED).unwrap()).get() > CHANCE
    }

    #[test]
    fn false_differences_stay_within_alpha_in_every_world() {
        let rows = table(1_000, 1);
        for row in &rows {
            assert!(holds(row), "{row}");
        }
        assert_eq!(rows.len(), 6 * METHODS.len());
    }

    #[test]
    fn the_same_check_refuses_looking_every_day_and_one_order_for_all() {
        for row in planted_faults(2_000, 2) {
            assert!(!holds(&row), "{row}");
        }
    }

    #[test]
    fn rates_are_those_of_enumeration_in_fractions() {
        // Python fractions over all courses: 24 triangles from 13 on, looking at the p-value after each
        // of 5 days of 7, and the e-value at 20 within 70 answers. Five standard errors of our runs.
        let mut dice = Dice::from_seed(3);
        let runs = 4_000;
        for (world, rate) in [
            (World::Guessers, 0.028_441),
            (World::EveryDay, 0.090_154),
            (World::Watched, 0.023_224),
        ] {
            let alarms = (0..runs).filter(|_| is_alarm(world, METHODS[0], &mut dice));
            let found = alarms.count() as f64 / f64::from(runs);
            let error: f64 = rate * (1.0 - rate) / f64::from(runs);
            assert!(
                (found - rate).abs() < 5.0 * error.sqrt(),
                "{world:?}: {found}"
            );
        }
    }

    #[test]
    fn limits_of_replicates_hold_as_often_as_they_say_and_those_of_the_sum_do_not() {
        for row in coverage(400, 4) {
            let count = |times| Count::new(times, row.runs).unwrap();
            let claimed = Probability::new(1.0 - CLAIMED).unwrap();
            for held in [row.population, row.bound] {
                let few = binomial_lower_tail(count(held), claimed).get();
                let many = binomial_upper_tail(count(held), claimed).get();
                assert!(few > CHANCE && many > CHANCE, "{row}");
            }
            // The more sets a taster has, the sooner the fault shows.
            let few = binomial_lower_tail(count(row.pooled), claimed).get();
            assert!(few < CHANCE || row.replicates < 6, "{row}");
        }
    }

    #[test]
    fn the_same_seed_gives_the_same_table() {
        let told = |seed| {
            table(20, seed)
                .iter()
                .map(Row::to_string)
                .collect::<Vec<_>>()
        };
        assert_eq!(told(5), told(5));
        assert_ne!(told(5), told(6));
    }
}
