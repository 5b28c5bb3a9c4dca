//! The duo-trio test with a balanced reference.

use crate::discrimination::Asked;
use crate::discrimination::Chance;
use crate::discrimination::Method;
use crate::discrimination::Presentation;
use crate::discrimination::Side;
use crate::discrimination::Ways;
use crate::discrimination::psychometric::below;

const A: Side = Side::A;
const B: Side = Side::B;

const fn stand(reference: Side, glasses: &'static [Side]) -> Presentation {
    let reference = Some(reference);
    Presentation { reference, glasses }
}

/// A reference, then two glasses of which one holds the same beer.
pub(in crate::discrimination) static DUO_TRIO: Method = Method {
    id: "duo-trio",
    name: "duo-trio test",
    standard: "ISO 10399",
    question: "The first glass is the reference. Which of the two others holds the same beer?",
    asked: Asked::Difference,
    ways: Ways::One,
    presentations: &[
        stand(A, &[A, B]),
        stand(A, &[B, A]),
        stand(B, &[A, B]),
        stand(B, &[B, A]),
    ],
    choices: &[0, 1],
    right: like_reference,
    chance: Chance { right: 1, of: 2 },
    correct,
};

fn like_reference(stands: &Presentation) -> usize {
    let same = |side: &Side| Some(*side) == stands.reference;
    let place = stands.glasses.iter().position(same);
    place.expect("one of two glasses is as the reference")
}

/// The glass that lies nearer to the reference is taken for the same: 1 − Φ(d/√2) − Φ(d/√6) +
/// 2Φ(d/√2)Φ(d/√6) (David & Trivedi 1962; Bradley 1963).
fn correct(distance: f64) -> f64 {
    let apart = below(distance / 2.0_f64.sqrt());
    let aside = below(distance / 6.0_f64.sqrt());
    1.0 - apart - aside + 2.0 * apart * aside
}
