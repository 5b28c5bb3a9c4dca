//! Every test method, in the order in which they are offered.

use crate::discrimination::Method;
use crate::discrimination::duo_trio::DUO_TRIO;
use crate::discrimination::tetrad::TETRAD;
use crate::discrimination::three_afc::THREE_AFC;
use crate::discrimination::triangle::TRIANGLE;
use crate::discrimination::two_afc::TWO_AFC;
use crate::discrimination::two_afc::TWO_AFC_EITHER;

/// Every test method, in the order in which they are offered.
pub static METHODS: &[&Method] = &[
    &TRIANGLE,
    &TETRAD,
    &DUO_TRIO,
    &TWO_AFC,
    &TWO_AFC_EITHER,
    &THREE_AFC,
];

impl Method {
    /// The method with this id.
    #[must_use]
    pub fn from_id(id: &str) -> Option<&'static Self> {
        METHODS.iter().copied().find(|it| it.id == id)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use crate::discrimination::Side;
    use crate::statistics::Probability;

    use super::*;

    /// Python floats and scipy 1.17.1 quadrature, each decision rule also simulated with 2 million
    /// trials; Ennis 1993 prints .42, .58, .76 and .63 at d' = 1 (from memory). The columns: triangle,
    /// duo-trio, 2-AFC, 3-AFC, tetrad.
    const CORRECT: [(f64, [f64; 5]); 6] = [
        (0.0, [0.333_333, 0.500_000, 0.500_000, 0.333_333, 0.333_333]),
        (0.5, [0.355_835, 0.522_347, 0.638_163, 0.482_593, 0.377_719]),
        (1.0, [0.418_047, 0.582_475, 0.760_250, 0.633_702, 0.493_808]),
        (1.5, [0.506_456, 0.663_462, 0.855_578, 0.765_812, 0.640_937]),
        (2.0, [0.604_807, 0.746_820, 0.921_350, 0.865_767, 0.777_667]),
        (3.0, [0.781_428, 0.876_457, 0.983_053, 0.968_795, 0.942_972]),
    ];

    /// d' from the share correct; scipy 1.17.1, brentq over the same quadrature. The same columns.
    const DISTANCE: [(f64, [f64; 5]); 5] = [
        (0.4, [0.879_11, 0.0, 0.0, 0.228_85, 0.618_35]),
        (0.5, [1.466_26, 0.0, 0.0, 0.556_52, 1.022_13]),
        (0.6, [1.975_59, 1.115_22, 0.358_29, 0.885_18, 1.362_60]),
        (0.7, [2.503_70, 1.715_30, 0.741_61, 1.237_95, 1.704_53]),
        (0.8, [3.128_58, 2.354_86, 1.190_23, 1.652_41, 2.094_59]),
    ];

    const COLUMNS: [&Method; 5] = [&TRIANGLE, &DUO_TRIO, &TWO_AFC, &THREE_AFC, &TETRAD];

    #[test]
    fn the_share_correct_follows_the_distance_as_quadrature_and_simulation_say() {
        for (distance, row) in CORRECT {
            for (method, expected) in COLUMNS.into_iter().zip(row) {
                let found = (method.correct)(distance);
                assert!(
                    (found - expected).abs() < 5.1e-7,
                    "{} {distance}: {found}",
                    method.id
                );
            }
        }
        for method in METHODS {
            assert!((method.correct)(20.0) > 1.0 - 1e-9, "{}", method.id);
        }
    }

    #[test]
    fn the_distance_follows_the_share_correct_as_root_finding_says() {
        for (correct, row) in DISTANCE {
            let correct = Probability::new(correct).unwrap();
            for (method, expected) in COLUMNS.into_iter().zip(row) {
                let found = method.distance_at(correct).unwrap().get();
                assert!(
                    (found - expected).abs() < 5.1e-6,
                    "{} {correct:?}: {found}",
                    method.id
                );
            }
        }
        // 3-AFC, .866: 2.0014, while a printed approximation says 2.05.
        let found = THREE_AFC.distance_at(Probability::new(0.866).unwrap());
        assert!((found.unwrap().get() - 2.0014).abs() < 5e-5);
        assert_eq!(TRIANGLE.distance_at(Probability::ONE), None);
    }

    #[test]
    fn the_chance_is_what_all_guesses_at_all_presentations_give() {
        for method in METHODS {
            let mut right = 0;
            for stands in method.presentations {
                let found = (method.right)(stands);
                right += method.choices.iter().filter(|it| **it == found).count();
            }
            let all = method.presentations.len() * method.choices.len();
            assert_eq!(
                right * method.chance.of as usize,
                all * method.chance.right as usize,
                "{}",
                method.id
            );
        }
    }

    #[test]
    fn a_habit_of_one_place_is_right_as_often_as_a_guess() {
        for method in METHODS {
            for habit in method.choices {
                let is_right = |stands: &&_| (method.right)(stands) == *habit;
                let right = method.presentations.iter().filter(is_right).count();
                assert_eq!(
                    right * method.chance.of as usize,
                    method.presentations.len() * method.chance.right as usize,
                    "{}",
                    method.id
                );
            }
        }
    }

    #[test]
    fn every_presentation_is_there_once_and_both_beers_are_poured_alike() {
        // Counted by hand: orders of two and one either way, of two and two, of one and one, of two and
        // one one way, and of one and one behind either reference.
        let orders = [6, 6, 4, 2, 2, 3];
        for (method, orders) in METHODS.iter().zip(orders) {
            let distinct: HashSet<_> = method.presentations.iter().collect();
            assert_eq!(
                (distinct.len(), method.presentations.len()),
                (orders, orders)
            );
            let poured = |side| -> usize {
                method
                    .presentations
                    .iter()
                    .map(|it| it.glasses_of(side))
                    .sum()
            };
            let alike = poured(Side::A) == poured(Side::B);
            assert_eq!(alike, method.id != "3-afc", "{}", method.id);
            for stands in method.presentations {
                assert_eq!(stands.glasses.len(), method.coded_glasses());
                assert!(method.choices.contains(&(method.right)(stands)));
            }
        }
    }

    #[test]
    fn what_is_right_is_what_the_standard_says() {
        let right = |method: &Method| -> Vec<usize> {
            method.presentations.iter().map(method.right).collect()
        };
        // By eye, in the order of the records.
        assert_eq!(right(&TRIANGLE), [2, 1, 0, 2, 1, 0]);
        assert_eq!(right(&TETRAD), [1, 2, 3, 3, 2, 1]);
        assert_eq!(right(&DUO_TRIO), [0, 1, 1, 0]);
        assert_eq!(right(&TWO_AFC), [1, 0]);
        assert_eq!(right(&THREE_AFC), [2, 1, 0]);
    }

    #[test]
    fn an_id_finds_its_method_and_no_other() {
        for method in METHODS {
            assert_eq!(Method::from_id(method.id), Some(*method));
        }
        assert_eq!(Method::from_id("square"), None);
        assert!(TWO_AFC != TWO_AFC_EITHER);
    }
}
