//! Everything of a home as tables: rows of every kind once nothing is sealed, and no cell that works as a formula.

use std::fs;

use crate::kitchen::Kitchen;
use serde_json::Value;

/// The rows of the storage tests with nothing left to be told, and a taster whose name is a formula.
const TOLD: &str =
    "UPDATE sitting SET closed_at = '2026-03-14T20:00:00.000Z' WHERE closed_at IS NULL;
    UPDATE panel SET told_at = '2026-03-14T20:00:00.000Z';
    UPDATE taster SET name = '=HYPERLINK(1)', folded_name = '=hyperlink(1)' WHERE id = 'taster-bo';
    UPDATE batch_entry SET value = '-SUM(A1)' WHERE kind = 'note';";

fn kitchen() -> Kitchen {
    let kitchen = Kitchen::of_fixture(9);
    kitchen.all_leave();
    let file = rusqlite::Connection::open(kitchen.file()).unwrap();
    file.execute_batch(TOLD).unwrap();
    kitchen
}

#[test]
fn a_home_with_rows_of_every_kind_fills_every_table() {
    let kitchen = kitchen();
    let folder = kitchen.folder().join("tables");
    kitchen.done(&["home", "tables", folder.to_str().unwrap()]);
    let json = fs::read_to_string(folder.join("thirdglass.json")).unwrap();
    let json: Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["format"], 1);
    let mut tables = 0;
    for (name, rows) in json.as_object().unwrap() {
        let Some(rows) = rows.as_array().filter(|_| name != "held_back") else {
            continue;
        };
        assert!(!rows.is_empty(), "{name}");
        let text = fs::read_to_string(folder.join(format!("{name}.csv"))).unwrap();
        let mut table = csv::Reader::from_reader(text.as_bytes());
        let head = table.headers().unwrap().clone();
        let records: Vec<csv::StringRecord> = table.records().map(Result::unwrap).collect();
        assert_eq!(records.len(), rows.len(), "{name}");
        for (record, row) in records.iter().zip(rows) {
            for (column, cell) in head.iter().zip(record) {
                let sign = cell.starts_with(['=', '+', '@', '\t', '\r']);
                let minus = cell.starts_with('-') && cell.parse::<f64>().is_err();
                assert!(!sign && !minus, "{name}.{column}: {cell}");
                assert!(row.get(column).is_some(), "{name}.{column}");
            }
        }
        tables += 1;
    }
    assert_eq!(fs::read_dir(&folder).unwrap().count(), tables + 1);
    let tasters = fs::read_to_string(folder.join("tasters.csv")).unwrap();
    assert!(tasters.contains("\n'=HYPERLINK(1),"), "{tasters}");
    let again = kitchen.run(&["home", "tables", folder.to_str().unwrap()]);
    assert!(again.err.contains("it is there already"), "{again:?}");
}

#[test]
fn tables_with_commas_alone_or_json_alone_are_written_on_request() {
    let kitchen = kitchen();
    let names = |option: &str| {
        let folder = kitchen.folder().join(option.trim_start_matches('-'));
        kitchen.done(&["home", "tables", folder.to_str().unwrap(), option]);
        let entries = fs::read_dir(folder).unwrap();
        let names = entries.map(|it| it.unwrap().file_name().into_string().unwrap());
        names.collect::<Vec<String>>()
    };
    assert!(names("--csv").iter().all(|it| it.ends_with("csv")));
    assert_eq!(names("--json"), ["thirdglass.json"]);
}
