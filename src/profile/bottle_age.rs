//! What weeks in the bottle leave of each smell, by the temperature they were spent at.

use crate::domain::HopPart;

/// Weeks at which the units of the catalogue hold: a beer that has just become ready.
const READY_WEEKS: f64 = 3.0;

/// How much faster everything goes with 10 °C more (common practice: it doubles).
const PER_TEN_DEGREES: f64 = 2.0;

/// The temperature at which weeks are counted, °C.
const COUNTED_CELSIUS: f64 = 20.0;

/// So many weeks at a temperature, as weeks at 20 °C: twice as many for every 10 °C more (common practice).
#[must_use]
pub fn weeks_at_twenty(weeks: f64, celsius: f64) -> f64 {
    weeks.max(0.0) * PER_TEN_DEGREES.powf((celsius - COUNTED_CELSIUS) / 10.0)
}

/// What a part of a hop has left after so many weeks at 20 °C, as a multiple of what it has when ready.
///
/// Linalool is lost fast in the first two weeks and slowly after (Peacock & Deinzer 1988); myrcene goes into
/// the liner of the crown cap (the same); thiols bind and oxidise within months, the spice of the boil
/// lasts (sizes judgement).
#[must_use]
pub(super) fn hop_left(part: HopPart, weeks: f64) -> f64 {
    let left = |weeks: f64| match part {
        HopPart::Resinous => halved(weeks, 4.0),
        HopPart::Floral => 0.3 * halved(weeks, 1.0) + 0.7 * halved(weeks, 26.0),
        HopPart::Thiol => halved(weeks, 10.0),
        HopPart::Noble => halved(weeks, 52.0),
    };
    left(weeks) / left(READY_WEEKS)
}

/// What esters and other gifts of the yeast have left: half after a year (judgement; isoamyl acetate is
/// split again in storage).
#[must_use]
pub(super) fn yeast_left(weeks: f64) -> f64 {
    halved(weeks, 52.0) / halved(READY_WEEKS, 52.0)
}

/// The part of bitterness that tongues still meet: iso-alpha-acids lose a fifth to a quarter in half a year
/// at 20 °C (De Cooman et al. 2000, from memory), reckoned as half in 80 weeks.
#[must_use]
pub(super) fn bitterness_left(weeks: f64) -> f64 {
    halved(weeks, 80.0) / halved(READY_WEEKS, 80.0)
}

fn halved(weeks: f64, half_life: f64) -> f64 {
    0.5_f64.powf(weeks / half_life)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_week_at_thirty_degrees_is_two_in_a_room_and_four_in_a_cellar_are_two() {
        // Common practice: ageing doubles with 10 °C.
        assert!((weeks_at_twenty(1.0, 30.0) - 2.0).abs() < 1e-12);
        assert!((weeks_at_twenty(4.0, 10.0) - 2.0).abs() < 1e-12);
        assert!(weeks_at_twenty(-3.0, 20.0).abs() < 1e-12);
    }

    #[test]
    fn linalool_goes_fast_for_two_weeks_and_slowly_after() {
        // Peacock & Deinzer 1988, the direction; of two weeks each, the first lose more than the next.
        let left = |weeks| hop_left(HopPart::Floral, weeks);
        let (first, next) = (left(2.0) / left(0.0), left(4.0) / left(2.0));
        assert!(first < next && next < 1.0, "{first} {next}");
        // The catalogue's units are those of a beer that is ready.
        assert!((left(3.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn of_all_parts_resin_goes_first_and_spice_last() {
        let left = |part| hop_left(part, 26.0);
        assert!(left(HopPart::Resinous) < left(HopPart::Thiol));
        assert!(left(HopPart::Thiol) < left(HopPart::Floral));
        assert!(left(HopPart::Floral) < left(HopPart::Noble));
        // De Cooman et al. 2000, from memory: a fifth to a quarter of the bitterness in half a year.
        let lost = 1.0 - bitterness_left(26.0) / bitterness_left(0.0);
        assert!((0.18..=0.27).contains(&lost), "{lost}");
    }
}
