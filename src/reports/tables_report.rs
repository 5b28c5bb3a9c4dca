//! The readable tables of a home as files: with commas, as JSON, and what they are in words.

use std::fmt::Write as _;
use std::io;
use std::io::Write;

use serde_json::Value;
use serde_json::json;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::Cell;
use crate::workflow::HomeTable;
use crate::workflow::HomeTables;
use crate::workflow::TABLES;
use crate::workflow::TableKind;

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

/// One file: what is written into it.
#[derive(Debug, Clone, Copy)]
pub enum TableFile<'a> {
    /// One table with commas.
    Csv(HomeTable<'a>),
    /// All tables as one JSON.
    Json(&'a HomeTables),
}

impl TableFile<'_> {
    /// Writes the file row by row, so that no more than one is held beside what was gathered.
    ///
    /// # Errors
    /// `out` takes no more.
    pub fn write(&self, out: &mut dyn Write) -> io::Result<()> {
        match self {
            Self::Csv(table) => table.write_csv(out),
            Self::Json(tables) => write_json(tables, out),
        }
    }
}

/// The files with their names.
#[must_use]
pub fn table_files(it: &HomeTables, wanted: TableFiles) -> Vec<(String, TableFile<'_>)> {
    let mut files = Vec::new();
    if wanted != TableFiles::Json {
        let tables = it.tables();
        files.extend(tables.map(|it| (format!("{}.csv", it.kind.name), TableFile::Csv(it))));
    }
    if wanted != TableFiles::Csv {
        files.push((JSON_FILE.to_owned(), TableFile::Json(it)));
    }
    files
}

/// All tables, a list each, a row on each line.
fn write_json(it: &HomeTables, out: &mut dyn Write) -> io::Result<()> {
    write!(
        out,
        "{{\n\"format\": {VERSION},\n\"held_back\": {}",
        json!(it.held_back)
    )?;
    for table in it.tables() {
        write!(out, ",\n{}: [", json!(table.kind.name))?;
        let mut before = "\n";
        for row in table.rows() {
            write!(out, "{before}{}", row_json(table.kind, &row))?;
            before = ",\n";
        }
        write!(out, "\n]")?;
    }
    writeln!(out, "\n}}")
}

fn row_json(kind: &TableKind, row: &[Cell<'_>]) -> Value {
    let cells = kind.columns.iter().zip(row).map(|(column, cell)| {
        let value = match cell {
            Cell::Nothing => Value::Null,
            Cell::Id(id) => json!(id),
            Cell::Text(text) => json!(text),
            Cell::Day(day) => json!(day.to_string()),
            Cell::Moment(moment) => json!(moment.to_string()),
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
    let rows: usize = it.tables().map(|it| it.rows().count()).sum();
    let written = format!(
        "Written into {folder}, for your eyes alone: {rows} rows in {} tables.",
        TABLES.len()
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

    fn text(file: TableFile<'_>) -> String {
        let mut text = Vec::new();
        file.write(&mut text).unwrap();
        String::from_utf8(text).unwrap()
    }

    #[test]
    fn every_column_is_in_the_head_row_in_json_and_in_the_help_and_no_other() {
        let mut home = Home::trial_demo();
        let tables = home.home_tables().unwrap();
        let json: Value = serde_json::from_str(&text(TableFile::Json(&tables))).unwrap();
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
        for it in tables.tables() {
            let name = it.kind.name;
            let csv = text(TableFile::Csv(it));
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
                it.rows().all(|row| row.len() == it.kind.columns.len()),
                "{name}"
            );
            written.extend(head.iter().map(|it| format!("{name}.{it}")));
            filled.extend(it.rows().next().map(|_| name));
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
            let files = table_files(&tables, TableFiles::Both).into_iter();
            let files: Vec<(String, String)> = files.map(|(name, it)| (name, text(it))).collect();
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
            "of =Ana, 1 locked set of notes:",
            "the recipe and the log of “T1”",
            "1 version of a recipe: somebody is tasting what was brewed from it",
            "they are still open",
        ] {
            assert!(told.contains(part), "{part}\n{told}");
        }
    }
}
