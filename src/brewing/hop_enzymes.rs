//! The gas that enzymes of dry hops may still free in a closed bottle.

use std::ops::RangeInclusive;

use crate::brewing::bounds::within;

/// Dry hops in a litre of beer, g.
const DOSE: RangeInclusive<f64> = 0.0..=1_000.0;

/// Days that hops lay in the beer.
const DAYS: RangeInclusive<f64> = 0.0..=3_650.0;

/// Degrees Plato of apparent extract that a gram of dry hops in a litre takes away at last: 1.9 °P in 40 days
/// with 20 g/L at 20 °C (Kirkpatrick & Shellhammer 2018, J. Am. Soc. Brew. Chem., from memory).
const PLATO_PER_GRAM: f64 = 1.9 / 20.0;

/// Gravity points of a degree Plato, and volumes of gas of a point (half a volume for 0.001).
const POINTS_PER_PLATO: f64 = 4.0;
const VOLUMES_PER_POINT: f64 = 0.5;

/// Days in which all but 37 % of that has happened: 40 days are nearly all (judgement).
const SLOWNESS_DAYS: f64 = 15.0;

/// The most that there are dextrins for in an ordinary beer, volumes (judgement).
const MOST_VOLUMES: f64 = 4.0;

/// Volumes of carbon dioxide that may still come in the bottle after so many grams of dry hops in a litre, if
/// the beer stood on them, warm and with its yeast, for so many days before it was closed in.
///
/// Domain: 0 to 1,000 g/L, 0 to 3,650 days; `None` outside.
#[must_use]
pub fn volumes_from_hop_enzymes(grams_per_litre: f64, days_before: f64) -> Option<f64> {
    let plato = PLATO_PER_GRAM * within(grams_per_litre, &DOSE)?;
    let left = (-within(days_before, &DAYS)? / SLOWNESS_DAYS).exp();
    let all = (plato * POINTS_PER_PLATO * VOLUMES_PER_POINT).min(MOST_VOLUMES);
    Some(all * left)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twenty_grams_in_a_litre_free_the_gas_of_two_degrees_plato() {
        // Kirkpatrick & Shellhammer 2018, from memory: 1.9 °P with 20 g/L; by hand 1.9 × 4 × 0.5 = 3.8 vol.
        let all = volumes_from_hop_enzymes(20.0, 0.0).unwrap();
        assert!((all - 3.8).abs() < 1e-9, "{all}");
        // 5 g/L after 15 days: 0.95 × e^-1 = 0.349.
        let some = volumes_from_hop_enzymes(5.0, 15.0).unwrap();
        assert!((some - 0.349).abs() < 1e-3, "{some}");
        assert!(volumes_from_hop_enzymes(0.0, 0.0).unwrap().abs() < 1e-12);
    }

    #[test]
    fn nonsense_frees_nothing() {
        for (dose, days) in [(f64::NAN, 3.0), (1e308, 3.0), (-1.0, 3.0), (5.0, -1.0)] {
            assert_eq!(volumes_from_hop_enzymes(dose, days), None);
        }
    }
}
