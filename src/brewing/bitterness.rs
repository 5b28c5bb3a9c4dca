//! Bitterness units a hop charge brings: boiled, steeped in hot wort, or dry.

use std::ops::RangeInclusive;

use crate::brewing::bounds::FRACTION;
use crate::brewing::bounds::MINUTES;
use crate::brewing::bounds::VOLUME_LITRES;
use crate::brewing::bounds::within;
use crate::brewing::gravity::SpecificGravity;

/// Gravities of worts that are boiled.
const BOIL_GRAVITY: RangeInclusive<f64> = 0.99..=1.16;

/// Temperatures of wort hops may stand in, °C; the rate constants were measured at 90 to 130.
const STAND_CELSIUS: RangeInclusive<f64> = 0.0..=130.0;

/// One charge of hops in grams.
const HOP_GRAMS: RangeInclusive<f64> = 0.0..=1e9;

/// Bitterness units of beers.
const UNITS: RangeInclusive<f64> = 0.0..=400.0;

/// Dry hops in a litre of beer, g.
const DRY_HOP: RangeInclusive<f64> = 0.0..=100.0;

/// Humulinones as a fraction of pellets, the part of them that dissolves, and how bitter they are
/// beside iso-alpha-acid.
const HUMULINONE_SHARE: f64 = 0.003;
const HUMULINONE_DISSOLVED: f64 = 0.9;
const HUMULINONE_BITTERNESS: f64 = 0.66;

/// Minutes and temperature at which a stand is set equal to a boil.
const REFERENCE_MINUTES: f64 = 60.0;
const REFERENCE_CELSIUS: f64 = 100.0;

/// What happens to a hop charge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HopContact {
    /// Boiled for so many minutes.
    Boil {
        /// Minutes from the charge to the end of the boil.
        minutes: f64,
    },
    /// Steeped in hot wort after the boil, at one temperature.
    Stand {
        /// Minutes of contact.
        minutes: f64,
        /// Temperature of the wort, °C.
        celsius: f64,
    },
    /// In the fermenter, cold.
    Dry,
}

/// One charge of hops as its bitterness counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HopCharge {
    /// Mass in grams.
    pub grams: f64,
    /// Alpha acid as a fraction of the mass, 0 to 1.
    pub alpha_fraction: f64,
    /// Boil, stand or dry hop.
    pub contact: HopContact,
}

impl HopCharge {
    /// Bitterness units (mg of iso-alpha-acid in a litre) the charge adds to so many litres of beer.
    ///
    /// `gravity` is the wort's during the boil: the mean of before and after is good practice.
    /// A dry hop adds none: it makes no iso-alpha-acid (Parkin & Shellhammer 2017), though it may
    /// add other bitterness. Alpha acid dissolves to some 90 mg/L only, which caps huge charges;
    /// that cap is not applied. The whole estimate is good to 20 or 30 %.
    ///
    /// `None` when anything lies outside its range.
    #[must_use]
    pub fn bitterness_units(&self, gravity: SpecificGravity, litres: f64) -> Option<f64> {
        let alpha_milligrams =
            1000.0 * within(self.grams, &HOP_GRAMS)? * within(self.alpha_fraction, &FRACTION)?;
        let utilisation = match self.contact {
            HopContact::Boil { minutes } => boil_utilisation(gravity, minutes)?,
            HopContact::Stand { minutes, celsius } => stand_utilisation(gravity, minutes, celsius)?,
            HopContact::Dry => 0.0,
        };
        Some(utilisation * alpha_milligrams / within(litres, &VOLUME_LITRES)?)
    }
}

/// Share of the alpha acid a boil turns into bitterness (Tinseth 1997):
/// 1.65 · 0.000125^(SG - 1) · (1 - e^(-0.04 t)) / 4.15.
///
/// Domain: SG 0.99 to 1.16, 0 to 1440 minutes; `None` outside.
#[must_use]
pub fn boil_utilisation(gravity: SpecificGravity, minutes: f64) -> Option<f64> {
    let ratio = within(gravity.ratio(), &BOIL_GRAVITY)?;
    let minutes = within(minutes, &MINUTES)?;
    let bigness = 1.65 * 0.000_125_f64.powf(ratio - 1.0);
    Some(bigness * (1.0 - (-0.04 * minutes).exp()) / 4.15)
}

/// Share of the alpha acid that becomes bitterness in a stand at one temperature.
///
/// The isomerised share of [`iso_alpha_fraction`], times the recovery that makes 60 minutes at
/// 100 °C equal Tinseth's 60 minutes at this gravity: solution, trub, yeast and foam take the same
/// part in a stand as in a boil (judgement).
///
/// Domain: SG 0.99 to 1.16, 0 to 1440 minutes, 0 to 130 °C; `None` outside.
#[must_use]
pub fn stand_utilisation(gravity: SpecificGravity, minutes: f64, celsius: f64) -> Option<f64> {
    let recovery = boil_utilisation(gravity, REFERENCE_MINUTES)?
        / iso_alpha_fraction(REFERENCE_MINUTES, REFERENCE_CELSIUS)?;
    Some(recovery * iso_alpha_fraction(minutes, celsius)?)
}

/// Share of the alpha acid present as iso-alpha-acid after so many minutes at one temperature:
/// two first-order steps, alpha to iso-alpha to losses (Malowicki & Shellhammer 2005,
/// J. Agric. Food Chem. 53:4434-4439; measured at 90 to 130 °C in buffer, below that extrapolated).
///
/// Domain: 0 to 1440 minutes, 0 to 130 °C; `None` outside.
#[must_use]
pub fn iso_alpha_fraction(minutes: f64, celsius: f64) -> Option<f64> {
    let minutes = within(minutes, &MINUTES)?;
    let kelvin = within(celsius, &STAND_CELSIUS)? + 273.15;
    // Per minute. In this range formation is always faster than loss, so the difference is never 0.
    let formation = 7.9e11 * (-11_858.0 / kelvin).exp();
    let loss = 4.1e12 * (-12_994.0 / kelvin).exp();
    let left = (-loss * minutes).exp() - (-formation * minutes).exp();
    Some(formation / (formation - loss) * left)
}

/// What the bitterness of a beer is worth to the tongue, as mg/L of iso-alpha-acid.
///
/// Humulinones of a dry hop dissolve nearly whole (0.3 % of the pellets, nine tenths of it; Maye et al.
/// 2016, from memory) and are 0.66 times as bitter as iso-alpha-acid (Algazzali & Shellhammer 2016,
/// JASBC 74:36-43). Hop matter takes iso-alpha-acid away: 1.5 % for each gram in a litre, a quarter at
/// most (judgement; that beers of many units lose and those of few gain is Maye's).
///
/// Domain: 0 to 400 units, 0 to 100 g/L; `None` outside.
#[must_use]
pub fn bitter_equivalents(units: f64, dry_hop_grams_per_litre: f64) -> Option<f64> {
    let units = within(units, &UNITS)?;
    let dose = within(dry_hop_grams_per_litre, &DRY_HOP)?;
    let kept = 1.0 - (0.015 * dose).min(0.25);
    Some(units * kept + HUMULINONE_BITTERNESS * humulinones(dose))
}

/// Humulinones that a dry hop brings, mg/L.
fn humulinones(grams_per_litre: f64) -> f64 {
    grams_per_litre * 1_000.0 * HUMULINONE_SHARE * HUMULINONE_DISSOLVED
}

#[cfg(test)]
mod tests {
    use proptest::prelude::proptest;
    use proptest::prop_assert;

    use super::HopCharge;
    use super::HopContact;
    use super::SpecificGravity;
    use super::bitter_equivalents;
    use super::boil_utilisation;
    use super::humulinones;
    use super::iso_alpha_fraction;
    use super::stand_utilisation;

    /// Tinseth 1997, printed utilisation table (from memory): minutes, then thousandths at
    /// SG 1.030 to 1.120 in steps of 0.010.
    const PRINTED: [(f64, [f64; 10]); 16] = [
        (
            3.0,
            [34.0, 31.0, 29.0, 26.0, 24.0, 22.0, 20.0, 18.0, 17.0, 15.0],
        ),
        (
            6.0,
            [65.0, 59.0, 54.0, 49.0, 45.0, 41.0, 38.0, 35.0, 32.0, 29.0],
        ),
        (
            9.0,
            [92.0, 84.0, 77.0, 70.0, 64.0, 59.0, 54.0, 49.0, 45.0, 41.0],
        ),
        (
            15.0,
            [
                137.0, 125.0, 114.0, 105.0, 96.0, 87.0, 80.0, 73.0, 67.0, 61.0,
            ],
        ),
        (
            18.0,
            [
                156.0, 142.0, 130.0, 119.0, 109.0, 99.0, 91.0, 83.0, 76.0, 69.0,
            ],
        ),
        (
            24.0,
            [
                187.0, 171.0, 157.0, 143.0, 131.0, 120.0, 109.0, 100.0, 91.0, 83.0,
            ],
        ),
        (
            27.0,
            [
                201.0, 183.0, 168.0, 153.0, 140.0, 128.0, 117.0, 107.0, 98.0, 89.0,
            ],
        ),
        (
            30.0,
            [
                212.0, 194.0, 177.0, 162.0, 148.0, 135.0, 124.0, 113.0, 103.0, 94.0,
            ],
        ),
        (
            36.0,
            [
                232.0, 212.0, 194.0, 177.0, 162.0, 148.0, 135.0, 124.0, 113.0, 103.0,
            ],
        ),
        (
            39.0,
            [
                240.0, 219.0, 200.0, 183.0, 167.0, 153.0, 140.0, 128.0, 117.0, 107.0,
            ],
        ),
        (
            45.0,
            [
                253.0, 232.0, 212.0, 194.0, 177.0, 162.0, 148.0, 135.0, 123.0, 113.0,
            ],
        ),
        (
            48.0,
            [
                259.0, 237.0, 216.0, 198.0, 181.0, 165.0, 151.0, 138.0, 126.0, 115.0,
            ],
        ),
        (
            54.0,
            [
                269.0, 246.0, 224.0, 205.0, 188.0, 171.0, 157.0, 143.0, 131.0, 120.0,
            ],
        ),
        (
            60.0,
            [
                276.0, 252.0, 231.0, 211.0, 193.0, 176.0, 161.0, 147.0, 135.0, 123.0,
            ],
        ),
        (
            70.0,
            [
                285.0, 261.0, 238.0, 218.0, 199.0, 182.0, 166.0, 152.0, 139.0, 127.0,
            ],
        ),
        (
            90.0,
            [
                295.0, 270.0, 247.0, 226.0, 206.0, 188.0, 172.0, 157.0, 144.0, 132.0,
            ],
        ),
    ];

    fn units(grams: f64, alpha_fraction: f64, contact: HopContact, ratio: f64, litres: f64) -> f64 {
        HopCharge {
            grams,
            alpha_fraction,
            contact,
        }
        .bitterness_units(SpecificGravity::new(ratio), litres)
        .expect("in range")
    }

    #[test]
    fn boil_utilisation_is_that_of_the_printed_table() {
        let columns = [1.03, 1.04, 1.05, 1.06, 1.07, 1.08, 1.09, 1.10, 1.11, 1.12];
        for (minutes, row) in PRINTED {
            for (ratio, thousandths) in columns.into_iter().zip(row) {
                let got = boil_utilisation(SpecificGravity::new(ratio), minutes).expect("in range");
                // Printed to three places: half of the last, and a hair for the rounding itself.
                let miss = (1000.0 * got - thousandths).abs();
                assert!(miss < 0.5001, "{minutes} min at {ratio}: {got}");
            }
        }
    }

    #[test]
    fn a_boiled_charge_gives_its_worked_bitterness() {
        // Computed from Tinseth's formula by hand, in metric and (74.9 his own factor) US units.
        let boil = HopContact::Boil { minutes: 60.0 };
        assert!((units(30.0, 0.10, boil, 1.050, 20.0) - 34.60).abs() < 0.01);
        let later = HopContact::Boil { minutes: 45.0 };
        let got = units(1.5 * 28.349_523, 0.064, later, 1.080, 5.0 * 3.785_412);
        assert!((got - 23.25).abs() < 0.02, "{got}");
    }

    #[test]
    fn isomerisation_quickens_with_the_published_activation_energies() {
        // Malowicki & Shellhammer 2005, abstract: 98.6 kJ/mol for formation, 108.0 for loss.
        // At very short times the share formed is k1 t, so its logarithm against 1/T shows Ea.
        let gas_constant = 8.314_463e-3;
        let inverse = |celsius: f64| 1.0 / (celsius + 273.15);
        let share = |celsius| iso_alpha_fraction(1e-4, celsius).expect("in range");
        let formation: f64 =
            (share(130.0) / share(90.0)).ln() * gas_constant / (inverse(90.0) - inverse(130.0));
        assert!((formation - 98.6).abs() < 0.1, "{formation}");
        // After a day nearly all alpha acid is gone and what is left falls at k2.
        let late = |celsius| {
            let early = iso_alpha_fraction(1380.0, celsius).expect("in range");
            let later = iso_alpha_fraction(1440.0, celsius).expect("in range");
            (early / later).ln()
        };
        let loss: f64 =
            (late(120.0) / late(100.0)).ln() * gas_constant / (inverse(100.0) - inverse(120.0));
        assert!((loss - 108.0).abs() < 0.2, "{loss}");
    }

    #[test]
    fn hardly_anything_isomerises_below_seventy_degrees() {
        // Kishimoto 2021: isomerisation starts between 60 and 70 °C. An hour makes under 2 % at 60
        // and several per cent at 70.
        assert!(iso_alpha_fraction(60.0, 60.0).expect("in range") < 0.02);
        assert!(iso_alpha_fraction(60.0, 70.0).expect("in range") > 0.03);
    }

    #[test]
    fn the_isomerised_share_is_that_worked_by_hand() {
        // Computed from the rate constants; the published activation energies are checked above.
        let computed = [
            (70.0, [0.0116, 0.0154, 0.0230, 0.0453, 0.0670]),
            (80.0, [0.0304, 0.0403, 0.0597, 0.1150, 0.1663]),
            (90.0, [0.0745, 0.0977, 0.1420, 0.2585, 0.3534]),
            (100.0, [0.1668, 0.2141, 0.2976, 0.4759, 0.5745]),
            (110.0, [0.3284, 0.4012, 0.5066, 0.6172, 0.5814]),
            (130.0, [0.5838, 0.5341, 0.3941, 0.1218, 0.0355]),
        ];
        for (celsius, row) in computed {
            for (minutes, share) in [15.0, 20.0, 30.0, 60.0, 90.0].into_iter().zip(row) {
                let got = iso_alpha_fraction(minutes, celsius).expect("in range");
                assert!(
                    (got - share).abs() < 0.000_06,
                    "{minutes} min at {celsius} °C: {got}"
                );
            }
        }
    }

    #[test]
    fn an_hour_at_the_boil_is_the_same_as_a_stand() {
        // By definition of the recovery; Tinseth's table prints .231 at 1.050.
        let got = stand_utilisation(SpecificGravity::new(1.050), 60.0, 100.0).expect("in range");
        assert!((got - 0.231).abs() < 0.0005, "{got}");
    }

    #[test]
    fn a_dry_hop_makes_no_iso_alpha_acid() {
        // Parkin & Shellhammer 2017 (J. Am. Soc. Brew. Chem. 75:363-368).
        assert!(units(200.0, 0.12, HopContact::Dry, 1.05, 20.0).abs() < f64::EPSILON);
    }

    #[test]
    fn charges_that_cannot_be_have_no_bitterness() {
        let boil = HopContact::Boil { minutes: 60.0 };
        let gravity = SpecificGravity::new(1.05);
        let hops = |grams, alpha_fraction, contact| HopCharge {
            grams,
            alpha_fraction,
            contact,
        };
        for (charge, gravity, litres) in [
            (hops(30.0, 0.1, boil), gravity, 0.0),
            (hops(30.0, 0.1, boil), gravity, f64::NAN),
            (hops(30.0, 0.1, HopContact::Dry), gravity, 0.0),
            (hops(30.0, 10.0, boil), gravity, 20.0),
            (hops(-30.0, 0.1, boil), gravity, 20.0),
            (hops(1e308, 0.1, boil), gravity, 20.0),
            (hops(30.0, 0.1, boil), SpecificGravity::new(48.0), 20.0),
            (
                hops(30.0, 0.1, HopContact::Boil { minutes: -1.0 }),
                gravity,
                20.0,
            ),
            (
                hops(
                    30.0,
                    0.1,
                    HopContact::Stand {
                        minutes: 20.0,
                        celsius: 500.0,
                    },
                ),
                gravity,
                20.0,
            ),
            (
                hops(
                    30.0,
                    0.1,
                    HopContact::Stand {
                        minutes: f64::NAN,
                        celsius: 80.0,
                    },
                ),
                gravity,
                20.0,
            ),
        ] {
            assert_eq!(
                charge.bitterness_units(gravity, litres),
                None,
                "{charge:?}, {litres} L"
            );
        }
    }

    proptest! {
        #[test]
        fn a_cooler_stand_below_the_boil_is_less_bitter(
            minutes in 1.0..90.0_f64,
            celsius in 20.0..99.0_f64,
        ) {
            let gravity = SpecificGravity::new(1.05);
            let cool = stand_utilisation(gravity, minutes, celsius).expect("in range");
            let warm = stand_utilisation(gravity, minutes, celsius + 1.0).expect("in range");
            prop_assert!(cool > 0.0 && cool < warm && warm < 1.0);
        }
    }

    #[test]
    fn a_dry_hop_of_five_grams_brings_thirteen_and_a_half_milligrams_of_humulinone() {
        // Worked by hand: 5 g/L × 0.3 % × 0.9 = 13.5 mg/L, and × 0.66 = 8.91 equivalents.
        assert!((humulinones(5.0) - 13.5).abs() < 1e-9);
        assert!((bitter_equivalents(0.0, 5.0).unwrap() - 8.91).abs() < 1e-9);
    }

    #[test]
    fn much_dry_hop_makes_mild_beers_bitterer_and_very_bitter_ones_milder() {
        // Maye et al. 2016, from memory.
        assert!(bitter_equivalents(10.0, 8.0).unwrap() > 10.0);
        assert!(bitter_equivalents(140.0, 8.0).unwrap() < 140.0);
        assert_eq!(bitter_equivalents(f64::NAN, 8.0), None);
        assert_eq!(bitter_equivalents(20.0, 1e308), None);
    }
}
