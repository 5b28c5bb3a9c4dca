//! What of a hop's oil gets into the beer.

use std::ops::RangeInclusive;

use crate::brewing::bounds::FRACTION;
use crate::brewing::bounds::within;

/// Doses of hops, g/L.
const DOSE: RangeInclusive<f64> = 0.0..=1_000.0;

/// Oil in hops, mL in 100 g.
const OIL: RangeInclusive<f64> = 0.0..=10.0;

/// Grams in a millilitre of hop oil.
const OIL_DENSITY: f64 = 0.87;

/// The concentration of one part of the oil in the beer, µg/L:
/// dose × oil/100 × fraction × 0.87 × 10⁶ × transfer, with the dose in g/L, the oil in mL in 100 g, the
/// part as a fraction of the oil, and the fraction of it that gets into the beer and stays.
///
/// Domain: 0 to 1,000 g/L, 0 to 10 mL in 100 g; `None` outside.
#[must_use]
pub fn oil_micrograms(dose: f64, oil: f64, fraction: f64, transfer: f64) -> Option<f64> {
    let hops = within(dose, &DOSE)? * within(oil, &OIL)? / 100.0;
    let part = within(fraction, &FRACTION)? * within(transfer, &FRACTION)?;
    Some(hops * part * OIL_DENSITY * 1e6)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dry_hop_brings_its_worked_amount_of_linalool() {
        // By hand: 5 g/L with 1.5 mL in 100 g, 0.6 % of it linalool, all of it kept:
        // 5 × 0.015 × 0.006 × 870,000 = 391.5 µg/L.
        let linalool = oil_micrograms(5.0, 1.5, 0.006, 1.0).unwrap();
        assert!((linalool - 391.5).abs() < 1e-9, "{linalool}");
    }

    #[test]
    fn hops_that_cannot_be_bring_nothing() {
        for (dose, oil, fraction, transfer) in [
            (f64::NAN, 1.0, 0.5, 1.0),
            (1e308, 1.0, 0.5, 1.0),
            (5.0, 50.0, 0.5, 1.0),
            (5.0, 1.0, 1.5, 1.0),
            (5.0, 1.0, 0.5, -1.0),
        ] {
            assert_eq!(oil_micrograms(dose, oil, fraction, transfer), None);
        }
    }
}
