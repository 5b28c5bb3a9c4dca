//! Means and sums of squared deviations, without what the rounding of floats leaves in them.

/// Beyond this, products of squares are more than a float holds.
const LARGEST: f64 = 1e60;

/// Deviations below this share of the largest value are what rounding left.
const ROUNDING: f64 = 1e-12;

/// Whether a value is a number that can be calculated with: finite and at most 10⁶⁰ in size.
pub(in crate::statistics) fn usable(value: f64) -> bool {
    value.abs() <= LARGEST
}

/// The mean of values; 0 of none.
pub(in crate::statistics) fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// The sum of squared deviations from the mean, exactly 0 where all values are the same.
pub(in crate::statistics) fn squares(values: &[f64]) -> f64 {
    let middle = mean(values);
    let sum = values.iter().map(|it| (it - middle).powi(2)).sum();
    beyond_rounding(sum, values.len(), largest(values))
}

/// The largest size among the values.
pub(in crate::statistics) fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |most, it| most.max(it.abs()))
}

/// A sum of `count` squared deviations of values up to `largest`, exactly 0 where it is only rounding:
/// the mean of three times 0.1 is not 0.1, and a ratio to what that leaves would be enormous.
pub(in crate::statistics) fn beyond_rounding(sum: f64, count: usize, largest: f64) -> f64 {
    let left = largest * ROUNDING;
    if sum <= count as f64 * left * left {
        0.0
    } else {
        sum
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_values_do_not_deviate_whatever_rounding_makes_of_their_mean() {
        for value in [0.1, 0.3, 1e-200, 7.7e40, -2.3] {
            for count in [3, 7, 1_000] {
                assert!(squares(&vec![value; count]) == 0.0, "{value} {count}");
            }
        }
    }

    #[test]
    fn squares_are_those_of_the_hand() {
        // By hand: mean 3, deviations −2, −1, 3.
        assert!((squares(&[1.0, 2.0, 6.0]) - 14.0).abs() < 1e-12);
        assert!((squares(&[1_000_001.0, 1_000_002.0]) - 0.5).abs() < 1e-9);
        assert!(squares(&[]) == 0.0);
    }

    #[test]
    fn what_is_no_number_or_too_large_cannot_be_used() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e61] {
            assert!(!usable(bad), "{bad}");
        }
        assert!(usable(-1e60) && usable(0.0));
    }
}
