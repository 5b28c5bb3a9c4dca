//! Why a line of a prediction is what it is: what each figure or ingredient adds, by which rule, and what would move it most.

use std::sync::Arc;

use crate::brewing::oil_micrograms;
use crate::domain::Holds;
use crate::domain::Recipe;
use crate::domain::Stage;
use crate::profile::Arrived;
use crate::profile::Brew;
use crate::profile::Curve;
use crate::profile::FLAVOUR_RULES;
use crate::profile::FlavourRule;
use crate::profile::SCALE_RULES;
use crate::profile::ScaleForecast;
use crate::profile::ShelfForecast;
use crate::profile::Source;
use crate::profile::Weights;
use crate::profile::arrived;
use crate::profile::oil_substances;
use crate::profile::predict;
use crate::workflow::BatchLog;
use crate::workflow::ForeseenLine;
use crate::workflow::Home;
use crate::workflow::RecipePrediction;
use crate::workflow::WorkflowError;
use crate::workflow::foreseen::foreseen_lines;
use crate::workflow::levers::Age;
use crate::workflow::levers::Lever;
use crate::workflow::source_words;

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
    /// How that was reckoned, in numbers, where it was more than one step.
    pub how: Option<String>,
}

impl Home {
    /// Why one line of the prediction of a recipe is what it is; the line is asked for by its word, its
    /// shelf or its id.
    ///
    /// # Errors
    /// No line of the prediction is called that; the message names some that are.
    pub fn why(&self, predicted: &RecipePrediction, asked: &str) -> Result<Why, WorkflowError> {
        let line = find_line(predicted, asked)?;
        let log = BatchLog::default();
        let age = Age::Weeks(predicted.weeks);
        Ok(self.why_line(&predicted.recipe, &log, age, line))
    }

    /// The lines of a batch of which it can be asked why, each with its id; by its recipe and its log.
    ///
    /// # Errors
    /// There is no such batch, somebody is tasting it, or the store cannot be read.
    pub fn batch_lines(&mut self, mark: &str) -> Result<Vec<ForeseenLine>, WorkflowError> {
        let (recipe, log) = self.unsealed_brew(mark)?;
        let today = self.today();
        Ok(foreseen_lines(
            self.wheel(),
            &recipe,
            &self.profile_of(&recipe, &log, Some(today)),
        ))
    }

    /// Why one line of the prediction of a batch is what it is.
    ///
    /// # Errors
    /// There is no such batch, somebody is tasting it, or the store cannot be read.
    pub fn why_of_batch(&mut self, mark: &str, line: &ForeseenLine) -> Result<Why, WorkflowError> {
        let (recipe, log) = self.unsealed_brew(mark)?;
        let today = self.today();
        Ok(self.why_line(&recipe, &log, Age::Tasted(today), line))
    }

    /// The recipe and the log of a batch that nobody is tasting.
    fn unsealed_brew(&self, mark: &str) -> Result<(Arc<Recipe>, BatchLog), WorkflowError> {
        let batch = self.batch(mark)?;
        if let Some(beer) = self.store.beer_of_batch(&batch.id)? {
            self.ensure_plan_unsealed(&beer, "the recipe with its log")?;
        }
        Ok((self.recipe_of(&batch)?, self.log_of(&batch.id)?))
    }

    /// Why one line is what it is, of a recipe with its log, on a day.
    fn why_line(&self, recipe: &Recipe, log: &BatchLog, age: Age, line: &ForeseenLine) -> Why {
        let brew = self.brew_at(recipe, log, age);
        let prediction = predict(&brew);
        let scale = prediction.scales.iter().find(|it| it.scale.id == line.id);
        let shelf = prediction.shelves.iter().find(|it| shelf_id(it) == line.id);
        let (parts, rules) = match (scale, shelf) {
            (Some(scale), _) => (scale_parts(scale), scale_rule(scale)),
            (_, Some(shelf)) => (shelf_parts(&brew, shelf), shelf_rules(shelf)),
            (None, None) => (Vec::new(), Vec::new()),
        };
        let added: f64 = parts.iter().map(|it| it.adds).sum();
        Why {
            ordinary: scale.map(|it| it.scale.digits(it.value - added)),
            parts,
            rules,
            levers: self.levers(recipe, log, age, &line.id),
            line: line.clone(),
        }
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

pub(super) fn shelf_id(it: &ShelfForecast) -> String {
    format!("{}:shelf:{}", it.stage.id(), it.shelf)
}

fn scale_parts(it: &ScaleForecast) -> Vec<WhyPart> {
    let mut parts: Vec<WhyPart> = it
        .reasons
        .iter()
        .map(|it| WhyPart {
            what: it.driver.word().to_owned(),
            amount: format!("{:.1}, usually {:.1}", it.figure, it.driver.usual().value()),
            adds: it.adds,
            how: None,
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

fn shelf_parts(brew: &Brew<'_>, it: &ShelfForecast) -> Vec<WhyPart> {
    let units = it.odour.units();
    let all = arrived(brew);
    let reasons = it.reasons.iter();
    reasons
        .map(|(source, share)| WhyPart {
            what: source_words(brew.recipe, *source),
            amount: format!("{:.1} of {units:.1} flavour units", share * units),
            adds: *share,
            how: how(brew, &all, it, *source),
        })
        .collect()
}

/// How the units of one source on a shelf were reckoned: `3.9 at this dose × 0.60 left by its step`.
fn how(
    brew: &Brew<'_>,
    all: &[(Arrived<'_>, Weights)],
    shelf: &ShelfForecast,
    source: Source,
) -> Option<String> {
    let here = all
        .iter()
        .filter(|(it, _)| it.source == source && it.gift.shelf == shelf.shelf);
    let told = here.map(|(it, weights)| {
        // A factor that changes nothing is not told, but where it begins is.
        let [at_hand, rest @ ..] = it.factors;
        let rest = rest.into_iter().filter(|it| (it.times - 1.0).abs() > 0.005);
        let all = std::iter::once(at_hand).chain(rest);
        let mut parts: Vec<String> = all
            .map(|it| format!("{:.2} {}", it.times, it.what))
            .collect();
        parts.push(format!(
            "{:.2} in the {}",
            weights.at(shelf.stage),
            organ(shelf.stage)
        ));
        let oil = of_oil(brew, it, source).unwrap_or_default();
        format!("{}{oil}", parts.join(" × "))
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| told.join("; "))
}

const fn organ(stage: Stage) -> &'static str {
    match stage {
        Stage::Flavour => "mouth",
        _ => "nose",
    }
}

/// Where the units of an oil come from: `; myrcene 127 µg/L in a dry hop, over 100`.
fn of_oil(brew: &Brew<'_>, it: &Arrived<'_>, source: Source) -> Option<String> {
    let (Source::Hop(at), Holds::OfOil { share, part }) = (source, it.gift.holds) else {
        return None;
    };
    let hop = brew.recipe.hops.get(at)?;
    let oil = hop.hop.oil.as_ref()?;
    let dose = hop.amount.get() / brew.litres;
    let told = oil_substances(oil, part).into_iter().filter_map(|it| {
        let fraction = it.share.usual() / 100.0;
        let micrograms = oil_micrograms(dose, oil.total.usual(), fraction, it.kept)?;
        Some(format!(
            "{} {micrograms:.0} µg/L over {:.0}",
            it.name, it.threshold
        ))
    });
    let told: Vec<String> = told.collect();
    Some(format!(
        " (as a dry hop {}; {:.0} % of that on this shelf)",
        told.join(" and "),
        100.0 * share
    ))
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
            Source::Condition(_) => "conditions",
        };
        let rule = FLAVOUR_RULES.iter().find(|it| it.id == id);
        rules.extend(rule.filter(|it| !rules.iter().any(|own| own.id == it.id)));
    }
    let told = rules.into_iter();
    told.map(|it| (it.about.to_owned(), it.source.to_owned()))
        .collect()
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
        home.why(&home.predict(&file, None).unwrap(), asked)
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
        let mut levers = why.levers.iter();
        let first = levers.find(|it| it.moves > 0.0 && it.change != "fresh hops");
        let first = first.unwrap();
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
