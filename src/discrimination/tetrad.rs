//! The tetrad test.

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

/// Four glasses, two of each beer. The two groups are settled by saying which glass belongs with the
/// first.
pub(in crate::discrimination) static TETRAD: Method = Method {
    id: "tetrad",
    name: "tetrad test",
    standard: "ASTM E3009",
    question: "The four glasses are two of one beer and two of another. Which glass belongs with the first?",
    asked: Asked::Difference,
    ways: Ways::One,
    presentations: &[
        stand(&[A, A, B, B]),
        stand(&[A, B, A, B]),
        stand(&[A, B, B, A]),
        stand(&[B, A, A, B]),
        stand(&[B, A, B, A]),
        stand(&[B, B, A, A]),
    ],
    choices: &[1, 2, 3],
    right: with_first,
    chance: Chance { right: 1, of: 3 },
    correct,
};

fn with_first(stands: &Presentation) -> usize {
    let first = stands.glasses[0];
    let place = stands.glasses[1..].iter().position(|it| *it == first);
    place.map_or(0, |it| it + 1)
}

/// The groups whose members lie nearest together: 1 − 2∫φ(u)[2Φ(u)Φ(u − d) − Φ(u − d)²]du (Ennis,
/// Ennis, Palen & Lampe 1998).
fn correct(distance: f64) -> f64 {
    let mixed = mean_over(|u| {
        let across = below(u - distance);
        2.0 * below(u) * across - across * across
    });
    1.0 - 2.0 * mixed
}
