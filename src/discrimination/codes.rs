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
    let codes = shuffled_codes(dice);
    if asked > codes.len() {
        return Err(Refused::TooManyGlasses {
            asked: asked as u64,
            most: codes.len() as u64,
        });
    }
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

/// Every code that tells nothing, in a drawn order.
#[must_use]
pub fn shuffled_codes(dice: &mut Dice) -> Vec<BlindingCode> {
    let mut codes: Vec<BlindingCode> = (100..=999)
        .filter(|it| tells_nothing(*it))
        .filter_map(|it| BlindingCode::new(it).ok())
        .collect();
    dice.shuffle(&mut codes);
    codes
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

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use crate::discrimination::METHODS;
    use crate::discrimination::draw_servings;

    use super::*;

    fn numbers(sets: &[Vec<BlindingCode>]) -> Vec<Vec<u16>> {
        let set = |it: &Vec<BlindingCode>| it.iter().map(|code| code.get()).collect();
        sets.iter().map(set).collect()
    }

    #[test]
    fn no_code_comes_twice_and_none_tells_anything() {
        for method in METHODS {
            let sets = MOST_GLASSES / method.coded_glasses();
            let drawn = draw_codes(method, sets, &mut Dice::from_seed(3)).unwrap();
            let drawn = numbers(&drawn);
            let distinct: HashSet<u16> = drawn.iter().flatten().copied().collect();
            assert_eq!(distinct.len(), sets * method.coded_glasses());
            for number in distinct {
                let digits = number.to_string();
                assert_eq!(digits.chars().collect::<HashSet<char>>().len(), 3);
                assert!(!"0123456789".contains(&digits), "{number}");
                assert!(!"9876543210".contains(&digits), "{number}");
            }
            for set in drawn.iter().filter(|it| it.len() > 2) {
                assert!(!set.is_sorted() && !set.iter().rev().is_sorted(), "{set:?}");
            }
        }
    }

    #[test]
    fn as_many_glasses_as_codes_and_no_more() {
        // 9·9·8 numbers of three different digits, less 7 rising and 8 falling runs.
        assert_eq!(MOST_GLASSES, 9 * 9 * 8 - 7 - 8);
        let [triangle, ..] = METHODS else {
            panic!("there are methods");
        };
        let refused = draw_codes(triangle, 212, &mut Dice::from_seed(1));
        let expected = Refused::TooManyGlasses {
            asked: 636,
            most: 633,
        };
        assert_eq!(refused, Err(expected));
        assert!(draw_codes(triangle, usize::MAX, &mut Dice::from_seed(1)).is_err());
    }

    #[test]
    fn the_size_of_a_code_says_nothing_of_the_glass() {
        // 6,000 triangles: the odd glass has the lowest, the middle and the highest code of its set 2,000
        // times each with SD 36.5 (binomial); 5 SD. One seed draws both, as in a test.
        let triangle = METHODS[0];
        let mut ranks = [0_u32; 3];
        for seed in 0..500 {
            let mut dice = Dice::from_seed(seed);
            let servings = draw_servings(triangle, 12, 1, &mut dice);
            let codes = draw_codes(triangle, 12, &mut dice).unwrap();
            for (serving, set) in servings.iter().zip(&codes) {
                let odd = set[(triangle.right)(serving.stands(triangle).unwrap())];
                ranks[set.iter().filter(|it| **it < odd).count()] += 1;
            }
        }
        let even = |n: &u32| (1_818..=2_182).contains(n);
        assert!(ranks.iter().all(even), "{ranks:?}");
    }

    #[test]
    fn a_seed_gives_its_codes_for_ever() {
        // Drawn by the second program in Python that drew the pinned plans, after those.
        let drawn = |id, seats, replicates, seed, sets| {
            let mut dice = Dice::from_seed(seed);
            let method = Method::from_id(id).unwrap();
            draw_servings(method, seats, replicates, &mut dice);
            numbers(&draw_codes(method, sets, &mut dice).unwrap())
        };
        let triangles = drawn("triangle", 7, 2, 2026, 14);
        let expected = [[815, 534, 685], [731, 308, 621], [894, 368, 843]];
        assert_eq!(triangles[..3], expected);
        assert_eq!(triangles[13], [364, 739, 427]);
        let pairs = drawn("duo-trio", 3, 5, 7, 6);
        let expected = [
            [249, 740],
            [732, 723],
            [813, 143],
            [961, 972],
            [704, 842],
            [173, 805],
        ];
        assert_eq!(pairs, expected);
    }
}
