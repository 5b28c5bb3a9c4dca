//! Bitterness units that hops bring: boiled, steeped in hot wort, or dry.

use std::ops::RangeInclusive;

use crate::brewing::bounds::FRACTION;
use crate::brewing::bounds::MINUTES;
use crate::brewing::bounds::VOLUME_LITRES;
use crate::brewing::bounds::within;
use crate::brewing::gravity::SpecificGravity;
use crate::brewing::isomerisation::Isomerised;
use crate::brewing::isomerisation::Stretch;

/// Gravities of worts that are boiled.
const BOIL_GRAVITY: RangeInclusive<f64> = 0.99..=1.16;

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

/// Alpha acid that dissolves in hot wort at pH 5.2, mg/L (thesis of Malowicki, 2005).
const SOLUBLE_ALPHA: f64 = 90.0;
/// A boil up to so many minutes is a late charge: what does not dissolve at once has no time to (judgement).
const LATE_MINUTES: f64 = 15.0;

/// The cooling that Tinseth's figures include, minutes from flame-out to 25 °C (judgement: a coil).
const USUAL_COOLING: f64 = 15.0;
/// Where cooling is done, °C.
const COLD_CELSIUS: f64 = 25.0;

/// What happens to a hop charge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HopContact {
    /// Boiled for so many minutes.
    Boil {
        /// Minutes from the charge to the end of the boil.
        minutes: f64,
    },
    /// Steeped in hot wort after the boil.
    Stand(Stretch),
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

/// The wort that hops go into, and how it goes on after the boil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoppedWort {
    /// Its gravity during the boil: the mean of before and after is good practice.
    pub gravity: SpecificGravity,
    /// Litres of beer.
    pub litres: f64,
    /// Minutes from the end of the boil, or of the stand, until it is cold; none where nobody looked.
    pub cooling_minutes: Option<f64>,
}

impl HoppedWort {
    /// Bitterness units (mg of iso-alpha-acid in a litre) that each charge adds, in the same order.
    ///
    /// A boil counts by Tinseth 1997. What stands hot after it counts by the rate constants of Malowicki &
    /// Shellhammer 2005 along its temperature, times the recovery that makes an hour at 100 °C equal
    /// Tinseth's hour at this gravity: solution, trub, yeast and foam take the same part (judgement). Boiled
    /// hops go on through a stand and a slow cooling; an ordinary one is in Tinseth's figures already. Of all
    /// late charges together no more than 90 mg/L of alpha acid dissolves. A dry hop makes no iso-alpha-acid
    /// (Parkin & Shellhammer 2017). The whole estimate is good to 20 or 30 %.
    ///
    /// `None` when anything lies outside its range.
    #[must_use]
    pub fn bitterness_units(&self, charges: &[HopCharge]) -> Option<Vec<f64>> {
        let alpha: Option<Vec<f64>> = charges.iter().map(|it| self.alpha(it)).collect();
        let alpha = alpha?;
        let late = charges.iter().zip(&alpha).filter(|(it, _)| it.is_late());
        let late: f64 = late.map(|(_, alpha)| alpha).sum();
        let dissolved = (SOLUBLE_ALPHA / late.max(SOLUBLE_ALPHA)).min(1.0);
        let stand = longest_stand(charges);
        charges
            .iter()
            .zip(alpha)
            .map(|(it, alpha)| {
                let share = if it.is_late() { dissolved } else { 1.0 };
                Some(self.utilisation(it.contact, stand)? * alpha * share)
            })
            .collect()
    }

    /// Alpha acid that a charge holds, mg in a litre of beer.
    fn alpha(&self, it: &HopCharge) -> Option<f64> {
        let grams = within(it.grams, &HOP_GRAMS)? * within(it.alpha_fraction, &FRACTION)?;
        Some(1000.0 * grams / within(self.litres, &VOLUME_LITRES)?)
    }

    /// The part of the alpha acid of a charge that is bitterness in the beer.
    fn utilisation(&self, contact: HopContact, stand: Option<Stretch>) -> Option<f64> {
        match contact {
            HopContact::Boil { minutes } => {
                let own = boil_utilisation(self.gravity, minutes)?;
                if stand.is_none() && self.cooling_minutes.is_none() {
                    return Some(own);
                }
                let boiled = Isomerised::FRESH.held(minutes, REFERENCE_CELSIUS)?;
                let flame_out = stand.map_or(REFERENCE_CELSIUS, Stretch::end);
                let stood = stand.map_or(Some(boiled), |it| boiled.along(it))?;
                let cooled = stood.along(self.cooling(flame_out)?)?;
                let usual = Stretch::new(USUAL_COOLING, REFERENCE_CELSIUS, COLD_CELSIUS)?;
                let beyond = cooled.iso - boiled.along(usual)?.iso;
                Some((own + self.recovery()? * beyond).max(0.0))
            }
            HopContact::Stand(stretch) => {
                let stood = Isomerised::FRESH.along(stretch)?;
                let cooled = stood.along(self.cooling(stretch.end())?)?;
                Some(self.recovery()? * cooled.iso)
            }
            HopContact::Dry => Some(0.0),
        }
    }

    fn cooling(&self, from: f64) -> Option<Stretch> {
        Stretch::new(
            self.cooling_minutes.unwrap_or(USUAL_COOLING),
            from,
            COLD_CELSIUS,
        )
    }

    /// What comes through of what a stand isomerises.
    fn recovery(&self) -> Option<f64> {
        let hour = Isomerised::FRESH.held(REFERENCE_MINUTES, REFERENCE_CELSIUS)?;
        Some(boil_utilisation(self.gravity, REFERENCE_MINUTES)? / hour.iso)
    }
}

impl HopCharge {
    /// Whether what does not dissolve at once has no time to.
    fn is_late(&self) -> bool {
        match self.contact {
            HopContact::Boil { minutes } => minutes <= LATE_MINUTES,
            HopContact::Stand(_) => true,
            HopContact::Dry => false,
        }
    }
}

/// The longest of the stands; hops of the boil lie in it too.
fn longest_stand(charges: &[HopCharge]) -> Option<Stretch> {
    let stands = charges.iter().filter_map(|it| match it.contact {
        HopContact::Stand(stretch) => Some(stretch),
        HopContact::Boil { .. } | HopContact::Dry => None,
    });
    stands.max_by(|a, b| a.minutes().total_cmp(&b.minutes()))
}

/// Share of the alpha acid a boil turns into bitterness (Tinseth 1997):
/// 1.65 · 0.000125^(SG - 1) · (1 - e^(-0.04 t)) / 4.15.
///
/// Domain: SG 0.99 to 1.16, 0 to 1440 minutes; `None` outside.
#[must_use]
pub(super) fn boil_utilisation(gravity: SpecificGravity, minutes: f64) -> Option<f64> {
    let ratio = within(gravity.ratio(), &BOIL_GRAVITY)?;
    let minutes = within(minutes, &MINUTES)?;
    let bigness = 1.65 * 0.000_125_f64.powf(ratio - 1.0);
    Some(bigness * (1.0 - (-0.04 * minutes).exp()) / 4.15)
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
    use super::HoppedWort;
    use super::SpecificGravity;
    use super::Stretch;
    use super::bitter_equivalents;
    use super::boil_utilisation;
    use super::humulinones;

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

    fn wort(ratio: f64, litres: f64) -> HoppedWort {
        HoppedWort {
            gravity: SpecificGravity::new(ratio),
            litres,
            cooling_minutes: None,
        }
    }

    fn charge(grams: f64, alpha_fraction: f64, contact: HopContact) -> HopCharge {
        HopCharge {
            grams,
            alpha_fraction,
            contact,
        }
    }

    fn units(grams: f64, alpha_fraction: f64, contact: HopContact, ratio: f64, litres: f64) -> f64 {
        let charge = charge(grams, alpha_fraction, contact);
        wort(ratio, litres).bitterness_units(&[charge]).unwrap()[0]
    }

    fn stand(minutes: f64, celsius: f64) -> HopContact {
        HopContact::Stand(Stretch::new(minutes, celsius, celsius).unwrap())
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
    fn an_hour_of_standing_at_the_boil_is_an_hour_of_boiling() {
        // By definition of the recovery; Tinseth's table prints .231 at 1.050. The quick cooling that
        // Tinseth's figures include comes on top of a stand: a few thousandths.
        let wort = HoppedWort {
            cooling_minutes: Some(0.0),
            ..wort(1.050, 20.0)
        };
        let hour = [charge(20.0, 0.1, stand(60.0, 100.0))];
        // 20 g of 10 % in 20 L are 100 mg/L, of which 90 dissolve.
        let got = wort.bitterness_units(&hour).unwrap()[0] / 90.0;
        assert!((got - 0.231).abs() < 0.0005, "{got}");
    }

    #[test]
    fn what_boiled_goes_on_isomerising_through_a_stand_and_a_slow_cooling() {
        let boil = charge(10.0, 0.1, HopContact::Boil { minutes: 60.0 });
        let alone = wort(1.05, 20.0).bitterness_units(&[boil]).unwrap()[0];
        let slow = HoppedWort {
            cooling_minutes: Some(90.0),
            ..wort(1.05, 20.0)
        };
        // By hand: 90 minutes to 25 °C fall by 80/(90/ln 16) = 2.5 K a minute at first; isomerisation falls
        // to 1/e in R·T²/Ea = 11.7 K, so they count as 4.8 minutes of boiling, the usual 15 as 0.8. Four
        // minutes more make 4·(0.01249·0.473 − 0.0031·0.476) = 0.0177, times 0.485: 0.0086 on 0.231, 3.7 %.
        let more = slow.bitterness_units(&[boil]).unwrap()[0] / alone - 1.0;
        assert!((0.032..0.042).contains(&more), "{more}");
        let late = charge(0.0, 0.1, stand(30.0, 90.0));
        let stood = wort(1.05, 20.0).bitterness_units(&[boil, late]).unwrap();
        assert!(stood[0] > alone && stood[1].abs() < 1e-12, "{stood:?}");
        // By hand: 60 min at 100 °C leave e^(-0.01249·60) = 0.4727 of the alpha acid; 30 min at 90 °C make
        // 0.142 of that, 0.0671 of the whole, and lose 3.5 % of the 0.476 there is, 0.0166; times the
        // recovery 0.485 that is 0.0245 of 50 mg/L: 1.2 units, less what the usual quick cooling from the
        // boil would have made beyond that from 90 °C (a few tenths).
        assert!(
            (0.7..1.3).contains(&(stood[0] - alone)),
            "{stood:?} {alone}"
        );
    }

    #[test]
    fn of_huge_late_charges_ninety_milligrams_dissolve() {
        // Solubility of alpha acid some 90 mg/L at pH 5.2 (Malowicki's thesis): 18 g and 180 g of 10 % in
        // 20 L are 90 and 900 mg/L; shared out by mass where there are two.
        let one = units(18.0, 0.1, stand(20.0, 90.0), 1.05, 20.0);
        let ten = units(180.0, 0.1, stand(20.0, 90.0), 1.05, 20.0);
        assert!((one - ten).abs() < 1e-9, "{one} {ten}");
        let two = [charge(90.0, 0.1, stand(20.0, 90.0)); 2];
        let two = wort(1.05, 20.0).bitterness_units(&two).unwrap();
        assert!((two[0] + two[1] - ten).abs() < 1e-9, "{two:?}");
    }

    #[test]
    fn a_dry_hop_makes_no_iso_alpha_acid() {
        // Parkin & Shellhammer 2017 (J. Am. Soc. Brew. Chem. 75:363-368).
        assert!(units(200.0, 0.12, HopContact::Dry, 1.05, 20.0).abs() < f64::EPSILON);
    }

    #[test]
    fn charges_that_cannot_be_have_no_bitterness() {
        let boil = HopContact::Boil { minutes: 60.0 };
        let backwards = HopContact::Boil { minutes: -1.0 };
        for (charge, ratio, litres) in [
            (charge(30.0, 0.1, boil), 1.05, 0.0),
            (charge(30.0, 0.1, boil), 1.05, f64::NAN),
            (charge(30.0, 0.1, HopContact::Dry), 1.05, 0.0),
            (charge(30.0, 10.0, boil), 1.05, 20.0),
            (charge(-30.0, 0.1, boil), 1.05, 20.0),
            (charge(1e308, 0.1, boil), 1.05, 20.0),
            (charge(30.0, 0.1, boil), 48.0, 20.0),
            (charge(30.0, 0.1, backwards), 1.05, 20.0),
        ] {
            let found = wort(ratio, litres).bitterness_units(&[charge]);
            assert_eq!(found, None, "{charge:?}, {litres} L");
        }
        let endless = HoppedWort {
            cooling_minutes: Some(f64::INFINITY),
            ..wort(1.05, 20.0)
        };
        assert_eq!(endless.bitterness_units(&[charge(30.0, 0.1, boil)]), None);
    }

    proptest! {
        #[test]
        fn a_cooler_stand_below_the_boil_is_less_bitter(
            minutes in 1.0..90.0_f64,
            celsius in 20.0..99.0_f64,
        ) {
            let at = |celsius| units(10.0, 0.1, stand(minutes, celsius), 1.05, 20.0);
            let (cool, warm) = (at(celsius), at(celsius + 1.0));
            prop_assert!(cool > 0.0 && cool < warm && warm < 50.0);
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
