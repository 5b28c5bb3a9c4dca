//! The glasses of a panel drawn: codes, what is poured a second time, and everybody's order.

use crate::discrimination::shuffled_codes;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Sitting;
use crate::statistics::Dice;
use crate::statistics::williams_orders;
use crate::training::DoubledBeer;
use crate::training::beers_to_double;
use crate::workflow::PanelDraft;

/// Everything that is drawn.
pub(super) struct DrawnGlasses {
    /// The glasses, those poured a second time last.
    pub(super) samples: Vec<Sample>,
    /// The order of each taster.
    pub(super) orders: Vec<Vec<SampleId>>,
}

/// Draws the glasses of a panel from the dice of its sitting. Of beers that tell alike, the dice choose
/// which is poured a second time.
pub(super) fn draw_glasses(
    draft: &PanelDraft,
    candidates: &[DoubledBeer],
    sitting: &Sitting,
    dice: &mut Dice,
) -> DrawnGlasses {
    let mut places: Vec<usize> = (0..draft.beers.len()).collect();
    dice.shuffle(&mut places);
    let shuffled: Vec<DoubledBeer> = places.iter().map(|it| candidates[*it].clone()).collect();
    let doubled: Vec<usize> = beers_to_double(&shuffled, draft.request.doubled);
    let codes = shuffled_codes(dice);
    let contents = places.iter().enumerate().map(|(at, beer)| (*beer, at));
    let copies = doubled.iter().map(|at| (places[*at], *at));
    let mut samples: Vec<Sample> = Vec::new();
    for (place, ((beer, original), code)) in contents.chain(copies).zip(codes).enumerate() {
        let of = samples.get(original).filter(|_| place >= places.len());
        samples.push(Sample {
            id: SampleId::new(format!("{}-{code}", sitting.id)),
            sitting: sitting.id.clone(),
            code,
            beer: draft.beers[beer].id.clone(),
            duplicate_of: of.map(|it| it.id.clone()),
        });
    }
    let beers = places.len();
    let pairs = doubled.iter().enumerate();
    let pairs: Vec<[usize; 2]> = pairs.map(|(nth, at)| [*at, beers + nth]).collect();
    let orders = williams_orders(samples.len(), draft.tasters.len(), &pairs, dice);
    let id = |it: &usize| samples[*it].id.clone();
    DrawnGlasses {
        orders: orders
            .iter()
            .map(|row| row.iter().map(id).collect())
            .collect(),
        samples,
    }
}
