//! What is expected of a shelf: the chance that it is named at all, and how strong it is if so.

use crate::profile::Digits;
use crate::statistics::Probability;

/// A shelf in a glass that is still to be tasted; silence is no digit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hurdle {
    named: Probability,
    if_named: Digits,
}

impl Hurdle {
    /// A shelf that is named with this chance, at one of these digits if so.
    #[must_use]
    pub const fn new(named: Probability, if_named: Digits) -> Self {
        Self { named, if_named }
    }

    /// The chance that it is named.
    #[must_use]
    pub const fn named(&self) -> Probability {
        self.named
    }

    /// How strong it is if it is named, 1 to 9.
    #[must_use]
    pub const fn if_named(&self) -> &Digits {
        &self.if_named
    }

    /// Where notes lie, 0 to 1, silence below every digit: even if the hurdle is true and `share` is drawn
    /// evenly (as [`Digits::place_of`]).
    #[must_use]
    pub fn place_of(&self, noted: Option<u8>, share: f64) -> f64 {
        let silent = self.named.complement().get();
        match noted {
            None => silent * share.clamp(0.0, 1.0),
            Some(digit) => silent + self.named.get() * self.if_named.place_of(digit, share),
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::statistics::Normal;
    use crate::statistics::Sd;

    use super::*;

    #[test]
    fn silence_lies_below_and_a_digit_above_what_silence_takes() {
        // By hand: named 6 times in 10, at 5 for sure; silence fills 0 to 0.4, the digit 0.4 to 1.
        let sure = Digits::named(&[Normal::new(5.0, Sd::new(1e-3).unwrap())]);
        let it = Hurdle::new(Probability::new(0.6).unwrap(), sure);
        assert!((it.place_of(None, 0.5) - 0.2).abs() < 1e-12);
        assert!((it.place_of(Some(5), 0.5) - 0.7).abs() < 1e-12);
        assert!((it.place_of(Some(5), 1.0) - 1.0).abs() < 1e-12);
    }
}
