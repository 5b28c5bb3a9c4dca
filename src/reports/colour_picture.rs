//! The colour of a beer as a strip, with the word for it.

use crate::drawing::ColourStrip;
use crate::drawing::Ink;
use crate::workflow::seen_through;

/// The everyday word for a beer colour (common practice; bands from memory).
const fn colour_word(ebc: f64) -> &'static str {
    match ebc {
        ..4.0 => "pale straw",
        ..6.0 => "straw",
        ..9.0 => "gold",
        ..14.0 => "deep gold",
        ..20.0 => "amber",
        ..28.0 => "copper",
        ..40.0 => "red-brown",
        ..60.0 => "brown",
        ..85.0 => "dark brown",
        _ => "black",
    }
}

/// A colour of so many EBC as a strip.
#[must_use]
pub fn colour_strip(label: &str, ebc: f64, ink: Ink) -> ColourStrip {
    ColourStrip {
        label: label.to_owned(),
        colours: seen_through(ebc),
        words: format!(" {:<10} {ebc:>3.0} EBC ", colour_word(ebc)),
        ink,
    }
}
