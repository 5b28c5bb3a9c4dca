//! The three-digit code of a glass.

use std::fmt;

use crate::domain::Invalid;

/// A code from 100 to 999.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct BlindingCode(u16);

impl BlindingCode {
    /// Makes a code.
    ///
    /// # Errors
    /// The number has not three digits.
    pub fn new(number: u16) -> Result<Self, Invalid> {
        if (100..=999).contains(&number) {
            Ok(Self(number))
        } else {
            Err(Invalid::OutOfRange {
                what: "a blinding code",
                found: f64::from(number),
                low: 100.0,
                high: 999.0,
                unit: "",
            })
        }
    }

    /// The number.
    #[must_use]
    pub const fn get(self) -> u16 {
        self.0
    }
}

impl fmt::Display for BlindingCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}
