//! What is wrong with a value that somebody tried to make: facts as fields, words in one place.

use thiserror::Error;

use crate::domain::nearest_names;

/// A value that the trade does not allow; every message says what was found and what would do.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum Invalid {
    /// A number outside the range that makes sense for its quantity.
    #[error("{what}: found {}{unit}; it must lie between {low}{unit} and {high}{unit}", shown(*.found, [*.low, *.high]))]
    OutOfRange {
        /// The quantity.
        what: &'static str,
        /// The number found.
        found: f64,
        /// The lowest number allowed.
        low: f64,
        /// The highest number allowed.
        high: f64,
        /// The unit, with its leading space.
        unit: &'static str,
    },
    /// A text that is empty, or only blanks.
    #[error("{what} is empty; write at least one letter")]
    Empty {
        /// What the text names.
        what: &'static str,
    },
    /// A text longer than its place allows.
    #[error("{what} is longer than {most} characters; shorten it")]
    TooLong {
        /// What the text names.
        what: &'static str,
        /// The longest allowed.
        most: usize,
    },
    /// A text with characters that could move a cursor or hide what stands there.
    #[error("{what} has an invisible or control character at place {at}; write it without")]
    ControlCharacter {
        /// What the text names.
        what: &'static str,
        /// Which character, counted from 1.
        at: usize,
    },
    /// An id that is not lower-case words joined by hyphens.
    #[error(
        "the id “{found}” must be small letters and digits joined by hyphens, such as bread-crust"
    )]
    NotKebab {
        /// The text found.
        found: String,
    },
    /// A word from a closed list that is not on it.
    #[error("{what}: “{found}” is not known; {}", choose(.found, .choices))]
    NotAChoice {
        /// What is to be chosen.
        what: &'static str,
        /// The text found.
        found: String,
        /// The closed list, joined by commas.
        choices: String,
    },
    /// A text that should be a number, a date or an amount and is none.
    #[error("{what}: “{found}” cannot be read; write it like {example}")]
    Unreadable {
        /// What was to be read.
        what: &'static str,
        /// The text found.
        found: String,
        /// An example that would do.
        example: &'static str,
    },
}

impl Invalid {
    /// The same, where a number is out of its range, under the name of what was asked for.
    #[must_use]
    pub(crate) fn of(self, asked: &'static str) -> Self {
        match self {
            Self::OutOfRange {
                found,
                low,
                high,
                unit,
                ..
            } => Self::OutOfRange {
                what: asked,
                found,
                low,
                high,
                unit,
            },
            other => other,
        }
    }
}

/// A number as a person reads it: a whole one as it is, others with four figures, and with all of them where a bound is
/// as near as that.
fn shown(found: f64, bounds: [f64; 2]) -> String {
    let rounded = if found.fract() == 0.0 || !found.is_finite() {
        found
    } else {
        let places = 3.0 - found.abs().log10().floor();
        let unit = 10.0_f64.powf(places);
        (found * unit).round() / unit
    };
    let crossed = |bound: f64| (rounded - bound) * (found - bound) <= 0.0;
    if bounds.into_iter().any(crossed) || !rounded.is_finite() {
        return found.to_string();
    }
    rounded.to_string()
}

/// The nearest choice, and all of them.
fn choose(found: &str, choices: &str) -> String {
    let near = nearest_names(found, choices.split(", "), 1);
    match near.first() {
        Some(near) => format!("did you mean “{near}”? All choices: {choices}"),
        None => format!("choose from: {choices}"),
    }
}
