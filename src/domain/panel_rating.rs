//! One rating of a panel, as records kept elsewhere tell it.

use crate::domain::Day;
use crate::domain::Moment;
use crate::domain::Name;

/// One answer of one taster to one glass on one line.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelRating {
    /// Who.
    pub taster: Name,
    /// On which occasion.
    pub sitting: Name,
    /// Which beer was in the glass.
    pub sample: Name,
    /// The how manieth glass of it that this taster had in that sitting, from 1.
    pub replicate: u16,
    /// The day of tasting.
    pub tasted_on: Day,
    /// The scale or descriptor that was asked.
    pub line: Name,
    /// The answer on the 0 to 9 of this program, whatever the ends of its own scale were.
    pub digits: f64,
}

/// A table of ratings that was kept elsewhere and read in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Import {
    /// Its number, from 1.
    pub number: u32,
    /// The name of its file.
    pub file_name: String,
    /// The SHA-256 of its bytes, in hexadecimal digits.
    pub hash: String,
    /// How many ratings it holds.
    pub ratings: u32,
    /// When it was read in.
    pub made_at: Moment,
}
