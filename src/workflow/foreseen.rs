//! What recipe and log predict, line by line, with what each comes from in words.

use crate::domain::Recipe;
use crate::domain::Wheel;
use crate::profile::Prediction;
use crate::profile::ScaleForecast;
use crate::profile::ShelfForecast;
use crate::workflow::About;
use crate::workflow::AsNoted;
use crate::workflow::Figures;
use crate::workflow::Foreseen;
use crate::workflow::compared_lines::shelf_label;
use crate::workflow::predictions::source_words;

/// One line of a predicted profile.
#[derive(Debug, Clone, PartialEq)]
pub struct ForeseenLine {
    /// The key in JSON.
    pub id: String,
    /// The words on screen.
    pub label: String,
    /// What it is about.
    pub about: About,
    /// What is predicted.
    pub foreseen: Foreseen,
}

/// What a recipe alone gives.
#[derive(Debug, Clone, PartialEq)]
pub struct RecipePrediction {
    /// The recipe.
    pub recipe: Recipe,
    /// Gravity, alcohol, bitterness and the like.
    pub figures: Figures,
    /// Weeks in the bottle at 20 °C; none for a beer that has just become ready.
    pub weeks: Option<u16>,
    /// Every scale with a rule, then every shelf worth a line, the likeliest first.
    pub profile: Vec<ForeseenLine>,
    /// The same lines as a taster would note them, where one was asked for.
    pub as_noted: Option<AsNoted>,
}

/// A prediction as lines.
pub(super) fn foreseen_lines(
    wheel: &Wheel,
    recipe: &Recipe,
    prediction: &Prediction,
) -> Vec<ForeseenLine> {
    let scales = prediction.scales.iter().map(|it| ForeseenLine {
        id: it.scale.id.to_owned(),
        label: it.scale.word.to_owned(),
        about: About::Scale(it.scale),
        foreseen: scale_foreseen(it),
    });
    let shelves = prediction.shelves.iter().map(|it| ForeseenLine {
        id: format!("{}:shelf:{}", it.stage.id(), it.shelf),
        label: shelf_label(wheel, &it.shelf, it.stage, &[]),
        about: About::Shelf {
            shelf: it.shelf.clone(),
            stage: it.stage,
            words: it.words.clone(),
        },
        foreseen: shelf_foreseen(recipe, it),
    });
    scales.chain(shelves).collect()
}

/// What is predicted of a scale.
pub(super) fn scale_foreseen(it: &ScaleForecast) -> Foreseen {
    let (low, high) = it.digits_range();
    let mut why: Vec<(String, f64)> = it
        .reasons
        .iter()
        .map(|it| (it.driver.word().to_owned(), it.adds))
        .collect();
    why.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    Foreseen {
        chance: None,
        low,
        middle: it.digits(),
        high,
        why,
    }
}

/// What is predicted of a shelf.
pub(super) fn shelf_foreseen(recipe: &Recipe, it: &ShelfForecast) -> Foreseen {
    let [low, middle, high] = it.odour.if_named();
    let why = it.reasons.iter();
    Foreseen {
        chance: Some(it.odour.named().get()),
        low,
        middle,
        high,
        why: why
            .map(|(source, share)| (source_words(recipe, *source), *share))
            .collect(),
    }
}
