//! A probability, which is a number from 0 to 1.

/// A number from 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Probability(f64);

impl Probability {
    /// It never happens.
    pub const ZERO: Self = Self(0.0);

    /// It always happens.
    pub const ONE: Self = Self(1.0);

    /// The probability `value`; `None` outside 0 to 1 and for what is no number.
    #[must_use]
    pub const fn new(value: f64) -> Option<Self> {
        if value >= 0.0 && value <= 1.0 {
            Some(Self(value))
        } else {
            None
        }
    }

    /// The chance whose logit, ln(p/(1 − p)), lies by so much above this one's.
    #[must_use]
    pub fn logit_moved(self, by: f64) -> Self {
        let (yes, no) = (self.0 * by.exp(), self.complement().get());
        // An infinite move, or none at all, leaves nothing to divide.
        let moved = yes / (yes + no);
        if moved.is_finite() {
            Self::rounded(moved)
        } else {
            self
        }
    }

    /// What a formula gave that is a probability but for the rounding of its last digits.
    pub(in crate::statistics) fn rounded(value: f64) -> Self {
        debug_assert!(!value.is_nan(), "a formula left its domain");
        Self(value.clamp(0.0, 1.0))
    }

    /// The number.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }

    /// The chance that it does not happen.
    #[must_use]
    pub const fn complement(self) -> Self {
        Self(1.0 - self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_numbers_from_0_to_1_are_probabilities() {
        for good in [0.0, 1e-300, 0.3, 1.0] {
            assert_eq!(Probability::new(good).map(Probability::get), Some(good));
        }
        for bad in [-1e-300, 1.000_001, f64::NAN, f64::INFINITY] {
            assert_eq!(Probability::new(bad), None, "{bad}");
        }
    }

    #[test]
    fn a_chance_is_moved_on_the_scale_of_odds() {
        // By hand: odds of 1 times 3 are 3 in 4; odds of 1/4 times 4 are even.
        let moved = |chance: f64, odds: f64| {
            Probability::new(chance)
                .unwrap()
                .logit_moved(odds.ln())
                .get()
        };
        assert!((moved(0.5, 3.0) - 0.75).abs() < 1e-12);
        assert!((moved(0.2, 4.0) - 0.5).abs() < 1e-12);
        assert!((moved(1.0, 0.1) - 1.0).abs() < 1e-12);
    }
}
