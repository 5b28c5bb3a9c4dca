//! Words and digits for haze in EBC units.

use std::ops::RangeInclusive;

use crate::brewing::bounds::within;

/// Haze of beers, EBC units; a yeasty wheat beer may reach 100, a yeast slurry some thousands.
const HAZE_EBC: RangeInclusive<f64> = 0.0..=10_000.0;

/// Haze in EBC units at which each digit of the scale begins, from 0 to 9.
///
/// The first six are the trade's verbal bands (from memory); each doubles the one before, and the
/// scale goes on doubling through what the trade only calls very hazy (judgement).
const DIGIT_BEGINS: [f64; 10] = [0.0, 0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0];

/// What the trade calls a haze of so many EBC units (verbal bands from memory).
///
/// Below 0.5 brilliant, to 1 bright, to 2 faint, to 4 slight, to 8 hazy, above very hazy.
/// Domain: 0 to 10,000 EBC units; `None` outside.
#[must_use]
pub fn haze_word(ebc_units: f64) -> Option<&'static str> {
    Some(match haze_digit(ebc_units)? {
        0 => "brilliant",
        1 => "bright",
        2 => "faint haze",
        3 => "slight haze",
        4 => "hazy",
        _ => "very hazy",
    })
}

/// The digit, 0 to 9, a haze of so many EBC units has on the tasting scale.
///
/// Domain: 0 to 10,000 EBC units; `None` outside.
#[must_use]
pub fn haze_digit(ebc_units: f64) -> Option<u8> {
    let haze = within(ebc_units, &HAZE_EBC)?;
    (0..)
        .zip(DIGIT_BEGINS)
        .take_while(|(_, begins)| *begins <= haze)
        .last()
        .map(|(digit, _)| digit)
}

#[cfg(test)]
mod tests {
    use super::haze_digit;
    use super::haze_word;

    #[test]
    fn haze_words_are_those_of_the_trade() {
        // Verbal bands in EBC units (from memory, common practice): under 0.5 brilliant, 0.5 to 1
        // bright, 1 to 2 faint, 2 to 4 slight, 4 to 8 hazy, over 8 very hazy.
        for (haze, word) in [
            (0.0, "brilliant"),
            (0.49, "brilliant"),
            (0.5, "bright"),
            (0.9, "bright"),
            (1.5, "faint haze"),
            (3.0, "slight haze"),
            (5.0, "hazy"),
            (8.5, "very hazy"),
            (60.0, "very hazy"),
        ] {
            assert_eq!(haze_word(haze), Some(word), "{haze} EBC");
        }
    }

    #[test]
    fn the_hazy_beers_of_the_trade_fill_the_upper_digits() {
        // Common practice (from memory): hazy wheat beers and pale ales show 20 to 100 EBC and more.
        assert_eq!(haze_digit(20.0), Some(6));
        assert_eq!(haze_digit(100.0), Some(8));
        assert_eq!(haze_digit(10_000.0), Some(9));
    }

    #[test]
    fn haze_that_cannot_be_has_no_word() {
        for nonsense in [f64::NAN, f64::INFINITY, -1.0, 1e308] {
            assert_eq!(haze_word(nonsense), None, "{nonsense}");
        }
    }
}
