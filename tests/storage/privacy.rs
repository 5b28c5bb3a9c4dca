//! A taster who is renamed or forgotten: every row and byte of theirs goes, and nothing of anybody else.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use rusqlite::Connection;
use rusqlite::types::ValueRef;
use thirdglass::domain::TasterId;
use thirdglass::storage::BackupCopy;
use thirdglass::storage::InCopy;
use thirdglass::storage::StorageError;
use thirdglass::storage::Store;
use thirdglass::storage::Traces;

use crate::blind_test;
use crate::course;
use crate::kitchen_table as table;
use crate::photograph;
use crate::practice;
use crate::proposal;

/// Beside the rows of the table: the same kinds of rows of Bo's, a panel that Ana poured, an import of
/// both and one of Ana alone, a test whose key she saw, and one at which she only sat down.
const BESIDE: &str = "
    UPDATE taster SET name = 'Quillonfrey', folded_name = 'quillonfrey' WHERE id = 'taster-ana';
    INSERT INTO rating VALUES ('notes-2', 'bitter', 4.0, 'rated', 1);
    INSERT INTO mark (id, notes, stage, free, prompting, position)
        VALUES ('mark-of-bo', 'notes-2', 'aroma', 'tin lid', 'unprompted', 1);
    INSERT INTO stopwatch VALUES ('notes-2', 'head-retention', '2026-03-14T18:30:00.000Z', NULL, 1);
    INSERT INTO serving VALUES ('seat-1', 1, 1, 'sample-1'), ('seat-2', 1, 1, 'sample-1');
    INSERT INTO seat VALUES
        ('practice-of-bo', 'sitting-of-practice-1', 'taster-bo', 'taster', NULL, NULL);
    INSERT INTO practice_item VALUES ('practice-of-bo', 1, 'jar', 'toast', 318, NULL);
    INSERT INTO practice_option VALUES ('practice-of-bo', 1, 1, 'honey');
    INSERT INTO practice_answer VALUES
        ('said-by-bo', 'practice-of-bo', 1, 'word', 'toast', 70, '2026-03-14T18:59:00.000Z');
    INSERT INTO import VALUES
        (1, 'both.csv', 'h1', 3, '2026-03-14T18:00:00.000Z', NULL),
        (2, 'quillonfrey.csv', 'h2', 1, '2026-03-14T18:00:00.000Z', NULL);
    INSERT INTO import_sitting VALUES (1, 1, 'one', '2026-03-14'), (2, 2, 'one', '2026-03-14');
    INSERT INTO import_sample VALUES (1, 1, 'stout'), (2, 2, 'stout');
    INSERT INTO import_line VALUES (1, 1, 'bitter'), (2, 2, 'bitter');
    INSERT INTO import_taster VALUES (1, 1, 'taster-ana'), (2, 1, 'taster-bo'), (3, 2, 'taster-ana');
    INSERT INTO import_rating VALUES
        (1, 1, 1, 1, 1, 3.0), (1, 1, 1, 1, 2, 4.0), (1, 1, 1, 2, 1, 5.0), (2, 2, 2, 3, 1, 6.0);
    INSERT INTO import_seat VALUES (1, 1), (2, 1), (3, 2);
    INSERT INTO summary VALUES (1, 1, 1, 3, 'sums'), (2, 1, 1, 3, 'sums'), (3, 2, 1, 1, 'sums');
    INSERT INTO sitting VALUES
        ('sitting-of-panel', 'test', '1', '2026-03-14T18:00:00.000Z', '2026-03-14T19:00:00.000Z', NULL),
        ('sitting-of-test-2', 'test', '1', '2026-03-14T18:01:00.000Z', '2026-03-14T19:00:00.000Z', NULL),
        ('sitting-of-test-3', 'test', '1', '2026-03-14T18:02:00.000Z', NULL, NULL);
    INSERT INTO panel VALUES ('sitting-of-panel', 1, 'short', 60.0, 'taster-ana',
        '2026-03-14T18:00:00.000Z', NULL, NULL);
    INSERT INTO test SELECT 'test-2', 2, 'sitting-of-test-2', beer_a, beer_b, method, purpose, alpha,
        beta, pd, attribute, expected, stopping, pouring, 2, rounds, glass_ml, salt, commitment, made_at,
        NULL FROM test WHERE number = 1;
    INSERT INTO test SELECT 'test-3', 3, 'sitting-of-test-3', beer_a, beer_b, method, purpose, alpha,
        beta, pd, attribute, expected, stopping, pouring, 2, rounds, glass_ml, salt, commitment, made_at,
        NULL FROM test WHERE number = 1;
    INSERT INTO taster VALUES
        ('gone-before', 'somebody', 'somebody', '2026-03-14T18:01:00.000Z', '2026-03-14T18:01:00.000Z');
    INSERT INTO seat VALUES
        ('poured', 'sitting-of-test-2', 'taster-ana', 'pourer', NULL, '2026-03-14T18:40:00.000Z'),
        ('served', 'sitting-of-test-2', 'gone-before', 'server', NULL, '2026-03-14T18:41:00.000Z'),
        ('sat', 'sitting-of-test-3', 'taster-ana', 'taster', NULL, NULL);
    INSERT INTO test_place VALUES ('sat', 'test-3', 2);";

/// Words that only Ana brought into the file.
const HERS: [&str; 6] = [
    "Quillonfrey",
    "quillonfrey",
    "soft end",
    "thinner",
    "taster-ana",
    "sheet of the one",
];

fn ana() -> TasterId {
    TasterId::new("taster-ana")
}

fn full() -> (tempfile::TempDir, Store) {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    store.start_second_sniff(&table::second_sniff()).unwrap();
    blind_test::lay_test(&mut store);
    practice::lay_practice(&mut store);
    course::lay_course(&mut store);
    proposal::lay_proposal(&mut store);
    photograph::lay_photograph(&mut store);
    raw(home.path()).execute_batch(BESIDE).unwrap();
    (home, store)
}

fn raw(home: &Path) -> Connection {
    Connection::open(home.join("thirdglass.db")).unwrap()
}

fn tables(file: &Connection) -> Vec<String> {
    let sql = "SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name";
    let mut statement = file.prepare(sql).unwrap();
    let names = statement.query_map([], |row| row.get(0)).unwrap();
    names.map(Result::unwrap).collect()
}

/// Every row of every table, as its table and its columns.
fn dump(home: &Path) -> BTreeSet<String> {
    let file = raw(home);
    let mut all = BTreeSet::new();
    for table in tables(&file) {
        let mut statement = file.prepare(&format!("SELECT * FROM {table}")).unwrap();
        let columns = statement.column_count();
        let mut rows = statement.query([]).unwrap();
        while let Some(row) = rows.next().unwrap() {
            let cells = (0..columns).map(|at| match row.get_ref(at).unwrap() {
                ValueRef::Text(text) => String::from_utf8(text.to_vec()).unwrap(),
                other => format!("{other:?}"),
            });
            all.insert(format!("{table}: {}", cells.collect::<Vec<_>>().join("|")));
        }
    }
    all
}

/// How many rows of each table are in one dump and not in the other.
fn only_in(one: &BTreeSet<String>, other: &BTreeSet<String>) -> Vec<(String, usize)> {
    let mut counted: Vec<(String, usize)> = Vec::new();
    for row in one.difference(other) {
        let table = row.split(':').next().unwrap();
        match counted.last_mut() {
            Some((last, count)) if last == table => *count += 1,
            _ => counted.push((table.to_owned(), 1)),
        }
    }
    counted
}

fn forget(store: &mut Store) -> Result<(), StorageError> {
    let mut drawn = 0;
    store.forget_taster(&ana(), table::at(59), || {
        drawn += 1;
        TasterId::new(format!("nobody-{drawn}"))
    })
}

/// The files in the home in which one of the words stands.
fn holding(home: &Path, words: &[&str]) -> Vec<String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(home).unwrap() {
        let path = entry.unwrap().path();
        let bytes = fs::read(&path).unwrap();
        for word in words {
            if bytes.windows(word.len()).any(|it| it == word.as_bytes()) {
                found.push(format!("{word} in {}", path.display()));
            }
        }
    }
    found
}

#[test]
fn every_row_of_a_forgotten_taster_goes_and_every_other_row_stays_as_it_was() {
    let (home, mut store) = full();
    let before = dump(home.path());
    forget(&mut store).unwrap();
    store.rub_out().unwrap();
    let after = dump(home.path());
    let gone = only_in(&before, &after);
    let count = |of: &[(&str, usize)]| -> Vec<(String, usize)> {
        of.iter().map(|it| (it.0.to_owned(), it.1)).collect()
    };
    let notes = table::full_notes("notes-1", &table::seat(1, &table::taster("Ana")));
    assert_eq!(
        gone,
        count(&[
            ("answer_mark", 1),
            ("course_person", 1),
            // Of the import of both the number of ratings changes; hers alone goes.
            ("import", 2),
            ("import_line", 1),
            ("import_rating", 3),
            ("import_sample", 1),
            ("import_seat", 2),
            ("import_sitting", 1),
            ("import_taster", 2),
            ("mark", notes.marks.len()),
            ("notes", 1),
            ("panel", 1),
            // Of the three on her beer, the one with her notes.
            ("photograph", 1),
            ("practice_answer", 5),
            ("practice_item", 3),
            ("practice_option", 2),
            ("rating", notes.ratings.len()),
            // At the table, in the practice, in the series, at the test, as who poured, and at a place
            // that was never answered from.
            ("seat", 6),
            ("second_sniff", table::second_sniff().words.len()),
            ("serving", 1),
            // The series had nobody else; at the table Bo still tastes, and so at the practice.
            ("sitting", 1),
            ("stopwatch", notes.stopwatches.len()),
            ("strength_answer", 3),
            ("strength_glass", 3),
            ("summary", 3),
            ("taster", 1),
            ("test_place", 1),
        ])
    );
    let new: Vec<&String> = after.difference(&before).collect();
    let at = "2026-03-14T18:59:00.000Z";
    assert_eq!(
        new,
        [
            "import: Integer(1)|both.csv|h1|Integer(1)|2026-03-14T18:00:00.000Z|Null",
            "panel: sitting-of-panel|Integer(1)|short|Real(60.0)|Null|2026-03-14T18:00:00.000Z|Null|Null",
            &format!("seat: place-of-ana|sitting-of-test-1|nobody-1|taster|{at}|Null"),
            &format!(
                "seat: poured|sitting-of-test-2|nobody-2|pourer|{at}|2026-03-14T18:40:00.000Z"
            ),
            &format!("sitting: sitting-of-series-1|practice|8|2026-03-14T18:56:00.000Z|{at}|Null"),
            "taster: nobody-1|somebody|somebody|2026-03-14T18:50:00.000Z|2026-03-14T18:50:00.000Z",
            "taster: nobody-2|somebody 2|somebody 2|2026-03-14T18:01:00.000Z|2026-03-14T18:01:00.000Z",
        ]
    );
}

#[test]
fn no_byte_of_a_forgotten_taster_stays_in_the_home() {
    let (home, mut store) = full();
    let found = holding(home.path(), &HERS);
    for word in HERS {
        assert!(found.iter().any(|it| it.starts_with(word)), "{word}");
    }
    forget(&mut store).unwrap();
    store.rub_out().unwrap();
    assert_eq!(holding(home.path(), &HERS), Vec::<String>::new());
    assert_ne!(holding(home.path(), &["tin lid"]), Vec::<String>::new());
    drop(store);
    assert_eq!(holding(home.path(), &HERS), Vec::<String>::new());
    let names: Vec<_> = fs::read_dir(home.path()).unwrap().collect();
    assert_eq!(names.len(), 1, "{names:?}");
}

#[test]
fn what_a_killed_program_left_is_rubbed_out_at_the_next_opening() {
    let (home, mut store) = full();
    forget(&mut store).unwrap();
    // What lies on the disk at this moment is what a killed program leaves.
    let left = tempfile::tempdir().unwrap();
    for entry in fs::read_dir(home.path()).unwrap() {
        let path = entry.unwrap().path();
        fs::copy(&path, left.path().join(path.file_name().unwrap())).unwrap();
    }
    assert_ne!(holding(left.path(), &HERS), Vec::<String>::new());
    let opened = Store::open(left.path(), &table::at(0)).unwrap();
    assert_eq!(opened.taster(&ana()), Ok(None));
    assert_eq!(holding(left.path(), &HERS), Vec::<String>::new());
    drop(opened);
    let names: Vec<_> = fs::read_dir(left.path()).unwrap().collect();
    assert_eq!(names.len(), 1, "{names:?}");
}

#[test]
fn while_another_program_reads_the_bytes_wait_and_the_next_opening_rubs_them_out() {
    let (home, mut store) = full();
    let reader = raw(home.path());
    reader.execute_batch("BEGIN").unwrap();
    let seen: i64 = reader
        .query_row("SELECT count(*) FROM seat", [], |row| row.get(0))
        .unwrap();
    assert_eq!(seen, 9);
    forget(&mut store).unwrap();
    let waits = store.rub_out();
    assert!(matches!(waits, Err(StorageError::Busy { .. })), "{waits:?}");
    assert_eq!(store.taster(&ana()), Ok(None));
    assert_ne!(holding(home.path(), &HERS), Vec::<String>::new());
    reader.execute_batch("COMMIT").unwrap();
    drop((store, reader));
    Store::open(home.path(), &table::at(0)).unwrap();
    assert_eq!(holding(home.path(), &HERS), Vec::<String>::new());
}

#[test]
fn a_taster_who_cannot_be_forgotten_whole_stays_whole() {
    let (home, mut store) = full();
    raw(home.path())
        .execute_batch(
            "CREATE TRIGGER planted BEFORE DELETE ON taster BEGIN SELECT RAISE(ABORT, 'no'); END;",
        )
        .unwrap();
    let before = dump(home.path());
    assert!(forget(&mut store).is_err());
    assert_eq!(dump(home.path()), before);
    let nobody = store.forget_taster(&TasterId::new("none"), table::at(59), ana);
    assert!(matches!(nobody, Err(StorageError::Missing { .. })));
}

#[test]
fn the_traces_of_a_taster_are_counted_before_and_none_are_left_after() {
    let (_home, mut store) = full();
    let counted = Traces {
        notes: 1,
        open_notes: 0,
        practice_answers: 8,
        blind_answers: 1,
        imported_ratings: 3,
        courses: 1,
        photographs: 1,
        removals: 0,
    };
    assert_eq!(store.traces(&ana()), Ok(counted));
    forget(&mut store).unwrap();
    assert_eq!(store.traces(&ana()), Ok(Traces::default()));
}

#[test]
fn a_new_name_takes_the_place_of_the_old_one_in_every_byte() {
    let (home, mut store) = full();
    let taken = store.rename_taster(&ana(), &table::name("BO"));
    assert!(matches!(taken, Err(StorageError::Taken { .. })));
    // Another spelling of the own name is no second taster.
    store
        .rename_taster(&ana(), &table::name("QUILLONFREY"))
        .unwrap();
    raw(home.path()).execute_batch("DELETE FROM summary; DELETE FROM import_rating; DELETE FROM import_seat; DELETE FROM import_taster; UPDATE import SET file_name = 'own.csv'").unwrap();
    store.rename_taster(&ana(), &table::name("Fox")).unwrap();
    assert_ne!(holding(home.path(), &["Quillonfrey"]), Vec::<String>::new());
    store.rub_out().unwrap();
    assert_eq!(store.taster(&ana()).unwrap().unwrap().name.as_str(), "Fox");
    let old = ["Quillonfrey", "quillonfrey", "QUILLONFREY"];
    assert_eq!(holding(home.path(), &old), Vec::<String>::new());
    let nobody = store.rename_taster(&TasterId::new("none"), &table::name("Owl"));
    assert!(matches!(nobody, Err(StorageError::Missing { .. })));
}

#[test]
fn copies_in_the_home_that_hold_the_person_are_found_and_none_is_changed() {
    let (home, mut store) = full();
    let copy = |name: &str| home.path().join(name);
    fs::create_dir(copy("kept")).unwrap();
    store.backup_to(&copy("kept/before #1?.db")).unwrap();
    store.backup_to(&copy("nameless")).unwrap();
    fs::write(copy("thirdglass.db.gz"), b"packed").unwrap();
    fs::write(copy("notes.txt"), b"taster-ana Quillonfrey").unwrap();
    let name = table::name("quillonFREY");
    let held = |file: &str, found| BackupCopy {
        file: copy(file),
        found,
    };
    let expected = vec![
        held("kept/before #1?.db", InCopy::Held),
        held("nameless", InCopy::Held),
        held("thirdglass.db.gz", InCopy::NotReadable),
    ];
    let bytes = fs::read(copy("nameless")).unwrap();
    assert_eq!(store.copies_holding(&ana(), &name), expected);
    assert_eq!(fs::read(copy("nameless")).unwrap(), bytes);
    forget(&mut store).unwrap();
    store.rub_out().unwrap();
    store.backup_to(&copy("after.db")).unwrap();
    assert_eq!(store.copies_holding(&ana(), &name), expected);
    // A row that was deleted and not rubbed out still stands in the bytes.
    let file = Connection::open(copy("nameless")).unwrap();
    file.execute_batch("PRAGMA foreign_keys = off; UPDATE seat SET taster = 'x'; UPDATE course_person SET taster = 'y' WHERE taster = 'taster-ana'; UPDATE panel SET poured_by = NULL; DELETE FROM summary; DELETE FROM import_rating; DELETE FROM import_seat; DELETE FROM import_taster; DELETE FROM taster WHERE id = 'taster-ana'").unwrap();
    drop(file);
    assert_eq!(store.copies_holding(&ana(), &name), expected);
    let names: Vec<String> = fs::read_dir(home.path())
        .unwrap()
        .map(|it| it.unwrap().file_name().into_string().unwrap())
        .filter(|it| it.starts_with("nameless") || it.starts_with("kept"))
        .collect();
    assert_eq!(names.len(), 2, "{names:?}");
}

#[test]
fn every_table_that_hangs_on_a_taster_is_known_to_the_forgetting() {
    let (home, _store) = full();
    let file = raw(home.path());
    let mut hanging = BTreeSet::from(["taster".to_owned()]);
    loop {
        let mut more = BTreeSet::new();
        for table in tables(&file) {
            let sql = "SELECT \"table\" FROM pragma_foreign_key_list(?1)";
            let mut statement = file.prepare(sql).unwrap();
            let parents = statement
                .query_map([&table], |row| row.get::<_, String>(0))
                .unwrap();
            if parents.map(Result::unwrap).any(|it| hanging.contains(&it)) {
                more.insert(table);
            }
        }
        let known = hanging.len();
        hanging.extend(more);
        if hanging.len() == known {
            break;
        }
    }
    // Whoever adds a table here adds it to the forgetting too, and to the test of its rows.
    let known = [
        "answer",
        "answer_mark",
        "course_person",
        "import_seat",
        "import_taster",
        "mark",
        "notes",
        "panel",
        "photograph",
        "practice_answer",
        "practice_item",
        "practice_option",
        "rating",
        "seat",
        "second_sniff",
        "serving",
        "stopwatch",
        "strength_answer",
        "strength_glass",
        "summary",
        "taster",
        "test_place",
    ];
    assert_eq!(hanging, known.map(str::to_owned).into());
}
