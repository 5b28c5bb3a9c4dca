//! One answer to one word: when, how it was asked, and whether it was right.

use std::num::NonZeroU8;

use crate::domain::Invalid;

/// The longest time told apart, in days: ten thousand years.
const MOST_DAYS: f64 = 3_652_500.0;

/// A moment of practice, in days since any beginning that stays the same.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct PracticeTime(f64);

impl PracticeTime {
    /// The moment so many days after the beginning; before it they are negative.
    ///
    /// # Errors
    /// No number, or more than ten thousand years away.
    pub fn new(days: f64) -> Result<Self, Invalid> {
        if days.abs() <= MOST_DAYS {
            Ok(Self(days))
        } else {
            Err(Invalid::OutOfRange {
                what: "a moment of practice",
                found: days,
                low: -MOST_DAYS,
                high: MOST_DAYS,
                unit: " days",
            })
        }
    }

    /// Days since the beginning.
    #[must_use]
    pub const fn days(self) -> f64 {
        self.0
    }
}

/// How a word was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    /// With the whole wheel open: nobody is right by chance.
    Freely,
    /// Among so many words: one in so many is right by chance.
    Among(NonZeroU8),
}

impl Asked {
    /// The chance to be right without knowing.
    pub(super) fn guess(self) -> f64 {
        match self {
            Self::Freely => 0.0,
            Self::Among(words) => 1.0 / f64::from(words.get()),
        }
    }
}

/// Whether an answer was right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// The word that was asked for.
    Right,
    /// Another word, or none.
    Wrong,
}

/// One answer to one word.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WordAnswer {
    /// When.
    pub at: PracticeTime,
    /// How the word was asked for.
    pub asked: Asked,
    /// Whether it was right.
    pub outcome: Outcome,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_number_is_no_moment() {
        assert!(PracticeTime::new(f64::NAN).is_err());
        assert!(PracticeTime::new(f64::INFINITY).is_err());
        assert_eq!(PracticeTime::new(-3.5).map(PracticeTime::days), Ok(-3.5));
    }
}
