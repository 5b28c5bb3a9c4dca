//! Practice with strength: one kitchen series of a scale under codes, rated glass by glass and put in order.

use crate::domain::Anchors;
use crate::domain::BlindingCode;
use crate::domain::Invalid;
use crate::domain::Moment;
use crate::domain::PracticeAnswerId;
use crate::domain::Scale;
use crate::domain::SeatId;

/// A place in a series, from 1 for the weakest to 5 for the strongest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SeriesStep(u8);

impl SeriesStep {
    /// Steps of a series.
    pub const COUNT: u8 = 5;

    /// Makes a step.
    ///
    /// # Errors
    /// The number is not one of 1 to 5.
    pub fn new(step: u8) -> Result<Self, Invalid> {
        if (1..=Self::COUNT).contains(&step) {
            Ok(Self(step))
        } else {
            Err(Invalid::OutOfRange {
                what: "a step of a series",
                found: f64::from(step),
                low: 1.0,
                high: f64::from(Self::COUNT),
                unit: "",
            })
        }
    }

    /// All steps, the weakest first.
    pub fn all() -> impl Iterator<Item = Self> {
        (1..=Self::COUNT).map(Self)
    }

    /// The number.
    #[must_use]
    pub const fn get(self) -> u8 {
        self.0
    }

    /// The digit of the scale for which this step was mixed.
    #[must_use]
    pub fn digit(self) -> u8 {
        Anchors::DIGITS[usize::from(self.0 - 1)]
    }
}

/// A digit of an intensity, 0 to 9.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Digit(u8);

impl Digit {
    /// Makes a digit.
    ///
    /// # Errors
    /// The number is above 9.
    pub fn new(digit: u8) -> Result<Self, Invalid> {
        if digit <= 9 {
            Ok(Self(digit))
        } else {
            Err(Invalid::OutOfRange {
                what: "an intensity",
                found: f64::from(digit),
                low: 0.0,
                high: 9.0,
                unit: "",
            })
        }
    }

    /// The number.
    #[must_use]
    pub const fn get(self) -> u8 {
        self.0
    }
}

/// One glass of a series, as drawn for one taster.
#[derive(Debug, Clone, PartialEq)]
pub struct StrengthGlass {
    /// Who gets it.
    pub seat: SeatId,
    /// Where it stands in their order, from 1.
    pub position: u16,
    /// The scale that it is a step of.
    pub scale: &'static Scale,
    /// Which step it is.
    pub step: SeriesStep,
    /// The code on it.
    pub code: BlindingCode,
}

/// What was answered to one glass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StrengthReply {
    /// How strong it seemed by itself.
    Rated(Digit),
    /// Which step it was taken for once all stood side by side.
    Placed(SeriesStep),
}

impl StrengthReply {
    /// What [`StrengthReply::Rated`] is called in every file.
    const RATED: &'static str = "rated";

    /// What [`StrengthReply::Placed`] is called in every file.
    const PLACED: &'static str = "placed";

    /// Makes a reply from its word and its number.
    ///
    /// # Errors
    /// There is no such word, or no such digit or step.
    pub fn from_parts(word: &str, number: u8) -> Result<Self, Invalid> {
        match word {
            Self::RATED => Ok(Self::Rated(Digit::new(number)?)),
            Self::PLACED => Ok(Self::Placed(SeriesStep::new(number)?)),
            other => Err(Invalid::NotAChoice {
                what: "an answer to a series",
                found: other.chars().take(60).collect(),
                choices: format!("{}, {}", Self::RATED, Self::PLACED),
            }),
        }
    }

    /// What it is called in every file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Rated(_) => Self::RATED,
            Self::Placed(_) => Self::PLACED,
        }
    }

    /// The digit, 0 to 9, or the step, 1 to 5.
    #[must_use]
    pub const fn number(self) -> u8 {
        match self {
            Self::Rated(digit) => digit.get(),
            Self::Placed(step) => step.get(),
        }
    }
}

/// One answer; a later one of the same kind to the same glass corrects it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StrengthAnswer {
    /// The id.
    pub id: PracticeAnswerId,
    /// Who.
    pub seat: SeatId,
    /// To which glass.
    pub position: u16,
    /// What.
    pub reply: StrengthReply,
    /// When.
    pub given_at: Moment,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_run_from_one_to_five_and_stand_for_the_digits_that_have_examples() {
        let digits: Vec<u8> = SeriesStep::all().map(SeriesStep::digit).collect();
        assert_eq!(digits, [1, 3, 5, 7, 9]);
        assert!(SeriesStep::new(0).is_err());
        assert!(SeriesStep::new(6).is_err());
        assert!(Digit::new(10).is_err());
    }

    #[test]
    fn a_reply_comes_back_from_its_word_and_number_and_no_other_word_is_one() {
        for (word, number) in [("rated", 0), ("rated", 9), ("placed", 1), ("placed", 5)] {
            let reply = StrengthReply::from_parts(word, number).unwrap();
            assert_eq!((reply.word(), reply.number()), (word, number));
        }
        for (word, number) in [
            ("rated", 10),
            ("placed", 0),
            ("placed", 6),
            ("Rated", 1),
            ("", 1),
        ] {
            assert!(
                StrengthReply::from_parts(word, number).is_err(),
                "{word} {number}"
            );
        }
    }
}
