//! The choice of the strongest of three.

use crate::discrimination::Asked;
use crate::discrimination::Chance;
use crate::discrimination::Method;
use crate::discrimination::Presentation;
use crate::discrimination::Side;
use crate::discrimination::Ways;
use crate::discrimination::psychometric::below;
use crate::discrimination::psychometric::mean_over;

const A: Side = Side::A;
const B: Side = Side::B;

const fn stand(glasses: &'static [Side]) -> Presentation {
    let reference = None;
    Presentation { reference, glasses }
}

/// Three glasses, of which one is known beforehand to be stronger.
pub(in crate::discrimination) static THREE_AFC: Method = Method {
    id: "3-afc",
    name: "3-AFC test",
    standard: "ISO 13301",
    question: "Which of the three glasses has most of it?",
    asked: Asked::Character,
    ways: Ways::One,
    presentations: &[stand(&[A, A, B]), stand(&[A, B, A]), stand(&[B, A, A])],
    choices: &[0, 1, 2],
    right: strongest,
    chance: Chance { right: 1, of: 3 },
    correct,
};

fn strongest(stands: &Presentation) -> usize {
    let place = stands.glasses.iter().position(|it| *it == B);
    place.expect("one of three glasses is the stronger beer")
}

/// The strongest impression wins: ∫φ(u − d)Φ(u)²du (Ennis 1993), here over u − d.
fn correct(distance: f64) -> f64 {
    mean_over(|u| below(u + distance).powi(2))
}
