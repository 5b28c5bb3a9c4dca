//! How likely pairs of answers are when answers scatter so far.

use crate::statistics::Duplicates;

/// Answers are whole digits; rounding adds the variance of an even spread over one digit
/// (Sheppard 1898, Proc. London Math. Soc. 29:353-380).
pub(in crate::statistics) const ROUNDING: f64 = 1.0 / 12.0;

/// Derivatives of the log likelihood of a cell at ln σ, the curvature with its sign turned and never
/// below 0.
#[derive(Debug, Clone, Copy)]
pub(in crate::statistics) struct Bend {
    /// The first.
    pub(in crate::statistics) slope: f64,
    /// The second, turned.
    pub(in crate::statistics) curvature: f64,
    /// The third.
    pub(in crate::statistics) skew: f64,
}

impl Bend {
    /// With V = σ² + 1/12 and w = σ²/V, ln L = −(ν ln V + S/V)/2, slope w(S/V − ν), curvature
    /// 2w(w·S/V − (1 − w)(S/V − ν)), third derivative 4w((1 − w)(1 − 2w)(S/V − ν) + w(w − 3(1 − w))S/V).
    pub(in crate::statistics) fn at(log_sd: f64, pairs: Duplicates) -> Self {
        let square = (2.0 * log_sd).exp();
        let variance = square + ROUNDING;
        let weight = square / variance;
        let found = pairs.squares() / variance;
        let excess = found - f64::from(pairs.freedom());
        let curvature = 2.0 * weight * (weight * found - (1.0 - weight) * excess);
        Self {
            slope: weight * excess,
            curvature: curvature.max(0.0),
            skew: 4.0
                * weight
                * ((1.0 - weight) * (1.0 - 2.0 * weight) * excess
                    + weight * (4.0 * weight - 3.0) * found),
        }
    }
}

/// The logarithm of how likely pairs are at ln σ, but for what no σ changes.
pub(in crate::statistics) fn log_likelihood(log_sd: f64, pairs: Duplicates) -> f64 {
    let variance = (2.0 * log_sd).exp() + ROUNDING;
    -(f64::from(pairs.freedom()) * variance.ln() + pairs.squares() / variance) / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn derivatives_are_those_of_differences() {
        let step = 1e-4;
        for (log_sd, squares, freedom) in [
            (-0.1, 6.5, 4),
            (0.5, 0.0, 3),
            (-1.0, 1.0, 2),
            (0.8, 90.0, 20),
        ] {
            let pairs = Duplicates::new(squares, freedom).unwrap();
            let at = |by: f64| Bend::at(log_sd + by * step, pairs);
            let found = at(0.0);
            let height = |by: f64| log_likelihood(log_sd + by * step, pairs);
            let slope = (height(1.0) - height(-1.0)) / (2.0 * step);
            let curvature = -(at(1.0).slope - at(-1.0).slope) / (2.0 * step);
            let skew = -(at(1.0).curvature - at(-1.0).curvature) / (2.0 * step);
            assert!((found.slope - slope).abs() < 1e-5, "{found:?} {slope}");
            assert!(
                (found.curvature - curvature).abs() < 1e-5,
                "{found:?} {curvature}"
            );
            assert!((found.skew - skew).abs() < 1e-5, "{found:?} {skew}");
        }
    }
}
