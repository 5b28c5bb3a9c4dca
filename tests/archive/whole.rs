//! The same home gives the same bytes, comes back to the last answer, and an archive says what it holds.

use std::collections::BTreeMap;
use std::path::Path;

use crate::homes::exported;
use crate::homes::files_of;
use crate::homes::full_home;
use crate::homes::home_of_fixture;
use crate::homes::imported;
use crate::homes::open;
use crate::homes::packed;
use crate::homes::schema_of;
use crate::kitchen::Kitchen;
use crate::kitchen::flat;
use rusqlite::Connection;
use serde_json::Value;
use thirdglass::statistics::Dice;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;

#[test]
fn a_home_of_rows_of_every_kind_comes_back_byte_for_byte() {
    let first = full_home();
    let archive = exported(first.path());
    assert_eq!(archive, exported(first.path()));
    let second = imported(&archive).unwrap();
    let again = exported(second.path());
    for (one, other) in files_of(&archive).iter().zip(files_of(&again)) {
        assert_eq!(
            String::from_utf8_lossy(&one.1),
            String::from_utf8_lossy(&other.1),
            "{}",
            one.0
        );
    }
    assert_eq!(archive, again);
    // What keeps locked notes as they are is there again.
    assert_eq!(schema_of(first.path()), schema_of(second.path()));
    let file = Connection::open(second.path().join("thirdglass.db")).unwrap();
    let change = "UPDATE rating SET value = 9 WHERE notes = 'notes-1'";
    assert!(file.execute(change, []).is_err());
    assert!(
        open(second.path())
            .wheel()
            .descriptors()
            .iter()
            .any(|it| it.id.as_str() == "trial-lamps-1")
    );
    let photographs = open(second.path()).photographs_of("Öse 7");
    // Bo still tastes that beer.
    assert!(photographs.is_err());
}

#[test]
fn the_demonstration_comes_back_and_every_report_says_the_same() {
    let (home, folder) = Home::demo(Clock::system(), Dice::from_seed(3)).unwrap();
    let marks = home.marks().unwrap();
    let tasters: Vec<String> = home
        .tasters()
        .unwrap()
        .iter()
        .map(|it| it.name.to_string())
        .collect();
    drop(home);
    let archive = exported(folder.path());
    let second = imported(&archive).unwrap();
    assert_eq!(archive, exported(second.path()));
    let kitchen = Kitchen::new();
    let told = |home: &Path, arguments: &[&str]| {
        let home = home.to_str().unwrap();
        let told = kitchen.run(&[&["--home", home], arguments].concat());
        let mut json: Value = serde_json::from_str(&told.out).unwrap_or_default();
        if let Some(page) = json.as_object_mut() {
            // What to practise next is drawn anew at each look.
            page.remove("to_practise");
        }
        (told.code, json, told.err)
    };
    let mut done = 0;
    let mut same = |arguments: &[&str]| {
        let one = told(folder.path(), arguments);
        assert_eq!(one, told(second.path(), arguments), "{arguments:?}");
        done += usize::from(one.0 == 0);
    };
    same(&["batch", "list", "--json"]);
    same(&["taster", "list", "--json"]);
    same(&["taster", "measure", "--json"]);
    same(&["blind", "list", "--json"]);
    for number in ["1", "2", "3"] {
        same(&["blind", "result", number, "--json"]);
    }
    for mark in &marks {
        same(&["batch", "show", mark, "--json"]);
        same(&["compare", mark, "--json"]);
        same(&["batch", "weeks", mark, "--json"]);
    }
    for name in &tasters {
        same(&["taster", "show", name, "--json"]);
        same(&["taster", "learnt", name, "--json"]);
        same(&["practice", "record", name, "--json"]);
    }
    // Three reports of the home, and at least one of each batch and each taster.
    assert!(done >= 3 + marks.len() + tasters.len(), "{done} reports");
}

#[test]
fn every_table_of_the_file_is_in_the_archive_but_what_is_counted_again_or_was_removed() {
    let home = full_home();
    let archive = exported(home.path());
    let mut there: Vec<String> = files_of(&archive)
        .iter()
        .filter_map(|it| it.0.strip_prefix("tables/")?.strip_suffix(".jsonl"))
        .map(str::to_owned)
        .collect();
    there.extend(["removal", "removed_cell", "summary"].map(str::to_owned));
    there.sort();
    let file = Connection::open(home.path().join("thirdglass.db")).unwrap();
    let sql = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name <> 'sqlite_sequence' ORDER BY name";
    let mut statement = file.prepare(sql).unwrap();
    let names = statement.query_map([], |row| row.get(0)).unwrap();
    let names: Vec<String> = names.map(Result::unwrap).collect();
    assert_eq!(there, names);
    // And every row of each: one line a row.
    let files: BTreeMap<String, Vec<u8>> = files_of(&archive).into_iter().collect();
    let left_out = ["removal", "removed_cell", "summary"];
    for name in names.iter().filter(|it| !left_out.contains(&it.as_str())) {
        let count = format!("SELECT count(*) FROM {name}");
        let rows: u32 = file.query_row(&count, [], |row| row.get(0)).unwrap();
        let text = String::from_utf8(files[&format!("tables/{name}.jsonl")].clone()).unwrap();
        assert_eq!(text.lines().count(), rows as usize, "{name}");
    }
}

#[test]
fn an_archive_of_every_older_schema_is_brought_up_to_date() {
    for schema in 1..=7 {
        let older = home_of_fixture(schema);
        let before: Vec<String> = schema_of(older.path())
            .into_iter()
            .map(|it| format!("tables/{}.jsonl", it.0))
            .collect();
        let whole = exported(older.path());
        let mut files = files_of(&whole);
        files.retain(|it| !it.0.starts_with("tables/") || before.contains(&it.0));
        let head = files.iter_mut().find(|it| it.0 == "archive.json").unwrap();
        let text = String::from_utf8(head.1.clone()).unwrap();
        assert!(text.contains("\"schema\": 10"), "{text}");
        head.1 = text
            .replace("\"schema\": 10", &format!("\"schema\": {schema}"))
            .into_bytes();
        let home = imported(&packed(&files)).unwrap();
        assert_eq!(whole, exported(home.path()), "schema {schema}");
        assert_eq!(schema_of(home.path()), schema_of(older.path()));
    }
}

#[test]
fn a_home_that_holds_anything_takes_no_archive_in() {
    let archive = exported(home_of_fixture(7).path());
    let kitchen = Kitchen::new();
    let file = kitchen.write("all.zip", &archive);
    kitchen.done(&["taster", "add", "Ana"]);
    let refused = kitchen.run(&["home", "import", &file]);
    assert_eq!(refused.code, 1);
    assert!(
        refused.err.contains("empty home only") && refused.err.contains("--home"),
        "{refused:?}"
    );
    let other = kitchen.folder().join("other");
    let read = kitchen.done(&["--home", other.to_str().unwrap(), "home", "import", &file]);
    assert!(read.contains("to the last answer"), "{read}");
    assert_eq!(kitchen.done(&["taster", "list"]), "Ana\n");
}

#[test]
fn an_archive_says_when_it_holds_what_is_sealed_and_tells_nothing_of_it() {
    let kitchen = Kitchen::of_fixture(7);
    let out = kitchen.folder().join("all.zip");
    let refused = kitchen.run(&["home", "export", out.to_str().unwrap()]);
    assert_eq!((refused.code, out.exists()), (1, false), "{refused:?}");
    assert!(
        refused.err.contains("still sealed") && refused.err.contains("--sealed-too"),
        "{refused:?}"
    );
    let told = kitchen.done(&["home", "export", out.to_str().unwrap(), "--sealed-too"]);
    let told = flat(&told);
    assert!(
        told.contains("breaks the seal") && !told.contains("Öse"),
        "{told}"
    );
    let again = kitchen.run(&["home", "export", out.to_str().unwrap()]);
    assert!(again.err.contains("it is there already"), "{again:?}");
    let quiet = Kitchen::new();
    let out = quiet.folder().join("all.zip");
    let told = quiet.done(&["home", "export", out.to_str().unwrap()]);
    assert!(!told.contains("seal"), "{told}");
}
