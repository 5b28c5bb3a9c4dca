//! The codes of the glasses of a blind test: they tell nothing.

use crate::discrimination::Method;
use crate::discrimination::Refused;
use crate::domain::BlindingCode;
use crate::statistics::Dice;

/// How many glasses have a code each: numbers of three different digits that are no run.
pub const MOST_GLASSES: usize = 633;

/// Draws the codes of so many sets, in the order in which the glasses stand; no code comes twice.
///
/// No code has a digit twice, such as 500 or 277, or is a run, such as 345 or 876; and the codes of a
/// set of three or more do not rise or fall from glass to glass, so that nobody sees an order in them.
/// The dice do not know what is in a glass.
///
/// # Errors
/// There are more glasses than such codes.
pub fn draw_codes(
    method: &Method,
    sets: usize,
    dice: &mut Dice,
) -> Result<Vec<Vec<BlindingCode>>, Refused> {
    let glasses = method.coded_glasses();
    let asked = sets.saturating_mul(glasses);
    let mut codes: Vec<BlindingCode> = (100..=999)
        .filter(|it| tells_nothing(*it))
        .filter_map(|it| BlindingCode::new(it).ok())
        .collect();
    if asked > codes.len() {
        return Err(Refused::TooManyGlasses {
            asked: asked as u64,
            most: codes.len() as u64,
        });
    }
    dice.shuffle(&mut codes);
    let mut drawn: Vec<Vec<BlindingCode>> = codes
        .chunks(glasses.max(1))
        .take(sets)
        .map(<[BlindingCode]>::to_vec)
        .collect();
    for set in drawn.iter_mut().filter(|it| it.len() > 2) {
        while is_sorted(set) {
            dice.shuffle(set);
        }
    }
    Ok(drawn)
}

fn is_sorted(codes: &[BlindingCode]) -> bool {
    codes.is_sorted() || codes.iter().rev().is_sorted()
}

/// Whether a number of three digits has no digit twice and is no run.
fn tells_nothing(number: u16) -> bool {
    let [first, second, third] = [number / 100, number / 10 % 10, number % 10];
    let different = first != second && second != third && first != third;
    let rises = first + 1 == second && second + 1 == third;
    let falls = first == second + 1 && second == third + 1;
    different && !rises && !falls
}
