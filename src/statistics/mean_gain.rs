//! Whether a mean of few differences is above zero: the paired t of Student.

use crate::statistics::Probability;
use crate::statistics::StudentT;

/// How often chance alone makes a mean as far above 0 as that of `differences`, or farther.
///
/// The one-sided paired t (Student 1908, Biometrika 6:1-25): t = mean/(s/√n) with n − 1 degrees of freedom.
/// None for fewer than two differences, or when one is no number. Where all are alike they do not scatter: 0
/// if they lie above 0, and 1 otherwise.
#[must_use]
pub fn chance_of_mean_above(differences: &[f64]) -> Option<Probability> {
    if differences.len() < 2 || differences.iter().any(|it| !it.is_finite()) {
        return None;
    }
    let number = differences.len() as f64;
    let mean = differences.iter().sum::<f64>() / number;
    let squares: f64 = differences.iter().map(|it| (it - mean).powi(2)).sum();
    let error = (squares / (number - 1.0) / number).sqrt();
    if error <= 0.0 {
        let above = if mean > 0.0 { 0.0 } else { 1.0 };
        return Some(Probability::rounded(above));
    }
    let beyond = StudentT::new(number - 1.0)?.two_sided_p(mean / error).get() / 2.0;
    let tail = if mean > 0.0 { beyond } else { 1.0 - beyond };
    Some(Probability::rounded(tail))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_example_of_the_t_test_comes_out() {
        // Student 1908, section IX: hours of sleep gained by ten patients with the second drug over the
        // first; mean 1.58, t = 4.06 with 9 degrees of freedom, one-sided p 0.0014 (R's data set sleep,
        // t.test: t = 4.0621, two-sided p 0.002833).
        let gained = [1.2, 2.4, 1.3, 1.3, 0.0, 1.0, 1.8, 0.8, 4.6, 1.4];
        let p = chance_of_mean_above(&gained).unwrap().get();
        assert!((p - 0.002_833 / 2.0).abs() < 1e-6, "{p}");
        let lost = gained.map(|it| -it);
        let p = chance_of_mean_above(&lost).unwrap().get();
        assert!((p - (1.0 - 0.002_833 / 2.0)).abs() < 1e-6, "{p}");
    }

    #[test]
    fn three_need_a_mean_of_nearly_three_errors_for_five_in_a_hundred() {
        // By hand: 1, 2 and 3 have mean 2, s = 1, t = 2·√3 = 3.4641. With two degrees of freedom the tail is
        // (1 − t/√(2 + t²))/2 = (1 − 3.4641/√14)/2 = 0.037.
        let p = chance_of_mean_above(&[1.0, 2.0, 3.0]).unwrap().get();
        assert!(
            (p - (1.0 - 12.0_f64.sqrt() / 14.0_f64.sqrt()) / 2.0).abs() < 1e-9,
            "{p}"
        );
    }

    #[test]
    fn one_difference_tells_nothing_and_equal_ones_tell_their_side() {
        assert_eq!(chance_of_mean_above(&[1.0]), None);
        assert_eq!(chance_of_mean_above(&[1.0, f64::NAN]), None);
        let all = |it: f64| chance_of_mean_above(&[it; 4]).unwrap().get();
        assert!(all(0.5) < 1e-12 && all(-0.5) > 0.999 && all(0.0) > 0.999);
    }
}
