//! The triangle test.

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

/// Three glasses, two of one beer.
pub(in crate::discrimination) static TRIANGLE: Method = Method {
    id: "triangle",
    name: "triangle test",
    standard: "ISO 4120",
    question: "Two of the three glasses hold the same beer. Which one is different?",
    asked: Asked::Difference,
    ways: Ways::One,
    presentations: &[
        stand(&[A, A, B]),
        stand(&[A, B, A]),
        stand(&[B, A, A]),
        stand(&[B, B, A]),
        stand(&[B, A, B]),
        stand(&[A, B, B]),
    ],
    choices: &[0, 1, 2],
    right: odd_one,
    chance: Chance { right: 1, of: 3 },
    correct,
};

fn odd_one(stands: &Presentation) -> usize {
    let lonely = |side: &Side| stands.glasses_of(*side) == 1;
    let place = stands.glasses.iter().position(lonely);
    place.expect("one of three glasses is alone")
}

/// The pair that lies nearer together is taken for the same beer: 2∫₀^∞[Φ(−u√3 + d√⅔) + Φ(−u√3 −
/// d√⅔)]φ(u)du (Ura 1960; David & Trivedi 1962); the bracket is even in u but for its sign, so that |u|
/// over the whole line gives the same.
fn correct(distance: f64) -> f64 {
    let shift = distance * (2.0_f64 / 3.0).sqrt();
    mean_over(|u| {
        let lean = -u.abs() * 3.0_f64.sqrt();
        below(lean + shift) + below(lean - shift)
    })
}
