//! Who gets which presentation when: drawn, and balanced.

use crate::discrimination::Method;
use crate::discrimination::Presentation;
use crate::statistics::Dice;

/// One set of glasses before one taster.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Serving {
    /// The seat, counted from 0.
    pub seat: u32,
    /// Which of the taster's sets, counted from 0.
    pub replicate: u32,
    /// Which of the method's presentations, counted from 0.
    pub presentation: usize,
}

impl Serving {
    /// The presentation itself.
    #[must_use]
    pub fn stands(self, method: &Method) -> Option<&Presentation> {
        method.presentations.get(self.presentation)
    }
}

/// Draws the presentation of every set, seat by seat and replicate by replicate.
///
/// Over all sets, and over those of the first seats however many these are, no presentation comes more
/// than once oftener than another; nor does it within the sets of one taster. So a habit of choosing one
/// place gains nothing, whoever has it. Everything else is left to the dice.
pub fn draw_servings(
    method: &Method,
    seats: u32,
    replicates: u32,
    dice: &mut Dice,
) -> Vec<Serving> {
    let number = method.presentations.len();
    let rounds = replicates as usize / number;
    let rest = replicates as usize % number;
    let mut served = vec![0_u32; number];
    let mut servings = Vec::new();
    for seat in 0..seats {
        let mut own: Vec<usize> = (0..rounds).flat_map(|_| 0..number).collect();
        let mut order: Vec<usize> = (0..number).collect();
        dice.shuffle(&mut order);
        // Stable: among those served equally often the dice have spoken.
        order.sort_by_key(|it| served[*it]);
        for extra in order.into_iter().take(rest) {
            served[extra] += 1;
            own.push(extra);
        }
        dice.shuffle(&mut own);
        let set = |(replicate, presentation)| Serving {
            seat,
            replicate,
            presentation,
        };
        servings.extend((0..).zip(own).map(set));
    }
    servings
}
