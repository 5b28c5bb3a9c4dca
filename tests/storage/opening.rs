//! Opening the file: whose it is, which version, who may read it.

use std::collections::BTreeMap;
use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::path::PathBuf;
use std::sync::Barrier;
use std::thread;

use rusqlite::Connection;
use rusqlite::types::Value;
use thirdglass::statistics::Dice;
use thirdglass::storage::StorageError;
use thirdglass::storage::Store;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;

use crate::blind_test;
use crate::course;
use crate::import;
use crate::kitchen_table as table;
use crate::photograph;
use crate::practice;
use crate::proposal;
use crate::removal;

fn fixture(schema: u32) -> PathBuf {
    let name = format!("tests/fixtures/schema-{schema}.db");
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

fn file_in(home: &Path) -> PathBuf {
    home.join("thirdglass.db")
}

/// The names and texts of tables, indexes and triggers.
fn schema_of(path: &Path) -> Vec<(String, Option<String>)> {
    let connection = Connection::open(path).unwrap();
    let mut schema = connection
        .prepare("SELECT name, sql FROM sqlite_schema ORDER BY name")
        .unwrap();
    schema
        .query_map([], |row| Ok((row.get(0)?, row.get(1)?)))
        .unwrap()
        .collect::<Result<_, _>>()
        .unwrap()
}

/// A look at a store that must hold what was laid.
type AssertLaid = fn(&Store);

/// What a fixture keeps, each with the schema that can hold it first.
const LAID: [(u32, AssertLaid); 7] = [
    (1, table::assert_laid_and_tasted),
    (3, blind_test::assert_test_laid),
    (4, practice::assert_practice_laid),
    (5, course::assert_course_laid),
    (6, import::assert_import_laid),
    (6, import::assert_panel_laid),
    (7, proposal::assert_proposal_laid),
];

/// Opens the fixture of a schema in a home of its own; everything that was laid in it must be there.
fn opened_today(schema: u32) -> (tempfile::TempDir, Store) {
    let home = tempfile::tempdir().unwrap();
    fs::copy(fixture(schema), file_in(home.path())).unwrap();
    let store = Store::open(home.path(), &table::at(0)).unwrap();
    for (_, assert_laid) in LAID.iter().filter(|it| it.0 <= schema) {
        assert_laid(&store);
    }
    (home, store)
}

#[test]
fn a_file_of_schema_1_opens_today_keeps_its_rows_and_is_copied_first() {
    let (home, mut store) = opened_today(1);
    let sniff = table::second_sniff();
    assert_eq!(store.second_sniff(&sniff.notes), Ok(None));
    store.start_second_sniff(&sniff).unwrap();
    assert_eq!(store.second_sniff(&sniff.notes), Ok(Some(sniff)));
    let copy = "thirdglass-before-v2-2026-03-14T18-00-00.000Z.db";
    assert_eq!(schema_of(&home.path().join(copy)), schema_of(&fixture(1)));
    assert_eq!(schema_of(&file_in(home.path())), schema_of(&fixture(10)));
}

#[test]
fn a_file_of_schema_2_opens_today_and_keeps_its_rows() {
    let (home, mut store) = opened_today(2);
    let sniff = table::second_sniff();
    assert_eq!(store.second_sniff(&sniff.notes), Ok(Some(sniff)));
    assert_eq!(store.tests(), Ok(Vec::new()));
    blind_test::lay_test(&mut store);
    blind_test::assert_test_laid(&store);
    assert_eq!(schema_of(&file_in(home.path())), schema_of(&fixture(10)));
}

#[test]
fn a_file_of_schema_3_opens_today_and_keeps_its_rows() {
    let (_home, mut store) = opened_today(3);
    practice::lay_practice(&mut store);
    practice::assert_practice_laid(&store);
}

#[test]
fn a_file_of_schema_4_opens_today_and_keeps_its_rows() {
    let (_home, mut store) = opened_today(4);
    course::lay_course(&mut store);
    course::assert_course_laid(&store);
}

#[test]
fn a_file_of_schema_5_opens_today_and_keeps_its_rows() {
    drop(opened_today(5));
}

#[test]
fn a_file_of_schema_6_opens_today_and_keeps_its_rows() {
    let (_home, mut store) = opened_today(6);
    proposal::lay_proposal(&mut store);
    proposal::assert_proposal_laid(&store);
}

#[test]
fn a_file_of_schema_7_opens_today_and_keeps_its_rows() {
    let (_home, mut store) = opened_today(7);
    photograph::lay_photograph(&mut store);
    photograph::assert_photograph_laid(&store);
}

#[test]
fn a_file_of_schema_8_opens_today_and_keeps_its_rows() {
    let (_home, store) = opened_today(8);
    photograph::assert_photograph_laid(&store);
}

#[test]
fn a_file_of_schema_9_opens_today_and_keeps_its_rows() {
    let (_home, store) = opened_today(9);
    removal::assert_removal_laid(&store);
}

#[test]
fn a_file_of_schema_10_opens_today_and_keeps_its_rows() {
    let (_home, store) = opened_today(10);
    removal::assert_removal_laid(&store);
}

/// Every row of every table, cell by cell as it is stored, by the name of the table.
fn rows_of(path: &Path) -> BTreeMap<String, Vec<Vec<Value>>> {
    let connection = Connection::open(path).unwrap();
    let mut names = connection
        .prepare("SELECT name FROM sqlite_schema WHERE type = 'table'")
        .unwrap();
    let names = names.query_map([], |row| row.get(0)).unwrap();
    let rows = |name: rusqlite::Result<String>| {
        let name = name.unwrap();
        let mut select = connection
            .prepare(&format!("SELECT * FROM \"{name}\""))
            .unwrap();
        let columns = select.column_count();
        let rows = select
            .query_map([], |row| (0..columns).map(|it| row.get(it)).collect())
            .unwrap()
            .collect::<Result<_, _>>()
            .unwrap();
        (name, rows)
    };
    names.map(rows).collect()
}

/// A file of an earlier schema, with a prediction and a drawn order added as the program of then would have.
fn fixture_with_plans(schema: u32, home: &Path) {
    fs::copy(fixture(schema), file_in(home)).unwrap();
    let file = Connection::open(file_in(home)).unwrap();
    // A document of a model that no program knows any more, with a line end and figures of its own.
    file.execute_batch(
        "INSERT INTO prediction SELECT 'p-' || id, id, NULL, '0.1', 'none', '{\"lines\": [0.1e1]}\r\n', made_at
             FROM recipe_version;
         INSERT INTO serving SELECT seat.id, 2, row_number() OVER (PARTITION BY seat.id ORDER BY code DESC), sample.id
             FROM seat JOIN sample USING (sitting);",
    )
    .unwrap();
}

/// Tables that hold what was drawn, told or answered, each with the schema that has it first and rows in its fixture.
const KEPT_FOR_EVER: &[(&str, u32)] = &[
    ("prediction", 1),
    ("serving", 1),
    ("sample", 1),
    ("rating", 1),
    ("mark", 1),
    ("second_sniff", 2),
    ("test", 3),
    ("test_set", 3),
    ("answer", 3),
    ("practice_item", 4),
    ("practice_answer", 4),
    ("strength_glass", 5),
    ("strength_answer", 5),
    ("import_rating", 6),
    ("panel", 6),
    ("proposal", 7),
    ("photograph", 8),
];

#[test]
fn every_row_of_every_earlier_schema_stays_as_it_is_to_the_last_byte() {
    for schema in 1..=9 {
        let folder = tempfile::tempdir().unwrap();
        fixture_with_plans(schema, folder.path());
        let before = rows_of(&file_in(folder.path()));
        for (table, since) in KEPT_FOR_EVER.iter().filter(|it| it.1 <= schema) {
            assert!(!before[*table].is_empty(), "{schema} ({since}): no {table}");
        }
        // The whole program opens it and looks around, not the store alone.
        let clock = Clock::from_fn(|| table::at(0));
        let mut home = Home::open(folder.path(), clock, Dice::from_seed(1)).unwrap();
        home.test_rows().unwrap();
        home.panel_tables().unwrap();
        home.batch_rows().unwrap();
        drop(home);
        let after = rows_of(&file_in(folder.path()));
        for (table, rows) in &before {
            assert_eq!(after.get(table), Some(rows), "{table} of schema {schema}");
        }
    }
}

#[test]
fn the_fixture_of_schema_10_is_what_its_procedure_makes() {
    let folder = tempfile::tempdir().unwrap();
    let made = folder.path().join("made.db");
    removal::make_fixture(&made);
    assert_eq!(schema_of(&made), schema_of(&fixture(10)));
}

#[test]
fn the_folder_and_every_file_in_it_are_the_users_alone() {
    let folder = tempfile::tempdir().unwrap();
    let home = folder.path().join("deep/home");
    let mut store = Store::open(&home, &table::at(0)).unwrap();
    table::lay(&mut store);
    store.backup_to(&home.join("backup.db")).unwrap();
    assert_eq!(mode(&home), 0o700);
    let mut names = Vec::new();
    for entry in fs::read_dir(&home).unwrap() {
        let path = entry.unwrap().path();
        assert_eq!(mode(&path), 0o600, "{}", path.display());
        names.push(path.file_name().unwrap().to_owned());
    }
    names.sort();
    let expected = [
        "backup.db",
        "thirdglass.db",
        "thirdglass.db-shm",
        "thirdglass.db-wal",
    ];
    assert_eq!(names, expected);
}

#[test]
fn a_file_copied_back_for_all_to_read_is_closed_again() {
    let home = tempfile::tempdir().unwrap();
    drop(Store::open(home.path(), &table::at(0)).unwrap());
    let file = file_in(home.path());
    fs::set_permissions(&file, fs::Permissions::from_mode(0o644)).unwrap();
    drop(Store::open(home.path(), &table::at(0)).unwrap());
    assert_eq!(mode(&file), 0o600);
}

#[test]
fn a_newer_file_is_refused_untouched_with_both_versions_named() {
    let home = tempfile::tempdir().unwrap();
    drop(Store::open(home.path(), &table::at(0)).unwrap());
    let file = file_in(home.path());
    let connection = Connection::open(&file).unwrap();
    connection.pragma_update(None, "user_version", 11).unwrap();
    drop(connection);
    let before = fs::read(&file).unwrap();
    let refused = Store::open(home.path(), &table::at(0)).unwrap_err();
    assert_eq!(
        refused,
        StorageError::Newer {
            file: file.clone(),
            found: 11,
            supported: 10
        }
    );
    assert!(
        refused.to_string().contains("its version is 11"),
        "{refused}"
    );
    assert!(refused.to_string().contains("up to 10"), "{refused}");
    assert_eq!(fs::read(&file).unwrap(), before);
}

#[test]
fn a_file_that_is_no_database_is_refused_untouched() {
    let home = tempfile::tempdir().unwrap();
    let file = file_in(home.path());
    let garbage = "a shopping list, not a database; ".repeat(100);
    fs::write(&file, &garbage).unwrap();
    assert_eq!(
        Store::open(home.path(), &table::at(0)).unwrap_err(),
        StorageError::NotADatabase { file: file.clone() }
    );
    assert_eq!(fs::read_to_string(&file).unwrap(), garbage);
}

#[test]
fn the_database_of_another_program_is_refused_untouched() {
    for application in [0, 252_006_675] {
        let home = tempfile::tempdir().unwrap();
        let file = file_in(home.path());
        let other = Connection::open(&file).unwrap();
        other.execute_batch("CREATE TABLE ledger (amount)").unwrap();
        other
            .pragma_update(None, "application_id", application)
            .unwrap();
        drop(other);
        let before = fs::read(&file).unwrap();
        assert_eq!(
            Store::open(home.path(), &table::at(0)).unwrap_err(),
            StorageError::Foreign {
                file: file.clone(),
                application
            }
        );
        assert_eq!(fs::read(&file).unwrap(), before);
    }
}

#[test]
fn a_folder_in_the_place_of_the_file_and_a_file_in_the_place_of_the_folder_are_refused_by_name() {
    let home = tempfile::tempdir().unwrap();
    fs::create_dir(file_in(home.path())).unwrap();
    let refused = Store::open(home.path(), &table::at(0)).unwrap_err();
    assert!(refused.to_string().contains("thirdglass.db"), "{refused}");
    let file = home.path().join("a-file");
    fs::write(&file, "").unwrap();
    let refused = Store::open(&file, &table::at(0)).unwrap_err();
    assert!(refused.to_string().contains("a-file"), "{refused}");
}

#[test]
fn eight_programs_that_start_at_once_on_an_empty_folder_all_open_it() {
    for _ in 0..10 {
        let home = tempfile::tempdir().unwrap();
        let barrier = Barrier::new(8);
        thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| {
                    barrier.wait();
                    let store = Store::open(home.path(), &table::at(0)).unwrap();
                    assert_eq!(store.check(), Ok(Vec::new()));
                });
            }
        });
    }
}

#[test]
fn a_backup_opens_as_a_home_and_is_never_written_over_another_file() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    let other = tempfile::tempdir().unwrap();
    store.backup_to(&file_in(other.path())).unwrap();
    let copy = Store::open(other.path(), &table::at(0)).unwrap();
    table::assert_laid_and_tasted(&copy);
    assert_eq!(
        store.backup_to(&file_in(other.path())),
        Err(StorageError::Exists {
            file: file_in(other.path())
        })
    );
}

#[test]
fn a_damaged_page_is_found_by_the_check() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    drop(store);
    let file = file_in(home.path());
    let mut bytes = fs::read(&file).unwrap();
    // The first page holds the schema; what stands on the later ones is overwritten.
    for page in bytes.chunks_mut(4_096).skip(2) {
        page[100..].fill(0x5a);
    }
    fs::write(&file, bytes).unwrap();
    let found = Store::open(home.path(), &table::at(0)).and_then(|store| store.check());
    assert!(found.map_or(true, |problems| !problems.is_empty()));
}

#[test]
fn a_row_that_points_nowhere_is_found_by_the_check() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay(&mut store);
    let other = Connection::open(file_in(home.path())).unwrap();
    other.pragma_update(None, "foreign_keys", false).unwrap();
    other
        .execute("UPDATE beer SET batch = 'gone' WHERE batch IS NOT NULL", [])
        .unwrap();
    let problems = store.check().unwrap();
    assert_eq!(problems.len(), 1);
    assert!(
        problems[0].to_string().contains("a row of beer"),
        "{}",
        problems[0]
    );
}
