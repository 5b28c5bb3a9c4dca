//! The ranges in which a quantity of this room means something, and the one way to ask.

use std::ops::RangeInclusive;

/// Mass of one charge in kilograms; the top is a large commercial brew many times over.
pub(super) const MASS_KG: RangeInclusive<f64> = 0.0..=1e6;
/// Volume of wort or beer in litres; a millilitre is the smallest that can be brewed or poured.
pub(super) const VOLUME_LITRES: RangeInclusive<f64> = 1e-3..=1e6;
/// Any share of a whole.
pub(super) const FRACTION: RangeInclusive<f64> = 0.0..=1.0;
/// A length of time on the stove in minutes; the top is a whole day.
pub(super) const MINUTES: RangeInclusive<f64> = 0.0..=1440.0;

/// The value if it lies in the range. What is not a number lies in no range.
pub(super) fn within(value: f64, range: &RangeInclusive<f64>) -> Option<f64> {
    range.contains(&value).then_some(value)
}

#[cfg(test)]
mod tests {
    use super::FRACTION;
    use super::within;

    #[test]
    fn what_is_no_number_or_outside_lies_in_no_range() {
        assert_eq!(within(0.5, &FRACTION), Some(0.5));
        assert_eq!(within(1.0, &FRACTION), Some(1.0));
        for nonsense in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e308, -0.1] {
            assert_eq!(within(nonsense, &FRACTION), None, "{nonsense}");
        }
    }
}
