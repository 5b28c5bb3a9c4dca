//! What no proposal may do: what a beer, a bottle or a drinker does not bear, and what the brewer does not want.

use crate::domain::Fermentable;
use crate::domain::FermentableFamily;
use crate::domain::HopTime;
use crate::domain::IngredientId;
use crate::domain::Recipe;
use crate::domain::Volumes;
use crate::profile::Driver;
use crate::profile::Outlook;
use crate::profile::Unmet;
use crate::profile::Wishes;
use crate::profile::bottle_gas::most_gas;
use crate::profile::wishes::amounts;

/// More hops than this, g/L, waste hops and beer (common practice; Lafontaine & Shellhammer 2018: the gain of a dry
/// hop flattens past 8 g/L).
const MOST_HOPS: f64 = 16.0;
const MOST_DRY: f64 = 10.0;
/// The most of a grist that a family makes without trouble in the mash tun or the glass, parts (common practice).
const MOST_OF_GRIST: [(FermentableFamily, f64); 6] = [
    (FermentableFamily::Roasted, 0.12),
    (FermentableFamily::Crystal, 0.20),
    (FermentableFamily::Sugar, 0.20),
    (FermentableFamily::Honey, 0.30),
    (FermentableFamily::Flaked, 0.40),
    (FermentableFamily::Smoked, 1.00),
];
/// The least of a grist that converts itself and the rest, a part (common practice).
const LEAST_BASE: f64 = 0.5;
/// The darkest kilned malt that still converts itself, EBC (common practice: dark Munich malt does, biscuit malt does
/// not).
const DARKEST_THAT_CONVERTS: f64 = 30.0;
/// Ions, mg/L, beyond which beer tastes of salts or harsh (Palmer & Kaminski 2013).
const MOST_IONS: [(Driver, f64); 3] = [
    (Driver::Sulphate, 350.0),
    (Driver::Chloride, 250.0),
    (Driver::Sodium, 120.0),
];
/// The strongest beer that is proposed, % vol, and the weakest: another yeast, or next to water.
const STRENGTHS: [f64; 2] = [0.5, 12.0];

/// True for a recipe that may be proposed: it bears everything that a beer bears, or does no worse than the one
/// it comes from.
#[must_use]
pub fn is_sound(recipe: &Recipe, outlook: &Outlook, parent: &Recipe, before: &Outlook) -> bool {
    let no_worse = |now: f64, then: f64, most: f64| now <= most.max(then) + 1e-9;
    let grist = MOST_OF_GRIST
        .iter()
        .all(|(family, most)| no_worse(share(recipe, *family), share(parent, *family), *most));
    let hops = no_worse(hops(recipe), hops(parent), MOST_HOPS);
    let dry = no_worse(dry_hops(recipe), dry_hops(parent), MOST_DRY);
    let ions = MOST_IONS
        .iter()
        .all(|(ion, most)| no_worse(outlook.figure(*ion), before.figure(*ion), *most));
    let strength = outlook.figure(Driver::Alcohol);
    let was = before.figure(Driver::Alcohol);
    let [weakest, strongest] = STRENGTHS;
    let drinkable = strength >= weakest.min(was) && no_worse(strength, was, strongest);
    let base = base(recipe) + 1e-9 >= LEAST_BASE.min(base(parent));
    let gas = |it: &Recipe| it.packaging.carbonation.map_or(0.0, Volumes::get);
    let bottle = no_worse(gas(recipe), gas(parent), most_gas(recipe.packaging.bottle));
    let bearable = grist && hops && dry && ions && drinkable && base && bottle;
    bearable && doses_are_usual(recipe, parent)
}

/// The part of a family in the grist.
fn share(recipe: &Recipe, family: FermentableFamily) -> f64 {
    part_of_grist(recipe, |it| it.family == family)
}

/// The part that converts.
fn base(recipe: &Recipe) -> f64 {
    part_of_grist(recipe, converts)
}

/// True for malt that was kilned so mildly that its enzymes live, and for extract, which needs none.
#[must_use]
pub(in crate::profile) fn converts(it: &Fermentable) -> bool {
    use FermentableFamily::{Base, Extract, Kilned, Smoked};
    match it.family {
        Base | Extract | Smoked => true,
        Kilned => it.colour.usual() <= DARKEST_THAT_CONVERTS,
        _ => false,
    }
}

fn part_of_grist(recipe: &Recipe, wanted: impl Fn(&Fermentable) -> bool) -> f64 {
    let all: f64 = recipe.fermentables.iter().map(|it| it.amount.get()).sum();
    let fitting = recipe.fermentables.iter();
    let fitting = fitting.filter(|it| wanted(&it.fermentable));
    let grams: f64 = fitting.map(|it| it.amount.get()).sum();
    if all > 0.0 { grams / all } else { 0.0 }
}

fn hops(recipe: &Recipe) -> f64 {
    let all = recipe.hops.iter().map(|it| it.amount.get());
    all.sum::<f64>() / recipe.volume.get()
}

fn dry_hops(recipe: &Recipe) -> f64 {
    let all = recipe.hops.iter();
    let dry = all.filter(|it| matches!(it.when, HopTime::Dry { .. }));
    dry.map(|it| it.amount.get()).sum::<f64>() / recipe.volume.get()
}

/// No addition above the high end of what is usual, nor above what the parent had of it.
fn doses_are_usual(recipe: &Recipe, parent: &Recipe) -> bool {
    let dose = |recipe: &Recipe, id: &IngredientId| {
        let same = recipe.others.iter();
        let same = same.filter(|it| it.other.identity.id == *id);
        same.map(|it| it.amount.get()).sum::<f64>() / recipe.volume.get()
    };
    let mut others = recipe.others.iter();
    others.all(|it| {
        let id = &it.other.identity.id;
        let most = it.other.usual.high().max(dose(parent, id));
        dose(recipe, id) <= most + 1e-9
    })
}

/// The wishes that a recipe does not meet.
#[must_use]
pub fn unmet(recipe: &Recipe, outlook: &Outlook, wishes: &Wishes) -> Vec<Unmet> {
    let mut unmet = Vec::new();
    let figure = |driver| outlook.figure(driver);
    let outside = |bounds: Option<crate::profile::Bounds>, it: f64| {
        // A figure told to a tenth is met within half of that.
        bounds.filter(|bounds| bounds.missed_by(it) > 0.05)
    };
    let strength = figure(Driver::Alcohol);
    let bitterness = figure(Driver::Bitterness);
    let colour = figure(Driver::Colour);
    unmet.extend(outside(wishes.strength, strength).map(|it| Unmet::Strength(strength, it)));
    unmet
        .extend(outside(wishes.bitterness, bitterness).map(|it| Unmet::Bitterness(bitterness, it)));
    unmet.extend(outside(wishes.colour, colour).map(|it| Unmet::Colour(colour, it)));
    if let Some(most) = wishes.cost {
        let cost = wishes.cost_of(recipe);
        unmet.extend((cost > most + 0.005).then_some(Unmet::Cost(cost, most)));
        let unpriced = amounts(recipe).find(|it| !wishes.has_price(it.0));
        unmet.extend(unpriced.map(|it| Unmet::NoPrice(it.0.clone())));
    }
    unmet.extend(unmet_supply(recipe, wishes));
    unmet
}

/// What is in it and must not be, and what takes more than there is.
fn unmet_supply(recipe: &Recipe, wishes: &Wishes) -> Vec<Unmet> {
    let mut unmet = Vec::new();
    let mut sums: Vec<(&IngredientId, f64)> = Vec::new();
    for (id, grams) in amounts(recipe) {
        match sums.iter_mut().find(|it| it.0 == id) {
            Some(sum) => sum.1 += grams,
            None => sums.push((id, grams)),
        }
    }
    for (id, grams) in sums {
        if wishes.forbidden.contains(id) {
            unmet.push(Unmet::Forbidden(id.clone()));
        }
        let there = wishes.grams_at_hand(id);
        if let Some(there) = there.filter(|there| *there + 1e-9 < grams) {
            unmet.push(Unmet::NotAtHome(id.clone(), grams, there));
        }
    }
    if let Some(yeast) = &recipe.yeast {
        let id = &yeast.yeast.identity.id;
        if wishes.forbidden.contains(id) {
            unmet.push(Unmet::Forbidden(id.clone()));
        }
        if wishes.grams_at_hand(id).is_some_and(|it| it <= 0.0) {
            unmet.push(Unmet::NotAtHome(id.clone(), 1.0, 0.0));
        }
    }
    unmet
}

impl Unmet {
    /// How far it is missed: 1 for what is missed altogether, so that nearer is better.
    #[must_use]
    pub fn size(&self) -> f64 {
        match self {
            Self::Strength(is, wanted) => wanted.missed_by(*is),
            Self::Bitterness(is, wanted) | Self::Colour(is, wanted) => wanted.missed_by(*is) / 10.0,
            Self::Cost(is, most) => (is - most) / most.max(0.01),
            Self::Forbidden(_) | Self::NoPrice(_) => 1.0,
            Self::NotAtHome(_, takes, there) => 1.0 - there / takes,
        }
    }
}
