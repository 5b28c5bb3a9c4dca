//! The upper tail of the chi-square distribution.

use statrs::function::gamma::gamma_ur;

use crate::statistics::Probability;

/// P(X ≥ x) with `freedom` degrees of freedom; with none, X is 0 for certain.
///
/// Q(ν/2, x/2) (Abramowitz & Stegun 1964, 26.4.19).
#[must_use]
pub fn chi_square_upper_tail(x: f64, freedom: usize) -> Probability {
    if x <= 0.0 {
        return Probability::ONE;
    }
    if freedom == 0 || x.is_infinite() {
        return Probability::ZERO;
    }
    Probability::rounded(gamma_ur(freedom as f64 / 2.0, x / 2.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn critical_values_are_those_of_printed_tables() {
        // Any printed table, upper 5 %: 3.841, 5.991, 16.919, 43.773; three digits.
        for (x, freedom) in [(3.841, 1), (5.991, 2), (16.919, 9), (43.773, 30)] {
            let found = chi_square_upper_tail(x, freedom).get();
            assert!((found - 0.05).abs() < 2e-5, "{freedom}: {found}");
        }
    }

    #[test]
    fn two_and_four_degrees_have_the_closed_tail() {
        // e^(−x/2), and (1 + x/2)·e^(−x/2).
        for x in [1e-6, 0.3, 2.0, 11.142_857, 60.0] {
            let half: f64 = x / 2.0;
            let two = chi_square_upper_tail(x, 2).get();
            let four = chi_square_upper_tail(x, 4).get();
            assert!((two / (-half).exp() - 1.0).abs() < 1e-12, "{x}");
            assert!(
                (four / ((1.0 + half) * (-half).exp()) - 1.0).abs() < 1e-12,
                "{x}"
            );
        }
    }

    #[test]
    fn the_ends_are_certain() {
        assert_eq!(chi_square_upper_tail(0.0, 3), Probability::ONE);
        assert_eq!(chi_square_upper_tail(f64::INFINITY, 3), Probability::ZERO);
        assert_eq!(chi_square_upper_tail(1.0, 0), Probability::ZERO);
    }
}
