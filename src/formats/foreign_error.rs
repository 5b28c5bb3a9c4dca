//! Why a file of another standard cannot be read.

use std::fmt;

/// What was found instead of a recipe.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ForeignError {
    /// The text is broken at a line, counted from 1.
    Broken {
        /// The standard.
        standard: &'static str,
        /// The line.
        line: usize,
        /// What is wrong there.
        what: String,
    },
    /// It is sound and has no recipe in it.
    NoRecipe {
        /// The standard.
        standard: &'static str,
    },
    /// It is neither of the standards.
    NoStandard,
}

impl fmt::Display for ForeignError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Broken {
                standard,
                line,
                what,
            } => write!(f, "line {line}: this is no {standard}: {what}"),
            Self::NoRecipe { standard } => write!(f, "there is no recipe in this {standard} file"),
            Self::NoStandard => write!(
                f,
                "neither BeerJSON (it begins with {{) nor BeerXML (it begins with <)"
            ),
        }
    }
}

impl std::error::Error for ForeignError {}
