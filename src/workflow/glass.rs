//! How a beer looks in the glass: colours through three depths, and the bands of haze.

use crate::brewing::haze_digit;
use crate::brewing::haze_word;
use crate::brewing::seen_colour;

/// The colour of a beer of `ebc` EBC seen through 1, 3 and 5 cm, as sRGB.
#[must_use]
pub fn seen_through(ebc: f64) -> [[u8; 3]; 3] {
    [1.0, 3.0, 5.0].map(|path_cm| seen_colour(ebc, path_cm))
}

/// The words for haze with the digits at which each begins.
#[must_use]
pub fn haze_words() -> Vec<(u8, &'static str)> {
    let mut bands: Vec<(u8, &'static str)> = (0..400_u16)
        .filter_map(|tenth| {
            let ebc = f64::from(tenth) / 10.0;
            Some((haze_digit(ebc)?, haze_word(ebc)?))
        })
        .collect();
    bands.dedup_by_key(|(_, word)| *word);
    bands
}
