//! Tables of ratings that were kept elsewhere: what one holds, and which were read in.

use serde_json::Value;
use serde_json::json;

use crate::domain::Import;
use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::reports::panel_report::counted;
use crate::workflow::ImportTable;
use crate::workflow::Recounted;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// Whether a table was read in or only looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ReadIn {
    /// It is kept now.
    Kept,
    /// Nothing was kept.
    LookedAt,
}

/// What a table holds, as lines of at most `cells` cells.
#[must_use]
pub fn import_lines(it: &ImportTable, read: ReadIn, cells: usize) -> Vec<Line> {
    let days = match it.days {
        Some((first, last)) if first == last => format!(" on {first}"),
        Some((first, last)) => format!(" from {first} to {last}"),
        None => String::new(),
    };
    let ratings = counted(u64::from(it.ratings), "rating");
    let (head, added) = match read {
        ReadIn::Kept => (format!("Read in: {ratings}{days}."), "added"),
        ReadIn::LookedAt => (
            format!("No problem found: {ratings}{days}. Nothing was read in."),
            "would be added",
        ),
    };
    let list = |names: &[Name], what: &str| {
        (!names.is_empty()).then(|| format!("{what}: {}.", names_of(names)))
    };
    let words: Vec<&str> = it.scales.iter().map(|it| it.1).collect();
    let scales =
        (!words.is_empty()).then(|| format!("Counted with the scales here: {}.", words.join(", ")));
    let before = it.before.as_ref().map(|before| {
        format!(
            "The same table is here already, as import {}, so it would be refused.",
            before.number
        )
    });
    let texts = [
        Some(head),
        list(&it.known, "Tasters known here"),
        list(&it.added, &format!("Tasters {added}")),
        scales,
        list(&it.others, "Kept under their own names"),
        before,
    ];
    let texts = texts.iter().flatten();
    texts
        .flat_map(|text| wrapped(Ink::Plain, text, cells))
        .collect()
}

fn names_of(all: &[Name]) -> String {
    let names: Vec<&str> = all.iter().map(Name::as_str).collect();
    names.join(", ")
}

/// What a table holds, as JSON.
#[must_use]
pub fn import_json(it: &ImportTable, read: ReadIn) -> Value {
    json!({
        "format": VERSION,
        "kept": read == ReadIn::Kept,
        "ratings": it.ratings,
        "first_day": it.days.map(|it| it.0.to_string()),
        "last_day": it.days.map(|it| it.1.to_string()),
        "known_tasters": it.known.iter().map(Name::as_str).collect::<Vec<_>>(),
        "added_tasters": it.added.iter().map(Name::as_str).collect::<Vec<_>>(),
        "scales": it.scales.iter().map(|(line, word)| json!({
            "line": line.as_str(),
            "scale": word,
        })).collect::<Vec<_>>(),
        "other_lines": it.others.iter().map(Name::as_str).collect::<Vec<_>>(),
        "before": it.before.as_ref().map(|it| it.number),
    })
}

/// The tables that were read in, as lines.
#[must_use]
pub fn imports_lines(imports: &[Import], cells: usize) -> Vec<Line> {
    if imports.is_empty() {
        let none = "No ratings from elsewhere were read in. thirdglass taster import --help shows what such a table holds.";
        return wrapped(Ink::Plain, none, cells);
    }
    let row = |it: &Import| {
        let ratings = counted(u64::from(it.ratings), "rating");
        let day = it.made_at.day();
        Line::plain(format!(
            "{:>3}  {day}  {:<28} {ratings}",
            it.number, it.file_name
        ))
    };
    imports.iter().map(row).collect()
}

/// The tables that were read in, as JSON.
#[must_use]
pub fn imports_json(imports: &[Import]) -> Value {
    json!({
        "format": VERSION,
        "imports": imports.iter().map(|it| json!({
            "number": it.number,
            "file": it.file_name,
            "ratings": it.ratings,
            "read_in": it.made_at.to_string(),
        })).collect::<Vec<_>>(),
    })
}

/// What came of counting every import again, as lines.
#[must_use]
pub fn recounted_lines(all: &[Recounted], cells: usize) -> Vec<Line> {
    if all.is_empty() {
        return imports_lines(&[], cells);
    }
    let row = |it: &Recounted| {
        let number = it.import.number;
        let text = match it.mended {
            0 => format!("Import {number}: all sums are as they were kept."),
            1 => format!("Import {number}: one sum was wrong and is put right."),
            more => format!("Import {number}: {more} sums were wrong and are put right."),
        };
        wrapped(Ink::Plain, &text, cells)
    };
    all.iter().flat_map(row).collect()
}
