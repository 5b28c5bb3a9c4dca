//! Degrees Plato and specific gravity, and the way from one to the other.

use std::ops::RangeInclusive;

use crate::brewing::bounds::within;

/// Specific gravities the conversion is solved over: beer dried out by sugar at the bottom,
/// the strongest wort a kettle gives at the top.
const GRAVITY_RANGE: RangeInclusive<f64> = 0.98..=1.16;

/// Halvings of the bracket: 0.18 / 2^60 is below the spacing of `f64` near 1.
const HALVINGS: u32 = 60;

/// Extract in grams per 100 g of liquid, as a hydrometer in degrees Plato shows it.
///
/// Carries original, apparent and real extract alike; apparent extract may be negative.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Plato(f64);

impl Plato {
    /// Extract of so many degrees Plato (g per 100 g).
    #[must_use]
    pub const fn new(degrees: f64) -> Self {
        Self(degrees)
    }

    /// Degrees Plato (g per 100 g).
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }

    /// The specific gravity whose extract this is: the ASBC cubic solved by bisection.
    ///
    /// Domain: about -5.2 to 36.2 °P, the cubic's values at 0.98 and 1.16; `None` outside.
    #[must_use]
    pub fn specific_gravity(self) -> Option<SpecificGravity> {
        gravity_at(asbc_cubic, self.0)
    }
}

/// Density over that of water, both at 20 °C.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct SpecificGravity(f64);

impl SpecificGravity {
    /// A specific gravity 20/20 °C such as 1.048.
    #[must_use]
    pub const fn new(ratio: f64) -> Self {
        Self(ratio)
    }

    /// The ratio itself, such as 1.048.
    #[must_use]
    pub const fn ratio(self) -> f64 {
        self.0
    }

    /// Thousandths above water: 1.048 has 48 points.
    #[must_use]
    pub fn points(self) -> f64 {
        (self.0 - 1.0) * 1000.0
    }

    /// Extract by the ASBC cubic fit to its table 1 (coefficients from memory, as commonly printed).
    ///
    /// Domain: 0.98 to 1.16; `None` outside.
    #[must_use]
    pub fn plato(self) -> Option<Plato> {
        within(self.0, &GRAVITY_RANGE).map(|ratio| Plato(asbc_cubic(ratio)))
    }
}

/// P = -616.868 + 1111.14 SG - 630.272 SG² + 135.997 SG³.
fn asbc_cubic(ratio: f64) -> f64 {
    ((135.997 * ratio - 630.272) * ratio + 1111.14) * ratio - 616.868
}

/// The specific gravity at which a quantity that rises with it reaches a target, by bisection;
/// `None` when it does not in the solved range.
pub(super) fn gravity_at(rising: impl Fn(f64) -> f64, target: f64) -> Option<SpecificGravity> {
    let (mut low, mut high) = (*GRAVITY_RANGE.start(), *GRAVITY_RANGE.end());
    within(target, &(rising(low)..=rising(high)))?;
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(low, high);
        if rising(middle) < target {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(SpecificGravity(f64::midpoint(low, high)))
}

/// Extract per unit of volume over that of pure water, °P times SG: what a mass balance solves for.
pub(super) fn extract_density(ratio: f64) -> f64 {
    asbc_cubic(ratio) * ratio
}

#[cfg(test)]
mod tests {
    use proptest::prelude::proptest;
    use proptest::prop_assert;

    use super::Plato;
    use super::SpecificGravity;

    fn plato_of(ratio: f64) -> f64 {
        SpecificGravity::new(ratio)
            .plato()
            .expect("in range")
            .degrees()
    }

    fn points_of(degrees: f64) -> f64 {
        Plato::new(degrees)
            .specific_gravity()
            .expect("in range")
            .points()
    }

    /// Degrees Plato and points of the printed conversion table (a published home-brewing table).
    const WHOLE_POINTS: [(f64, f64); 22] = [
        (0.0, 0.0),
        (1.0, 4.0),
        (2.0, 8.0),
        (4.0, 16.0),
        (5.0, 20.0),
        (6.0, 24.0),
        (8.0, 32.0),
        (9.0, 36.0),
        (10.0, 40.0),
        (12.0, 48.0),
        (13.0, 53.0),
        (15.0, 61.0),
        (16.0, 65.0),
        (17.0, 70.0),
        (18.0, 74.0),
        (20.0, 83.0),
        (21.0, 87.0),
        (23.0, 96.0),
        (24.0, 101.0),
        (25.0, 105.0),
        (27.0, 115.0),
        (30.0, 129.0),
    ];

    #[test]
    fn plato_gives_the_points_of_the_printed_conversion_table() {
        // Plato to gravity points, whole numbers as printed in a published home-brewing table.
        // The print is rounded to one point from another fit, good to 0.1 point below 19 °P and
        // 1 point at 30 °P by its own statement: half a point of rounding plus that.
        for (degrees, points) in WHOLE_POINTS {
            let stated = if degrees < 19.0 { 0.1 } else { 1.0 };
            let got = points_of(degrees);
            assert!(
                (got - points).abs() <= 0.5 + stated,
                "{degrees} °P: {got} against {points}"
            );
        }
    }

    #[test]
    fn the_cubic_agrees_with_the_quadratic_of_de_clerck() {
        // De Clerck, A Textbook of Brewing (1957): P = 668.72 SG - 463.37 - 205.347 SG². Two fits
        // of one table to 25 °P, each good to some hundredths: 0.02 °P apart at most.
        for step in 0..=10 {
            let ratio = 1.0 + 0.01 * f64::from(step);
            let de_clerck = 668.72 * ratio - 463.37 - 205.347 * ratio * ratio;
            assert!((plato_of(ratio) - de_clerck).abs() < 0.02, "{ratio}");
        }
    }

    #[test]
    fn the_cubic_gives_its_computed_values() {
        // Computed by hand from the published coefficients; the checks above are the published ones.
        let computed = [
            (1.010, 2.561),
            (1.020, 5.081),
            (1.040, 9.994),
            (1.050, 12.388),
            (1.070, 17.056),
            (1.090, 21.568),
            (1.100, 23.769),
        ];
        for (ratio, degrees) in computed {
            assert!((plato_of(ratio) - degrees).abs() < 0.0006, "{ratio}");
        }
    }

    #[test]
    fn gravities_no_wort_or_beer_can_have_have_no_extract() {
        for nonsense in [f64::NAN, f64::INFINITY, -1e308, 1e308, 0.0, 0.97, 1.2, 48.0] {
            assert_eq!(SpecificGravity::new(nonsense).plato(), None, "{nonsense}");
        }
        for nonsense in [f64::NAN, f64::INFINITY, -1e308, 1e308, -10.0, 60.0] {
            assert_eq!(Plato::new(nonsense).specific_gravity(), None, "{nonsense}");
        }
    }

    #[test]
    fn points_are_thousandths_above_water() {
        assert!((SpecificGravity::new(1.048).points() - 48.0).abs() < 1e-9);
    }

    proptest! {
        #[test]
        fn there_and_back_is_the_same_extract(degrees in -5.0..36.0_f64) {
            let gravity = Plato::new(degrees).specific_gravity().expect("in range");
            let back = gravity.plato().expect("in range").degrees();
            prop_assert!((back - degrees).abs() < 1e-9);
        }
    }

    #[test]
    fn the_quadratic_of_de_clerck_leaves_the_cubic_above_twenty_five_plato() {
        // De Clerck (1957) at SG 1.12 lies 0.05 °P below the cubic (computed by hand from both).
        let ratio = 1.12;
        let de_clerck = 668.72 * ratio - 463.37 - 205.347 * ratio * ratio;
        assert!((de_clerck - plato_of(ratio) + 0.05).abs() < 0.005);
    }

    #[test]
    fn points_are_those_of_the_quadratic_of_the_printed_table() {
        // The formula beside the printed table: points = 0.082636 + 3.8480 P + 0.014563 P², good by
        // its own statement to 0.1 point up to 19 °P and 1 point too low at 30. It gives back every
        // printed integer.
        for (degrees, printed) in WHOLE_POINTS {
            let quadratic = 0.082_636 + 3.8480 * degrees + 0.014_563 * degrees * degrees;
            assert!((quadratic.round() - printed).abs() < 1e-9, "{degrees} °P");
            let stated = if degrees <= 19.0 { 0.1 } else { 1.0 };
            let miss = points_of(degrees) - quadratic;
            assert!(miss.abs() <= stated, "{degrees} °P: {miss}");
        }
    }

    #[test]
    fn gravity_is_that_of_the_rational_formula() {
        // Widely printed (from memory): SG = 1 + P / (258.6 - 227.1 P / 258.2). There and back with
        // the cubic it strays by at most 0.004 °P from 5 to 25 °P (computed from both formulas).
        for degrees in (5..=25).map(f64::from) {
            let rational = 1.0 + degrees / (258.6 - 227.1 * degrees / 258.2);
            let back = plato_of(rational);
            assert!((back - degrees).abs() <= 0.004, "{degrees} °P: {back}");
        }
    }

    #[test]
    fn the_rules_of_thumb_for_plato_miss_by_what_is_known_of_them() {
        // P = 260 (1 - 1/SG), an old hydrometer maker's rule, and P = points / 4. By how much they
        // miss at these extracts is computed from the formulas, to the last digit shown.
        for (degrees, misses) in [(12.0, 0.00), (20.0, -0.08), (25.0, -0.15)] {
            let ratio = 1.0 + points_of(degrees) / 1000.0;
            let rule = 260.0 * (1.0 - 1.0 / ratio);
            assert!((rule - degrees - misses).abs() < 0.006, "{degrees} °P");
        }
        for (degrees, misses) in [(12.0, 0.09), (20.0, 0.74)] {
            let rule = points_of(degrees) / 4.0;
            assert!((rule - degrees - misses).abs() < 0.006, "{degrees} °P");
        }
    }
}
