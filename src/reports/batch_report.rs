//! Batches as a list, and one batch whole.

use serde_json::Value;
use serde_json::json;

use crate::domain::EntryMeasure;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::figures_json;
use crate::reports::figures_lines;
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
            format!(
                "{}; too early, usually ready from day {usually}",
                days(since)
            )
        }
        Readiness::Nearly {
            days: since,
            usually,
        } => {
            format!(
                "{}; drinkable, usually ready from day {usually}",
                days(since)
            )
        }
        Readiness::Ready { days: since } => format!("{}; usually ready by now", days(since)),
        Readiness::PastBest { days: since } => {
            format!("{}; usually past its best by now", days(since))
        }
        Readiness::Unknown { days: since } => format!("{} in the bottle", days(since)),
    }
}

/// One line of the list.
#[must_use]
pub fn batch_row_line(row: &BatchRow) -> Line {
    let recipe = match &row.recipe {
        Some(recipe) => recipe.clone(),
        None => "sealed while it is tasted".to_owned(),
    };
    let bottles = row
        .bottles_left
        .map_or_else(String::new, |n| format!(" · {n} bottles left"));
    let tasted = match row.tasted {
        0 => "not tasted yet".to_owned(),
        1 => "tasted once".to_owned(),
        n => format!("tasted {n} times"),
    };
    Line::of(Ink::Strong, format!("{:<8}", row.mark.as_str()))
        .and(Ink::Plain, format!("{recipe:<34} "))
        .and(
            Ink::Quiet,
            format!("{} · {tasted}{bottles}", readiness_words(row.readiness)),
        )
}

/// The list as lines.
#[must_use]
pub fn batch_list_lines(rows: &[BatchRow]) -> Vec<Line> {
    if rows.is_empty() {
        return vec![Line::plain(
            "No batch yet. Write a recipe with: thirdglass recipe new FILE, then: thirdglass batch add FILE",
        )];
    }
    rows.iter().map(batch_row_line).collect()
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

/// One batch whole, as lines.
#[must_use]
pub fn batch_page_lines(page: &BatchPage) -> Vec<Line> {
    let recipe = &page.recipe;
    let mut lines = vec![
        Line::of(
            Ink::Title,
            format!(
                "{} · {}, version {}",
                page.batch.cap_mark, recipe.name, recipe.version
            ),
        ),
        Line::of(Ink::Quiet, format!("  {}", readiness_words(page.readiness))),
        Line::blank(),
        Line::of(Ink::Strong, "Figures"),
    ];
    lines.extend(figures_lines(&page.figures));
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "Log"));
    if page.log.entries().is_empty() {
        lines.push(Line::plain(format!(
            "  empty; write into it with: thirdglass batch log {} original-gravity 1.050",
            page.batch.cap_mark
        )));
    }
    for entry in page.log.entries() {
        let value = match entry.kind.measure {
            EntryMeasure::Intent => format!("on {}", &entry.at.to_string()[..10]),
            _ => entry.value.to_string(),
        };
        lines.push(Line::plain(format!("  {:<28}{value}", entry.kind.word)));
    }
    lines
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
