//! Batches as a list, and one batch whole.

use serde_json::Value;
use serde_json::json;

use crate::domain::BatchEntry;
use crate::domain::EntryMeasure;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::table;
use crate::reports::figures_json;
use crate::reports::figures_lines;
use crate::reports::indented;
use crate::workflow::BatchPage;
use crate::workflow::BatchRow;
use crate::workflow::Readiness;

/// How far a batch has come, in words.
#[must_use]
pub fn readiness_words(readiness: Readiness) -> String {
    let days = |days: i64| {
        if days == 1 {
            "1 day".to_owned()
        } else {
            format!("{days} days")
        }
    };
    match readiness {
        Readiness::NotPackaged => "not packaged yet".to_owned(),
        Readiness::Early {
            days: since,
            usually,
        } => {
            format!("{}, early; usually ready at {usually}", days(since))
        }
        Readiness::Nearly {
            days: since,
            usually,
        } => {
            format!("{}, drinkable; usually ready at {usually}", days(since))
        }
        Readiness::Ready { days: since } => format!("{}, usually ready", days(since)),
        Readiness::PastBest { days: since } => format!("{}, usually past its best", days(since)),
        Readiness::Unknown { days: since } => format!("{} in the bottle", days(since)),
    }
}

fn row_cells(row: &BatchRow) -> Vec<String> {
    let recipe = row
        .recipe
        .clone()
        .unwrap_or_else(|| "sealed while it is tasted".to_owned());
    let tasted = match row.tasted {
        0 => "not tasted".to_owned(),
        n => format!("tasted {n}×"),
    };
    let bottles = row
        .bottles_left
        .map_or_else(String::new, |n| format!("{n} left"));
    vec![
        row.mark.to_string(),
        recipe,
        readiness_words(row.readiness),
        tasted,
        bottles,
    ]
}

/// The rows of the list, one line each, at most `cells` cells wide.
#[must_use]
pub fn batch_rows_lines(rows: &[BatchRow], cells: usize) -> Vec<Line> {
    const RECIPE: usize = 1;
    let rows: Vec<Vec<String>> = rows.iter().map(row_cells).collect();
    table(&rows, RECIPE, cells)
}

/// The list as lines, with a sentence where there is none.
#[must_use]
pub fn batch_list_lines(rows: &[BatchRow], cells: usize) -> Vec<Line> {
    if rows.is_empty() {
        return vec![Line::plain(
            "No batch yet. Write a recipe with: thirdglass recipe new FILE, then: thirdglass batch add FILE",
        )];
    }
    batch_rows_lines(rows, cells)
}

/// The list as JSON.
#[must_use]
pub fn batch_list_json(rows: &[BatchRow]) -> Value {
    let rows: Vec<Value> = rows
        .iter()
        .map(|row| {
            json!({
                "cap_mark": row.mark.as_str(),
                "recipe": row.recipe,
                "sealed": row.recipe.is_none(),
                "packaged": row.packaged.map(|day| day.to_string()),
                "readiness": readiness_words(row.readiness),
                "bottles_left": row.bottles_left,
                "tasted": row.tasted,
                "being_tasted": row.being_tasted,
            })
        })
        .collect();
    json!({ "format": 1, "batches": rows })
}

/// One batch whole, as lines of at most `cells` cells.
#[must_use]
pub fn batch_page_lines(page: &BatchPage, cells: usize) -> Vec<Line> {
    let recipe = &page.recipe;
    let title = format!(
        "{} · {}, version {}",
        page.batch.cap_mark, recipe.name, recipe.version
    );
    let mut lines = vec![
        Line::of(Ink::Title, title),
        Line::of(Ink::Quiet, readiness_words(page.readiness)),
        Line::blank(),
        Line::of(Ink::Strong, "Figures"),
    ];
    lines.extend(figures_lines(&page.figures, cells));
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "Log"));
    if page.log.entries().is_empty() {
        let empty = format!(
            "empty; write into it with: thirdglass batch log {} original-gravity 1.050",
            page.batch.cap_mark
        );
        lines.extend(indented(Ink::Plain, &empty, cells));
    }
    for entry in page.log.entries() {
        let value = entry_words(entry);
        let text = format!("{:<28}{value}", entry.kind.word);
        lines.push(Line::plain(format!("  {text}")));
    }
    lines
}

/// The value of an entry with its unit; of a whole document, when it was written.
#[must_use]
pub fn entry_words(entry: &BatchEntry) -> String {
    match entry.kind.measure {
        EntryMeasure::Intent => format!("on {}", entry.at.day()),
        _ => entry.kind.words_for(&entry.value),
    }
}

/// One batch whole, as JSON.
#[must_use]
pub fn batch_page_json(page: &BatchPage) -> Value {
    json!({
        "format": 1,
        "cap_mark": page.batch.cap_mark.as_str(),
        "recipe": page.recipe.name.as_str(),
        "version": page.recipe.version.as_str(),
        "added_at": page.batch.made_at.to_string(),
        "readiness": readiness_words(page.readiness),
        "prediction": figures_json(&page.figures),
        "log": page.log.entries().iter().map(|entry| json!({
            "kind": entry.kind.id,
            "value": entry.value.to_string(),
            "at": entry.at.to_string(),
        })).collect::<Vec<_>>(),
    })
}
