//! What verdicts rest on, in sentences: whose notes count, the noise, and what was learnt of the tasters.

use crate::reports::verdict_words::counted_words;
use crate::workflow::Basis;
use crate::workflow::ComparedLine;
use crate::workflow::Comparison;
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

/// What the verdicts of a comparison rest on; nothing of what goes without saying.
pub(super) fn basis_sentences(it: &Comparison) -> Vec<String> {
    let counted = counted_words(it.counted).map(str::to_owned);
    let noise = it.noise_basis().and_then(noise_words).map(str::to_owned);
    let all = counted.into_iter().chain(noise).chain(learnt_sentence(it));
    all.collect()
}

/// Which verdicts on predictions lean on what was learnt; nothing where none does.
fn learnt_sentence(it: &Comparison) -> Option<String> {
    let lean = it.lines.iter().filter(|it| it.learnt_offset.is_some());
    let (count, farthest) = lean
        .filter_map(|line| Some((line, line.learnt_offset?)))
        .fold(
            (0, None::<(&ComparedLine, f64)>),
            |(count, farthest), it| {
                let is_farther = farthest.is_none_or(|far| it.1.abs() > far.1.abs());
                (count + 1, if is_farther { Some(it) } else { farthest })
            },
        );
    let (line, offset) = farthest?;
    Some(format!(
        "{count} verdicts on predictions lean on what was learnt of the tasters on other batches, most of all {} ({offset:+.1} taken off).",
        line.label
    ))
}
