//! What pairs of readings leave when they are gathered one by one: enough for bias, limits and concordance.

use crate::statistics::Moments;

/// Sums over pairs of readings of the same things.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairSums {
    /// The first reading, and the second.
    sides: [Moments; 2],
    /// The first less the second.
    differences: Moments,
    /// The sum of products of both deviations.
    products: f64,
}

/// How many numbers it is made of.
pub const PAIR_NUMBERS: usize = 13;

impl PairSums {
    /// Of no pair.
    pub const NONE: Self = Self {
        sides: [Moments::NONE; 2],
        differences: Moments::NONE,
        products: 0.0,
    };

    /// Of some pairs.
    #[must_use]
    pub fn of(pairs: &[[f64; 2]]) -> Self {
        let mut all = Self::NONE;
        for pair in pairs {
            all.add(*pair);
        }
        all
    }

    /// Adds a pair.
    pub fn add(&mut self, [first, second]: [f64; 2]) {
        let before = first - self.sides[0].mean();
        self.sides[0].add(first);
        self.sides[1].add(second);
        self.products += before * (second - self.sides[1].mean());
        self.differences.add(first - second);
    }

    /// Of the pairs of both (Chan, Golub & `LeVeque` 1983, equation 1.5b, with the product of two deviations for
    /// the square of one).
    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        let [one, another] = [self, other].map(|it| it.pairs() as f64);
        let apart = [0, 1].map(|side| other.sides[side].mean() - self.sides[side].mean());
        let between = if one + another > 0.0 {
            apart[0] * apart[1] * one * another / (one + another)
        } else {
            0.0
        };
        Self {
            sides: [0, 1].map(|side| self.sides[side].joined(other.sides[side])),
            differences: self.differences.joined(other.differences),
            products: self.products + other.products + between,
        }
    }

    /// How many pairs.
    #[must_use]
    pub const fn pairs(&self) -> u64 {
        self.differences.count()
    }

    /// The readings of one side: 0 the first, 1 the second.
    #[must_use]
    pub const fn sides(&self) -> [Moments; 2] {
        self.sides
    }

    /// The first reading less the second.
    #[must_use]
    pub const fn differences(&self) -> Moments {
        self.differences
    }

    /// The sum of products of both deviations.
    #[must_use]
    pub const fn products(&self) -> f64 {
        self.products
    }

    /// The numbers it is made of.
    #[must_use]
    pub fn numbers(&self) -> [f64; PAIR_NUMBERS] {
        let [a, b] = self.sides.map(Moments::numbers);
        let d = self.differences.numbers();
        let mut all = [0.0; PAIR_NUMBERS];
        all[..4].copy_from_slice(&a);
        all[4..8].copy_from_slice(&b);
        all[8..12].copy_from_slice(&d);
        all[12] = self.products;
        all
    }

    /// Made of its numbers; `None` when pairs cannot have them.
    #[must_use]
    pub fn from_numbers(numbers: [f64; PAIR_NUMBERS]) -> Option<Self> {
        let four = |at: usize| {
            Moments::from_numbers([
                numbers[at],
                numbers[at + 1],
                numbers[at + 2],
                numbers[at + 3],
            ])
        };
        let made = Self {
            sides: [four(0)?, four(4)?],
            differences: four(8)?,
            products: numbers[12],
        };
        let even = made.sides.iter().all(|it| it.count() == made.pairs());
        (even && made.products.is_finite()).then_some(made)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::peak_flow::PEAK_FLOW;

    #[test]
    fn pairs_joined_in_parts_are_as_all_together() {
        let pairs: Vec<[f64; 2]> = PEAK_FLOW.iter().map(|it| [it[0], it[1]]).collect();
        let whole = PairSums::of(&pairs);
        for cut in [0, 1, 8, pairs.len()] {
            let (one, other) = pairs.split_at(cut);
            let joined = PairSums::of(one).joined(PairSums::of(other));
            assert_eq!(joined.pairs(), 17);
            let near = |a: f64, b: f64| (a - b).abs() <= 1e-9 * (1.0 + b.abs());
            let both = joined.numbers().into_iter().zip(whole.numbers());
            assert!(both.into_iter().all(|(a, b)| near(a, b)), "{cut}");
        }
        // Bland & Altman 1986: the mean difference of the first readings is -2.1 (-2.1176 recomputed).
        assert!((whole.differences().mean() + 2.1176).abs() < 5e-5);
    }

    #[test]
    fn pairs_that_differ_alike_have_differences_without_spread() {
        let pairs = [[1.0, 3.0], [4.0, 6.0], [0.5, 2.5]];
        assert!(PairSums::of(&pairs).differences().squares() == 0.0);
    }

    #[test]
    fn numbers_come_back_and_uneven_ones_are_refused() {
        let some = PairSums::of(&[[1.0, 2.0], [3.0, 3.5]]);
        assert_eq!(PairSums::from_numbers(some.numbers()), Some(some));
        let mut bad = some.numbers();
        bad[0] = 5.0;
        assert_eq!(PairSums::from_numbers(bad), None);
    }
}
