//! The figures that a recipe itself says: shares of the grist, hop matter, fining, water, acid.

use crate::brewing::bitter_equivalents;
use crate::domain::FermentableFamily;
use crate::domain::Grain;
use crate::domain::HopTime;
use crate::domain::Ion;
use crate::domain::OtherKind;
use crate::domain::Recipe;
use crate::domain::ShelfId;
use crate::profile::Arrived;
use crate::profile::Brew;
use crate::profile::Driver;
use crate::profile::Drivers;
use crate::profile::Estimate;
use crate::profile::Source;
use crate::profile::Weights;
use crate::profile::bottle_age::bitterness_left;

/// Polyphenols in hops, mg/g (common practice: about 4 % of pellets).
const POLYPHENOLS: f64 = 40.0;
/// The part that a dry hop gives (Forster & Gahr 2013: 50 to 60 %), and the days until it has (judgement).
const DRY_GIVEN: f64 = 0.55;
const DRY_DAYS: f64 = 1.5;
/// The part that a boil or a stand leaves in the beer: the break takes half of what dissolves (judgement).
const HOT_GIVEN: f64 = 0.3;

/// β-glucan of an all-malt beer, mg/L, and what one per cent of the grist adds (judgement; above 200 mg/L a
/// beer is viscous, Moreno Ravelo et al. 2025).
const GLUCAN_OF_MALT: f64 = 100.0;
const GLUCAN_OF_OATS: f64 = 10.0;
const GLUCAN_OF_RYE: f64 = 8.0;
const GLUCAN_OF_RAW_BARLEY: f64 = 5.0;

/// The physical figures with what the recipe itself says.
pub(super) fn with_recipe(brew: &Brew<'_>, arrived: &[(Arrived<'_>, Weights)]) -> Drivers {
    let recipe = brew.recipe;
    let share = |wanted: &dyn Fn(FermentableFamily, Grain) -> bool| {
        Estimate::exact(grist_share(recipe, wanted))
    };
    let drivers = brew
        .drivers
        .clone()
        .with(
            Driver::Roasted,
            share(&|it, _| it == FermentableFamily::Roasted),
        )
        .with(
            Driver::Crystal,
            share(&|it, _| it == FermentableFamily::Crystal),
        )
        .with(
            Driver::Wheat,
            share(&|_, it| matches!(it, Grain::Wheat | Grain::Rye)),
        )
        .with(Driver::Oats, share(&|_, it| it == Grain::Oats))
        .with(Driver::Glucan, Estimate::exact(glucan(recipe)))
        .with(Driver::DryHop, Estimate::exact(dry_hop(brew)))
        .with(Driver::HopPolyphenols, Estimate::exact(polyphenols(brew)))
        .with(Driver::Fining, Estimate::exact(fining(brew)))
        .with(Driver::Acid, Estimate::exact(acid(brew)))
        .with(Driver::SourCulture, Estimate::exact(soured(arrived)));
    with_water(with_equivalents(brew, drivers), brew)
}

/// The part of the grist that fits, %.
fn grist_share(recipe: &Recipe, wanted: impl Fn(FermentableFamily, Grain) -> bool) -> f64 {
    let all: f64 = recipe.fermentables.iter().map(|it| it.amount.get()).sum();
    let fitting = recipe.fermentables.iter();
    let fitting = fitting.filter(|it| wanted(it.fermentable.family, it.fermentable.grain));
    let grams: f64 = fitting.map(|it| it.amount.get()).sum();
    if all > 0.0 { 100.0 * grams / all } else { 0.0 }
}

/// β-glucan, mg/L.
fn glucan(recipe: &Recipe) -> f64 {
    let oats = grist_share(recipe, |_, it| it == Grain::Oats);
    let rye = grist_share(recipe, |_, it| it == Grain::Rye);
    let raw = |family, grain| family == FermentableFamily::Flaked && grain == Grain::Barley;
    let raw = grist_share(recipe, raw);
    GLUCAN_OF_MALT + GLUCAN_OF_OATS * oats + GLUCAN_OF_RYE * rye + GLUCAN_OF_RAW_BARLEY * raw
}

/// What bitterness units and dry hops are worth to the tongue by now, at both ends of the units.
fn with_equivalents(brew: &Brew<'_>, drivers: Drivers) -> Drivers {
    let units = drivers.get(Driver::Bitterness);
    let dose = drivers.get(Driver::DryHop).value();
    let left = brew.handled.weeks.map_or(1.0, bitterness_left);
    // Beyond what the formula holds for, the units themselves stand.
    let worth = |units: f64| left * bitter_equivalents(units, dose).unwrap_or(units);
    let ends = [worth(units.low()), worth(units.high())];
    drivers.with(
        Driver::BitterEquivalents,
        Estimate::new(worth(units.value()), ends),
    )
}

/// Dry hops, g/L.
fn dry_hop(brew: &Brew<'_>) -> f64 {
    let hops = brew.recipe.hops.iter();
    let dry = hops.filter(|it| matches!(it.when, HopTime::Dry { .. }));
    dry.map(|it| it.amount.get()).sum::<f64>() / brew.litres
}

/// Polyphenols of hops, mg/L.
fn polyphenols(brew: &Brew<'_>) -> f64 {
    let given = brew.recipe.hops.iter().map(|it| {
        let part = match it.when {
            HopTime::Dry { days, .. } => DRY_GIVEN * (1.0 - (-days.get() / DRY_DAYS).exp()),
            HopTime::Boil(_) | HopTime::Whirlpool { .. } => HOT_GIVEN,
        };
        part * POLYPHENOLS * it.amount.get()
    });
    given.sum::<f64>() / brew.litres
}

/// Finings, as a part of their usual dose, 1 at most.
fn fining(brew: &Brew<'_>) -> f64 {
    let others = brew.recipe.others.iter();
    let finings = others.filter(|it| it.other.kind == OtherKind::Finings);
    let doses = finings.map(|it| it.amount.get() / brew.litres / it.other.usual.usual().max(1e-3));
    doses.sum::<f64>().min(1.0)
}

/// Acid added, g/L.
fn acid(brew: &Brew<'_>) -> f64 {
    let others = brew.recipe.others.iter();
    let acids = others.filter(|it| it.other.kind == OtherKind::Acid);
    acids.map(|it| it.amount.get()).sum::<f64>() / brew.litres
}

/// Flavour units that the yeast brings to the shelves that taste sour.
fn soured(arrived: &[(Arrived<'_>, Weights)]) -> f64 {
    let sour = arrived
        .iter()
        .filter(|(it, _)| it.source == Source::Yeast && is_sour(&it.gift.shelf));
    sour.map(|(it, _)| it.units).sum()
}

/// The shelves that taste sour.
fn is_sour(shelf: &ShelfId) -> bool {
    matches!(shelf.as_str(), "soured" | "vinegar-and-cider")
}

/// The water with the salts that go in. What is not stated is as usual before them, as wide as that.
fn with_water(drivers: Drivers, brew: &Brew<'_>) -> Drivers {
    let water = brew.recipe.water;
    [
        (Driver::Chloride, Ion::Chloride, water.chloride),
        (Driver::Sulphate, Ion::Sulphate, water.sulphate),
        (Driver::Sodium, Ion::Sodium, water.sodium),
    ]
    .into_iter()
    .fold(drivers, |drivers, (driver, ion, stated)| {
        let before = stated.map_or(drivers.get(driver), |it| Estimate::exact(it.get()));
        let added = salted(brew, ion);
        let ends = [before.low() + added, before.high() + added];
        drivers.with(driver, Estimate::new(before.value() + added, ends))
    })
}

/// What salts give of an ion, mg/L.
fn salted(brew: &Brew<'_>, ion: Ion) -> f64 {
    let given = brew.recipe.others.iter().map(|it| {
        let contents = it.other.ions.iter().filter(|it| it.ion == ion);
        let content: f64 = contents.map(|it| it.content.get()).sum();
        it.amount.get() * content
    });
    given.sum::<f64>() / brew.litres
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::domain::Bottle;
    use crate::domain::Catalogue;
    use crate::domain::Gifts;
    use crate::domain::Grams;
    use crate::domain::Identity;
    use crate::domain::IngredientId;
    use crate::domain::Intent;
    use crate::domain::IonContent;
    use crate::domain::Litres;
    use crate::domain::Mash;
    use crate::domain::MilligramsPerGram;
    use crate::domain::MilligramsPerLitre;
    use crate::domain::Name;
    use crate::domain::Other;
    use crate::domain::OtherUse;
    use crate::domain::Packaging;
    use crate::domain::Spread;
    use crate::domain::Water;
    use crate::profile::FamilyGifts;
    use crate::profile::Handled;

    /// Five litres of nothing but half a gram of gypsum, in some water.
    fn with_gypsum(sulphate: Option<f64>) -> Recipe {
        let content = |ion, it| IonContent {
            ion,
            content: MilligramsPerGram::new(it).unwrap(),
        };
        let gypsum = Other {
            identity: Arc::new(Identity {
                id: IngredientId::new("gypsum").unwrap(),
                name: "Gypsum".to_owned(),
                synonyms: Vec::new(),
                source: String::new(),
                gifts: Gifts::AsItsFamily,
            }),
            kind: OtherKind::Salt,
            usual: Spread::new("dose", [0.1, 0.2, 0.6], 0.0, 1.0).unwrap(),
            allergens: Vec::new(),
            ions: vec![content(Ion::Calcium, 233.0), content(Ion::Sulphate, 558.0)],
        };
        let name = |it| Name::new("a name", it).unwrap();
        Recipe {
            name: name("Salted"),
            version: name("1"),
            parent: None,
            reason: None,
            volume: Litres::new(5.0).unwrap(),
            efficiency: None,
            mash: Mash::default(),
            boil: None,
            fermentables: Vec::new(),
            hops: Vec::new(),
            yeast: None,
            others: vec![OtherUse {
                other: gypsum,
                amount: Grams::new(0.5).unwrap(),
                when: None,
            }],
            water: Water {
                sulphate: sulphate.map(|it| MilligramsPerLitre::new(it).unwrap()),
                ..Water::default()
            },
            packaging: Packaging {
                carbonation: None,
                priming: None,
                bottle: Bottle::Unknown,
            },
            intent: Intent::default(),
            promised: Vec::new(),
        }
    }

    fn water(recipe: &Recipe) -> Drivers {
        let families = FamilyGifts::of(&Catalogue::default());
        let brew = Brew {
            recipe,
            litres: 5.0,
            fermented_at: None,
            handled: Handled::default(),
            conditions: &[],
            drivers: Drivers::default(),
            families: &families,
        };
        with_water(Drivers::default(), &brew)
    }

    #[test]
    fn a_salt_comes_on_top_of_the_water() {
        // 0.1 g/L of CaSO4·2H2O (172.17 g/mol) holds 0.1 × 96.06 / 172.17 g of sulphate, 55.8 mg.
        let stated = water(&with_gypsum(Some(40.0))).get(Driver::Sulphate);
        assert!((stated.value() - 95.8).abs() < 0.05, "{stated:?}");
        assert!(stated.high() - stated.low() < 1e-9);
        let usual = Driver::Sulphate.usual();
        let unknown = water(&with_gypsum(None)).get(Driver::Sulphate);
        assert!((unknown.value() - usual.value() - 55.8).abs() < 0.05);
        let width = usual.high() - usual.low();
        assert!((unknown.high() - unknown.low() - width).abs() < 1e-9);
        let other = water(&with_gypsum(None)).get(Driver::Chloride);
        assert_eq!(other, Driver::Chloride.usual());
    }
}
