//! Many p-values judged together, so that few of what is called a discovery is none.

use crate::statistics::Probability;

/// Which of `p` are discoveries when the expected share of false ones may be `level`.
///
/// Step-up of Benjamini & Hochberg 1995 (J. R. Statist. Soc. B 57:289-300, procedure 1): with the m
/// values in order, all up to the largest i with p₍ᵢ₎ ≤ level·i/m. The share holds for values that are
/// independent or depend on one another positively (Benjamini & Yekutieli 2001).
#[must_use]
pub fn discoveries(p: &[Probability], level: Probability) -> Vec<bool> {
    let m = p.len() as f64;
    let ordered = in_order(p);
    let threshold = (1_u32..)
        .zip(&ordered)
        .filter(|(rank, index)| p[**index].get() <= level.get() * f64::from(*rank) / m)
        .last()
        .map(|(_, index)| p[*index]);
    p.iter()
        .map(|it| threshold.is_some_and(|threshold| *it <= threshold))
        .collect()
}

/// The places of `p` from the smallest value to the largest.
fn in_order(p: &[Probability]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..p.len()).collect();
    places.sort_by(|one, other| p[*one].get().total_cmp(&p[*other].get()));
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The fifteen values of the worked example of Benjamini & Hochberg 1995, section 3.2 (a trial of
    /// treatments after a heart attack; values from memory).
    const EXAMPLE: [f64; 15] = [
        0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262,
        0.5719, 0.6528, 0.7590, 1.0,
    ];

    fn all(values: &[f64]) -> Vec<Probability> {
        values
            .iter()
            .map(|it| Probability::new(*it).unwrap())
            .collect()
    }

    fn at(level: f64) -> Probability {
        Probability::new(level).unwrap()
    }

    #[test]
    fn the_example_of_the_paper_has_four_discoveries() {
        let found = discoveries(&all(&EXAMPLE), at(0.05));
        assert_eq!(found.iter().filter(|it| **it).count(), 4);
        assert!(found[..4].iter().all(|it| *it));
    }

    #[test]
    fn each_becomes_a_discovery_at_the_level_that_scipy_gives() {
        // scipy 1.17.1, stats.false_discovery_control on the example: the smallest such level of each.
        let expected = [
            0.0015,
            0.003,
            0.0095,
            0.035_625,
            0.0603,
            0.063_857_14,
            0.063_857_14,
            0.0645,
            0.0765,
            0.486,
            0.581_181_82,
            0.714_875,
            0.753_230_77,
            0.813_214_29,
            1.0,
        ];
        let values = all(&EXAMPLE);
        for (place, least) in expected.into_iter().enumerate() {
            let beyond = Probability::rounded(least + 5e-9);
            assert!(discoveries(&values, beyond)[place], "{least}");
            assert!(!discoveries(&values, at(least - 5e-9))[place], "{least}");
        }
    }

    #[test]
    fn the_order_given_does_not_matter() {
        // Rank by rank 0.05·i/3 is 0.0167, 0.0333, 0.05: the largest passes and takes all with it.
        let found = discoveries(&all(&[0.05, 0.04, 0.03]), at(0.05));
        assert_eq!(found, [true, true, true]);
        let found = discoveries(&all(&[0.9, 0.04, 0.001]), at(0.05));
        assert_eq!(found, [false, false, true]);
    }

    #[test]
    fn nothing_asked_is_nothing_found() {
        assert!(discoveries(&[], at(0.05)).is_empty());
    }
}
