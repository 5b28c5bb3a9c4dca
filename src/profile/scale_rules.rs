//! The rules of the scales, one record each, in the order of a tasting.

use crate::profile::Curve;
use crate::profile::Driver;
use crate::profile::Example;
use crate::profile::ScaleRule;
use crate::profile::Term;

const fn straight(driver: Driver, from: f64, per: f64) -> Term {
    let curve = Curve::Straight { from, per };
    Term { driver, curve }
}

const fn above(driver: Driver, from: f64, per: f64) -> Term {
    let curve = Curve::Above { from, per };
    Term { driver, curve }
}

const fn saturating(driver: Driver, most: f64, bend: f64) -> Term {
    let curve = Curve::Saturating { most, bend };
    Term { driver, curve }
}

/// Every rule of a scale. Directions are from the sources named; sizes are judgement unless the source
/// gives one, and the residual says how little a recipe knows.
pub static SCALE_RULES: &[ScaleRule] = &[
    ScaleRule {
        scale: "colour",
        base: 0.0,
        terms: &[straight(Driver::Colour, 0.0, 1.0)],
        residual: 2.0,
        source: "Morey 1995, Brewing Techniques, through the colour of the grist",
        example: Example {
            given: &[(Driver::Colour, 22.0)],
            expected: 22.0,
        },
    },
    ScaleRule {
        scale: "haze",
        base: 1.5,
        terms: &[
            straight(Driver::Wheat, 0.0, 0.05),
            straight(Driver::Oats, 0.0, 0.06),
            straight(Driver::DryHop, 0.0, 0.25),
            straight(Driver::Fining, 0.0, -0.8),
            straight(Driver::Chill, 0.0, 0.08),
        ],
        residual: 1.3,
        source: "judgement: protein and polyphenols cloud, more so in the cold; finings clear (common practice)",
        example: Example {
            given: &[(Driver::Wheat, 50.0), (Driver::DryHop, 2.0)],
            expected: 4.5,
        },
    },
    ScaleRule {
        scale: "head",
        base: 25.0,
        terms: &[
            straight(Driver::Gas, 2.4, 10.0),
            straight(Driver::Wheat, 0.0, 0.1),
            above(Driver::Alcohol, 6.0, -1.0),
        ],
        residual: 8.0,
        source: "judgement: a hand pour decides most of it",
        example: Example {
            given: &[(Driver::Gas, 3.0), (Driver::Alcohol, 8.0)],
            expected: 29.0,
        },
    },
    ScaleRule {
        scale: "bubbles",
        base: 4.5,
        terms: &[straight(Driver::Gas, 2.4, 3.0)],
        residual: 1.3,
        source: "judgement",
        example: Example {
            given: &[(Driver::Gas, 2.9)],
            expected: 6.0,
        },
    },
    ScaleRule {
        scale: "head-retention",
        base: 120.0,
        terms: &[
            straight(Driver::Wheat, 0.0, 1.0),
            above(Driver::Bitterness, 25.0, 1.0),
            above(Driver::Alcohol, 6.0, -15.0),
        ],
        residual: 60.0,
        source: "judgement: iso-alpha-acids and wheat hold foam, alcohol breaks it",
        example: Example {
            given: &[(Driver::Bitterness, 35.0), (Driver::Alcohol, 8.0)],
            expected: 100.0,
        },
    },
    ScaleRule {
        scale: "sweet",
        base: 3.2,
        terms: &[
            straight(Driver::RealExtract, 4.5, 0.55),
            straight(Driver::Crystal, 0.0, 0.04),
            straight(Driver::Bitterness, 28.0, -0.03),
            straight(Driver::Gas, 2.4, -0.6),
            straight(Driver::Chloride, 60.0, 0.004),
        ],
        residual: 1.2,
        source: "judgement; directions: Palmer & Kaminski 2013 (chloride), Langstaff & Lewis 1993 (gas masks)",
        example: Example {
            given: &[(Driver::RealExtract, 6.5), (Driver::Bitterness, 18.0)],
            expected: 4.6,
        },
    },
    ScaleRule {
        scale: "bitter",
        base: 0.0,
        terms: &[
            saturating(Driver::BitterEquivalents, 9.0, 40.0),
            straight(Driver::RealExtract, 4.5, -0.25),
            straight(Driver::Alcohol, 5.0, 0.1),
            straight(Driver::Sulphate, 80.0, 0.003),
            straight(Driver::Chloride, 60.0, -0.003),
            straight(Driver::Roasted, 0.0, 0.05),
        ],
        residual: 1.1,
        source: "judgement; bitterness saturates, humulinones and ethanol count (Hahn et al. 2018, J. Agric. Food Chem. 66:3505), water: Palmer & Kaminski 2013",
        example: Example {
            // 9 × (1 − e^−1) = 9 × 0.632121
            given: &[(Driver::BitterEquivalents, 40.0)],
            expected: 5.689_085,
        },
    },
    ScaleRule {
        scale: "sour",
        base: 1.0,
        terms: &[
            straight(Driver::Acid, 0.0, 2.0),
            saturating(Driver::SourCulture, 6.0, 3.0),
            straight(Driver::Gas, 2.4, 0.4),
        ],
        residual: 0.9,
        source: "judgement; lactic acid is noticed from about 0.4 g/L (Meilgaard 1975, from memory)",
        example: Example {
            given: &[(Driver::Acid, 1.0)],
            expected: 3.0,
        },
    },
    ScaleRule {
        scale: "salty",
        base: 0.4,
        terms: &[
            straight(Driver::Sodium, 25.0, 0.012),
            above(Driver::Chloride, 100.0, 0.004),
        ],
        residual: 0.6,
        source: "judgement; sodium from 150 mg/L tastes salty (Palmer & Kaminski 2013)",
        example: Example {
            given: &[(Driver::Sodium, 150.0)],
            expected: 1.9,
        },
    },
    ScaleRule {
        scale: "fullness",
        base: 0.0,
        terms: &[
            straight(Driver::RealExtract, 0.0, 0.9),
            above(Driver::Alcohol, 4.0, 0.25),
            straight(Driver::Wheat, 0.0, 0.03),
            straight(Driver::Glucan, 100.0, 0.003),
            straight(Driver::Chloride, 60.0, 0.003),
            straight(Driver::Gas, 2.4, -0.6),
        ],
        residual: 1.2,
        source: "judgement; directions: Langstaff, Guinard & Lewis 1991, Ivanova et al. 2023, Moreno Ravelo et al. 2025 (β-glucan)",
        example: Example {
            given: &[
                (Driver::RealExtract, 5.0),
                (Driver::Alcohol, 6.0),
                (Driver::Glucan, 300.0),
            ],
            expected: 5.6,
        },
    },
    ScaleRule {
        scale: "carbonation",
        base: 4.2,
        terms: &[straight(Driver::Gas, 2.4, 2.2)],
        residual: 1.1,
        source: "judgement; below 1.8 volumes soft, above 3 prickly (common practice)",
        example: Example {
            given: &[(Driver::Gas, 3.4)],
            expected: 6.4,
        },
    },
    ScaleRule {
        scale: "smoothness",
        base: 5.0,
        terms: &[
            straight(Driver::Glucan, 100.0, 0.005),
            straight(Driver::Chloride, 60.0, 0.006),
            straight(Driver::Sulphate, 80.0, -0.005),
            straight(Driver::Roasted, 0.0, -0.06),
            straight(Driver::Bitterness, 28.0, -0.02),
        ],
        residual: 1.3,
        source: "judgement; directions: Palmer & Kaminski 2013 (water)",
        example: Example {
            given: &[(Driver::Glucan, 300.0), (Driver::Bitterness, 38.0)],
            expected: 5.8,
        },
    },
    ScaleRule {
        scale: "astringency",
        base: 1.5,
        terms: &[
            straight(Driver::Roasted, 0.0, 0.08),
            above(Driver::Sparge, 77.0, 0.3),
            above(Driver::SpargeAcidity, 5.8, 1.5),
            straight(Driver::HopPolyphenols, 25.0, 0.0055),
            straight(Driver::Bitterness, 28.0, 0.015),
        ],
        residual: 1.1,
        source: "judgement; sparging above 77 °C or pH 5.8 draws tannins (common practice, Kunze, Palmer), so does much hop matter (Parkin & Shellhammer 2017)",
        example: Example {
            given: &[(Driver::Roasted, 10.0), (Driver::Sparge, 81.0)],
            expected: 3.5,
        },
    },
    ScaleRule {
        scale: "alcohol-warmth",
        base: 0.5,
        terms: &[above(Driver::Alcohol, 4.0, 0.7)],
        residual: 0.9,
        source: "judgement; ethanol warms from about 6 % vol (common practice)",
        example: Example {
            given: &[(Driver::Alcohol, 9.0)],
            expected: 4.0,
        },
    },
    ScaleRule {
        scale: "dryness",
        base: 4.5,
        terms: &[
            straight(Driver::Attenuation, 76.0, 0.12),
            straight(Driver::RealExtract, 4.5, -0.4),
            straight(Driver::Sulphate, 80.0, 0.006),
            straight(Driver::Gas, 2.4, 0.6),
            straight(Driver::Bitterness, 28.0, 0.02),
        ],
        residual: 1.2,
        source: "judgement; directions: Palmer & Kaminski 2013 (sulphate), common practice (attenuation)",
        example: Example {
            given: &[(Driver::Attenuation, 86.0), (Driver::RealExtract, 3.5)],
            expected: 6.1,
        },
    },
    ScaleRule {
        scale: "lingering-bitterness",
        base: 0.0,
        terms: &[
            saturating(Driver::BitterEquivalents, 8.0, 50.0),
            straight(Driver::Roasted, 0.0, 0.05),
            straight(Driver::Sulphate, 80.0, 0.004),
        ],
        residual: 1.2,
        source: "judgement, after the rule of bitter",
        example: Example {
            // 8 × (1 − e^−1) = 8 × 0.632121
            given: &[(Driver::BitterEquivalents, 50.0)],
            expected: 5.056_964,
        },
    },
    ScaleRule {
        scale: "length",
        base: 8.0,
        terms: &[
            above(Driver::Bitterness, 20.0, 0.2),
            above(Driver::Alcohol, 5.0, 1.5),
            straight(Driver::Roasted, 0.0, 0.3),
        ],
        residual: 6.0,
        source: "judgement",
        example: Example {
            given: &[(Driver::Bitterness, 40.0), (Driver::Alcohol, 7.0)],
            expected: 15.0,
        },
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::SCALES;
    use crate::profile::Drivers;
    use crate::profile::Estimate;

    #[test]
    fn the_own_example_of_every_rule_holds() {
        for rule in SCALE_RULES {
            let mut drivers = Drivers::default();
            for (driver, value) in rule.example.given {
                drivers = drivers.with(*driver, Estimate::exact(*value));
            }
            let found = rule.forecast(&drivers).unwrap().value;
            let expected = rule.example.expected;
            assert!(
                (found - expected).abs() < 1e-6,
                "{}: {found}, expected {expected}",
                rule.scale
            );
        }
    }

    #[test]
    fn a_value_beyond_the_last_digit_keeps_its_range_and_what_moved_it() {
        let black = Drivers::default().with(Driver::Colour, Estimate::exact(101.0));
        let rule = SCALE_RULES.iter().find(|it| it.scale == "colour").unwrap();
        let found = rule.forecast(&black).unwrap();
        // By hand: the tenth percentile is 101 − 1.28155 × 2 = 98.4369 EBC, between the digits 8 (70 EBC) and
        // 9 (100 EBC) at 8.94790. An ordinary beer has 15 EBC, 86 less.
        assert!((found.digits() - 9.0).abs() < 1e-9);
        assert!(
            (found.digits_range().0 - 8.947_90).abs() < 1e-5,
            "{found:?}"
        );
        assert!((found.value - found.reasons[0].adds - 15.0).abs() < 1e-9);
    }

    #[test]
    fn every_scale_of_the_profile_but_the_overall_aroma_and_lacing_has_one_rule_in_the_same_order()
    {
        let wanted: Vec<&str> = SCALES
            .iter()
            .filter(|it| it.stage.is_some() && !["aroma-intensity", "lacing"].contains(&it.id))
            .map(|it| it.id)
            .collect();
        let found: Vec<&str> = SCALE_RULES.iter().map(|it| it.scale).collect();
        assert_eq!(found, wanted);
    }

    #[test]
    fn a_figure_that_is_known_narrows_the_range_and_every_rule_says_where_it_is_from() {
        for rule in SCALE_RULES {
            assert!(!rule.source.is_empty(), "{}", rule.scale);
            let unknown = rule.forecast(&Drivers::default()).unwrap();
            let known = rule.terms.iter().fold(Drivers::default(), |drivers, term| {
                drivers.with(term.driver, Estimate::exact(term.driver.usual().value()))
            });
            let known = rule.forecast(&known).unwrap();
            assert!(known.sd <= unknown.sd, "{}", rule.scale);
            assert!((known.sd - rule.residual).abs() < 1e-12, "{}", rule.scale);
            assert!(
                known.reasons.is_empty(),
                "{}: {:?}",
                rule.scale,
                known.reasons
            );
        }
    }
}
