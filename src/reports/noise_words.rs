//! What the noise of a verdict rests on, in a sentence.

use crate::workflow::Basis;
use crate::workflow::NoiseBasis;

/// What the noise rests on, as long as not all of it was measured.
pub(super) const fn noise_words(basis: NoiseBasis) -> Option<&'static str> {
    Some(match (basis.within, basis.day) {
        (Basis::Default, Basis::Default) => {
            "The noise is a default, not measured: 0.9 from glass to glass, 0.7 from day to day."
        }
        (Basis::Default, _) => "The noise from glass to glass is a default, not measured: 0.9.",
        (Basis::Borrowed, Basis::Default) => {
            "The noise from glass to glass is the tasters' own, in part borrowed from other lines and tasters; from day to day it is a default, 0.7."
        }
        (Basis::Measured, Basis::Default) => {
            "The noise from glass to glass was measured; from day to day it is a default, 0.7."
        }
        (Basis::Borrowed, _) | (_, Basis::Borrowed) => {
            "The noise is the tasters' own, in part borrowed from other lines and tasters."
        }
        (Basis::Measured, Basis::Measured) => return None,
    })
}
