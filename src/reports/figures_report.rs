//! The figures of a beer as text and as JSON.

use serde_json::Map;
use serde_json::Value;
use serde_json::json;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::table;
use crate::drawing::wrap;
use crate::workflow::Figure;
use crate::workflow::Figures;

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

/// The figures as lines of at most `cells` cells.
#[must_use]
pub fn figures_lines(figures: &Figures, cells: usize) -> Vec<Line> {
    let rows: Vec<Vec<String>> = figures
        .figures
        .iter()
        .map(|figure| {
            vec![
                format!("  {}", figure.word),
                figure_words(figure),
                figure.origin.word().to_owned(),
            ]
        })
        .collect();
    let mut lines = table(&rows, 0, cells);
    if figures.figures.is_empty() {
        let nothing = "Nothing can be computed yet: the recipe holds too little.";
        lines.extend(indented(Ink::Plain, nothing, cells));
    }
    for assumed in &figures.assumed {
        lines.extend(indented(Ink::Quiet, &format!("Assumed: {assumed}."), cells));
    }
    for caution in &figures.cautions {
        lines.extend(indented(Ink::Alert, &format!("! {caution}"), cells));
    }
    lines
}

/// A text broken to fit, two cells from the edge.
#[must_use]
pub fn indented(ink: Ink, text: &str, cells: usize) -> Vec<Line> {
    wrap(text, cells.saturating_sub(2))
        .into_iter()
        .map(|line| Line::of(ink, format!("  {line}")))
        .collect()
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
