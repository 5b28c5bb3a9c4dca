//! Alcohol of a beer from its extracts, and the grams of it in a glass.

use std::ops::RangeInclusive;

use crate::brewing::attenuation::EXTRACT_PER_ALCOHOL;
use crate::brewing::attenuation::real_extract;
use crate::brewing::bounds::within;
use crate::brewing::gravity::Plato;

/// Density of ethanol over that of water, both at 20 °C: 0.78924 / 0.99820.
const ETHANOL_GRAVITY: f64 = 0.790_66;

/// Grams of ethanol in a millilitre, as standard drinks are counted.
const ETHANOL_GRAMS_PER_MILLILITRE: f64 = 0.789;

/// Alcohol by volume a drink can have, per cent.
const PER_CENT: RangeInclusive<f64> = 0.0..=100.0;

/// A glass, bottle or keg in millilitres: nothing up to a thousand litres.
const GLASS_MILLILITRES: RangeInclusive<f64> = 0.0..=1e6;

/// Alcohol in per cent by weight: A = (OE - RE) / (2.0665 - 0.010665 OE)
/// (Balling 1843-65, restated in Kvasny Prumysl 2015 61:120-128).
///
/// Takes the original and the apparent extract; the real one follows from them.
/// Domain as of [`real_extract`]; `None` outside.
#[must_use]
pub fn alcohol_by_weight(original: Plato, apparent: Plato) -> Option<f64> {
    let real = real_extract(original, apparent)?;
    let start = original.degrees();
    let extract_per_alcohol = EXTRACT_PER_ALCOHOL - (EXTRACT_PER_ALCOHOL - 1.0) * start / 100.0;
    Some((start - real.degrees()) / extract_per_alcohol)
}

/// Alcohol in per cent by volume at 20 °C: A · SG / 0.79066, with the beer's own gravity.
///
/// Domain as of [`real_extract`]; `None` outside.
#[must_use]
pub fn alcohol_by_volume(original: Plato, apparent: Plato) -> Option<f64> {
    let by_weight = alcohol_by_weight(original, apparent)?;
    Some(by_weight * apparent.specific_gravity()?.ratio() / ETHANOL_GRAVITY)
}

/// Grams of alcohol in a drink: millilitres · ABV / 100 · 0.789.
///
/// Domain: 0 to 1,000,000 mL, 0 to 100 % by volume; `None` outside.
#[must_use]
pub fn alcohol_grams(millilitres: f64, by_volume: f64) -> Option<f64> {
    let drink = within(millilitres, &GLASS_MILLILITRES)?;
    let strength = within(by_volume, &PER_CENT)?;
    Some(drink * strength / 100.0 * ETHANOL_GRAMS_PER_MILLILITRE)
}

#[cfg(test)]
mod tests {
    use super::alcohol_by_volume;
    use super::alcohol_by_weight;
    use super::alcohol_grams;
    use crate::brewing::attenuation::real_extract;
    use crate::brewing::gravity::Plato;

    fn by_weight(original: f64, apparent: f64) -> f64 {
        alcohol_by_weight(Plato::new(original), Plato::new(apparent)).expect("a real beer")
    }

    #[test]
    fn alcohol_per_apparent_fall_is_that_of_the_factor_table() {
        // Balling's alcohol factors f, A = f (OE - AE), as compiled by F. Eckhardt and F. Scheer.
        // 0.00012 covers the last printed digit and Balling's own rounding of the table.
        let printed = [
            (6.0, 0.4073),
            (7.0, 0.4091),
            (9.0, 0.4129),
            (11.0, 0.4168),
            (11.5, 0.4177),
            (12.0, 0.4187),
            (12.5, 0.4197),
            (13.5, 0.4216),
            (14.0, 0.4226),
            (15.0, 0.4246),
            (15.5, 0.4257),
            (16.0, 0.4267),
            (18.0, 0.4309),
            (19.0, 0.4330),
            (21.0, 0.4373),
            (22.0, 0.4395),
            (23.0, 0.4417),
            (25.0, 0.4462),
            (26.0, 0.4485),
            (27.0, 0.4508),
            (29.0, 0.4556),
        ];
        for (original, factor) in printed {
            let fall = 0.7 * original;
            let got = by_weight(original, original - fall) / fall;
            assert!(
                (got - factor).abs() < 0.000_12,
                "{original} °P: {got} against {factor}"
            );
        }
    }

    #[test]
    fn alcohol_per_attenuation_difference_is_that_of_the_old_table() {
        // Balling's 19th-century table B: alcohol % w/w for RE - AE = 1.000, by original extract.
        let printed = [
            (9.0, 2.216),
            (10.0, 2.218),
            (11.0, 2.220),
            (12.0, 2.223),
            (13.0, 2.226),
            (15.0, 2.232),
            (16.0, 2.235),
        ];
        for (original, alcohol) in printed {
            let apparent = 0.25 * original;
            let real =
                real_extract(Plato::new(original), Plato::new(apparent)).expect("a real beer");
            let got = by_weight(original, apparent) / (real.degrees() - apparent);
            assert!(
                (got - alcohol).abs() < 0.001,
                "{original} °P: {got} against {alcohol}"
            );
        }
    }

    #[test]
    fn alcohol_meets_the_measured_brews() {
        // Cutaia, Reid & Speers 2009 (J. Inst. Brew. 115:318-327), table III, set means: OE, AE, A.
        // Balling's formula is known to miss measured brews by up to 0.2 % w/w; the paper's own
        // regression, A = (0.372 + 0.00357 OE)(OE - AE), by less.
        for (original, apparent, alcohol) in [
            (14.08, 3.11, 4.72),
            (14.54, 2.53, 5.14),
            (11.34, 2.01, 3.82),
        ] {
            let got = by_weight(original, apparent);
            assert!(
                (got - alcohol).abs() < 0.2,
                "{original} °P: {got} against {alcohol}"
            );
        }
    }

    #[test]
    fn alcohol_is_that_worked_by_hand() {
        // Computed from the formulas, beside the tables above: OE, AE, % by weight, % by volume.
        for (original, apparent, weight, volume) in [
            (10.0, 2.5, 3.111, 3.97),
            (12.0, 3.0, 3.768, 4.82),
            (16.0, 4.0, 5.121, 6.58),
            (20.0, 5.0, 6.528, 8.42),
        ] {
            assert!((by_weight(original, apparent) - weight).abs() < 0.0006);
            let got = alcohol_by_volume(Plato::new(original), Plato::new(apparent));
            let got = got.expect("a real beer");
            assert!(
                (got - volume).abs() < 0.006,
                "{original} °P: {got} against {volume}"
            );
        }
    }

    #[test]
    fn alcohol_by_volume_is_near_the_rule_of_thumb() {
        // Common practice: ABV is about 131 (OG - FG); 12 °P is 1.048, 3 °P is 1.012.
        let got = alcohol_by_volume(Plato::new(12.0), Plato::new(3.0)).expect("a real beer");
        assert!((got - 131.0 * 0.036).abs() < 0.2, "{got}");
    }

    #[test]
    fn grams_in_a_glass_are_counted_as_standard_drinks_are() {
        // Kalinowski & Humphreys 2016 (Addiction 111:1293-1298): the most common standard drink
        // is 10 g, which common practice puts at 250 mL of 5 %; exactly 9.86 g at 0.789 g/mL.
        let got = alcohol_grams(250.0, 5.0).expect("in range");
        assert!((got - 9.8625).abs() < 1e-9, "{got}");
        // 40 mL at 5 %: two millilitres of ethanol at 0.789 g each.
        let sip = alcohol_grams(40.0, 5.0).expect("in range");
        assert!((sip - 1.578).abs() < 1e-9, "{sip}");
    }

    #[test]
    fn drinks_that_cannot_be_have_no_alcohol() {
        for (millilitres, strength) in [
            (-1.0, 5.0),
            (f64::NAN, 5.0),
            (1e308, 5.0),
            (250.0, 101.0),
            (250.0, f64::NAN),
        ] {
            assert_eq!(alcohol_grams(millilitres, strength), None);
        }
        for (original, apparent) in [(0.0, 0.0), (12.0, 13.0), (f64::NAN, 3.0), (1e308, 3.0)] {
            assert_eq!(
                alcohol_by_volume(Plato::new(original), Plato::new(apparent)),
                None
            );
        }
    }
}
