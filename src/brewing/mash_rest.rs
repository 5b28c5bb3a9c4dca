//! What the temperature of the mash leaves for the yeast.

use std::ops::RangeInclusive;

use crate::brewing::bounds::within;

/// Rests at which starch is turned into sugar at all, °C.
const REST_CELSIUS: RangeInclusive<f64> = 55.0..=80.0;

/// The rest for which yeasts are described, °C: up to here nearly all is fermentable.
const FERMENTABLE_UP_TO: f64 = 65.0;

/// How far apparent attenuation falls with each degree above, as a fraction of 1.
const LOST_A_DEGREE: f64 = 0.015;

/// The rest that a maker's figure for a yeast supposes where nobody says, °C.
const SUPPOSED: f64 = 66.0;

/// How much further (above 0) or less far apparent attenuation goes after a rest at a temperature, as a
/// fraction of 1, than after the usual one at 66 °C.
///
/// Two to four per cent less for every two degrees above 65 °C, in the middle 1.5 a degree; colder rests
/// win nothing more (brewers' rule; Palmer 2017, How to Brew, chapter 16, from memory).
/// `None` where no mash turns starch into sugar.
#[must_use]
pub fn attenuation_shift(celsius: f64) -> Option<f64> {
    let rest = within(celsius, &REST_CELSIUS)?;
    let above = |at: f64| (at - FERMENTABLE_UP_TO).max(0.0);
    Some(LOST_A_DEGREE * (above(SUPPOSED) - above(rest)))
}

/// Minutes of rest that a figure for a yeast supposes.
const SUPPOSED_MINUTES: f64 = 60.0;

/// How far apparent attenuation rises with each doubling of the rest, as a fraction of 1, and where that
/// ends: starch is turned in the first half hour, dextrins go on being cut for two (common practice; size
/// judgement).
const A_DOUBLING: f64 = 0.015;
const DOUBLINGS: f64 = 1.0;

/// Rests of a mash, minutes.
const REST_MINUTES: RangeInclusive<f64> = 1.0..=1440.0;

/// How much further apparent attenuation goes after so many minutes of rest than after an hour, as a fraction
/// of 1. `None` outside 1 to 1,440 minutes.
#[must_use]
pub fn rest_time_shift(minutes: f64) -> Option<f64> {
    let doublings = (within(minutes, &REST_MINUTES)? / SUPPOSED_MINUTES).log2();
    Some(A_DOUBLING * doublings.clamp(-2.0 * DOUBLINGS, DOUBLINGS))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_longer_rest_ferments_further_up_to_two_hours() {
        // Common practice: long rests dry a beer out, short ones leave it sweeter.
        assert!(rest_time_shift(60.0).unwrap().abs() < 1e-12);
        assert!(rest_time_shift(90.0).unwrap() > 0.0);
        assert!(rest_time_shift(30.0).unwrap() < 0.0);
        assert_eq!(rest_time_shift(120.0), rest_time_shift(600.0));
        assert_eq!(rest_time_shift(f64::NAN), None);
    }

    #[test]
    fn two_degrees_hotter_leave_two_to_four_per_cent_more() {
        // Brewers' rule: −2 to −4 % apparent attenuation for every +2 °C above 65 °C (common practice).
        let lost = attenuation_shift(66.0).unwrap() - attenuation_shift(68.0).unwrap();
        assert!((0.02..=0.04).contains(&lost), "{lost}");
        assert!(attenuation_shift(66.0).unwrap().abs() < 1e-12);
    }

    #[test]
    fn below_65_nothing_more_is_won_and_outside_a_mash_nothing_is_said() {
        assert_eq!(attenuation_shift(62.0), attenuation_shift(65.0));
        assert_eq!(attenuation_shift(90.0), None);
        assert_eq!(attenuation_shift(f64::NAN), None);
    }
}
