//! How far a rater's answers move from one day to another, beyond what they scatter within a day.

use crate::statistics::Scatter;
use crate::statistics::Sd;
use crate::statistics::scatter_likelihood::ROUNDING;

/// The scatter between days of a rater nobody has measured, in digits (judgement).
const DEFAULT: f64 = 0.7;

/// How its logarithm varies between raters (judgement).
const SPREAD: f64 = 0.4;

/// What a day moves, it moves on many lines at once: one pair of days tells at most as much as so many lines
/// that move on their own (judgement).
const LINES_OF_A_DAY: f64 = 4.0;

/// Points on either side of the middle at which the posterior is looked at, a twentieth of a spread apart.
const POINTS: i32 = 100;

/// Answers to the same thing on two days, gathered on one line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DayPairs {
    pairs: u32,
    squares: f64,
    shares: f64,
}

impl DayPairs {
    /// No pair yet.
    pub const NONE: Self = Self {
        pairs: 0,
        squares: 0.0,
        shares: 0.0,
    };

    /// Adds two means of so many answers each, given on two days.
    pub fn add(&mut self, [one, other]: [f64; 2], answers: [u32; 2]) {
        let [few, many] = answers.map(|it| f64::from(it.max(1)));
        self.pairs += 1;
        self.squares += (one - other).powi(2) / 2.0;
        self.shares += f64::midpoint(1.0 / few, 1.0 / many);
    }

    /// The pairs of both.
    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        Self {
            pairs: self.pairs.saturating_add(other.pairs),
            squares: self.squares + other.squares,
            shares: self.shares + other.shares,
        }
    }

    /// How many pairs of days.
    #[must_use]
    pub const fn pairs(self) -> u32 {
        self.pairs
    }

    /// The three numbers it is made of: pairs, Σd²/2, and the sum of mean shares 1/R.
    #[must_use]
    pub const fn numbers(self) -> [f64; 3] {
        [self.pairs as f64, self.squares, self.shares]
    }

    /// Made of its numbers; `None` when pairs of days cannot have them.
    #[must_use]
    pub fn from_numbers([pairs, squares, shares]: [f64; 3]) -> Option<Self> {
        let whole = crate::statistics::whole(pairs)?;
        let sound = squares >= 0.0 && squares.is_finite() && (0.0..=pairs).contains(&shares);
        sound.then_some(Self {
            pairs: u32::try_from(whole).ok()?,
            squares,
            shares,
        })
    }

    /// The logarithm of how likely the pairs are where days move answers by `day` and one answer scatters
    /// with `variance` within a day: each d²/2 is (ω² + σ²/R)·χ² on one degree of freedom.
    fn log_likelihood(self, day: f64, variance: f64) -> f64 {
        if self.pairs == 0 {
            return 0.0;
        }
        let pairs = f64::from(self.pairs);
        let all = day * day + variance * self.shares / pairs;
        -(pairs * all.ln() + self.squares / all) / 2.0
    }
}

/// The scatter ω of a rater from day to day, in digits: mean and standard deviation of its logarithm after
/// the pairs of every line, each with the scatter σ of one answer within a day, before rounding.
///
/// ln ω ~ N(ln 0.7, 0.4²) beforehand; lines that move together on one day are not counted as if they moved
/// alone: all of one pair of days tell at most as much as four.
#[must_use]
pub fn day_scatter(lines: &[(DayPairs, Sd)]) -> Scatter {
    let pairs: u32 = lines.iter().map(|it| it.0.pairs).sum();
    let most = lines.iter().map(|it| it.0.pairs).max().unwrap_or(0);
    let counted = (LINES_OF_A_DAY * f64::from(most)).min(f64::from(pairs));
    let part = counted / f64::from(pairs.max(1));
    let point = |step: i32| DEFAULT.ln() + SPREAD * f64::from(step) / 20.0;
    let height = |log_day: f64| {
        let of = |(pairs, sd): &(DayPairs, Sd)| {
            pairs.log_likelihood(log_day.exp(), sd.squared() + ROUNDING)
        };
        let seen: f64 = lines.iter().map(of).sum();
        part * seen - ((log_day - DEFAULT.ln()) / SPREAD).powi(2) / 2.0
    };
    let heights: Vec<(f64, f64)> = (-POINTS..=POINTS)
        .map(point)
        .map(|it| (it, height(it)))
        .collect();
    let top = heights
        .iter()
        .fold(f64::NEG_INFINITY, |most, it| most.max(it.1));
    let weighted = |value: &dyn Fn(f64) -> f64| -> f64 {
        heights
            .iter()
            .map(|(at, height)| value(*at) * (height - top).exp())
            .sum()
    };
    let all = weighted(&|_| 1.0);
    let mean = weighted(&|it| it) / all;
    let variance = weighted(&|it| (it - mean).powi(2)) / all;
    Scatter {
        log_sd: mean,
        log_error: variance.sqrt(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Dice;

    fn sd(value: f64) -> Sd {
        Sd::new(value).unwrap()
    }

    #[test]
    fn before_the_first_pair_it_is_what_is_believed() {
        let it = day_scatter(&[]);
        assert!((it.log_sd - 0.7_f64.ln()).abs() < 1e-9);
        // The normal distribution is cut at five standard deviations, which takes 1.5e-5 of its variance.
        assert!((it.log_error - 0.4).abs() < 1e-4, "{it:?}");
    }

    #[test]
    fn days_that_move_much_or_little_are_told_apart() {
        let mut dice = Dice::from_seed(5);
        for day in [0.3, 0.7, 1.4] {
            let mut squared = 0.0;
            for _ in 0..200 {
                let mut lines = [(DayPairs::NONE, sd(0.8)); 12];
                for (pairs, _) in &mut lines {
                    for _ in 0..20 {
                        let glass = |dice: &mut Dice| day * dice.normal() + 0.8 * dice.normal();
                        let both = [glass(&mut dice), glass(&mut dice)];
                        pairs.add(both, [1, 1]);
                    }
                }
                let found = day_scatter(&lines);
                squared += (found.log_sd - day.ln()).powi(2) / 200.0;
            }
            // 240 pairs counted as 80: within a factor e^0.4 by the root of the mean square.
            assert!(squared.sqrt() < 0.4, "{day}: {}", squared.sqrt());
        }
    }

    #[test]
    fn lines_of_one_day_do_not_count_as_if_each_moved_alone() {
        let mut one = DayPairs::NONE;
        one.add([2.0, 6.0], [1, 1]);
        let four = day_scatter(&[(one, sd(0.9)); 4]);
        let many = day_scatter(&[(one, sd(0.9)); 17]);
        assert!(
            (four.log_sd - many.log_sd).abs() < 1e-9,
            "{four:?} {many:?}"
        );
        let alone = day_scatter(&[(one, sd(0.9))]);
        assert!(alone.log_sd < four.log_sd);
    }

    #[test]
    fn numbers_come_back_and_those_of_no_pairs_are_refused() {
        let mut some = DayPairs::NONE;
        some.add([2.0, 4.0], [2, 1]);
        // By hand: d²/2 = 2, mean of 1/2 and 1 is 3/4.
        assert_eq!(Some(some), DayPairs::from_numbers([1.0, 2.0, 0.75]));
        assert_eq!(DayPairs::from_numbers(some.numbers()), Some(some));
        let both = DayPairs::from_numbers([2.0, 4.0, 1.5]);
        assert_eq!(Some(some.joined(some)), both);
        for bad in [[1.5, 0.0, 0.0], [1.0, -1.0, 0.5], [1.0, 1.0, 2.0]] {
            assert_eq!(DayPairs::from_numbers(bad), None, "{bad:?}");
        }
    }
}
