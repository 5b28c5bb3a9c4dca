//! What is wrong with a recipe that would be brewed after another, worked out a second time and in another way.

use crate::domain::Bottle;
use crate::domain::FermentableFamily;
use crate::domain::HopTime;
use crate::domain::IngredientId;
use crate::domain::Recipe;
use crate::domain::RecipeChange;
use crate::profile::Bounds;
use crate::profile::Driver;
use crate::profile::Supply;
use crate::profile::Wishes;
use crate::profile::amounts;
use crate::workflow::trial_proposals::Kitchen;

/// Everything that is wrong with a recipe that would be brewed after another, worked out anew.
pub(super) fn faults(
    kitchen: &Kitchen,
    (parent, wishes): (&Recipe, &Wishes),
    changes: &[RecipeChange],
    recipe: &Recipe,
) -> Vec<String> {
    let mut faults = Vec::new();
    missed_ranges(kitchen, recipe, wishes, &mut faults);
    what_stays_and_goes(parent, wishes, recipe, &mut faults);
    if changes.len() > wishes.most.number() {
        faults.push(format!("{} changes", changes.len()));
    }
    faults.extend(changes.iter().filter_map(|it| too_fine(it, wishes.finest)));
    not_at_home(wishes, recipe, &mut faults);
    what_hurts(kitchen, parent, recipe, &mut faults);
    what_no_beer_bears(kitchen, parent, recipe, &mut faults);
    faults
}

/// Figures outside of what was wanted; one told to a tenth is met within half of that.
fn missed_ranges(kitchen: &Kitchen, recipe: &Recipe, wishes: &Wishes, faults: &mut Vec<String>) {
    let outlook = kitchen.outlook(recipe);
    for (bounds, driver) in [
        (wishes.strength, Driver::Alcohol),
        (wishes.bitterness, Driver::Bitterness),
        (wishes.colour, Driver::Colour),
    ] {
        let is = outlook.figure(driver);
        let missed = |it: &Bounds| is < it.low() - 0.05 || is > it.high() + 0.05;
        if let Some(bounds) = bounds.filter(missed) {
            faults.push(format!("{is} is not in {bounds:?}"));
        }
    }
}

/// What is locked stands there with the same amounts and times; what is forbidden is gone.
fn what_stays_and_goes(
    parent: &Recipe,
    wishes: &Wishes,
    recipe: &Recipe,
    faults: &mut Vec<String>,
) {
    for id in &wishes.locked {
        let of = |recipe: &Recipe| {
            let grams = amounts(recipe).filter(|it| it.0 == id).map(|it| it.1);
            let hops = recipe.hops.iter().filter(|it| it.hop.identity.id == *id);
            let times: Vec<HopTime> = hops.map(|it| it.when).collect();
            (grams.collect::<Vec<f64>>(), times)
        };
        if of(recipe) != of(parent) {
            faults.push(format!("{id} was locked"));
        }
    }
    let yeast = recipe.yeast.as_ref().map(|it| &it.yeast.identity.id);
    for id in &wishes.forbidden {
        if yeast == Some(id) || amounts(recipe).any(|it| it.0 == id) {
            faults.push(format!("{id} was forbidden"));
        }
    }
}

/// An amount that a scale which weighs no finer is asked for.
fn too_fine(change: &RecipeChange, finest: f64) -> Option<String> {
    let grams = match change {
        RecipeChange::Amount { to, .. } => to.get(),
        RecipeChange::AddFermentable(it) => it.amount.get(),
        RecipeChange::SwapFermentable { by, .. } => by.amount.get(),
        RecipeChange::AddHop(it) => it.amount.get(),
        RecipeChange::SwapHop { by, .. } => by.amount.get(),
        RecipeChange::AddOther(it) => it.amount.get(),
        _ => return None,
    };
    let steps = grams / finest;
    ((steps - steps.round()).abs() > 1e-6).then(|| format!("{grams} g in steps of {finest}"))
}

/// More than there is, or more money than it may cost.
fn not_at_home(wishes: &Wishes, recipe: &Recipe, faults: &mut Vec<String>) {
    let stocked = |id: &IngredientId| wishes.stock.iter().find(|it| it.id == *id);
    if wishes.supply == Supply::AtHome {
        let yeast = recipe.yeast.as_ref().map(|it| &it.yeast.identity.id);
        let ids = amounts(recipe).map(|it| it.0).chain(yeast);
        for id in ids {
            let all = amounts(recipe).filter(|it| it.0 == id).map(|it| it.1);
            let takes = if yeast == Some(id) { 0.01 } else { all.sum() };
            let there = stocked(id).map_or(Some(0.0), |it| it.grams);
            if there.is_some_and(|it| it < takes - 1e-9) {
                faults.push(format!("{takes} g of {id} are not at home"));
            }
        }
    }
    if let Some(most) = wishes.cost {
        let unpriced = |id| stocked(id).is_none_or(|it| it.per_kilogram.is_none());
        if amounts(recipe).any(|it| unpriced(it.0)) {
            faults.push("no price".to_owned());
        }
        let price = |id| stocked(id).and_then(|it| it.per_kilogram).unwrap_or(0.0);
        let cost: f64 = amounts(recipe)
            .map(|(id, grams)| price(id) * grams / 1e3)
            .sum();
        // Money is told to hundredths.
        if cost > most + 0.005 {
            faults.push(format!("it costs {cost}"));
        }
    }
}

/// Bottles that burst, drinkers who are kept away, strength that nobody asked for.
fn what_hurts(kitchen: &Kitchen, parent: &Recipe, recipe: &Recipe, faults: &mut Vec<String>) {
    let old: Vec<_> = parent.allergens().collect();
    if recipe.allergens().any(|it| !old.contains(&it)) {
        faults.push("an allergen more".to_owned());
    }
    let gas = |it: &Recipe| {
        it.packaging
            .carbonation
            .map_or(0.0, crate::domain::Volumes::get)
    };
    // Common practice and judgement of the limits, volumes, less 0.3 for what nobody can estimate.
    let most = match recipe.packaging.bottle {
        Bottle::Heavy => 3.7,
        Bottle::Champagne => 4.7,
        Bottle::Plastic => 3.2,
        _ => 2.7,
    };
    if gas(recipe) > gas(parent).max(most) + 1e-9 {
        faults.push(format!("{} volumes", gas(recipe)));
    }
    let strength = |it: &Recipe| kitchen.outlook(it).figure(Driver::Alcohol);
    let [now, then] = [recipe, parent].map(strength);
    if now > then.max(12.0) + 1e-9 || now < then.min(0.5) {
        faults.push(format!("{now} % vol"));
    }
}

/// What is beyond common practice, and beyond the parent too.
fn what_no_beer_bears(
    kitchen: &Kitchen,
    parent: &Recipe,
    recipe: &Recipe,
    faults: &mut Vec<String>,
) {
    use FermentableFamily::{
        Base, Crystal, Extract, Flaked, Honey, Kilned, Roasted, Smoked, Sugar,
    };
    let part = |recipe: &Recipe, families: &[FermentableFamily]| {
        let grams = |it: &crate::domain::FermentableUse| it.amount.get();
        let all: f64 = recipe.fermentables.iter().map(grams).sum();
        let some = recipe.fermentables.iter();
        let some = some.filter(|it| families.contains(&it.fermentable.family));
        some.map(grams).sum::<f64>() / all
    };
    let outlooks = [recipe, parent].map(|it| kitchen.outlook(it));
    let a_litre = |recipe: &Recipe, is_dry: bool| {
        let hops = recipe.hops.iter();
        let hops = hops.filter(|it| !is_dry || matches!(it.when, HopTime::Dry { .. }));
        hops.map(|it| it.amount.get()).sum::<f64>() / recipe.volume.get()
    };
    let mut most = |what: &str, now: f64, then: f64, most: f64| {
        if now > then.max(most) + 1e-9 {
            faults.push(format!("{what} {now}"));
        }
    };
    // Common practice of the grist, the hop kettle and the dry hop; ions: Palmer & Kaminski 2013.
    for (family, limit) in [
        (Roasted, 0.12),
        (Crystal, 0.2),
        (Sugar, 0.2),
        (Honey, 0.3),
        (Flaked, 0.4),
    ] {
        let [now, then] = [recipe, parent].map(|it| part(it, &[family]));
        most(&format!("{family:?}"), now, then, limit);
    }
    // Malt kilned darker than 30 EBC has no enzymes left to speak of.
    let idle = |recipe: &Recipe| {
        let pale = |it: &crate::domain::FermentableUse| {
            it.fermentable.family != Kilned || it.fermentable.colour.usual() <= 30.0
        };
        let dark = recipe.fermentables.iter().filter(|it| !pale(it));
        let dark: f64 = dark.map(|it| it.amount.get()).sum();
        let all: f64 = recipe.fermentables.iter().map(|it| it.amount.get()).sum();
        1.0 - part(recipe, &[Base, Kilned, Extract, Smoked]) + dark / all
    };
    let [now, then] = [recipe, parent].map(idle);
    most("too little that converts", now, then, 0.5);
    most("hops", a_litre(recipe, false), a_litre(parent, false), 16.0);
    most(
        "dry hops",
        a_litre(recipe, true),
        a_litre(parent, true),
        10.0,
    );
    for (ion, limit) in [
        (Driver::Sulphate, 350.0),
        (Driver::Chloride, 250.0),
        (Driver::Sodium, 120.0),
    ] {
        let [now, then] = [&outlooks[0], &outlooks[1]].map(|it| it.figure(ion));
        most(&format!("{ion:?}"), now, then, limit);
    }
    for it in &recipe.others {
        let dose = |recipe: &Recipe| {
            let same = recipe.others.iter();
            let same = same.filter(|other| other.other.identity.id == it.other.identity.id);
            same.map(|it| it.amount.get()).sum::<f64>() / recipe.volume.get()
        };
        let limit = it.other.usual.high();
        most(
            it.other.identity.id.as_str(),
            dose(recipe),
            dose(parent),
            limit,
        );
    }
}
