//! Rows as lines of JSON, and lines as rows: whole numbers stay whole, and every bit of the others is kept.

use rusqlite::Row;
use rusqlite::types::Value as Cell;
use rusqlite::types::ValueRef;
use serde_json::Map;
use serde_json::Value;

use crate::storage::archive_tables::ColumnKind;
use crate::storage::archive_tables::TableForm;

/// The key that names the file with the bytes.
const FILE: &str = "file";

/// Appends a row as a line without its end.
///
/// # Errors
/// Text in it is no UTF-8, or a number is none.
pub(super) fn add_line(line: &mut Vec<u8>, table: &TableForm, row: &Row<'_>) -> Result<(), String> {
    line.push(b'{');
    for (index, (column, _)) in table.columns.iter().enumerate() {
        if index > 0 {
            line.push(b',');
        }
        let key = serde_json::to_writer(&mut *line, column.as_str());
        line.push(b':');
        let cell = match row.get_ref(index).map_err(|error| error.to_string())? {
            ValueRef::Null => serde_json::to_writer(&mut *line, &Value::Null),
            ValueRef::Integer(whole) => serde_json::to_writer(&mut *line, &whole),
            ValueRef::Real(real) if real.is_finite() => serde_json::to_writer(&mut *line, &real),
            ValueRef::Real(_) => {
                return Err(format!("column {column} holds an amount without end"));
            }
            ValueRef::Text(text) => {
                let text = std::str::from_utf8(text)
                    .map_err(|_| format!("column {column} holds a text that is not UTF-8"))?;
                serde_json::to_writer(&mut *line, text)
            }
            ValueRef::Blob(_) => {
                let file = (FILE.to_owned(), Value::from(bytes_file(table, row)?));
                serde_json::to_writer(&mut *line, &Value::Object(Map::from_iter([file])))
            }
        };
        key.and(cell).map_err(|error| error.to_string())?;
    }
    line.push(b'}');
    Ok(())
}

/// The file in which the bytes of a row stand: named by the first column, which is the id.
pub(super) fn bytes_file(table: &TableForm, row: &Row<'_>) -> Result<String, String> {
    let id: String = row.get(0).map_err(|error| error.to_string())?;
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-';
    if id.is_empty() || id.len() > 100 || !id.chars().all(plain) {
        return Err("the id is no name for a file".to_owned());
    }
    let media_type: String = row.get("media_type").unwrap_or_default();
    let end = match media_type.as_str() {
        "image/jpeg" => "jpg",
        _ => "bin",
    };
    Ok(format!("{}s/{id}.{end}", table.name))
}

/// A line as the cells of a row in the order of the columns. `bytes` gives what stands in a file.
///
/// # Errors
/// A sentence for everything that does not fit the columns.
pub(super) fn cells_of(
    table: &TableForm,
    line: &str,
    mut bytes: impl FnMut(&str) -> Result<Vec<u8>, String>,
) -> Result<Vec<Cell>, Vec<String>> {
    let parsed: Result<Value, _> = serde_json::from_str(line);
    let Ok(Value::Object(mut object)) = parsed else {
        let found = match parsed {
            Ok(_) => "it is no JSON object".to_owned(),
            Err(error) => format!("it is no JSON: {error}"),
        };
        return Err(vec![found]);
    };
    let (mut cells, mut problems) = (Vec::new(), Vec::new());
    for (column, kind) in &table.columns {
        match object.remove(column) {
            None => problems.push(format!("the column {column} is missing")),
            Some(value) => match cell(*kind, value, &mut bytes) {
                Ok(cell) => cells.push(cell),
                Err(found) => problems.push(format!("{column}: {found}")),
            },
        }
    }
    if let Some(unknown) = object.keys().next() {
        let unknown: String = unknown.chars().take(60).collect();
        problems.push(format!("there is no column “{}”", unknown.escape_debug()));
    }
    if problems.is_empty() {
        Ok(cells)
    } else {
        Err(problems)
    }
}

fn cell(
    kind: ColumnKind,
    value: Value,
    bytes: &mut impl FnMut(&str) -> Result<Vec<u8>, String>,
) -> Result<Cell, String> {
    match (kind, value) {
        (_, Value::Null) => Ok(Cell::Null),
        (ColumnKind::Whole, Value::Number(number)) => number
            .as_i64()
            .map(Cell::Integer)
            .ok_or_else(|| format!("{number} is no whole number of 64 bits")),
        (ColumnKind::Real, Value::Number(number)) => number
            .as_f64()
            .filter(|it| it.is_finite())
            .map(Cell::Real)
            .ok_or_else(|| format!("{number} is no number that can be kept")),
        (ColumnKind::Text, Value::String(text)) => Ok(Cell::Text(text)),
        (ColumnKind::Bytes, Value::Object(object)) => match object.get(FILE) {
            Some(Value::String(file)) => bytes(file).map(Cell::Blob),
            _ => Err("it names no file".to_owned()),
        },
        (kind, _) => Err(match kind {
            ColumnKind::Whole => "a whole number is needed, or null".to_owned(),
            ColumnKind::Real => "a number is needed, or null".to_owned(),
            ColumnKind::Text => "a text is needed, or null".to_owned(),
            ColumnKind::Bytes => "the name of a file is needed, or null".to_owned(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use rusqlite::Connection;

    use super::*;
    use crate::storage::archive_tables::tables;

    const MIXED: &str =
        "CREATE TABLE mixed (id TEXT, whole INTEGER, amount REAL, words TEXT, bytes BLOB) STRICT";

    fn mixed() -> (Connection, TableForm) {
        let connection = Connection::open_in_memory().unwrap();
        connection.execute_batch(MIXED).unwrap();
        let table = tables(&connection).unwrap().remove(0);
        (connection, table)
    }

    /// What comes back of a row through its line.
    fn through(row: Vec<Cell>) -> Vec<Cell> {
        let (connection, table) = mixed();
        let values = rusqlite::params_from_iter(row);
        connection.execute(&table.insert(), values).unwrap();
        let line = connection
            .query_row(&table.select(), [], |row| {
                let mut line = Vec::new();
                let added = add_line(&mut line, &table, row);
                Ok(added.map(|()| String::from_utf8(line).unwrap()))
            })
            .unwrap()
            .unwrap();
        cells_of(&table, &line, |file| Ok(file.as_bytes().to_vec())).unwrap()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]

        #[test]
        fn a_row_comes_back_as_it_was_to_the_last_bit(
            whole in any::<i64>(),
            real in proptest::num::f64::NORMAL | proptest::num::f64::SUBNORMAL | proptest::num::f64::ZERO,
            words in any::<String>(),
            without in any::<bool>(),
        ) {
            let words = if without { Cell::Null } else { Cell::Text(words) };
            let row = vec![Cell::Text("a".to_owned()), Cell::Integer(whole), Cell::Real(real), words, Cell::Null];
            let back = through(row.clone());
            let bits = |cells: &[Cell]| match cells[2] {
                Cell::Real(real) => real.to_bits(),
                _ => 0,
            };
            prop_assert_eq!(bits(&row), bits(&back));
            prop_assert_eq!(row, back);
        }

        #[test]
        fn any_text_is_a_row_or_refused(line in "\\PC{0,80}|[\\[\\]{}\",:0-9a-z.e-]{0,80}") {
            let (_, table) = mixed();
            let read = cells_of(&table, &line, |_| Err("no file".to_owned()));
            prop_assert!(read.map_or_else(|problems| !problems.is_empty(), |cells| cells.len() == 5));
        }
    }

    #[test]
    fn every_column_that_does_not_fit_is_named() {
        let (_, table) = mixed();
        let refused =
            |line: &str| cells_of(&table, line, |_| Err("no such file".to_owned())).unwrap_err();
        let all = refused(
            r#"{"id":1,"whole":1.5,"amount":"3","words":[],"bytes":{"file":"x"},"other":1}"#,
        );
        assert_eq!(
            all,
            [
                "id: a text is needed, or null",
                "whole: 1.5 is no whole number of 64 bits",
                "amount: a number is needed, or null",
                "words: a text is needed, or null",
                "bytes: no such file",
                "there is no column “other”",
            ]
        );
        assert_eq!(refused("[]"), ["it is no JSON object"]);
        for bad in ["", "{", r#"{"amount":NaN}"#, r#"{"amount":1e999}"#] {
            assert_eq!(refused(bad).len(), 1, "{bad}");
        }
        assert_eq!(refused("{}").len(), 5);
        let deep = "[".repeat(100_000);
        assert_eq!(refused(&deep).len(), 1);
    }
}
