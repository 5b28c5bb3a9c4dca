//! Changes of every kind, made from drawn numbers.

use crate::recipe_edit::documents::kitchen;
use crate::recipe_edit::documents::name;
use proptest::prelude::Strategy;
use thirdglass::domain::Celsius;
use thirdglass::domain::Days;
use thirdglass::domain::Ebc;
use thirdglass::domain::FermentableUse;
use thirdglass::domain::Grams;
use thirdglass::domain::HopStorage;
use thirdglass::domain::HopTime;
use thirdglass::domain::HopUse;
use thirdglass::domain::Litres;
use thirdglass::domain::Minutes;
use thirdglass::domain::OtherUse;
use thirdglass::domain::Part;
use thirdglass::domain::Percent;
use thirdglass::domain::Recipe;
use thirdglass::domain::RecipeChange;
use thirdglass::domain::Volumes;
use thirdglass::domain::YeastUse;

/// What a change is made of: its kind, two places, and a size from 0 to 1.
pub(super) type Draw = (usize, usize, usize, f64);

pub(super) const KINDS: usize = 17;

pub(super) fn grams(size: f64, step: f64) -> Grams {
    Grams::new(((1.0 + 49.0 * size) / step).round() * step).unwrap()
}

pub(super) fn time(place: usize, size: f64) -> HopTime {
    let celsius = |it: f64| Celsius::new(it.round()).unwrap();
    match place % 4 {
        0 => HopTime::Boil(Minutes::new((60.0 * size).round()).unwrap()),
        1 => HopTime::Whirlpool {
            temperature: celsius(90.0),
            cools_to: (size > 0.5).then(|| celsius(60.0 + 20.0 * size)),
            time: Minutes::new(20.0).unwrap(),
        },
        2 => HopTime::Dry {
            days: Days::new((1.0 + 6.0 * size).round()).unwrap(),
            temperature: (size > 0.5).then(|| celsius(20.0 * size)),
        },
        _ => HopTime::Boil(Minutes::new(60.0).unwrap()),
    }
}

pub(super) fn fermentable(place: usize, size: f64) -> FermentableUse {
    let all = kitchen().1.fermentables();
    FermentableUse {
        fermentable: all[place % all.len()].clone(),
        amount: grams(size, 1.0),
        colour: (size > 0.6).then(|| Ebc::new((100.0 * size).round() / 10.0).unwrap()),
        extract: (size > 0.8).then(|| Percent::new((800.0 * size).round() / 10.0).unwrap()),
    }
}

pub(super) fn hop(place: usize, size: f64) -> HopUse {
    let all = kitchen().1.hops();
    HopUse {
        hop: all[place % all.len()].clone(),
        amount: grams(size / 3.0, 0.1),
        alpha: (size > 0.4).then(|| Percent::new((100.0 * size).round() / 10.0).unwrap()),
        when: time(place, size),
        age: (size > 0.7).then(|| Days::new((600.0 * size).round()).unwrap()),
        storage: (size > 0.5).then_some(HopStorage::Fridge),
    }
}

pub(super) fn yeast(place: usize, size: f64) -> YeastUse {
    let all = kitchen().1.yeasts();
    YeastUse {
        yeast: all[place % all.len()].clone(),
        attenuation: (size > 0.5).then(|| Percent::new((90.0 * size).round()).unwrap()),
        temperature: (size > 0.3).then(|| Celsius::new((30.0 * size).round()).unwrap()),
    }
}

pub(super) fn other(place: usize, size: f64) -> OtherUse {
    let all = kitchen().1.others();
    OtherUse {
        other: all[place % all.len()].clone(),
        amount: grams(size / 50.0, 0.1),
        when: (size > 0.5).then(|| name("at \"the end\"")),
    }
}

/// The change that is drawn; none where the recipe has nothing of the kind. The first fermentable stays, since a
/// recipe without it would be no beer.
pub(super) fn change((kind, place, pick, size): Draw, recipe: &Recipe) -> Option<RecipeChange> {
    let within = |length: usize| (length > 0).then(|| place % length);
    let (malts, hops) = (recipe.fermentables.len(), recipe.hops.len());
    let later = |length: usize| (length > 1).then(|| 1 + place % (length - 1));
    Some(match kind {
        0 => {
            let at = within(malts)?;
            let old = recipe.fermentables[at].amount.get();
            let to = Grams::new((old * (0.7 + 0.6 * size)).round()).unwrap();
            let part = Part::Fermentable(at);
            RecipeChange::Amount { part, to }
        }
        1 => RecipeChange::Amount {
            part: Part::Hop(within(hops)?),
            to: grams(size / 3.0, 0.1),
        },
        2 => RecipeChange::Amount {
            part: Part::Other(within(recipe.others.len())?),
            to: grams(size / 50.0, 0.1),
        },
        3 => RecipeChange::LeaveOut(Part::Fermentable(later(malts)?)),
        4 => RecipeChange::LeaveOut(Part::Hop(within(hops)?)),
        5 => RecipeChange::LeaveOut(Part::Other(within(recipe.others.len())?)),
        6 => RecipeChange::SwapFermentable {
            at: later(malts)?,
            by: fermentable(pick, size),
        },
        7 => RecipeChange::SwapHop {
            at: within(hops)?,
            by: hop(pick, size),
        },
        8 => RecipeChange::Yeast(yeast(pick, size)),
        9 => RecipeChange::AddFermentable(fermentable(pick, size)),
        10 => RecipeChange::AddHop(hop(pick, size)),
        11 => RecipeChange::AddOther(other(pick, size)),
        12 => RecipeChange::HopTime {
            at: within(hops)?,
            when: time(pick, size),
        },
        13 => RecipeChange::Mash(Celsius::new((60.0 + 12.0 * size).round()).unwrap()),
        14 => RecipeChange::Fermentation(Celsius::new((8.0 + 20.0 * size).round()).unwrap()),
        15 => RecipeChange::Carbonation(Volumes::new((20.0 + 9.0 * size).round() / 10.0).unwrap()),
        _ => RecipeChange::Volume(Litres::new((30.0 + 60.0 * size).round() / 10.0).unwrap()),
    })
}

pub(super) fn draws() -> impl Strategy<Value = Vec<Draw>> {
    let one = (0..KINDS, 0..8_usize, 0..200_usize, 0.0..1.0);
    proptest::collection::vec(one, 1..4)
}
