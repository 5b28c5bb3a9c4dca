//! The paired comparison, with a direction fixed beforehand and without one.

use crate::discrimination::Asked;
use crate::discrimination::Chance;
use crate::discrimination::Method;
use crate::discrimination::Presentation;
use crate::discrimination::Side;
use crate::discrimination::Ways;
use crate::discrimination::psychometric::below;

const A: Side = Side::A;
const B: Side = Side::B;

const STANDS: &[Presentation] = &[
    Presentation {
        reference: None,
        glasses: &[A, B],
    },
    Presentation {
        reference: None,
        glasses: &[B, A],
    },
];

/// Two glasses, and it is known beforehand which one should be stronger.
pub(in crate::discrimination) static TWO_AFC: Method = Method {
    id: "2-afc",
    name: "2-AFC test (paired comparison, direction fixed)",
    standard: "ISO 5495",
    question: "Which of the two glasses has more of it?",
    asked: Asked::Character,
    ways: Ways::One,
    presentations: STANDS,
    choices: &[0, 1],
    right: stronger,
    chance: Chance { right: 1, of: 2 },
    correct,
};

/// Two glasses, and either one may be stronger.
pub(in crate::discrimination) static TWO_AFC_EITHER: Method = Method {
    id: "2-afc-either",
    name: "2-AFC test (paired comparison, direction open)",
    standard: "ISO 5495",
    question: "Which of the two glasses has more of it?",
    asked: Asked::Character,
    ways: Ways::Either,
    presentations: STANDS,
    choices: &[0, 1],
    right: stronger,
    chance: Chance { right: 1, of: 2 },
    correct,
};

fn stronger(stands: &Presentation) -> usize {
    let place = stands.glasses.iter().position(|it| *it == B);
    place.expect("one of two glasses is the stronger beer")
}

/// The stronger impression wins: Φ(d/√2) (Thurstone 1927; Bradley 1963).
fn correct(distance: f64) -> f64 {
    below(distance / 2.0_f64.sqrt())
}
