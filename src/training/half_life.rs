//! Half-life regression: how likely a word still comes to mind, so long after it was last met.

/// The longest half-life believed, as a power of 2: 4096 days.
const MOST: f64 = 12.0;

/// The time after which a word comes to mind with one chance in two, kept as log2 of days.
///
/// Settles & Meeder 2016, ACL P16-1174, equations 1 and 2: p = 2^(−Δ/h) with h = 2^(θ·x).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub(super) struct HalfLife(f64);

impl HalfLife {
    /// The half-life 2^(θ·x) days of pairs (θ, x), of at most 4096 days.
    pub(super) fn of(terms: &[(f64, f64)]) -> Self {
        let exponent: f64 = terms.iter().map(|(weight, feature)| weight * feature).sum();
        Self(exponent.min(MOST))
    }

    /// The exponent θ·x it was made of.
    pub(super) const fn exponent(self) -> f64 {
        self.0
    }

    /// How likely the word comes to mind `days` after it was last met; 1 before that.
    pub(super) fn recall(self, days: f64) -> f64 {
        (-days.max(0.0) / self.0.exp2()).exp2()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A half-life of so many days.
    fn days(number: f64) -> HalfLife {
        HalfLife::of(&[(number.log2(), 1.0)])
    }

    #[test]
    fn recall_halves_with_each_half_life() {
        // Settles & Meeder 2016, equation 1; the third and fourth by 50-digit decimal arithmetic.
        for (after, half_life, recall) in [
            (1.0, 1.0, 0.5),
            (2.0, 1.0, 0.25),
            (1.0, 3.0, 0.793_701),
            (7.0, 10.0, 0.615_572),
        ] {
            let found = days(half_life).recall(after);
            assert!(
                (found - recall).abs() < 5e-7,
                "{after} {half_life}: {found}"
            );
        }
    }

    #[test]
    fn the_half_life_is_two_to_the_weighted_features() {
        // Settles & Meeder 2016, equation 2: θ·x = 0.5·1 + 1·2 − 0.5·1 = 2, so h = 4 days.
        let half_life = HalfLife::of(&[(0.5, 1.0), (1.0, 2.0), (-0.5, 1.0)]);
        assert!((half_life.recall(4.0) - 0.5).abs() < 1e-12);
    }
}
