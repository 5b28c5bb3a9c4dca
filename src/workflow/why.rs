//! Why a line of a prediction is what it is: what each figure or ingredient adds, by which rule, and what would move it most.

use std::sync::Arc;

use crate::domain::Celsius;
use crate::domain::Grams;
use crate::domain::HopTime;
use crate::domain::HopUse;
use crate::domain::MilligramsPerLitre;
use crate::domain::Minutes;
use crate::domain::Recipe;
use crate::domain::Volumes;
use crate::profile::Curve;
use crate::profile::FLAVOUR_RULES;
use crate::profile::FlavourRule;
use crate::profile::Prediction;
use crate::profile::SCALE_RULES;
use crate::profile::ScaleForecast;
use crate::profile::ShelfForecast;
use crate::profile::Source;
use crate::workflow::BatchLog;
use crate::workflow::ForeseenLine;
use crate::workflow::Home;
use crate::workflow::RecipePrediction;
use crate::workflow::WorkflowError;
use crate::workflow::foreseen::foreseen_lines;
use crate::workflow::source_words;

/// How many levers are told.
const LEVERS: usize = 6;

/// A lever that moves a line by less than this is none (judgement): digits of a scale, parts of one of a chance.
const LEAST_MOVE: f64 = 0.005;

/// Why one line of a prediction is what it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Why {
    /// The line.
    pub line: ForeseenLine,
    /// What adds to it, the largest first.
    pub parts: Vec<WhyPart>,
    /// What an ordinary beer has, in digits, where the line is a scale.
    pub ordinary: Option<f64>,
    /// Each rule in words, with its source.
    pub rules: Vec<(String, String)>,
    /// What would move it most, the largest first.
    pub levers: Vec<Lever>,
}

/// What one figure or ingredient adds.
#[derive(Debug, Clone, PartialEq)]
pub struct WhyPart {
    /// What.
    pub what: String,
    /// How much of it there is, in words.
    pub amount: String,
    /// What it adds: in the unit of a scale, or as a share of a shelf.
    pub adds: f64,
}

/// One change of the recipe, and what it moves.
#[derive(Debug, Clone, PartialEq)]
pub struct Lever {
    /// The change, in words.
    pub change: String,
    /// What it moves: digits of a scale, or the chance that a shelf is named.
    pub moves: f64,
}

impl Home {
    /// Why one line of the prediction of a recipe is what it is; the line is asked for by its word, its
    /// shelf or its id.
    ///
    /// # Errors
    /// No line of the prediction is called that; the message names some that are.
    pub fn why(&self, predicted: &RecipePrediction, asked: &str) -> Result<Why, WorkflowError> {
        let line = find_line(predicted, asked)?;
        Ok(self.why_line(&predicted.recipe, &BatchLog::default(), line))
    }

    /// The lines of a batch of which it can be asked why, each with its id; by its recipe and its log.
    ///
    /// # Errors
    /// There is no such batch, somebody is tasting it, or the store cannot be read.
    pub fn batch_lines(&self, mark: &str) -> Result<Vec<ForeseenLine>, WorkflowError> {
        let (recipe, log) = self.unsealed_brew(mark)?;
        Ok(foreseen_lines(
            self.wheel(),
            &recipe,
            &self.profile_of(&recipe, &log),
        ))
    }

    /// Why one line of the prediction of a batch is what it is.
    ///
    /// # Errors
    /// There is no such batch, somebody is tasting it, or the store cannot be read.
    pub fn why_of_batch(&self, mark: &str, line: &ForeseenLine) -> Result<Why, WorkflowError> {
        let (recipe, log) = self.unsealed_brew(mark)?;
        Ok(self.why_line(&recipe, &log, line))
    }

    /// The recipe and the log of a batch that nobody is tasting.
    fn unsealed_brew(&self, mark: &str) -> Result<(Arc<Recipe>, BatchLog), WorkflowError> {
        let batch = self.batch(mark)?;
        if let Some(beer) = self.store.beer_of_batch(&batch.id)? {
            self.ensure_plan_unsealed(&beer, "the recipe with its log")?;
        }
        Ok((self.recipe_of(&batch)?, self.log_of(&batch.id)?))
    }

    /// Why one line is what it is, of a recipe with its log.
    fn why_line(&self, recipe: &Recipe, log: &BatchLog, line: &ForeseenLine) -> Why {
        let prediction = self.profile_of(recipe, log);
        let scale = prediction.scales.iter().find(|it| it.scale.id == line.id);
        let shelf = prediction.shelves.iter().find(|it| shelf_id(it) == line.id);
        let (parts, rules) = match (scale, shelf) {
            (Some(scale), _) => (scale_parts(scale), scale_rule(scale)),
            (_, Some(shelf)) => (shelf_parts(recipe, shelf), shelf_rules(shelf)),
            (None, None) => (Vec::new(), Vec::new()),
        };
        let added: f64 = parts.iter().map(|it| it.adds).sum();
        Why {
            ordinary: scale.map(|it| it.scale.digits(it.value - added)),
            parts,
            rules,
            levers: self.levers(recipe, log, &line.id),
            line: line.clone(),
        }
    }

    /// What would move a line most: every change of the recipe is tried by predicting again.
    fn levers(&self, recipe: &Recipe, log: &BatchLog, id: &str) -> Vec<Lever> {
        let now = measure(&self.profile_of(recipe, log), id);
        let mut levers: Vec<Lever> = changes(recipe)
            .into_iter()
            .map(|(change, changed)| Lever {
                change,
                moves: measure(&self.profile_of(&changed, log), id) - now,
            })
            .filter(|it| it.moves.abs() >= LEAST_MOVE)
            .collect();
        levers.sort_by(|a, b| b.moves.abs().total_cmp(&a.moves.abs()));
        levers.truncate(LEVERS);
        levers
    }
}

/// The line that is asked for.
fn find_line<'a>(
    predicted: &'a RecipePrediction,
    asked: &str,
) -> Result<&'a ForeseenLine, WorkflowError> {
    let wanted = asked.trim().to_lowercase();
    let same = |it: &&ForeseenLine| {
        let shelf = it.id.rsplit(':').next().unwrap_or_default();
        it.id == wanted || it.label.to_lowercase() == wanted || shelf == wanted
    };
    let begins = |it: &&ForeseenLine| it.label.to_lowercase().starts_with(&wanted);
    let lines = &predicted.profile;
    let found = lines.iter().find(same);
    found
        .or_else(|| lines.iter().find(begins))
        .ok_or_else(|| WorkflowError::NoLine {
            asked: asked.chars().take(60).collect(),
            known: lines.iter().map(|it| it.label.clone()).collect(),
        })
}

fn shelf_id(it: &ShelfForecast) -> String {
    format!("{}:shelf:{}", it.stage.id(), it.shelf)
}

/// What a line comes to: digits of a scale, or the chance that a shelf is named.
fn measure(prediction: &Prediction, id: &str) -> f64 {
    let scale = prediction.scales.iter().find(|it| it.scale.id == id);
    let shelf = prediction.shelves.iter().find(|it| shelf_id(it) == id);
    match (scale, shelf) {
        (Some(scale), _) => scale.digits(),
        (_, Some(shelf)) => shelf.odour.named().get(),
        (None, None) => 0.0,
    }
}

fn scale_parts(it: &ScaleForecast) -> Vec<WhyPart> {
    let mut parts: Vec<WhyPart> = it
        .reasons
        .iter()
        .map(|it| WhyPart {
            what: it.driver.word().to_owned(),
            amount: format!("{:.1}, usually {:.1}", it.figure, it.driver.usual().value()),
            adds: it.adds,
        })
        .collect();
    parts.sort_by(|a, b| b.adds.abs().total_cmp(&a.adds.abs()));
    parts
}

/// The rule of a scale in words.
fn scale_rule(it: &ScaleForecast) -> Vec<(String, String)> {
    let rule = SCALE_RULES.iter().find(|rule| rule.scale == it.scale.id);
    let told = rule.map(|rule| {
        let terms = rule.terms.iter().map(|term| {
            let driver = term.driver.word();
            match term.curve {
                Curve::Straight { from, per } => format!("{per:+} × ({driver} − {from})"),
                Curve::Above { from, per } => format!("{per:+} for each {driver} above {from}"),
                Curve::Saturating { most, bend } => {
                    format!("{most:+} × (1 − e^(−{driver}/{bend}))")
                }
            }
        });
        let terms: Vec<String> = terms.collect();
        (
            format!("{} {}", rule.base, terms.join(" ")),
            rule.source.to_owned(),
        )
    });
    told.into_iter().collect()
}

fn shelf_parts(recipe: &Recipe, it: &ShelfForecast) -> Vec<WhyPart> {
    let units = it.odour.units();
    let reasons = it.reasons.iter();
    reasons
        .map(|(source, share)| WhyPart {
            what: source_words(recipe, *source),
            amount: format!("{:.1} of {units:.1} flavour units", share * units),
            adds: *share,
        })
        .collect()
}

/// The rules by which something arrives on a shelf, each once.
fn shelf_rules(it: &ShelfForecast) -> Vec<(String, String)> {
    let mut rules: Vec<&FlavourRule> = Vec::new();
    for (source, _) in &it.reasons {
        let id = match source {
            Source::Fermentable(_) => "grist",
            Source::Hop(_) => "hops",
            Source::Yeast => "yeast",
            Source::Other(_) => "others",
        };
        let rule = FLAVOUR_RULES.iter().find(|it| it.id == id);
        rules.extend(rule.filter(|it| !rules.iter().any(|own| own.id == it.id)));
    }
    let told = rules.into_iter();
    told.map(|it| (it.about.to_owned(), it.source.to_owned()))
        .collect()
}

/// Every change that is tried, with the recipe changed so. What would leave the bounds of a recipe is no
/// change.
fn changes(recipe: &Recipe) -> Vec<(String, Recipe)> {
    let mut all = amounts(recipe);
    all.extend(hop_steps(recipe));
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
            Source::Yeast => {}
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
            HopTime::Whirlpool { temperature, time } => {
                let temperature = Celsius::new(temperature.get() + 5.0).ok()?;
                let temperature = (temperature.get() <= 100.0).then_some(temperature)?;
                let when = HopTime::Whirlpool { temperature, time };
                (when, format!("5 °C hotter: {what}"))
            }
            HopTime::Dry { .. } => return None,
        };
        let mut changed = recipe.clone();
        changed.hops[at].when = when;
        Some((change, changed))
    };
    recipe.hops.iter().enumerate().filter_map(step).collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::workflow::TRIAL_RECIPE;

    fn why(asked: &str) -> Result<Why, WorkflowError> {
        let home = Home::trial();
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("dark.toml");
        std::fs::write(&file, TRIAL_RECIPE).unwrap();
        home.why(&home.predict(&file).unwrap(), asked)
    }

    #[test]
    fn what_an_ordinary_beer_has_and_what_is_added_come_to_what_is_predicted() {
        let why = why("bitter").unwrap();
        let added: f64 = why.parts.iter().map(|it| it.adds).sum();
        let sum = why.ordinary.unwrap() + added;
        assert!((sum - why.line.foreseen.middle).abs() < 1e-9, "{why:?}");
        assert!(!why.rules[0].1.is_empty());
    }

    #[test]
    fn what_raises_bitterness_most_is_the_hop_of_the_boil() {
        let why = why("bitter").unwrap();
        // More malt leaves more extract, which hides bitterness; what adds most is the boiled hop.
        let first = why.levers.iter().find(|it| it.moves > 0.0).unwrap();
        assert!(first.change.contains("Saaz (60 min boil)"), "{first:?}");
    }

    #[test]
    fn the_parts_of_a_shelf_are_the_whole_of_it() {
        let why = why("cocoa").unwrap();
        let shares: f64 = why.parts.iter().map(|it| it.adds).sum();
        assert!((shares - 1.0).abs() < 1e-9);
        assert!(why.parts[0].what.contains("Chocolate malt"), "{why:?}");
        assert_eq!(why.ordinary, None);
        assert!(why.levers[0].change.contains("Chocolate malt"), "{why:?}");
    }

    #[test]
    fn a_line_that_is_not_predicted_says_which_are() {
        let error = why("moonshine").unwrap_err().to_string();
        assert!(
            error.contains("“moonshine”") && error.contains("Bitter"),
            "{error}"
        );
    }
}
