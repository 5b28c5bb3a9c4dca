//! How well an order agrees with the true one: pairs in the right order, and what guessing would give.

use crate::statistics::Probability;

/// How many of the pairs of a series stand in the right order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OrderedPairs {
    /// In the right order.
    pub right: u32,
    /// All pairs.
    pub all: u32,
    /// How many things were ordered.
    items: u32,
}

impl OrderedPairs {
    /// The pairs of an order, given as the true ranks in the order in which they were put.
    ///
    /// Two equal ranks are no pair in the right order. None for fewer than two things.
    #[must_use]
    pub fn of(order: &[u32]) -> Option<Self> {
        let items = u32::try_from(order.len()).ok().filter(|it| *it >= 2)?;
        let mut right = 0;
        for (at, first) in order.iter().enumerate() {
            right += order[at + 1..].iter().filter(|it| *it > first).count();
        }
        Some(Self {
            right: u32::try_from(right).ok()?,
            all: items * (items - 1) / 2,
            items,
        })
    }

    /// The chance that an order drawn at random has at least as many pairs right: the share of all
    /// orders with as few inversions (Kendall 1938, Biometrika 30:81-93, the exact distribution of S).
    #[must_use]
    pub fn chance_of_guessing(self) -> Probability {
        let inversions = (self.all - self.right) as usize;
        let orders = orders_by_inversions(self.items);
        let all: f64 = orders.iter().sum();
        let as_good: f64 = orders.iter().take(inversions + 1).sum();
        Probability::rounded(as_good / all)
    }
}

/// How many orders of `items` things have 0, 1, 2 … inversions: each further thing may jump over none
/// to all of those before it.
fn orders_by_inversions(items: u32) -> Vec<f64> {
    let mut counts = vec![1.0];
    for jump in 1..items as usize {
        let mut next = vec![0.0; counts.len() + jump];
        for (at, count) in counts.iter().enumerate() {
            for further in &mut next[at..=at + jump] {
                *further += count;
            }
        }
        counts = next;
    }
    counts
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn orders_by_inversions_are_those_of_whole_number_counting() {
        // Rows 4 and 5 of the triangle of Mahonian numbers (counted by hand for 4; sums are 4! and 5!).
        assert_eq!(orders_by_inversions(4), [1.0, 3.0, 5.0, 6.0, 5.0, 3.0, 1.0]);
        let five = [1.0, 4.0, 9.0, 15.0, 20.0, 22.0, 20.0, 15.0, 9.0, 4.0, 1.0];
        assert_eq!(orders_by_inversions(5), five);
    }

    #[test]
    fn chances_are_kendalls() {
        // Kendall's table of S (as in Siegel & Castellan 1988, table R, from memory): for 5 things
        // S = 10 has 0.0083, S = 8 has 0.042, S = 6 has 0.117; 1/120, 5/120 and 14/120.
        let chance = |order: &[u32]| OrderedPairs::of(order).unwrap().chance_of_guessing().get();
        assert!((chance(&[1, 2, 3, 4, 5]) - 1.0 / 120.0).abs() < 1e-12);
        assert!((chance(&[2, 1, 3, 4, 5]) - 5.0 / 120.0).abs() < 1e-12);
        assert!((chance(&[2, 1, 4, 3, 5]) - 14.0 / 120.0).abs() < 1e-12);
        assert!((chance(&[5, 4, 3, 2, 1]) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn pairs_are_counted_and_too_few_things_have_none() {
        let pairs = OrderedPairs::of(&[1, 3, 2, 4, 5]).unwrap();
        assert_eq!((pairs.right, pairs.all), (9, 10));
        assert!(OrderedPairs::of(&[1]).is_none());
    }
}
