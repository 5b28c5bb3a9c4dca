//! The readable tables of a home as files: with commas, as JSON, and what they are in words.

use std::fmt::Write;

use serde_json::Map;
use serde_json::Value;
use serde_json::json;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::Cell;
use crate::workflow::HomeTable;
use crate::workflow::HomeTables;
use crate::workflow::TABLES;

/// The version of the JSON keys.
const VERSION: u32 = 1;

/// The file with all tables in it.
const JSON_FILE: &str = "thirdglass.json";

/// Which files are wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TableFiles {
    /// One table with commas each, and one JSON.
    Both,
    /// Tables with commas.
    Csv,
    /// One JSON.
    Json,
}

/// The files, each a name and a text.
#[must_use]
pub fn table_files(it: &HomeTables, wanted: TableFiles) -> Vec<(String, String)> {
    let mut files = Vec::new();
    if wanted != TableFiles::Json {
        let tables = it.tables.iter();
        files.extend(tables.map(|it| (format!("{}.csv", it.kind.name), it.csv())));
    }
    if wanted != TableFiles::Csv {
        files.push((JSON_FILE.to_owned(), format!("{:#}\n", tables_json(it))));
    }
    files
}

/// All tables, a list each.
#[must_use]
pub fn tables_json(it: &HomeTables) -> Value {
    let mut all = Map::new();
    all.insert("format".to_owned(), json!(VERSION));
    all.insert("held_back".to_owned(), json!(it.held_back));
    for table in &it.tables {
        let rows = table.rows.iter().map(|row| row_json(table, row));
        all.insert(table.kind.name.to_owned(), rows.collect());
    }
    Value::Object(all)
}

fn row_json(table: &HomeTable, row: &[Cell]) -> Value {
    let cells = table.named(row).map(|(column, cell)| {
        let value = match cell {
            Cell::Nothing => Value::Null,
            Cell::Text(text) => json!(text),
            Cell::Number(number) => json!(number),
            Cell::Whole(number) => json!(number),
            Cell::Is(is) => json!(is),
        };
        (column.name.to_owned(), value)
    });
    Value::Object(cells.collect())
}

/// What was written, and what was left out.
#[must_use]
pub fn tables_written_lines(folder: &str, it: &HomeTables, cells: usize) -> Vec<Line> {
    let rows: usize = it.tables.iter().map(|it| it.rows.len()).sum();
    let written = format!(
        "Written into {folder}, for your eyes alone: {rows} rows in {} tables.",
        it.tables.len()
    );
    let mut lines = wrapped(Ink::Plain, &written, cells);
    if it.photographs > 0 {
        let count = it.photographs;
        let photographs = format!(
            "Photographs are in no table; there are {count}: thirdglass photo show writes one out, thirdglass home export all."
        );
        lines.extend(wrapped(Ink::Plain, &photographs, cells));
    }
    if !it.held_back.is_empty() {
        lines.push(Line::blank());
        lines.push(Line::of(Ink::Strong, "Left out for now"));
    }
    for held in &it.held_back {
        lines.extend(wrapped(Ink::Plain, &format!("  {held}"), cells));
    }
    lines
}

/// Every table with its columns and their units, for a help text.
#[must_use]
pub fn tables_help() -> String {
    let mut help = "The tables and their columns; in JSON each table is a list of rows with the same keys, null where nothing is said:".to_owned();
    for table in TABLES {
        // Writing into a text does not fail.
        write!(help, "\n  {:<20}{}", table.name, table.what).unwrap_or_default();
        for column in table.columns {
            let unit = match column.unit {
                "" => String::new(),
                unit => format!(" ({unit})"),
            };
            write!(help, "\n    {:<18}{}{unit}", column.name, column.what).unwrap_or_default();
        }
    }
    help
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::domain::NotesSource;
    use crate::workflow::Home;

    #[test]
    fn every_column_is_in_the_head_row_in_json_and_in_the_help_and_no_other() {
        let mut home = Home::trial_demo();
        let tables = home.home_tables().unwrap();
        let json = tables_json(&tables);
        let help = tables_help();
        let mut listed = BTreeSet::new();
        let mut table = "";
        for line in help.lines().skip(1) {
            let name = line.split_whitespace().next().unwrap();
            if line.starts_with("    ") {
                listed.insert(format!("{table}.{name}"));
            } else {
                table = name;
            }
        }
        let mut written = BTreeSet::new();
        let mut filled = Vec::new();
        for it in &tables.tables {
            let name = it.kind.name;
            let csv = it.csv();
            let head: BTreeSet<&str> = csv.lines().next().unwrap().split(',').collect();
            for row in json[name].as_array().unwrap() {
                let keys: BTreeSet<&str> = row
                    .as_object()
                    .unwrap()
                    .keys()
                    .map(String::as_str)
                    .collect();
                assert_eq!(keys, head, "{name}");
            }
            assert!(
                it.rows.iter().all(|row| row.len() == it.kind.columns.len()),
                "{name}"
            );
            written.extend(head.iter().map(|it| format!("{name}.{it}")));
            filled.extend((!it.rows.is_empty()).then_some(name));
        }
        assert_eq!(listed, written);
        let expected = [
            "notes", "ratings", "words", "tasters", "recipes", "batches", "log",
        ];
        assert!(expected.iter().all(|it| filled.contains(it)), "{filled:?}");
    }

    #[test]
    fn what_somebody_still_tastes_is_in_no_file_and_is_told_in_a_sentence() {
        let mut home = Home::trial_with_a_batch();
        let ana = home.add_taster("=Ana").unwrap();
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        home.lock(&mut tasting).unwrap();
        let texts = |home: &mut Home| {
            let tables = home.home_tables().unwrap();
            let files = table_files(&tables, TableFiles::Both);
            let told = tables_written_lines("f", &tables, 200);
            let told: Vec<String> = told.iter().map(Line::text).collect();
            (files, told.join("\n"))
        };
        let (files, told) = texts(&mut home);
        let of = |files: &[(String, String)], name: &str| {
            files.iter().find(|it| it.0 == name).unwrap().1.clone()
        };
        assert!(!told.contains("Left out"), "{told}");
        assert_eq!(of(&files, "notes.csv").lines().count(), 2);
        assert!(of(&files, "tasters.csv").contains("\n'=Ana,"));
        assert!(of(&files, "recipes.csv").contains("Harbour dark"));
        let ben = home.add_taster("Ben").unwrap();
        home.start_tasting(&ben, "T1", NotesSource::App).unwrap();
        let (files, told) = texts(&mut home);
        assert_eq!(of(&files, "notes.csv").lines().count(), 1);
        for (name, text) in &files {
            assert!(!text.contains("Harbour dark"), "{name}");
        }
        for part in [
            "of =Ana, 1 locked sets of notes",
            "the recipe and the log of “T1”",
            "1 versions of recipes",
            "they are still open",
        ] {
            assert!(told.contains(part), "{part}\n{told}");
        }
    }
}
