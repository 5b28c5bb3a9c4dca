//! Batches as a list, and one batch whole.

use serde_json::Value;
use serde_json::json;

use crate::domain::BatchEntry;
use crate::domain::DescriptorId;
use crate::domain::EntryMeasure;
use crate::domain::Hint;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::table;
use crate::drawing::wrap;
use crate::reports::comparison_report::wrapped;
use crate::reports::figures_json;
use crate::reports::figures_lines;
use crate::reports::indented;
use crate::reports::photograph_report::photograph_values;
use crate::reports::photograph_words;
use crate::workflow::BatchPage;
use crate::workflow::BatchRow;
use crate::workflow::BatchWarning;
use crate::workflow::Readiness;
use crate::workflow::typed_word;

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

/// How far the batch of a page has come; where a bottle of it was bad or may burst, how old it is and nothing that
/// invites to open it.
pub(super) fn state_words(page: &BatchPage) -> String {
    if page.cautions.is_empty() && !page.figures.may_burst() {
        readiness_words(page.readiness)
    } else {
        warned_words(page.readiness)
    }
}

/// How far a batch has come of which opening a bottle needs care.
fn warned_words(readiness: Readiness) -> String {
    match age(readiness) {
        None => readiness_words(readiness),
        Some(days) => format!(
            "{}; before you open one, mind the warning",
            readiness_words(Readiness::Unknown { days })
        ),
    }
}

/// Days in the bottle; none before it is packaged.
const fn age(readiness: Readiness) -> Option<i64> {
    match readiness {
        Readiness::NotPackaged => None,
        Readiness::Early { days, .. }
        | Readiness::Nearly { days, .. }
        | Readiness::Ready { days }
        | Readiness::PastBest { days }
        | Readiness::Unknown { days } => Some(days),
    }
}

/// How far a batch has come, in the few words that a line of the list has room for.
fn readiness_in_short(readiness: Readiness) -> String {
    match readiness {
        Readiness::NotPackaged => "not packaged".to_owned(),
        Readiness::Early { days, usually } => format!("day {days} of {usually}, early"),
        Readiness::Nearly { days, usually } => format!("day {days} of {usually}, drinkable"),
        Readiness::Ready { days } => format!("day {days}, usually ready"),
        Readiness::PastBest { days } => format!("day {days}, past its best"),
        Readiness::Unknown { days } => format!("day {days}"),
    }
}

/// How far a batch has come; of one whose bottles need care, how old it is and why.
fn state_in_short(row: &BatchRow) -> String {
    match (row.warning, age(row.readiness)) {
        (None, _) => readiness_in_short(row.readiness),
        (Some(warning), None) => warning.in_short().to_owned(),
        (Some(warning), Some(days)) => format!("day {days}, {}", warning.in_short()),
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
        state_in_short(row),
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
                "readiness": match row.warning {
                    Some(_) => warned_words(row.readiness),
                    None => readiness_words(row.readiness),
                },
                "bottles_left": row.bottles_left,
                "tasted": row.tasted,
                "being_tasted": row.being_tasted,
                "gushed": row.warning == Some(BatchWarning::Gushed),
                "warning": row.warning.map(BatchWarning::id),
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
        Line::of(Ink::Quiet, state_words(page)),
    ];
    for caution in &page.cautions {
        lines.extend(wrapped(Ink::Alert, &format!("! {caution}"), cells));
    }
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "Figures"));
    lines.extend(figures_lines(&page.figures, cells));
    lines.push(Line::blank());
    lines.push(Line::of(Ink::Strong, "Log"));
    if page.log.entries().is_empty() {
        let empty = format!(
            "empty; in the app the key a writes into it, or type in a terminal: thirdglass batch log {} original-gravity 1.050",
            typed_word(page.batch.cap_mark.as_str())
        );
        lines.extend(indented(Ink::Plain, &empty, cells));
    }
    for entry in page.log.entries() {
        lines.extend(entry_lines(entry, cells));
    }
    lines.extend(hint_lines(&page.hints, cells));
    if !page.photographs.is_empty() {
        lines.push(Line::blank());
        lines.push(Line::of(Ink::Strong, "Photographs"));
    }
    for it in &page.photographs {
        let line = format!("{}  {}", it.photograph.number, photograph_words(it));
        lines.extend(indented(Ink::Plain, &line, cells));
    }
    lines
}

/// What the log hints at: what to look for, and what to do the next time.
fn hint_lines(hints: &[Hint], cells: usize) -> Vec<Line> {
    let mut lines = Vec::new();
    if !hints.is_empty() {
        lines.push(Line::blank());
        lines.push(Line::of(Ink::Strong, "What the log hints at"));
    }
    for hint in hints {
        let words: Vec<String> = hint
            .words
            .iter()
            .map(|it| it.as_str().replace('-', " "))
            .collect();
        let causes = if words.is_empty() {
            String::new()
        } else {
            format!(" It {} gives: {}.", hint.odds.word(), words.join(", "))
        };
        lines.extend(wrapped(
            Ink::Plain,
            &format!("  {}{causes}", hint.says),
            cells,
        ));
        lines.extend(wrapped(
            Ink::Quiet,
            &format!("    To tell: {}", hint.look),
            cells,
        ));
        lines.extend(wrapped(
            Ink::Quiet,
            &format!("    Next time: {}", hint.remedy),
            cells,
        ));
    }
    lines
}

/// An entry of the log; a long value goes on under its own column.
fn entry_lines(entry: &BatchEntry, cells: usize) -> Vec<Line> {
    const BEFORE: usize = 30;
    /// Fewer cells than this hold no sentence.
    const LEAST: usize = 16;
    let value = entry_words(entry);
    let kinds = std::iter::once(entry.kind.word).chain(std::iter::repeat(""));
    wrap(&value, cells.saturating_sub(BEFORE).max(LEAST))
        .into_iter()
        .zip(kinds)
        .map(|(part, kind)| Line::plain(format!("  {kind:<28}{part}")))
        .collect()
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
        "hints": page.hints.iter().map(|it| json!({
            "id": it.id,
            "says": it.says,
            "words": it.words.iter().map(DescriptorId::as_str).collect::<Vec<_>>(),
            "odds": it.odds.id(),
            "look": it.look,
            "remedy": it.remedy,
            "source": it.source,
        })).collect::<Vec<_>>(),
        "photographs": photograph_values(&page.photographs),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::Name;
    use crate::drawing::width;
    use crate::workflow::Home;

    fn row(recipe: &str, readiness: Readiness) -> BatchRow {
        BatchRow {
            mark: Name::new("a cap mark", "GC1").unwrap(),
            recipe: Some(recipe.to_owned()),
            packaged: None,
            readiness,
            bottles_left: Some(11),
            tasted: 0,
            being_tasted: false,
            warning: None,
        }
    }

    #[test]
    fn a_line_of_the_list_shows_the_recipe_whole_on_eighty_columns() {
        let (days, usually) = (137, 142);
        for readiness in [
            Readiness::NotPackaged,
            Readiness::Early { days, usually },
            Readiness::Nearly { days, usually },
            Readiness::Ready { days },
            Readiness::PastBest { days },
            Readiness::Unknown { days },
        ] {
            let mut row = row("Garden chair, version 1", readiness);
            for warning in [
                None,
                Some(BatchWarning::Gushed),
                Some(BatchWarning::MayBurst),
                Some(BatchWarning::Mould),
                Some(BatchWarning::Chipped),
            ] {
                row.warning = warning;
                // The app puts a sign before each line and leaves the last column free.
                let text = batch_rows_lines(std::slice::from_ref(&row), 77)[0].text();
                assert!(text.contains("Garden chair, version 1"), "{text}");
                assert!(text.ends_with("11 left") && width(&text) <= 77, "{text}");
            }
        }
    }

    #[test]
    fn what_warns_of_a_bottle_stands_beside_its_age_and_instead_of_an_invitation() {
        let mut row = row("Garden chair, version 1", Readiness::Ready { days: 60 });
        row.warning = Some(BatchWarning::MayBurst);
        let text = batch_rows_lines(std::slice::from_ref(&row), 77)[0].text();
        assert!(text.contains("day 60, MAY BURST"), "{text}");
        let json = batch_list_json(std::slice::from_ref(&row));
        let told = &json["batches"][0];
        assert_eq!(told["warning"], "may-burst");
        assert_eq!(told["gushed"], false);
        let warned = "60 days in the bottle; before you open one, mind the warning";
        assert_eq!(told["readiness"], warned);
        row.readiness = Readiness::NotPackaged;
        let text = batch_rows_lines(&[row], 77)[0].text();
        assert!(text.contains("1  MAY BURST"), "{text}");
    }

    #[test]
    fn a_long_note_goes_on_under_its_own_column() {
        let mut home = Home::trial_with_a_batch();
        let note = "the lauter ran slowly, so the sparge was hotter than it should have been";
        home.log_entry("T1", "note", note).unwrap();
        let lines = batch_page_lines(&home.batch_page("T1").unwrap(), 79);
        let texts: Vec<String> = lines.iter().map(Line::text).collect();
        let at = texts
            .iter()
            .position(|it| it.starts_with("  Note "))
            .unwrap();
        let parts: Vec<&str> = texts[at..].iter().map(|it| it[30..].trim_end()).collect();
        assert!(parts.len() > 1 && texts[at + 1].starts_with(&" ".repeat(30)));
        assert_eq!(parts.join(" "), note);
        assert!(texts.iter().all(|it| width(it) <= 79), "{texts:#?}");
    }

    #[test]
    fn an_empty_log_shows_how_a_mark_with_a_blank_is_typed() {
        let mut home = Home::trial_with_a_batch();
        let mut page = home.batch_page("T1").unwrap();
        page.batch.cap_mark = Name::new("a cap mark", "Green dot").unwrap();
        let lines = batch_page_lines(&page, 100);
        let text: Vec<String> = lines.iter().map(Line::text).collect();
        let text = text
            .join(" ")
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ");
        assert!(
            text.contains("thirdglass batch log \"Green dot\" original-gravity 1.050"),
            "{text}"
        );
    }
    #[test]
    fn a_batch_with_a_bad_bottle_is_not_called_ready() {
        let mut home = Home::trial_with_a_batch();
        let mut page = home.batch_page("T1").unwrap();
        page.readiness = Readiness::Ready { days: 176 };
        let head = |page: &BatchPage| batch_page_lines(page, 100)[1].text();
        assert_eq!(head(&page), "176 days, usually ready");
        let warned = "176 days in the bottle; before you open one, mind the warning";
        page.cautions = vec!["A bottle of this batch gushed.".to_owned()];
        assert_eq!(head(&page), warned);
        page.cautions.clear();
        page.figures.cautions = vec!["DANGER: 5.1 volumes; bottles may burst.".to_owned()];
        assert_eq!(head(&page), warned);
    }
}
