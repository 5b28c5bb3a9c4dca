//! The predicted profile of a recipe or a batch, and the record of what was predicted and when.

use crate::brewing::SpecificGravity;
use crate::domain::Batch;
use crate::domain::Celsius;
use crate::domain::Day;
use crate::domain::KeptPrediction;
use crate::domain::Minutes;
use crate::domain::PredictedLine;
use crate::domain::PredictionId;
use crate::domain::Recipe;
use crate::domain::YeastUse;
use crate::formats::write_prediction;
use crate::profile::Brew;
use crate::profile::Driver;
use crate::profile::Drivers;
use crate::profile::Estimate;
use crate::profile::Handled;
use crate::profile::MODEL_VERSION;
use crate::profile::Prediction;
use crate::profile::Source;
use crate::profile::predict;
use crate::profile::weeks_at_twenty;
use crate::workflow::BatchLog;
use crate::workflow::Figures;
use crate::workflow::Found;
use crate::workflow::Home;
use crate::workflow::WorkflowError;
use crate::workflow::figures;

/// Which figure feeds which driver.
const FED: [(&str, Driver); 6] = [
    ("real-extract", Driver::RealExtract),
    ("alcohol", Driver::Alcohol),
    ("bitterness", Driver::Bitterness),
    ("carbonation", Driver::Gas),
    ("colour", Driver::Colour),
    ("apparent-attenuation", Driver::Attenuation),
];

/// Where bottles stand that nobody measured, °C.
const ROOM_CELSIUS: f64 = 20.0;
/// The usual pitching rates, million cells in a millilitre for each degree Plato: warm and cold fermentation
/// (common practice).
const WARM_PITCH: f64 = 0.75;
const COLD_PITCH: f64 = 1.5;

impl Home {
    /// The predicted profile of a recipe with what its log says, on the day it is tasted; where no day is
    /// told, of a beer that has just become ready.
    #[must_use]
    pub fn profile_of(&self, recipe: &Recipe, log: &BatchLog, tasted: Option<Day>) -> Prediction {
        predict(&self.brew(recipe, log, tasted))
    }

    /// What that prediction is made from.
    pub(super) fn brew<'a>(
        &'a self,
        recipe: &'a Recipe,
        log: &BatchLog,
        tasted: Option<Day>,
    ) -> Brew<'a> {
        let litres = log.number("volume-packaged");
        let litres = litres.or_else(|| log.number("volume-fermenter"));
        let logged = log.number("fermentation-temperature");
        let stated = recipe.yeast.as_ref().and_then(|it| it.temperature);
        let figures = figures(recipe, log);
        Brew {
            recipe,
            litres: litres.unwrap_or_else(|| recipe.volume.get()),
            fermented_at: logged.or_else(|| stated.map(Celsius::get)),
            handled: handled(recipe, log, &figures, tasted),
            conditions: self.catalogue().conditions(),
            drivers: drivers(&figures, log),
            families: self.families(),
        }
    }

    /// The same after so many weeks in the bottle at 20 °C, whatever the log says of dates.
    pub(super) fn aged_brew<'a>(
        &'a self,
        recipe: &'a Recipe,
        log: &BatchLog,
        weeks: Option<u16>,
    ) -> Brew<'a> {
        let mut brew = self.brew(recipe, log, None);
        brew.handled.weeks = weeks.map(f64::from);
        brew
    }

    /// Predicts a batch and keeps what was predicted, unless the same is kept already: with other
    /// rules, another catalogue or another log a new row is written, and the old one stays.
    pub(crate) fn predict_batch(
        &mut self,
        batch: &Batch,
        recipe: &Recipe,
        log: &BatchLog,
        found: &[Found],
    ) -> Result<Prediction, WorkflowError> {
        // What is held against notes is what the beer should have been by the day of the last of them.
        let last = found.iter().map(|it| it.tasted_on).max();
        let tasted = last.unwrap_or_else(|| self.today());
        let prediction = self.profile_of(recipe, log, Some(tasted));
        let document = write_prediction(&lines(&prediction));
        let version = self.catalogue_version().to_owned();
        let kept = self.store.predictions(&batch.id)?;
        let is_kept = kept.last().is_some_and(|last| {
            last.document == document
                && last.model_version == MODEL_VERSION
                && last.catalogue_version == version
        });
        if !is_kept {
            let row = KeptPrediction {
                id: PredictionId::new(self.draw_id()),
                version: batch.version.clone(),
                batch: batch.id.clone(),
                model_version: MODEL_VERSION.to_owned(),
                catalogue_version: version,
                document,
                made_at: self.now(),
            };
            self.store.add_prediction(&row)?;
        }
        Ok(prediction)
    }
}

/// What a source of flavour is called, with its step.
#[must_use]
pub fn source_words(recipe: &Recipe, source: Source) -> String {
    use crate::domain::HopTime;
    match source {
        Source::Fermentable(index) => recipe
            .fermentables
            .get(index)
            .map_or_else(String::new, |it| it.fermentable.identity.name.clone()),
        Source::Other(index) => recipe
            .others
            .get(index)
            .map_or_else(String::new, |it| it.other.identity.name.clone()),
        Source::Condition(kind) => kind.word().to_owned(),
        Source::Yeast => recipe
            .yeast
            .as_ref()
            .map_or_else(String::new, |it| it.yeast.identity.name.clone()),
        Source::Hop(index) => recipe.hops.get(index).map_or_else(String::new, |it| {
            let step = match it.when {
                HopTime::Boil(time) => format!("{:.0} min boil", time.get()),
                HopTime::Whirlpool { .. } => "whirlpool".to_owned(),
                HopTime::Dry { .. } => "dry hop".to_owned(),
            };
            format!("{} ({step})", it.hop.identity.name)
        }),
    }
}

/// The physical figures as drivers; what was measured has no range.
fn drivers(figures: &Figures, log: &BatchLog) -> Drivers {
    let mut drivers = Drivers::default();
    for (id, driver) in FED {
        if let Some(figure) = figures.get(id) {
            let (low, high) = figure.range.unwrap_or((figure.value, figure.value));
            drivers = drivers.with(driver, Estimate::new(figure.value, [low, high]));
        }
    }
    let logged = [
        (Driver::Sparge, log.number("sparge-temperature")),
        (Driver::SpargeAcidity, log.number("sparge-ph")),
        (Driver::Chill, log.number("storage-temperature").map(chill)),
    ];
    logged
        .into_iter()
        .fold(drivers, |drivers, (driver, it)| match it {
            Some(number) => drivers.with(driver, Estimate::exact(number)),
            None => drivers,
        })
}

/// How far below 12 °C, where chill haze begins to form (common practice), the beer was kept.
fn chill(celsius: f64) -> f64 {
    (12.0 - celsius).max(0.0)
}

/// How the beer was made and kept, as far as recipe and log tell.
fn handled(recipe: &Recipe, log: &BatchLog, figures: &Figures, tasted: Option<Day>) -> Handled {
    let gravity = figures.get("original-gravity").map(|it| it.value);
    let original = gravity.and_then(|it| Some(SpecificGravity::new(it).plato()?.degrees()));
    let days = log.day("packaged").zip(tasted);
    let weeks = days.map(|(from, to)| {
        let days = i32::try_from(to.days_since(from)).unwrap_or(i32::MAX);
        let celsius = log.number("storage-temperature").unwrap_or(ROOM_CELSIUS);
        weeks_at_twenty(f64::from(days) / 7.0, celsius)
    });
    Handled {
        boil: log.number("boil-time").or(recipe.boil.map(Minutes::get)),
        covered: log.number("boil-covered"),
        cooling: log.number("cooling-time"),
        pitched: log
            .number("pitching-rate")
            .zip(original)
            .map(|(rate, plato)| {
                let cold = recipe.yeast.as_ref().is_some_and(is_cold);
                let usual = if cold { COLD_PITCH } else { WARM_PITCH };
                rate / (usual * plato.max(1.0))
            }),
        original,
        weeks,
        splashed: log.number("splashed"),
        daylight: log.number("daylight"),
    }
}

/// Whether a yeast is at home where bottom-fermenting ones are.
fn is_cold(it: &YeastUse) -> bool {
    it.yeast.temperature.usual() < 14.0
}

/// The lines of a prediction as they are kept.
fn lines(prediction: &Prediction) -> Vec<PredictedLine> {
    let scales = prediction.scales.iter().map(|it| {
        let (low, high) = it.digits_range();
        PredictedLine {
            id: it.scale.id.to_owned(),
            chance: None,
            low,
            middle: it.digits(),
            high,
        }
    });
    let shelves = prediction.shelves.iter().map(|it| {
        let [low, middle, high] = it.odour.if_named();
        PredictedLine {
            id: format!("{}:shelf:{}", it.stage.id(), it.shelf),
            chance: Some(it.odour.named().get()),
            low,
            middle,
            high,
        }
    });
    scales.chain(shelves).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::Dice;
    use crate::workflow::Clock;

    #[test]
    fn a_prediction_is_kept_once_and_again_when_the_log_changes() {
        let mut home = Home::trial_with_a_batch();
        let batch = home.batch("T1").unwrap();
        let recipe = home.recipe_of(&batch).unwrap();
        let predicted = |home: &mut Home| {
            let log = home.log_of(&batch.id).unwrap();
            home.predict_batch(&batch, &recipe, &log, &[]).unwrap();
            home.store.predictions(&batch.id).unwrap()
        };
        let first = predicted(&mut home);
        assert_eq!(first.len(), 1);
        assert_eq!(predicted(&mut home), first);
        home.log_entry("T1", "final-gravity", "1.020").unwrap();
        let both = predicted(&mut home);
        assert_eq!((both.len(), &both[0]), (2, &first[0]));
        assert_ne!(both[0].document, both[1].document);
    }

    #[test]
    fn every_chance_is_one_and_every_range_rises() {
        let (home, _folder) = Home::demo(Clock::system(), Dice::from_system().unwrap()).unwrap();
        for batch in home.store.batches().unwrap() {
            let recipe = home.recipe_of(&batch).unwrap();
            let log = home.log_of(&batch.id).unwrap();
            let lines = lines(&home.profile_of(&recipe, &log, None));
            assert!(lines.len() > 30, "{}: {}", batch.cap_mark, lines.len());
            for line in lines {
                assert!(
                    line.low <= line.middle && line.middle <= line.high,
                    "{line:?}"
                );
                assert!(
                    line.chance.is_none_or(|it| (0.0..=1.0).contains(&it)),
                    "{line:?}"
                );
            }
        }
    }
}
