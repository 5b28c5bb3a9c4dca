//! Who gets which glasses under which codes: all drawn from the seed of a sitting.

use crate::discrimination::Method;
use crate::discrimination::Side;
use crate::discrimination::draw_codes;
use crate::discrimination::draw_servings;
use crate::domain::Beer;
use crate::domain::BeerSide;
use crate::domain::BlindingCode;
use crate::domain::Sample;
use crate::domain::SampleId;
use crate::domain::Sitting;
use crate::domain::TestSet;
use crate::statistics::Dice;
use crate::workflow::BlindError;
use crate::workflow::PlanRequest;

/// Everything that is drawn.
pub(super) struct Drawn {
    /// The sets by place and round.
    pub(super) sets: Vec<TestSet>,
    /// The glasses.
    pub(super) samples: Vec<Sample>,
}

/// Draws who gets what in which order under which code; all from the seed of the sitting.
///
/// # Errors
/// There are more glasses than codes that tell nothing.
pub(super) fn draw(
    method: &Method,
    request: &PlanRequest,
    beers: &[Beer; 2],
    sitting: &Sitting,
) -> Result<Drawn, BlindError> {
    let mut dice = Dice::from_seed(sitting.seed);
    let servings = draw_servings(
        method,
        request.places.into(),
        request.rounds.into(),
        &mut dice,
    );
    let codes = draw_codes(method, servings.len(), &mut dice)?;
    let mut drawn = Drawn {
        sets: Vec::new(),
        samples: Vec::new(),
    };
    for (serving, codes) in servings.iter().zip(codes) {
        let Some(stands) = serving.stands(method) else {
            continue;
        };
        let from_one = |it: u32| u16::try_from(it + 1).unwrap_or(u16::MAX);
        let mut set = TestSet {
            place: from_one(serving.seat),
            round: from_one(serving.replicate),
            reference: stands.reference.map(|it| beer_side(it, request)),
            samples: Vec::new(),
        };
        for (glass, code) in stands.glasses.iter().zip(codes) {
            let beer = &beers[usize::from(beer_side(*glass, request) == BeerSide::B)];
            let sample = glass_of(sitting, code, beer);
            set.samples.push(sample.id.clone());
            drawn.samples.push(sample);
        }
        drawn.sets.push(set);
    }
    Ok(drawn)
}

/// A glass; its id follows from the plan, as everything in it does.
fn glass_of(sitting: &Sitting, code: BlindingCode, beer: &Beer) -> Sample {
    Sample {
        id: SampleId::new(format!("{}-{code}", sitting.id)),
        sitting: sitting.id.clone(),
        code,
        beer: beer.id.clone(),
        duplicate_of: None,
    }
}

/// Which of the two beers a side of the method is: the one expected to have more is its `B`.
fn beer_side(side: Side, request: &PlanRequest) -> BeerSide {
    let is_swapped = request.expected == Some(BeerSide::A);
    if (side == Side::A) == is_swapped {
        BeerSide::B
    } else {
        BeerSide::A
    }
}
