//! Whether judges who put the same things in order agree: Friedman's test, Kendall's W, an exact tail.

use std::collections::BTreeMap;

use crate::statistics::CompleteTable;
use crate::statistics::Probability;
use crate::statistics::chi_square_upper_tail;
use crate::statistics::interval::normal_reach;

/// The exact tail is counted out as long as it takes no more additions of a row than this: about a
/// tenth of a second.
const MOST_ADDITIONS: usize = 200_000;

/// Columns from which on the orders of one row alone are too many.
const MOST_COLUMNS: usize = 7;

/// How far judges agree in their orders.
#[derive(Debug, Clone, PartialEq)]
pub struct RankAgreement {
    /// Judges.
    pub judges: usize,
    /// Sum of the ranks of each column; ranks go upwards, equal values share the middle one.
    pub rank_sums: Vec<f64>,
    /// Friedman's χ² with the correction for ties.
    pub chi_square: f64,
    /// Its degrees of freedom, one less than the columns.
    pub freedom: usize,
    /// The chance of a χ² as large or larger by the chi-square distribution, good for many judges.
    pub approximate_p: Probability,
    /// The same by counting out all orders, ties kept as they are; none where there are too many.
    pub exact_p: Option<Probability>,
    /// Kendall's W with the correction for ties, 0 to 1.
    pub concordance: f64,
}

/// Why orders do not agree or disagree.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoRankAgreement {
    /// Every judge holds everything equal.
    #[error("every judge holds everything equal, so there is no order to agree on")]
    TiesEverywhere,
}

/// How far the rows (judges) of a table agree in the order of its columns.
///
/// χ² = (k − 1)·(ΣRⱼ²/n − C)/(Σr² − C) with C = nk(k + 1)²/4 (Friedman 1937, J. Am. Stat. Assoc.
/// 32:675-701; with ties as in Conover 1999, section 5.8); W = χ²/(n(k − 1)) (Kendall & Babington Smith
/// 1939, Ann. Math. Stat. 10:275-287).
///
/// # Errors
/// Every judge holds everything equal.
pub fn rank_agreement(table: &CompleteTable) -> Result<RankAgreement, NoRankAgreement> {
    let rows: Vec<Vec<u32>> = table.rows().map(doubled_ranks).collect();
    let (judges, columns) = (table.height(), table.width());
    let sums = column_sums(&rows, columns);
    // In doubled ranks: a middle rank is a whole number.
    let middle = (judges * (columns + 1)) as f64;
    let apart: f64 = sums
        .iter()
        .map(|it| (f64::from(*it) - middle).powi(2))
        .sum();
    let centre = (columns + 1) as f64;
    let within: f64 = rows
        .iter()
        .flatten()
        .map(|it| (f64::from(*it) - centre).powi(2))
        .sum();
    if within <= 0.0 {
        return Err(NoRankAgreement::TiesEverywhere);
    }
    let concordance = apart / (judges as f64 * within);
    let freedom = columns - 1;
    let chi_square = concordance * (judges * freedom) as f64;
    Ok(RankAgreement {
        judges,
        rank_sums: sums.iter().map(|it| f64::from(*it) / 2.0).collect(),
        chi_square,
        freedom,
        approximate_p: chi_square_upper_tail(chi_square, freedom),
        exact_p: exact_tail(&rows, &sums),
        concordance,
    })
}

/// How far two rank sums must lie apart to differ at 5 % when `judges` put `samples` in order without
/// ties; none without a judge or with fewer than two samples.
///
/// z·√(JP(P + 1)/6) (ISO 8587:2006). It is for pairs once Friedman's test has found something.
#[must_use]
pub fn least_rank_difference(judges: usize, samples: usize) -> Option<f64> {
    let spread = (judges * samples) as f64 * (samples + 1) as f64 / 6.0;
    (judges > 0 && samples >= 2).then(|| normal_reach() * spread.sqrt())
}

/// Twice the rank of each value, upwards from 1; equal values share the middle rank.
fn doubled_ranks(values: &[f64]) -> Vec<u32> {
    let count = |below: usize| u32::try_from(below).expect("a row is held in memory");
    values
        .iter()
        .map(|value| {
            let below = values.iter().filter(|it| *it < value).count();
            let up_to = values.iter().filter(|it| *it <= value).count();
            count(below + up_to + 1)
        })
        .collect()
}

fn column_sums(rows: &[Vec<u32>], columns: usize) -> Vec<u32> {
    (0..columns)
        .map(|column| rows.iter().map(|row| row[column]).sum())
        .collect()
}

/// The chance that rank sums lie as far apart or farther when each judge's ranks fall in any order.
///
/// Sums are counted without regard to which column has which: every order of a row is as likely as any
/// other, so that only the sums in order matter. All is in whole numbers, so that ties are exact.
fn exact_tail(rows: &[Vec<u32>], sums: &[u32]) -> Option<Probability> {
    if sums.len() > MOST_COLUMNS {
        return None;
    }
    let mut additions = 0;
    let mut chances = BTreeMap::from([(vec![0_u32; sums.len()], 1.0)]);
    for row in rows {
        let orders = orders(row);
        additions += orders.len() * chances.len();
        if additions > MOST_ADDITIONS {
            return None;
        }
        let each = 1.0 / orders.len() as f64;
        let mut next = BTreeMap::new();
        for (before, chance) in &chances {
            for order in &orders {
                let mut after: Vec<u32> = before.iter().zip(order).map(|(a, b)| a + b).collect();
                after.sort_unstable();
                *next.entry(after).or_insert(0.0) += chance * each;
            }
        }
        chances = next;
    }
    let apart = |sums: &[u32]| sums.iter().map(|it| u64::from(*it).pow(2)).sum::<u64>();
    let found = apart(sums);
    let tail = chances.iter().filter(|(sums, _)| apart(sums) >= found);
    Some(Probability::rounded(tail.map(|(_, chance)| chance).sum()))
}

/// All different orders of some ranks, each as likely as any other.
fn orders(ranks: &[u32]) -> Vec<Vec<u32>> {
    let mut order = ranks.to_vec();
    order.sort_unstable();
    let mut all = vec![order.clone()];
    // The next one upwards (Knuth, The Art of Computer Programming 4A, 7.2.1.2, algorithm L).
    while let Some(at) = (1..order.len()).rev().find(|it| order[it - 1] < order[*it]) {
        let step = order[at - 1];
        let larger = (at..order.len()).rev().find(|it| order[*it] > step);
        let larger = larger.expect("the one after it is larger");
        order.swap(at - 1, larger);
        order[at..].reverse();
        all.push(order.clone());
    }
    all
}

#[cfg(test)]
mod tests {
    use crate::statistics::Dice;
    use crate::statistics::near::near;

    use super::*;

    fn agreement(rows: &[&[f64]]) -> RankAgreement {
        rank_agreement(&table(rows)).unwrap()
    }

    fn table(rows: &[&[f64]]) -> CompleteTable {
        let rows: Vec<Vec<Option<f64>>> = rows
            .iter()
            .map(|row| row.iter().copied().map(Some).collect())
            .collect();
        CompleteTable::new(&rows).unwrap()
    }

    /// Times of 22 runners round first base by three methods (Hollander & Wolfe 1973, p. 140; the
    /// example of friedman.test in R).
    const BASES: [[f64; 3]; 22] = [
        [5.40, 5.50, 5.55],
        [5.85, 5.70, 5.75],
        [5.20, 5.60, 5.50],
        [5.55, 5.50, 5.40],
        [5.90, 5.85, 5.70],
        [5.45, 5.55, 5.60],
        [5.40, 5.40, 5.35],
        [5.45, 5.50, 5.35],
        [5.25, 5.15, 5.00],
        [5.85, 5.80, 5.70],
        [5.25, 5.20, 5.10],
        [5.65, 5.55, 5.45],
        [5.60, 5.35, 5.45],
        [5.05, 5.00, 4.95],
        [5.50, 5.50, 5.40],
        [5.45, 5.55, 5.50],
        [5.55, 5.55, 5.35],
        [5.45, 5.50, 5.55],
        [5.50, 5.45, 5.25],
        [5.65, 5.60, 5.40],
        [5.70, 5.65, 5.55],
        [6.30, 6.30, 6.25],
    ];

    #[test]
    fn rounding_first_base_has_the_friedman_test_of_r() {
        // R 4.2, friedman.test, its own example: χ² 11.1429 on 2 degrees, p 0.003805.
        let rows: Vec<&[f64]> = BASES.iter().map(<[f64; 3]>::as_slice).collect();
        let found = agreement(&rows);
        near(found.chi_square, 11.142_857, 5.1e-7);
        near(found.approximate_p.get(), 0.003_805, 5.1e-7);
        assert_eq!((found.freedom, found.judges), (2, 22));
        let exact = found.exact_p.unwrap().get();
        assert!(exact > 0.002 && exact < 0.005, "{exact}");
    }

    #[test]
    fn judges_with_ties_have_the_published_concordance() {
        // NAG Library, G08DAF (after Siegel 1956): W 0.828, p 0.008; six digits recomputed with scipy
        // 1.17; without the correction it would be 0.795960.
        let found = agreement(&[
            &[1.0, 4.5, 2.0, 4.5, 3.0, 7.5, 6.0, 9.0, 7.5, 10.0],
            &[2.5, 1.0, 2.5, 4.5, 4.5, 8.0, 9.0, 6.5, 10.0, 6.5],
            &[2.0, 1.0, 4.5, 4.5, 4.5, 4.5, 8.0, 8.0, 8.0, 10.0],
        ]);
        near(found.concordance, 0.828, 5.1e-4);
        near(found.concordance, 0.827_731, 5.1e-7);
        near(found.approximate_p.get(), 0.008, 5.1e-4);
        near(found.approximate_p.get(), 0.007_837, 5.1e-7);
        assert_eq!(found.exact_p, None);
    }

    #[test]
    fn exact_tails_are_those_of_friedmans_tables() {
        // Friedman 1937 as in Siegel 1956, table N (from memory): N = 4, k = 3, 6.5 has .042; N = 3, k = 4,
        // 7.4 has .033; exactly 0.041667 and 0.032986.
        let three = agreement(&[
            &[1.0, 2.0, 3.0],
            &[1.0, 2.0, 3.0],
            &[1.0, 2.0, 3.0],
            &[2.0, 1.0, 3.0],
        ]);
        near(three.chi_square, 6.5, 1e-12);
        near(three.exact_p.unwrap().get(), 0.041_667, 5.1e-7);
        let four = agreement(&[
            &[1.0, 2.0, 3.0, 4.0],
            &[1.0, 2.0, 3.0, 4.0],
            &[2.0, 1.0, 4.0, 3.0],
        ]);
        near(four.chi_square, 7.4, 1e-12);
        near(four.exact_p.unwrap().get(), 0.032_986, 5.1e-7);
    }

    #[test]
    fn perfect_agreement_has_the_chance_of_one_order_again_and_again() {
        // By hand: the other n − 1 judges fall into the first one's order, (1/k!)^(n − 1).
        let row: &[f64] = &[1.0, 2.0, 3.0, 4.0];
        let found = agreement(&[row, row, row]);
        near(found.exact_p.unwrap().get(), 1.0 / 576.0, 1e-12);
        near(found.concordance, 1.0, 1e-12);
        // With two of three tied there are three orders of a row.
        let tied: &[f64] = &[1.0, 2.0, 2.0];
        near(
            agreement(&[tied, tied, tied]).exact_p.unwrap().get(),
            1.0 / 9.0,
            1e-12,
        );
    }

    #[test]
    fn exact_tails_are_the_shares_of_shuffled_orders() {
        // 4,000 tables of shuffled rows: the share with sums as far apart is the tail within five
        // standard errors.
        let mut dice = Dice::from_seed(36);
        let mut rows = [
            [1.0, 2.0, 2.0, 5.0],
            [3.0, 1.0, 4.0, 7.0],
            [1.0, 6.0, 2.0, 9.0],
        ];
        let first: Vec<&[f64]> = rows.iter().map(<[f64; 4]>::as_slice).collect();
        let first = agreement(&first);
        let mut as_far = 0.0;
        for _ in 0..4_000 {
            for row in &mut rows {
                dice.shuffle(row);
            }
            let now: Vec<&[f64]> = rows.iter().map(<[f64; 4]>::as_slice).collect();
            let far = agreement(&now).chi_square >= first.chi_square - 1e-9;
            as_far += f64::from(u8::from(far));
        }
        let exact = first.exact_p.unwrap().get();
        let error = (exact * (1.0 - exact) / 4_000.0).sqrt();
        near(as_far / 4_000.0, exact, 5.0 * error);
    }

    #[test]
    fn the_least_difference_of_rank_sums_is_that_of_the_formula() {
        // ISO 8587, J = 14, P = 5: z·√70 = 16.398.
        near(least_rank_difference(14, 5).unwrap(), 16.398, 5.1e-4);
        assert_eq!(least_rank_difference(0, 5), None);
        assert_eq!(least_rank_difference(14, 1), None);
    }

    #[test]
    fn ties_everywhere_are_no_order() {
        let tied = rank_agreement(&table(&[&[3.0, 3.0], &[5.0, 5.0]]));
        assert_eq!(tied, Err(NoRankAgreement::TiesEverywhere));
        // One judge who prefers nothing takes nothing away from the others' order.
        let found = agreement(&[&[3.0, 3.0], &[5.0, 6.0]]);
        near(found.exact_p.unwrap().get(), 1.0, 1e-12);
        near(found.concordance, 0.5, 1e-12);
    }
}
