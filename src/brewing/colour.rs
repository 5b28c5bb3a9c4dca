//! Beer colour in EBC and SRM units, and what a grist gives of it.

use std::ops::RangeInclusive;

use crate::brewing::bounds::MASS_KG;
use crate::brewing::bounds::VOLUME_LITRES;
use crate::brewing::bounds::within;

/// EBC units in one SRM unit: 25 · A430 against 12.7 · A430, rounded as usual.
const EBC_PER_SRM: f64 = 1.97;

/// Malt colour unit (pounds times degrees Lovibond in a US gallon) per kilogram and litre.
const POUNDS_PER_GALLON_IN_KG_PER_LITRE: f64 = 8.3454;

/// Colours of malts, sugars and roasts, EBC; roasted barley stands near 1500.
const MALT_EBC: RangeInclusive<f64> = 0.0..=5000.0;

/// One ingredient as its colour counts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ColourCharge {
    /// Mass in kilograms.
    pub kilograms: f64,
    /// Colour in EBC units as on the malt sheet.
    pub ebc: f64,
}

/// Malt colour units of a grist: sum of pounds times degrees Lovibond, over US gallons of wort.
///
/// A malt's EBC figure counts as 1.97 degrees Lovibond, as it does for beer.
/// `None` when a mass, a colour or the volume lies outside its range.
#[must_use]
fn malt_colour_units(grist: &[ColourCharge], litres: f64) -> Option<f64> {
    let load = grist
        .iter()
        .map(|charge| Some(within(charge.kilograms, &MASS_KG)? * within(charge.ebc, &MALT_EBC)?))
        .sum::<Option<f64>>()?
        // The sum of nothing is -0.0.
        .max(0.0);
    let litres = within(litres, &VOLUME_LITRES)?;
    Some(POUNDS_PER_GALLON_IN_KG_PER_LITRE * srm_from_ebc(load) / litres)
}

/// Colour of the beer from a grist, EBC: SRM = 1.4922 · MCU^0.6859 (Morey 1995, letter in
/// *Brewing Techniques*).
///
/// Good to about 50 SRM (100 EBC); a beer beyond that is black either way. `None` when a mass, a
/// colour or the volume lies outside its range.
#[must_use]
pub fn beer_ebc(grist: &[ColourCharge], litres: f64) -> Option<f64> {
    let srm = 1.4922 * malt_colour_units(grist, litres)?.powf(0.6859);
    Some(ebc_from_srm(srm))
}

/// EBC units of an SRM colour (finite in, finite out up to 1e307).
#[must_use]
fn ebc_from_srm(srm: f64) -> f64 {
    srm * EBC_PER_SRM
}

/// SRM units of an EBC colour (finite in, finite out).
#[must_use]
pub fn srm_from_ebc(ebc: f64) -> f64 {
    ebc / EBC_PER_SRM
}

#[cfg(test)]
mod tests {
    use super::ColourCharge;
    use super::beer_ebc;
    use super::ebc_from_srm;
    use super::malt_colour_units;
    use super::srm_from_ebc;

    /// A grist of so many malt colour units in one litre.
    fn grist_of(units: f64) -> [ColourCharge; 1] {
        [ColourCharge {
            kilograms: units / 8.3454,
            ebc: ebc_from_srm(1.0),
        }]
    }

    fn srm_of(units: f64) -> f64 {
        srm_from_ebc(beer_ebc(&grist_of(units), 1.0).expect("in range"))
    }

    #[test]
    fn a_pound_at_one_lovibond_in_a_gallon_is_one_unit() {
        // The unit's definition; the pound is 0.45359237 kg and the US gallon 3.785411784 L.
        let pound = [ColourCharge {
            kilograms: 0.453_592_37,
            ebc: 1.97,
        }];
        let got = malt_colour_units(&pound, 3.785_411_784).expect("in range");
        assert!((got - 1.0).abs() < 1e-5, "{got}");
    }

    #[test]
    fn colour_stays_near_the_rules_it_was_fitted_to() {
        // Morey 1995: fitted to SRM = MCU below 10.5, Daniels' 0.2 MCU + 8.4 from there to 37 and
        // Mosher's 0.3 MCU + 4.7 above (both from memory), R² 0.97. Over that range ln SRM has a
        // standard deviation of about 0.64, so R² leaves 0.64 * sqrt(0.03) = 11 % of scatter;
        // twice that bounds the middle of each piece.
        for (units, rule) in [
            (4.0, 4.0),
            (6.0, 6.0),
            (15.0, 11.4),
            (20.0, 12.4),
            (30.0, 14.4),
            (50.0, 19.7),
            (70.0, 25.7),
        ] {
            let got = srm_of(units);
            assert!(
                (got / rule - 1.0).abs() < 0.22,
                "{units} MCU: {got} against {rule}"
            );
        }
    }

    #[test]
    fn colour_is_that_worked_by_hand() {
        // Computed from Morey's formula, beside the published rules above.
        for (units, srm) in [
            (1.0, 1.49),
            (5.0, 4.50),
            (10.0, 7.24),
            (20.0, 11.65),
            (40.0, 18.74),
            (60.0, 24.74),
            (100.0, 35.13),
        ] {
            let got = srm_of(units);
            assert!(
                (got - srm).abs() < 0.006,
                "{units} MCU: {got} against {srm}"
            );
        }
        // 4.5 kg at 2 °L and 0.5 kg at 40 °L in 20 L.
        let pale = [
            ColourCharge {
                kilograms: 4.5,
                ebc: 2.0 * 1.97,
            },
            ColourCharge {
                kilograms: 0.5,
                ebc: 40.0 * 1.97,
            },
        ];
        let got = srm_from_ebc(beer_ebc(&pale, 20.0).expect("in range"));
        assert!((got - 8.25).abs() < 0.006, "{got}");
    }

    #[test]
    fn ebc_and_srm_are_the_same_absorbance_in_two_units() {
        // deLange, slides on beer colour: transmission 1/100 in 1 cm, so A430 = 2, is SRM 25.4 and
        // EBC 50. 1.97 is rounded from 25 / 12.7: 0.1 EBC here.
        assert!((ebc_from_srm(25.4) - 50.0).abs() < 0.1);
        assert!((srm_from_ebc(50.0) - 25.4).abs() < 0.1);
    }

    #[test]
    fn nothing_coloured_gives_no_colour() {
        let got = beer_ebc(&[], 20.0).expect("water has a colour of 0");
        assert!(got.abs() < f64::EPSILON);
    }

    #[test]
    fn grists_that_cannot_be_have_no_colour() {
        let malt = |kilograms, ebc| [ColourCharge { kilograms, ebc }];
        for (grist, litres) in [
            (malt(5.0, 6.0), 0.0),
            (malt(5.0, 6.0), f64::NAN),
            (malt(5.0, 6.0), 1e308),
            (malt(-5.0, 6.0), 20.0),
            (malt(1e308, 6.0), 20.0),
            (malt(5.0, f64::INFINITY), 20.0),
        ] {
            assert_eq!(beer_ebc(&grist, litres), None);
        }
    }

    #[test]
    fn colour_is_the_same_in_kilograms_and_litres() {
        // Morey's formula in metric units, computed by hand: EBC = 2.9396 (4.2363 kg EBC / L)^0.6859.
        for load in [0.5_f64, 2.0, 8.0, 20.0] {
            let grist = [ColourCharge {
                kilograms: load,
                ebc: 10.0,
            }];
            let metric = 2.9396 * (4.2363 * load * 10.0 / 20.0).powf(0.6859);
            let got = beer_ebc(&grist, 20.0).expect("in range");
            assert!(
                (got / metric - 1.0).abs() < 0.000_05,
                "{got} against {metric}"
            );
        }
    }

    #[test]
    fn the_sample_recipes_of_the_standards_have_their_worked_colours() {
        // Computed from Morey's formula by hand: the dry stout of the BeerXML 1.0 specification has
        // 103.00 MCU and 35.84 SRM, the generic example converted to BeerJSON 2.85 and 3.06.
        for (units, srm) in [(103.00, 35.84), (2.85, 3.06)] {
            let got = srm_of(units);
            assert!((got - srm).abs() < 0.006, "{units} MCU: {got}");
        }
    }
}
