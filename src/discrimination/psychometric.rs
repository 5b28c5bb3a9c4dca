//! What the psychometric functions share: the normal distribution of an impression.

use crate::statistics::Normal;
use crate::statistics::integral;

/// Beyond this many standard deviations lies less than the last digit of a share.
const EDGE: f64 = 9.0;

/// The chance that an impression lies below `z`.
pub(in crate::discrimination) fn below(z: f64) -> f64 {
    Normal::STANDARD.cdf(z).get()
}

/// The mean of `of` over impressions.
pub(in crate::discrimination) fn mean_over(of: impl Fn(f64) -> f64) -> f64 {
    integral(-EDGE, EDGE, 8, |u| Normal::STANDARD.density(u) * of(u))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn means_known_beforehand_come_out_to_the_last_digits() {
        // E Φ(U + d) = Φ(d/√2) (two normal impressions), E Φ(U)² = 1/3 (the highest of three), E |U| =
        // √(2/π): its kink lies between two pieces.
        for distance in [0.0, 1.0, 4.0, 15.0] {
            let found = mean_over(|u| below(u + distance));
            let expected = below(distance / 2.0_f64.sqrt());
            assert!((found - expected).abs() < 1e-13, "{distance}: {found}");
        }
        assert!((mean_over(|u| below(u).powi(2)) - 1.0 / 3.0).abs() < 1e-13);
        let found = mean_over(f64::abs);
        assert!((found - (2.0 / std::f64::consts::PI).sqrt()).abs() < 1e-13);
    }
}
