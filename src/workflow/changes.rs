//! The small changes of a recipe that are tried to tell what would move a line of its prediction.

use crate::domain::Celsius;
use crate::domain::Days;
use crate::domain::Grams;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::MilligramsPerLitre;
use crate::domain::Minutes;
use crate::domain::Recipe;
use crate::domain::Volumes;
use crate::profile::Source;
use crate::workflow::source_words;

/// Every change that is tried, with the recipe changed so. What would leave the bounds of a recipe is no
/// change.
pub(super) fn changes(recipe: &Recipe) -> Vec<(String, Recipe)> {
    let mut all = amounts(recipe);
    all.extend(hop_steps(recipe));
    all.extend(fresh_hops(recipe));
    all.extend(warmer(recipe));
    all.extend(water_and_gas(recipe));
    all
}

/// A tenth more of each ingredient.
fn amounts(recipe: &Recipe) -> Vec<(String, Recipe)> {
    let fermentables = recipe.fermentables.iter().map(|it| it.amount).enumerate();
    let hops = recipe.hops.iter().map(|it| it.amount).enumerate();
    let others = recipe.others.iter().map(|it| it.amount).enumerate();
    let all = fermentables.map(|(at, it)| (Source::Fermentable(at), it));
    let all = all.chain(hops.map(|(at, it)| (Source::Hop(at), it)));
    let all = all.chain(others.map(|(at, it)| (Source::Other(at), it)));
    all.filter_map(|(source, amount)| {
        let more = Grams::new(1.1 * amount.get()).ok()?;
        let mut changed = recipe.clone();
        match source {
            Source::Fermentable(at) => changed.fermentables[at].amount = more,
            Source::Hop(at) => changed.hops[at].amount = more,
            Source::Other(at) => changed.others[at].amount = more,
            Source::Yeast | Source::Condition(_) => {}
        }
        let (grams, what) = (0.1 * amount.get(), source_words(recipe, source));
        Some((
            format!("{} more {what} (a tenth)", grams_words(grams)),
            changed,
        ))
    })
    .collect()
}

fn grams_words(grams: f64) -> String {
    if grams < 10.0 {
        format!("{grams:.1} g")
    } else {
        format!("{grams:.0} g")
    }
}

/// Five minutes more of the boil, or five degrees more of a stand, for each hop.
fn hop_steps(recipe: &Recipe) -> Vec<(String, Recipe)> {
    let step = |(at, it): (usize, &HopUse)| {
        let what = source_words(recipe, Source::Hop(at));
        let (when, change) = match it.when {
            HopTime::Boil(time) => {
                let longer = Minutes::new(time.get() + 5.0).ok()?;
                (HopTime::Boil(longer), format!("5 min longer: {what}"))
            }
            HopTime::Whirlpool {
                temperature,
                cools_to,
                time,
            } => {
                let temperature = Celsius::new(temperature.get() + 5.0).ok()?;
                let temperature = (temperature.get() <= 100.0).then_some(temperature)?;
                let when = HopTime::Whirlpool {
                    temperature,
                    cools_to,
                    time,
                };
                (when, format!("5 °C hotter: {what}"))
            }
            HopTime::Dry { days, temperature } => {
                let days = Days::new(days.get() + 1.0).ok()?;
                let when = HopTime::Dry { days, temperature };
                (when, format!("a day longer: {what}"))
            }
        };
        let mut changed = recipe.clone();
        changed.hops[at].when = when;
        Some((change, changed))
    };
    recipe.hops.iter().enumerate().filter_map(step).collect()
}

/// Fresh hops in the place of old ones.
fn fresh_hops(recipe: &Recipe) -> Option<(String, Recipe)> {
    let mut changed = recipe.clone();
    for it in &mut changed.hops {
        it.age = None;
    }
    (changed.hops != recipe.hops).then(|| ("fresh hops".to_owned(), changed))
}

/// A hotter mash and a warmer fermentation.
fn warmer(recipe: &Recipe) -> Vec<(String, Recipe)> {
    let one_more = |celsius: f64| Celsius::new(celsius + 1.0).ok();
    let mash = recipe.mash.temperature.and_then(|rest| {
        let mut changed = recipe.clone();
        changed.mash.temperature = Some(one_more(rest.get())?);
        Some(("1 °C hotter mash".to_owned(), changed))
    });
    let yeast = recipe.yeast.as_ref().and_then(|it| {
        let now = it
            .temperature
            .map_or(it.yeast.temperature.usual(), Celsius::get);
        let mut changed = recipe.clone();
        changed.yeast.as_mut()?.temperature = Some(one_more(now)?);
        Some(("1 °C warmer fermentation".to_owned(), changed))
    });
    mash.into_iter().chain(yeast).collect()
}

/// Harder water, and more gas.
fn water_and_gas(recipe: &Recipe) -> Vec<(String, Recipe)> {
    let more = |ion: Option<MilligramsPerLitre>| {
        let ion = ion?;
        MilligramsPerLitre::new(ion.get() + 50.0).ok()
    };
    let mut all = Vec::new();
    if let Some(sulphate) = more(recipe.water.sulphate) {
        let mut changed = recipe.clone();
        changed.water.sulphate = Some(sulphate);
        all.push(("50 mg/L more sulphate".to_owned(), changed));
    }
    if let Some(chloride) = more(recipe.water.chloride) {
        let mut changed = recipe.clone();
        changed.water.chloride = Some(chloride);
        all.push(("50 mg/L more chloride".to_owned(), changed));
    }
    let target = recipe.packaging.carbonation;
    if let Some(gas) = target.and_then(|it| Volumes::new(it.get() + 0.2).ok()) {
        let mut changed = recipe.clone();
        changed.packaging.carbonation = Some(gas);
        all.push(("0.2 vol more gas".to_owned(), changed));
    }
    all
}
