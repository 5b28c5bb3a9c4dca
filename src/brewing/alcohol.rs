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

    #[test]
    fn original_extract_is_found_again_from_alcohol_and_real_extract() {
        // Balling turned round: OE = 100 (2.0665 A + RE) / (100 + 1.0665 A). With the measured A and
        // RE of Cutaia, Reid & Speers 2009 it gives (computed by hand) 14.31, 14.70 and 11.24 °P,
        // where 14.08, 14.54 and 11.34 were measured: real brews stray that far.
        for (alcohol, real, worked) in [
            (4.72, 5.28, 14.31),
            (5.14, 4.88, 14.70),
            (3.82, 3.80, 11.24),
        ] {
            let original: f64 = 100.0 * (2.0665 * alcohol + real) / (100.0 + 1.0665 * alcohol);
            assert!((original - worked).abs() < 0.006, "{original}");
            let quotient = 0.22 + 0.001 * original;
            let apparent = real * (1.0 + quotient) - quotient * original;
            let got = by_weight(original, apparent);
            assert!((got - alcohol).abs() < 1e-9, "{got} against {alcohol}");
        }
    }

    #[test]
    fn alcohol_is_near_the_published_regression() {
        // Cutaia, Reid & Speers 2009, regression on 532 brews: A = (0.372 + 0.00357 OE)(OE - AE). It
        // parts from Balling by 2.6 % of the alcohol at 8 °P, 0.6 at 16 and 1.9 at 20 (computed).
        for (original, parts) in [
            (8.0, -0.0255),
            (12.0, -0.0093),
            (16.0, 0.0055),
            (20.0, 0.0189),
        ] {
            let fall = 0.75 * original;
            let regression = (0.372 + 0.003_57 * original) * fall;
            let miss = regression / by_weight(original, original - fall) - 1.0;
            assert!((miss - parts).abs() < 0.000_1, "{original} °P: {miss}");
        }
    }

    #[test]
    fn alcohol_is_that_of_the_older_brewing_values() {
        // Pawlowski and Doemens: alcohol for one degree of apparent fall a = 0.395 + 0.0021 OE, of
        // real fall b = 0.481 + 0.0030 OE, of attenuation difference c = 2.19 + 0.0031 OE; straight
        // lines within half a per cent of Balling's curves (computed).
        for original in [8.0, 12.0, 16.0, 20.0] {
            let apparent = 0.25 * original;
            let real =
                real_extract(Plato::new(original), Plato::new(apparent)).expect("a real beer");
            let alcohol = by_weight(original, apparent);
            for (fall, printed) in [
                (original - apparent, 0.395 + 0.0021 * original),
                (original - real.degrees(), 0.481 + 0.0030 * original),
                (real.degrees() - apparent, 2.19 + 0.0031 * original),
            ] {
                let miss = printed * fall / alcohol - 1.0;
                assert!(miss.abs() < 0.005, "{original} °P: {miss}");
            }
        }
    }

    #[test]
    fn the_shortcut_of_the_real_extract_makes_more_alcohol() {
        // RE = 0.1808 OE + 0.8192 AE instead of the exact quotient gives a factor of .4226 at 12 °P
        // (computed) where Balling's printed table has .4187.
        let shortcut: f64 = 0.8192 * 9.0 / (2.0665 - 0.010_665 * 12.0) / 9.0;
        assert!((shortcut - 0.4226).abs() < 0.000_06);
        assert!((by_weight(12.0, 3.0) / 9.0 - 0.4187).abs() < 0.000_12);
    }

    #[test]
    fn alcohol_is_below_halls_by_what_is_known_of_his() {
        // Hall 1995 (Zymurgy 18(2), from memory): ABW = 76.08 (OG - FG) / (1.775 - OG), and
        // ABV = ABW FG / 0.794 at 60 °F. Computed from printed gravities: 3.133, 3.836, 5.332 and
        // 6.959, which is 0.7 to 6.6 % more than Balling, more with gravity.
        let gravity = |degrees: f64| {
            let gravity = Plato::new(degrees).specific_gravity().expect("in range");
            gravity.ratio()
        };
        for (original, worked, more) in [
            (10.0, 3.133, 0.007),
            (12.0, 3.836, 0.018),
            (16.0, 5.332, 0.041),
            (20.0, 6.959, 0.066),
        ] {
            let apparent = 0.25 * original;
            let (start, end) = (gravity(original), gravity(apparent));
            let hall = 76.08 * (start - end) / (1.775 - start);
            assert!((hall - worked).abs() < 0.000_6, "{original} °P: {hall}");
            let got = by_weight(original, apparent);
            assert!(
                (hall / got - 1.0 - more).abs() < 0.000_6,
                "{original} °P: {got}"
            );
            // The same beer at 60 °F: 0.79066 against 0.794, four parts in a thousand.
            let ours = alcohol_by_volume(Plato::new(original), Plato::new(apparent));
            let older = got * end / 0.794;
            let ratio = ours.expect("a real beer") / older;
            assert!((ratio - 1.0042).abs() < 0.000_1, "{ratio}");
        }
    }

    #[test]
    fn the_gravities_of_the_worked_beers_are_those_worked_by_hand() {
        // Computed by hand from the cubic: OE, AE, OG, FG.
        for (original, start, end) in [
            (10.0, 1.0400, 1.0098),
            (12.0, 1.0484, 1.0117),
            (16.0, 1.0654, 1.0157),
            (20.0, 1.0830, 1.0197),
        ] {
            for (degrees, printed) in [(original, start), (0.25 * original, end)] {
                let got = Plato::new(degrees).specific_gravity().expect("in range");
                assert!((got.ratio() - printed).abs() < 0.000_06, "{degrees} °P");
            }
        }
    }

    #[test]
    fn the_rules_of_thumb_lie_round_the_alcohol() {
        // Common practice: 131 (OG - FG), 125 · 1.05 (OG - FG), 1000 (OG - FG) / 7.5. All lie within
        // 0.15 % vol of ours up to 20 °P (computed).
        for (original, start, end) in [
            (10.0, 1.0400, 1.0098),
            (12.0, 1.0484, 1.0117),
            (16.0, 1.0654, 1.0157),
            (20.0, 1.0830, 1.0197),
        ] {
            let got = alcohol_by_volume(Plato::new(original), Plato::new(0.25 * original));
            let got = got.expect("a real beer");
            for rule in [131.0, 125.0 * 1.05, 1000.0 / 7.5] {
                let thumb = rule * (start - end);
                assert!((thumb - got).abs() < 0.15, "{original} °P: {thumb}");
            }
        }
    }
}
