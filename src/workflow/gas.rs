//! The gas in the bottles: how much, how much sugar for it, and what to take care of.

use crate::brewing::BottleKind;
use crate::brewing::PressureCaution;
use crate::brewing::PrimingSugar as Sugar;
use crate::brewing::SpecificGravity;
use crate::brewing::residual_volumes;
use crate::brewing::volumes_from_unfinished;
use crate::domain::Bottle;
use crate::domain::Diastatic;
use crate::domain::PrimingSugar;
use crate::domain::Recipe;
use crate::domain::Volumes;
use crate::workflow::BatchLog;
use crate::workflow::Figure;
use crate::workflow::Figures;
use crate::workflow::Origin;
use crate::workflow::brew_run::Run;

/// Fermentation temperature where nobody states it, °C (judgement).
const ROOM_CELSIUS: f64 = 20.0;
/// Warmest storage where nobody states it, °C (judgement: a kitchen in summer).
const WARM_CELSIUS: f64 = 25.0;
/// How far the volumes of gas stray: the residual gas, and uneven sugar (judgement).
const GAS_STRAYS: f64 = 0.2;

/// Adds the gas: what is in the beer when packaged, what the priming adds, what the bottle says to that.
pub(super) fn add_gas(made: &mut Figures, recipe: &Recipe, log: &BatchLog, usual: &Run<'_>) {
    let residual = residual_volumes(warmest(recipe, log));
    let litres = log
        .number("volume-packaged")
        .or_else(|| log.number("volume-fermenter"))
        .unwrap_or_else(|| recipe.volume.get());
    let sugar = priming_sugar(recipe.packaging.priming.unwrap_or(PrimingSugar::Sucrose));
    let primed = log
        .number("priming-sugar")
        .and_then(|grams| Some(residual? + sugar.volumes_from(grams, litres)?));
    let aimed = recipe.packaging.carbonation.map(Volumes::get);
    let Some(packaged) = primed.or(aimed) else {
        return;
    };
    let unfinished = unfinished(log, usual);
    let volumes = packaged + unfinished;
    made.figures.push(carbonation(volumes, Origin::of(primed)));
    if primed.is_none() {
        let dose = || sugar.grams_for(aimed?, residual?, litres);
        made.figures.extend(dose().map(priming_dose));
    }
    let storage = log.number("storage-temperature").unwrap_or(WARM_CELSIUS);
    made.cautions = gas_cautions(recipe, unfinished, volumes, storage);
}

/// The highest temperature since fermentation was active, as far as anybody stated one.
fn warmest(recipe: &Recipe, log: &BatchLog) -> f64 {
    let logged = ["pitching-temperature", "fermentation-temperature"];
    let logged = logged
        .into_iter()
        .filter_map(|kind| log.number(kind))
        .reduce(f64::max);
    let planned = || Some(recipe.yeast.as_ref()?.temperature?.get());
    logged.or_else(planned).unwrap_or(ROOM_CELSIUS)
}

const fn carbonation(volumes: f64, origin: Origin) -> Figure {
    Figure {
        id: "carbonation",
        word: "Carbonation",
        value: volumes,
        range: Some((volumes - GAS_STRAYS, volumes + GAS_STRAYS)),
        unit: "vol",
        decimals: 1,
        origin,
    }
}

const fn priming_dose(grams: f64) -> Figure {
    Figure {
        id: "priming-sugar",
        word: "Priming sugar, whole batch",
        value: grams,
        range: None,
        unit: "g",
        decimals: 0,
        origin: Origin::Computed,
    }
}

/// Volumes still to come because the beer was closed in above its expected end.
fn unfinished(log: &BatchLog, usual: &Run<'_>) -> f64 {
    let still = || {
        let now = SpecificGravity::new(log.number("final-gravity")?);
        volumes_from_unfinished(now, usual.expected_end()?.specific_gravity()?)
    };
    // Less than three points above the expectation is within what a yeast strays.
    still().filter(|volumes| *volumes > 1.5).unwrap_or(0.0)
}

fn gas_cautions(recipe: &Recipe, unfinished: f64, volumes: f64, storage: f64) -> Vec<String> {
    let mut cautions = Vec::new();
    let bottle = recipe.packaging.bottle;
    let pressure = PressureCaution::of(volumes, storage, bottle_kind(bottle));
    cautions.extend(pressure.and_then(|it| pressure_words(it, storage, bottle)));
    if unfinished > 0.0 {
        cautions.push(format!(
            "The final gravity is above what this yeast usually reaches: if it goes on, about {unfinished:.1} volumes more come up in the bottle. Check one bottle every few days, cold, with eye protection."
        ));
    }
    if recipe
        .yeast
        .as_ref()
        .is_some_and(|it| it.yeast.diastatic == Diastatic::Yes)
    {
        cautions.push("This kind of yeast may keep eating in the bottle for months: heavy bottles, cool storage, and open one every few weeks.".to_owned());
    }
    cautions
}

/// What a pressure calls for, in words; nothing while all is within the limit.
fn pressure_words(caution: PressureCaution, storage: f64, bottle: Bottle) -> Option<String> {
    Some(match caution {
        PressureCaution::OverLimit {
            volumes,
            limit_volumes,
            bar,
        } => format!(
            "DANGER: {volumes:.1} volumes, {bar:.1} bar at {storage:.0} °C, are more than this bottle ({}) should hold ({limit_volumes:.1}). Bottles may burst. Chill them at once, keep them in a closed crate away from people, wear eye and hand protection, and vent them outdoors.",
            bottle.word()
        ),
        PressureCaution::TooWarm {
            celsius,
            bar,
            limit_bar,
        } => format!(
            "Stored at {celsius:.0} °C the bottles stand at {bar:.1} bar, above the {limit_bar:.1} bar they are good for at 20 °C. Keep them cooler."
        ),
        PressureCaution::CloseToLimit {
            volumes,
            limit_volumes,
            ..
        } => format!(
            "{volumes:.1} volumes come close to the limit of this bottle ({limit_volumes:.1}): prime evenly, keep it cool, open one early."
        ),
        PressureCaution::WarmStorage { celsius, .. } => {
            format!("Stored at {celsius:.0} °C: cooler is safer and keeps the beer fresh.")
        }
        PressureCaution::WithinLimit { .. } => return None,
    })
}

const fn priming_sugar(sugar: PrimingSugar) -> Sugar {
    match sugar {
        PrimingSugar::Sucrose => Sugar::Sucrose,
        PrimingSugar::Glucose => Sugar::Glucose,
        PrimingSugar::DextroseMonohydrate => Sugar::DextroseMonohydrate,
    }
}

const fn bottle_kind(bottle: Bottle) -> BottleKind {
    match bottle {
        Bottle::OneWay | Bottle::Crown => BottleKind::CrownOneWay,
        Bottle::Heavy => BottleKind::HeavyReusable,
        Bottle::SwingTop => BottleKind::SwingTop,
        Bottle::Champagne => BottleKind::Champagne,
        Bottle::Plastic => BottleKind::Pet,
        Bottle::Keg | Bottle::Unknown => BottleKind::Unknown,
    }
}
