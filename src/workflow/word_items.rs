//! The questions of five minutes of words: how each word is asked for, and what can be chosen.

use crate::domain::Descriptor;
use crate::domain::DescriptorId;
use crate::domain::ItemForm;
use crate::domain::PracticeItem;
use crate::domain::SeatId;
use crate::domain::Wheel;
use crate::statistics::Dice;
use crate::workflow::PastItem;

/// Words to choose from.
pub(super) const OPTIONS: u8 = 6;

/// Every so many questions ask for the place instead of the word.
const PLACE_EVERY: usize = 4;

/// Answers after which a word is known well enough to be set against its look-alike.
const KNOWN_FROM: usize = 2;

/// The questions for these words, in their order.
pub(super) fn word_items(
    wheel: &Wheel,
    words: &[DescriptorId],
    history: &[PastItem],
    seat: &SeatId,
    dice: &mut Dice,
) -> Vec<PracticeItem> {
    let known = |id: &DescriptorId| {
        let right = |it: &&PastItem| it.item.descriptor == *id && it.right.whole == Some(true);
        history.iter().filter(right).count() >= KNOWN_FROM
    };
    let words = words.iter().filter_map(|id| wheel.descriptor(id));
    words
        .enumerate()
        .zip(1_u16..)
        .map(|((at, word), position)| {
            // Look-alikes apart at first, and together once both are known.
            let rival = word.look_alikes.iter().find(|it| known(&it.id));
            let (form, mut options) = match rival {
                _ if at % PLACE_EVERY == PLACE_EVERY - 1 => (ItemForm::Place, Vec::new()),
                Some(rival) if known(&word.id) => {
                    (ItemForm::Pair, vec![word.id.clone(), rival.id.clone()])
                }
                _ => (ItemForm::Definition, neighbours(wheel, word, dice)),
            };
            dice.shuffle(&mut options);
            PracticeItem {
                seat: seat.clone(),
                position,
                form,
                descriptor: word.id.clone(),
                options,
                code: None,
                spiked: None,
            }
        })
        .collect()
}

/// A word among those of its shelf and its place, without its look-alikes where there are others.
fn neighbours(wheel: &Wheel, word: &Descriptor, dice: &mut Dice) -> Vec<DescriptorId> {
    let place = wheel.shelf(&word.shelf).map(|it| &it.place);
    let alike = |it: &Descriptor| word.look_alikes.iter().any(|other| other.id == it.id);
    let nearness = |it: &Descriptor| {
        let same_shelf = it.shelf == word.shelf;
        let same_place = wheel.shelf(&it.shelf).map(|it| &it.place) == place;
        match (alike(it), same_shelf, same_place) {
            (false, true, _) => 0,
            (false, _, true) => 1,
            (false, ..) => 2,
            (true, ..) => 3,
        }
    };
    let mut others: Vec<&Descriptor> = wheel
        .descriptors()
        .iter()
        .filter(|it| it.id != word.id)
        .collect();
    dice.shuffle(&mut others);
    others.sort_by_key(|it| nearness(it));
    let mut options: Vec<DescriptorId> = vec![word.id.clone()];
    options.extend(
        others
            .iter()
            .take(usize::from(OPTIONS) - 1)
            .map(|it| it.id.clone()),
    );
    options
}
