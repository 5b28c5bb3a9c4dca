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
    integral(-EDGE, EDGE, 12, |u| Normal::STANDARD.density(u) * of(u))
}
