//! The figures of a beer as text and as JSON.

use serde_json::Map;
use serde_json::Value;
use serde_json::json;

use crate::domain::Recipe;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::workflow::Figure;
use crate::workflow::Figures;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// The figure in words: value, range and unit.
#[must_use]
pub fn figure_words(figure: &Figure) -> String {
    let decimals = figure.decimals;
    let value = format!("{:.decimals$}", figure.value);
    let unit = if figure.unit.is_empty() {
        String::new()
    } else {
        format!(" {}", figure.unit)
    };
    let range = figure
        .range
        .map(|(low, high)| (format!("{low:.decimals$}"), format!("{high:.decimals$}")))
        .filter(|(low, high)| *low != value || *high != value);
    match range {
        Some((low, high)) => format!("{value}{unit} ({low} to {high})"),
        None => format!("{value}{unit}"),
    }
}

/// The figures as lines for screen and terminal.
#[must_use]
pub fn figures_lines(figures: &Figures) -> Vec<Line> {
    let mut lines: Vec<Line> = figures
        .figures
        .iter()
        .map(|figure| {
            Line::plain(format!(
                "  {:<27}{:<23} ",
                figure.word,
                figure_words(figure)
            ))
            .and(Ink::Quiet, figure.origin.word())
        })
        .collect();
    if figures.figures.is_empty() {
        lines.push(Line::plain(
            "  Nothing can be computed yet: the recipe holds too little.",
        ));
    }
    for assumed in &figures.assumed {
        lines.push(Line::of(Ink::Quiet, format!("  Assumed: {assumed}.")));
    }
    for caution in &figures.cautions {
        lines.push(Line::of(Ink::Alert, format!("  ! {caution}")));
    }
    lines
}

/// The prediction of a recipe file as lines.
#[must_use]
pub fn prediction_lines(recipe: &Recipe, figures: &Figures) -> Vec<Line> {
    let mut lines = vec![
        Line::of(
            Ink::Title,
            format!(
                "{}, version {}: {:.1} L",
                recipe.name,
                recipe.version,
                recipe.volume.get()
            ),
        ),
        Line::blank(),
    ];
    lines.extend(figures_lines(figures));
    lines.push(Line::blank());
    lines.push(Line::of(
        Ink::Quiet,
        "The range in brackets runs from every ingredient at its low end to every one at its high end.",
    ));
    lines
}

/// The figures as a JSON object: one key a figure, with value, range, unit and origin.
#[must_use]
pub fn figures_json(figures: &Figures) -> Value {
    let by_id: Map<String, Value> = figures
        .figures
        .iter()
        .map(|figure| {
            let (low, high) = figure.range.unzip();
            (
                figure.id.to_owned(),
                json!({
                    "value": figure.value,
                    "low": low,
                    "high": high,
                    "unit": figure.unit,
                    "origin": figure.origin.word(),
                }),
            )
        })
        .collect();
    json!({
        "figures": by_id,
        "assumed": figures.assumed,
        "cautions": figures.cautions,
    })
}

/// The prediction of a recipe file as JSON.
#[must_use]
pub fn prediction_json(recipe: &Recipe, figures: &Figures) -> Value {
    json!({
        "format": VERSION,
        "recipe": recipe.name.as_str(),
        "version": recipe.version.as_str(),
        "volume_l": recipe.volume.get(),
        "prediction": figures_json(figures),
    })
}
