//! The gas in the bottles: how much, and how much sugar for it.

use crate::brewing::PrimingSugar as Sugar;
use crate::brewing::SpecificGravity;
use crate::brewing::residual_volumes;
use crate::brewing::volumes_from_unfinished;
use crate::domain::PrimingSugar;
use crate::domain::Recipe;
use crate::domain::Volumes;
use crate::workflow::BatchLog;
use crate::workflow::Figure;
use crate::workflow::Figures;
use crate::workflow::Origin;
use crate::workflow::brew_run::Run;
use crate::workflow::gas_cautions::Gas;

/// Fermentation temperature where nobody states it, °C (judgement).
const ROOM_CELSIUS: f64 = 20.0;
/// Warmest storage where nobody states it, °C (judgement: a kitchen in summer).
const WARM_CELSIUS: f64 = 25.0;
/// How far the volumes of gas stray: the residual gas, and uneven sugar (judgement).
const GAS_STRAYS: f64 = 0.2;

/// Adds the gas: what is in the beer when packaged, what the priming adds, what the bottle says to that.
pub(super) fn add_gas(made: &mut Figures, recipe: &Recipe, log: &BatchLog, usual: &Run<'_>) {
    let warmest = residual_volumes(warmest(recipe, log));
    let residual = warmest.or_else(|| residual_volumes(ROOM_CELSIUS));
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
    let by_sugar = residual.map_or(0.0, |residual| (packaged - residual).max(0.0));
    let gas = Gas {
        volumes,
        by_sugar,
        unfinished,
        litres,
        storage,
    };
    made.cautions = gas.cautions(recipe, log);
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
        range: Some(((volumes - GAS_STRAYS).max(0.0), volumes + GAS_STRAYS)),
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

const fn priming_sugar(sugar: PrimingSugar) -> Sugar {
    match sugar {
        PrimingSugar::Sucrose => Sugar::Sucrose,
        PrimingSugar::Glucose => Sugar::Glucose,
        PrimingSugar::DextroseMonohydrate => Sugar::DextroseMonohydrate,
    }
}
