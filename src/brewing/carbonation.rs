//! Carbon dioxide dissolved in beer, and the pressure it keeps in a closed bottle.

use std::ops::RangeInclusive;

use crate::brewing::bounds::within;
use crate::brewing::gravity::SpecificGravity;

/// Temperatures beer is kept and fermented at, °C, from the freezing beer to a car in the sun.
const BEER_CELSIUS: RangeInclusive<f64> = -3.0..=60.0;

/// Carbon dioxide in volumes; beyond what a sack of sugar makes in a jug, so that no overdose goes
/// without a pressure and its caution.
pub(super) const VOLUMES: RangeInclusive<f64> = 0.0..=1e6;

/// Gravities of beers that may still ferment.
const BEER_GRAVITY: RangeInclusive<f64> = 0.98..=1.16;

/// Where the parabola for residual gas turns, °F: beyond it the fit says nothing.
const RESIDUAL_TURNS_FAHRENHEIT: f64 = 94.26;

/// Volumes of carbon dioxide from each unit of specific gravity still to fall: 0.5 for 0.001.
const VOLUMES_PER_GRAVITY: f64 = 500.0;

/// One atmosphere in pounds per square inch, and a pound per square inch in bar.
const ATMOSPHERE_PSI: f64 = 14.695;
const BAR_PER_PSI: f64 = 0.068_947_57;

/// Volumes of carbon dioxide left in a beer after fermentation in an open vessel.
///
/// Saturation at one atmosphere at the highest temperature since fermentation was active:
/// 3.0378 - 0.050062 T + 0.00026555 T², T in °F (common home-brewing fit). Other models differ by
/// 0.1 volumes. Above 34.6 °C the least value of the fit is kept, which is on the cautious side.
/// Domain: -3 to 60 °C; `None` outside.
#[must_use]
pub fn residual_volumes(highest_celsius: f64) -> Option<f64> {
    let fahrenheit = fahrenheit(within(highest_celsius, &BEER_CELSIUS)?);
    let fitted = fahrenheit.min(RESIDUAL_TURNS_FAHRENHEIT);
    Some(3.0378 - 0.050_062 * fitted + 0.000_265_55 * fitted * fitted)
}

/// Pressure in a closed bottle at rest, bar above the air outside.
///
/// deLange's fit of the ASBC Beer-13 table, solved for P:
/// `V = (P + 14.695)(0.01821 + 0.090115 e^(-(T - 32)/43.11)) - 0.003342`, P in psi and T in °F.
/// Below zero when the beer holds less gas than it would take up from an atmosphere of carbon
/// dioxide.
///
/// Domain: 0 to 1,000,000 volumes, -3 to 60 °C (the table ends near 27 °C); `None` outside.
#[must_use]
pub fn gauge_pressure_bar(volumes: f64, celsius: f64) -> Option<f64> {
    let dissolved = within(volumes, &VOLUMES)?;
    let fahrenheit = fahrenheit(within(celsius, &BEER_CELSIUS)?);
    let solubility = 0.018_21 + 0.090_115 * (-(fahrenheit - 32.0) / 43.11).exp();
    Some(((dissolved + 0.003_342) / solubility - ATMOSPHERE_PSI) * BAR_PER_PSI)
}

/// Volumes of carbon dioxide a beer will still make when it is closed in before its end.
///
/// Half a volume for each 0.001 the gravity has still to fall: about 2.1 g/L of real extract and
/// 0.97 g/L of carbon dioxide. 0 when the gravity is at or below its expected end.
/// Domain: gravities 0.98 to 1.16; `None` outside.
#[must_use]
pub fn volumes_from_unfinished(now: SpecificGravity, expected_end: SpecificGravity) -> Option<f64> {
    let fall = within(now.ratio(), &BEER_GRAVITY)? - within(expected_end.ratio(), &BEER_GRAVITY)?;
    Some(fall.max(0.0) * VOLUMES_PER_GRAVITY)
}

fn fahrenheit(celsius: f64) -> f64 {
    celsius * 1.8 + 32.0
}

#[cfg(test)]
mod tests {
    use super::BAR_PER_PSI;
    use super::SpecificGravity;
    use super::gauge_pressure_bar;
    use super::residual_volumes;
    use super::volumes_from_unfinished;
    use crate::brewing::attenuation::real_extract;
    use crate::brewing::gravity::Plato;

    /// Printed force-carbonation chart (brewery library table, from an older brewing chart): °F,
    /// then psi at 2.0 to 3.0 volumes in steps of 0.1.
    const PRINTED_PSI: [(f64, [f64; 11]); 11] = [
        (
            32.0,
            [3.5, 4.4, 5.4, 6.3, 7.3, 8.2, 9.2, 10.1, 11.0, 12.0, 12.9],
        ),
        (
            36.0,
            [5.1, 6.2, 7.2, 8.2, 9.2, 10.2, 11.2, 12.3, 13.3, 14.3, 15.3],
        ),
        (
            38.0,
            [6.0, 7.0, 8.1, 9.1, 10.2, 11.2, 12.3, 13.3, 14.4, 15.4, 16.5],
        ),
        (
            40.0,
            [
                6.8, 7.9, 9.0, 10.1, 11.2, 12.3, 13.4, 14.4, 15.5, 16.6, 17.7,
            ],
        ),
        (
            44.0,
            [
                8.6, 9.7, 10.9, 12.1, 13.2, 14.4, 15.5, 16.7, 17.8, 19.0, 20.1,
            ],
        ),
        (
            50.0,
            [
                11.3, 12.5, 13.8, 15.0, 16.3, 17.6, 18.8, 20.1, 21.3, 22.6, 23.8,
            ],
        ),
        (
            56.0,
            [
                14.0, 15.4, 16.7, 18.1, 19.5, 20.8, 22.2, 23.6, 24.9, 26.3, 27.6,
            ],
        ),
        (
            62.0,
            [
                16.9, 18.3, 19.8, 21.3, 22.7, 24.2, 25.7, 27.1, 28.6, 30.0, 31.5,
            ],
        ),
        (
            68.0,
            [
                19.8, 21.4, 22.9, 24.5, 26.1, 27.6, 29.2, 30.8, 32.4, 33.9, 35.5,
            ],
        ),
        (
            74.0,
            [
                22.8, 24.5, 26.2, 27.8, 29.5, 31.2, 32.9, 34.5, 36.2, 37.9, 39.5,
            ],
        ),
        (
            80.0,
            [
                25.9, 27.7, 29.5, 31.2, 33.0, 34.8, 36.6, 38.3, 40.1, 41.9, 43.7,
            ],
        ),
    ];

    fn celsius(fahrenheit: f64) -> f64 {
        (fahrenheit - 32.0) / 1.8
    }

    fn bar(volumes: f64, celsius: f64) -> f64 {
        gauge_pressure_bar(volumes, celsius).expect("in range")
    }

    #[test]
    fn pressure_is_near_the_printed_chart() {
        // The two part by up to 4.4 psi (a tenth) at 80 °F, where deLange's is the higher and so
        // the cautious one; from 32 to 50 °F, where both rest on measurements, by a third of a psi.
        for (fahrenheit, row) in PRINTED_PSI {
            for (tenth, psi) in (20..).zip(row) {
                let volumes = f64::from(tenth) / 10.0;
                let got = bar(volumes, celsius(fahrenheit)) / BAR_PER_PSI;
                let allowed = if fahrenheit <= 50.0 {
                    -0.35..=0.35
                } else {
                    -0.05..=4.45
                };
                let miss = got - psi;
                assert!(
                    allowed.contains(&miss),
                    "{volumes} at {fahrenheit} °F: {got} against {psi}"
                );
            }
        }
    }

    #[test]
    fn three_volumes_have_the_pressures_printed_for_cider() {
        // A published cider-making source: 3 volumes are 0.883 bar at 0 °C, 1.98 at 15, 2.43 at 20.
        // deLange gives up to 7 % more at 20 °C, the cautious side; 0.18 bar covers that.
        for (celsius, printed) in [(0.0, 0.883), (15.0, 1.98), (20.0, 2.43)] {
            let got = bar(3.0, celsius);
            assert!(
                (got - printed).abs() < 0.18,
                "{celsius} °C: {got} against {printed}"
            );
        }
    }

    #[test]
    fn bottle_pressure_is_that_worked_by_hand() {
        // Computed from deLange's fit, beside the two printed tables above.
        for (volumes, row) in [
            (2.5, [0.81, 1.21, 2.00, 2.44, 2.91, 3.89]),
            (3.0, [1.18, 1.66, 2.60, 3.13, 3.70, 4.87]),
            (4.0, [1.91, 2.55, 3.80, 4.51, 5.27, 6.83]),
        ] {
            for (celsius, pressure) in [4.0, 10.0, 20.0, 25.0, 30.0, 40.0].into_iter().zip(row) {
                let got = bar(volumes, celsius);
                assert!(
                    (got - pressure).abs() < 0.006,
                    "{volumes} at {celsius} °C: {got}"
                );
            }
        }
    }

    #[test]
    fn residual_gas_is_that_of_the_published_table() {
        // Draper, published home-brewing table of residual volumes by temperature.
        for (celsius, volumes) in [
            (0.0, 1.70),
            (4.0, 1.50),
            (8.0, 1.30),
            (12.0, 1.12),
            (16.0, 0.99),
            (20.0, 0.88),
        ] {
            let got = residual_volumes(celsius).expect("in range");
            // Fit and table part by up to 0.02.
            assert!(
                (got - volumes).abs() <= 0.02,
                "{celsius} °C: {got} against {volumes}"
            );
        }
    }

    #[test]
    fn residual_gas_never_rises_with_warmth() {
        let along: Vec<f64> = (-3..=60)
            .map(|celsius| residual_volumes(f64::from(celsius)).expect("in range"))
            .collect();
        assert!(along.windows(2).all(|pair| pair[1] <= pair[0]));
        assert!(along.iter().all(|volumes| *volumes > 0.0));
    }

    #[test]
    fn unfinished_fermentation_makes_the_gas_printed_for_cider() {
        // A published cider-making source: 0.005 of gravity is 12 g/L of sugar, 6 g/L of gas and
        // 3 volumes, rounded; half a volume for 0.001 gives 2.5. A fifth covers the rounding.
        let fall = |now, end| {
            let gravity = SpecificGravity::new;
            volumes_from_unfinished(gravity(now), gravity(end)).expect("in range")
        };
        assert!((fall(1.015, 1.010) / 3.0 - 1.0).abs() < 0.2);
        assert!(fall(1.009, 1.010).abs() < f64::EPSILON);
    }

    #[test]
    fn gas_that_cannot_be_has_no_pressure() {
        for (volumes, celsius) in [
            (-1.0, 20.0),
            (f64::NAN, 20.0),
            (1e308, 20.0),
            (2.5, f64::NAN),
            (2.5, -40.0),
            (2.5, 1e308),
        ] {
            assert_eq!(gauge_pressure_bar(volumes, celsius), None);
        }
        for nonsense in [f64::NAN, -40.0, 200.0] {
            assert_eq!(residual_volumes(nonsense), None);
        }
        let (nonsense, fine) = (SpecificGravity::new(48.0), SpecificGravity::new(1.01));
        assert_eq!(volumes_from_unfinished(nonsense, fine), None);
        assert_eq!(
            volumes_from_unfinished(fine, SpecificGravity::new(f64::NAN)),
            None
        );
    }

    #[test]
    fn gas_at_the_pressure_of_the_air_is_that_of_two_other_formulas() {
        // C = (p + 1.013) e^(-10.73797 + 2617.25 / (t + 273.15)) 10 g/L, p in bar and t in °C, a
        // brewers' formula; 1.977 g/L are a volume. Within 0.03 volumes of deLange from 0 to 30 °C
        // at the pressure of the air, and 3.5 % up to 2.5 bar (computed).
        let brewers = |bar: f64, celsius: f64| {
            (bar + 1.013) * (-10.737_97 + 2617.25 / (celsius + 273.15)).exp() * 10.0 / 1.977
        };
        for step in 0..=6 {
            let celsius = 5.0 * f64::from(step);
            let solubility = (bar(2.0, celsius) - bar(1.0, celsius)).recip();
            let ours = |gauge: f64| 1.0 + (gauge - bar(1.0, celsius)) * solubility;
            assert!(
                (brewers(0.0, celsius) - ours(0.0)).abs() < 0.03,
                "{celsius} °C"
            );
            for gauge in [0.5, 1.0, 1.5, 2.0, 2.5] {
                let miss = brewers(gauge, celsius) / ours(gauge) - 1.0;
                assert!(miss.abs() < 0.035, "{gauge} bar at {celsius} °C: {miss}");
            }
        }
    }

    #[test]
    fn two_models_of_residual_gas_stay_a_tenth_apart() {
        // deLange's fit at no pressure holds 1.59 volumes at 0 °C and 0.84 at 20 (computed by hand);
        // the table of residual gas has 0.1 more, for its zero is another: models differ by that.
        for (celsius, volumes) in [(0.0, 1.59), (20.0, 0.84)] {
            // 0.005 volumes of rounding are 0.006 bar at 20 °C.
            assert!(bar(volumes, celsius).abs() < 0.007, "{celsius} °C");
        }
        for celsius in [0.0, 4.0, 8.0, 12.0, 16.0, 20.0] {
            let solubility = (bar(2.0, celsius) - bar(1.0, celsius)).recip();
            let at_rest = 1.0 - bar(1.0, celsius) * solubility;
            let residual = residual_volumes(celsius).expect("in range");
            assert!((0.0..0.125).contains(&(residual - at_rest)), "{celsius} °C");
        }
    }

    #[test]
    fn a_thousandth_of_gravity_is_half_a_volume_by_its_extract() {
        // Computed by hand: 0.001 of gravity is some 2.1 g/L of real extract and, by Balling's
        // 0.9565 / 2.0665, 0.97 g/L of gas; 1.977 g/L are a volume. 5 % covers beers of 10 to 16 °P.
        let original = Plato::new(12.0);
        let grams_per_litre = |ratio: f64| {
            let apparent = SpecificGravity::new(ratio).plato().expect("in range");
            let real = real_extract(original, apparent).expect("a real beer");
            10.0 * real.degrees() * ratio * 0.9982
        };
        let fallen = grams_per_litre(1.013) - grams_per_litre(1.012);
        assert!((fallen / 2.1 - 1.0).abs() < 0.05, "{fallen}");
        let volumes = fallen * 0.9565 / 2.0665 / 1.977;
        let now = SpecificGravity::new(1.013);
        let got = volumes_from_unfinished(now, SpecificGravity::new(1.012)).expect("in range");
        assert!(
            (got / volumes - 1.0).abs() < 0.05,
            "{got} against {volumes}"
        );
    }

    #[test]
    fn an_overdose_however_absurd_still_has_a_pressure() {
        assert!(bar(50_000.0, 20.0) > bar(50.0, 20.0));
    }
}
