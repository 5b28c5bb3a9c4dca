//! The food energy of a beer.

use crate::brewing::alcohol::alcohol_by_weight;
use crate::brewing::attenuation::real_extract;
use crate::brewing::gravity::Plato;

/// Kilocalories in a gram of alcohol and in a gram of extract (ASBC Beer-33).
const ALCOHOL_KILOCALORIES: f64 = 6.9;
const EXTRACT_KILOCALORIES: f64 = 4.0;

/// Minerals of an ordinary beer, % w/w: counted as extract, but no food (ASBC Beer-33).
const ASH: f64 = 0.1;

/// Kilocalories in 100 mL of beer: (6.9 A + 4.0 (RE - 0.1)) · SG, with A and RE in per cent by weight
/// and the beer's own gravity (ASBC Beer-33). One kilocalorie is 4.184 kJ.
///
/// Takes the original and the apparent extract. Domain as of [`real_extract`]; `None` outside.
#[must_use]
pub fn energy_kilocalories(original: Plato, apparent: Plato) -> Option<f64> {
    let alcohol = alcohol_by_weight(original, apparent)?;
    let eaten = (real_extract(original, apparent)?.degrees() - ASH).max(0.0);
    let by_weight = ALCOHOL_KILOCALORIES * alcohol + EXTRACT_KILOCALORIES * eaten;
    Some(by_weight * apparent.specific_gravity()?.ratio())
}

#[cfg(test)]
mod tests {
    use super::energy_kilocalories;
    use crate::brewing::alcohol::alcohol_by_weight;
    use crate::brewing::attenuation::real_extract;
    use crate::brewing::gravity::Plato;

    /// Original extract, then kilocalories in 100 mL and in 12 US fluid ounces (355 mL), for beers
    /// that fermented three quarters of it: computed by hand from the formula.
    const WORKED: [(f64, f64, f64); 4] = [
        (10.0, 37.04, 131.5),
        (12.0, 44.90, 159.4),
        (16.0, 61.04, 216.7),
        (20.0, 77.75, 276.0),
    ];

    fn energy(original: f64, apparent: f64) -> f64 {
        energy_kilocalories(Plato::new(original), Plato::new(apparent)).expect("a real beer")
    }

    #[test]
    fn energy_is_that_worked_by_hand() {
        for (original, in_100_ml, in_355_ml) in WORKED {
            let got = energy(original, 0.25 * original);
            assert!((got - in_100_ml).abs() < 0.006, "{original} °P: {got}");
            assert!(
                (3.55 * got - in_355_ml).abs() < 0.06,
                "{original} °P: {got}"
            );
        }
    }

    #[test]
    fn energy_has_the_printed_coefficients_of_a_bottle() {
        // Fix prints 24.495 kcal for each per cent of alcohol and 14.2 for each of extract in
        // 12 fl oz: 3.55 times 6.9 and 4.
        for original in [10.0, 16.0] {
            let (start, end) = (Plato::new(original), Plato::new(0.25 * original));
            let alcohol = alcohol_by_weight(start, end).expect("a real beer");
            let real = real_extract(start, end).expect("a real beer").degrees();
            let gravity = end.specific_gravity().expect("in range").ratio();
            let printed = (24.495 * alcohol + 14.2 * (real - 0.1)) * gravity;
            let got = 3.55 * energy(original, 0.25 * original);
            assert!((got - printed).abs() < 1e-9, "{got} against {printed}");
        }
    }

    #[test]
    fn water_that_was_sugar_has_no_less_than_its_alcohol() {
        // Nothing of the extract is left in sugar that fermented whole: no energy below zero for it.
        let dry = energy(10.0, -2.3);
        let alcohol = alcohol_by_weight(Plato::new(10.0), Plato::new(-2.3)).expect("a real beer");
        assert!(dry > 6.8 * alcohol * 0.98, "{dry}");
    }

    #[test]
    fn beers_that_cannot_be_have_no_energy() {
        for (original, apparent) in [(0.0, 0.0), (12.0, 13.0), (f64::NAN, 3.0), (1e308, 3.0)] {
            let (original, apparent) = (Plato::new(original), Plato::new(apparent));
            assert_eq!(energy_kilocalories(original, apparent), None);
        }
    }
}
