//! Williams squares: serving orders in which everything stands everywhere and follows everything equally often.

use crate::statistics::Dice;

/// The rows of the square of Williams for `treatments` (1949, Australian Journal of Scientific Research
/// A 2:149-168): `treatments` rows where their number is even, twice as many where it is odd.
///
/// Every treatment stands equally often at every place, and directly after every other one equally often.
/// The first row goes 0, 1, n−1, 2, n−2, …; each further one adds 1 to all, modulo n. Where n is odd the
/// same rows come once more from back to front.
#[must_use]
fn williams_rows(treatments: usize) -> Vec<Vec<usize>> {
    let first: Vec<usize> = (0..treatments)
        .map(|place| {
            if place % 2 == 1 {
                place.div_ceil(2)
            } else {
                (treatments - place / 2) % treatments
            }
        })
        .collect();
    let shifted = |by: usize| -> Vec<usize> {
        let row = first.iter();
        row.map(|it| (it + by) % treatments).collect()
    };
    let mut rows: Vec<Vec<usize>> = (0..treatments).map(shifted).collect();
    if treatments % 2 == 1 && treatments > 1 {
        let turned = rows.iter().map(|row| row.iter().rev().copied().collect());
        let turned: Vec<Vec<usize>> = turned.collect();
        rows.extend(turned);
    }
    rows
}

/// The orders for `takers` people: rows of the square in a drawn order, all of them once before any a
/// second time. Rows in which two of a pair in `apart` stand side by side come last in each turn.
pub fn williams_orders(
    treatments: usize,
    takers: usize,
    apart: &[[usize; 2]],
    dice: &mut Dice,
) -> Vec<Vec<usize>> {
    let mut orders = Vec::with_capacity(takers);
    while orders.len() < takers {
        let mut rows = williams_rows(treatments);
        if rows.is_empty() {
            break;
        }
        dice.shuffle(&mut rows);
        rows.sort_by_key(|row| beside(row, apart));
        rows.truncate(takers - orders.len());
        // Who comes late in a list of names gets no other kind of row than who comes early.
        dice.shuffle(&mut rows);
        orders.extend(rows);
    }
    orders
}

/// Whether two of a pair stand side by side in a row.
fn beside(row: &[usize], apart: &[[usize; 2]]) -> bool {
    row.windows(2).any(|two| {
        let is_pair = |pair: &[usize; 2]| two.contains(&pair[0]) && two.contains(&pair[1]);
        apart.iter().any(is_pair)
    })
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;

    use super::*;

    #[test]
    fn everything_stands_everywhere_and_follows_everything_equally_often() {
        // By enumeration: n rows give each treatment each place once and each ordered pair once; 2n twice.
        for n in 2..=12_usize {
            let rows = williams_rows(n);
            let times = if n % 2 == 0 { 1 } else { 2 };
            assert_eq!(rows.len(), times * n);
            let mut places = HashMap::new();
            let mut pairs = HashMap::new();
            for row in &rows {
                let mut sorted = row.clone();
                sorted.sort_unstable();
                assert_eq!(sorted, (0..n).collect::<Vec<_>>());
                for (place, treatment) in row.iter().enumerate() {
                    *places.entry((place, *treatment)).or_insert(0) += 1;
                }
                for two in row.windows(2) {
                    *pairs.entry((two[0], two[1])).or_insert(0) += 1;
                }
            }
            assert_eq!(places.len(), n * n, "{n}");
            assert!(places.values().all(|it| *it == times), "{n}");
            assert_eq!(pairs.len(), n * (n - 1), "{n}");
            assert!(pairs.values().all(|it| *it == times), "{n}");
        }
    }

    #[test]
    fn the_square_of_four_is_the_one_that_textbooks_print() {
        // The first row 1 2 4 3 and its shifts, as in the common printed construction.
        let expected = [[0, 1, 3, 2], [1, 2, 0, 3], [2, 3, 1, 0], [3, 0, 2, 1]];
        assert_eq!(williams_rows(4), expected);
    }

    #[test]
    fn one_glass_has_one_order_and_none_has_none() {
        assert_eq!(williams_rows(1), [[0]]);
        assert!(williams_rows(0).is_empty());
        let mut dice = Dice::from_seed(1);
        assert_eq!(williams_orders(1, 2, &[], &mut dice), [[0], [0]]);
        assert!(williams_orders(0, 2, &[], &mut dice).is_empty());
    }

    #[test]
    fn all_rows_come_once_before_any_comes_again() {
        for (n, takers) in [(4, 4), (4, 11), (7, 14), (6, 12)] {
            let mut dice = Dice::from_seed(5);
            let orders = williams_orders(n, takers, &[], &mut dice);
            assert_eq!(orders.len(), takers);
            let rows = williams_rows(n);
            for turn in orders.chunks(rows.len()) {
                for row in turn {
                    assert!(rows.contains(row));
                    assert_eq!(turn.iter().filter(|it| *it == row).count(), 1);
                }
            }
        }
    }

    #[test]
    fn two_of_a_pair_stand_side_by_side_only_once_all_other_rows_are_used() {
        // Of 14 rows for 7, each of the two orders of a pair is in 2: 10 rows keep it apart. By hand: 6 even
        // glasses have 6 rows with the pair side by side in 2, so 4 keep it apart.
        for (n, keep) in [(7, 10), (6, 4)] {
            for seed in 0..50 {
                for takers in 1..=12 {
                    let mut dice = Dice::from_seed(seed);
                    let orders = williams_orders(n, takers, &[[0, n - 1]], &mut dice);
                    let rows = williams_rows(n).len();
                    for turn in orders.chunks(rows) {
                        let close = turn.iter().filter(|row| beside(row, &[[0, n - 1]])).count();
                        assert_eq!(close, turn.len().saturating_sub(keep), "{n} {takers}");
                    }
                }
            }
        }
    }

    #[test]
    fn every_row_is_drawn_as_often_as_any_other() {
        // 6,000 draws of one row of 4: each 1,500 times with SD 33.5 (binomial); 5 SD.
        let mut dice = Dice::from_seed(3);
        let mut drawn: HashMap<Vec<usize>, u32> = HashMap::new();
        for _ in 0..6_000 {
            for row in williams_orders(4, 1, &[], &mut dice) {
                *drawn.entry(row).or_default() += 1;
            }
        }
        let even = drawn.values().all(|n| (1_332..=1_668).contains(n));
        assert!(drawn.len() == 4 && even, "{drawn:?}");
    }
}
