//! What to take care of with bottles: their pressure, and what may still add to it.

use crate::brewing::PressureCaution;
use crate::brewing::volumes_from_hop_enzymes;
use crate::domain::Bottle;
use crate::domain::Diastatic;
use crate::domain::HopTime;
use crate::domain::Recipe;
use crate::profile::bottle_kind;
use crate::workflow::BatchLog;

/// How a caution begins where bottles may burst.
pub(super) const DANGER: &str = "DANGER: ";
/// Batches below this are primed in one vessel by hand or spoon by spoon, L (judgement).
const SMALL_LITRES: f64 = 10.0;
/// How much more of the sugar one bottle of such a batch may get than the mean (judgement).
const UNEVEN: f64 = 0.25;
/// What part of it comes in most beers: the figure is that of a strong variety and warm weeks (judgement).
const LIKELY: f64 = 0.5;
/// What dry hops may still free is worth a word from here, volumes (judgement).
const LEAST_CREEP: f64 = 0.3;

/// The gas of a batch in its bottles.
pub(super) struct Gas {
    /// Volumes in the mean bottle.
    pub(super) volumes: f64,
    /// Those of them that priming sugar makes.
    pub(super) by_sugar: f64,
    /// Those of them still to come because it was closed in above its expected end.
    pub(super) unfinished: f64,
    /// Litres in all bottles.
    pub(super) litres: f64,
    /// The warmest they are stored, °C.
    pub(super) storage: f64,
}

impl Gas {
    /// What to take care of, most pressing first.
    pub(super) fn cautions(&self, recipe: &Recipe, log: &BatchLog) -> Vec<String> {
        let mut cautions = Vec::new();
        let bottle = recipe.packaging.bottle;
        cautions.extend(self.pressure(bottle));
        cautions.extend(self.hop_creep(recipe, log));
        cautions.extend(self.uneven(bottle));
        if self.unfinished > 0.0 {
            let unfinished = self.unfinished;
            cautions.push(format!(
                "The final gravity is above what this yeast usually reaches: if it goes on, about {unfinished:.1} volumes more come up in the bottle. Check one bottle every few days, cold, with eye protection."
            ));
        }
        let yeast = recipe.yeast.as_ref();
        if yeast.is_some_and(|it| it.yeast.diastatic == Diastatic::Yes) {
            cautions.push("This kind of yeast may keep eating in the bottle for months: heavy bottles, cool storage, and open one every few weeks.".to_owned());
        }
        cautions
    }

    /// What the pressure calls for; a keg has its own valve.
    fn pressure(&self, bottle: Bottle) -> Option<String> {
        if bottle == Bottle::Keg {
            return None;
        }
        match PressureCaution::of(self.volumes, self.storage, bottle_kind(bottle)) {
            Some(caution) => pressure_words(caution, self.storage, bottle),
            None => Some(format!(
                "The pressure of {:.1} volumes at {:.0} °C could not be told. Keep the bottles cool, and check the numbers of the log.",
                self.volumes, self.storage
            )),
        }
    }

    /// How far a bottle stands above its limit with so many volumes more, in words for the front of a caution.
    fn danger(&self, more: f64, bottle: Bottle) -> &'static str {
        let limit = bottle_kind(bottle).limit_volumes();
        let passes = self.volumes <= limit && self.volumes + more > limit;
        if bottle != Bottle::Keg && passes {
            DANGER
        } else {
            ""
        }
    }

    /// Enzymes of dry hops free sugar from dextrins; yeast makes gas of it.
    fn hop_creep(&self, recipe: &Recipe, log: &BatchLog) -> Option<String> {
        let dry = recipe.hops.iter().filter_map(|it| match it.when {
            HopTime::Dry { days, .. } => Some((it.amount.get(), days.get())),
            HopTime::Boil(_) | HopTime::Whirlpool { .. } => None,
        });
        let (grams, planned) = dry.fold((0.0, 0.0_f64), |(grams, most), (own, days)| {
            (grams + own, most.max(days))
        });
        let logged = log.day("dry-hopped").zip(log.day("packaged"));
        let logged = logged.and_then(|(from, to)| u16::try_from(to.days_since(from)).ok());
        let days = logged.map_or(planned, f64::from);
        let creep = volumes_from_hop_enzymes(grams / self.litres, days)?;
        (creep >= LEAST_CREEP).then(|| {
            format!(
                "{}Enzymes of the dry hops free sugar that yeast turns to gas: up to {creep:.1} volumes on top of the {:.1}, and bottles may burst. Before bottling leave it warm on the hops until the gravity stands still for three days; afterwards keep the bottles cold and open one early, over the sink.",
                self.danger(LIKELY * creep, recipe.packaging.bottle),
                self.volumes
            )
        })
    }

    /// Sugar is never quite even in a small batch; told where the fullest bottle passes the limit.
    fn uneven(&self, bottle: Bottle) -> Option<String> {
        let more = UNEVEN * self.by_sugar;
        let danger = self.danger(more, bottle);
        let may_pass = !danger.is_empty() && self.litres < SMALL_LITRES;
        may_pass.then(|| {
            format!(
                "{danger}in so small a batch one bottle may get a quarter more sugar than another and come to {:.1} volumes. Dissolve the sugar, mix it in gently, or weigh it for each bottle.",
                self.volumes + more
            )
        })
    }
}

/// What a pressure calls for, in words; nothing while all is within the limit.
fn pressure_words(caution: PressureCaution, storage: f64, bottle: Bottle) -> Option<String> {
    Some(match caution {
        PressureCaution::OverLimit {
            volumes,
            limit_volumes,
            bar,
        } => format!(
            "{DANGER}{volumes:.1} volumes, {bar:.1} bar at {storage:.0} °C, are more than this bottle ({}) should hold ({limit_volumes:.1}). Bottles may burst. Chill them at once, keep them in a closed crate away from people, wear eye and hand protection, and vent them outdoors.",
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
