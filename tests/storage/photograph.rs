//! Photographs: kept with their beer and their notes, numbered for good, removed to the last byte.

use std::path::Path;

use rusqlite::Connection;
use thirdglass::domain::NotesId;
use thirdglass::domain::Photograph;
use thirdglass::domain::PhotographId;
use thirdglass::domain::PhotographKind;
use thirdglass::storage::StorageError;
use thirdglass::storage::Store;

use crate::blind_test;
use crate::course;
use crate::import;
use crate::kitchen_table as table;
use crate::practice;
use crate::proposal;

/// The bytes that stand in a photograph of the table; no picture is needed to keep one.
const BYTES: [&[u8]; 3] = [b"the glass", b"sheet of the one", b"sheet of the other"];

fn photographs() -> Vec<Photograph> {
    let notes = [None, Some("notes-1"), Some("notes-2")];
    let all = (1..).zip(notes).zip(BYTES);
    all.map(|((number, notes), bytes)| Photograph {
        id: PhotographId::new(format!("photograph-{number}")),
        number,
        kind: if notes.is_none() {
            PhotographKind::Glass
        } else {
            PhotographKind::Sheet
        },
        notes: notes.map(NotesId::new),
        media_type: "image/jpeg".to_owned(),
        width: 1_600,
        height: 1_200,
        sha256: "a".repeat(64),
        length: u32::try_from(bytes.len()).unwrap(),
        made_at: table::at(55),
    })
    .collect()
}

pub(crate) fn lay_photograph(store: &mut Store) {
    for (it, bytes) in photographs().iter().zip(BYTES) {
        store.add_photograph(&table::beer().id, it, bytes).unwrap();
    }
}

pub(crate) fn assert_photograph_laid(store: &Store) {
    assert_eq!(store.photographs(&table::beer().id), Ok(photographs()));
    for (it, bytes) in photographs().iter().zip(BYTES) {
        assert_eq!(store.photograph_bytes(&it.id), Ok(bytes.to_vec()));
    }
}

/// How the fixture of schema 9 was made, which holds no more than that of schema 8 and an index.
pub(crate) fn make_fixture(path: &Path) {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    store.start_second_sniff(&table::second_sniff()).unwrap();
    blind_test::lay_test(&mut store);
    practice::lay_practice(&mut store);
    course::lay_course(&mut store);
    import::lay_import(&mut store);
    import::lay_panel(&mut store);
    proposal::lay_proposal(&mut store);
    lay_photograph(&mut store);
    store.backup_to(path).unwrap();
}

#[test]
fn a_removed_photograph_leaves_its_number_and_no_byte() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    lay_photograph(&mut store);
    let beer = table::beer().id;
    let last = PhotographId::new("photograph-3");
    store.remove_photograph(&last, &table::at(56)).unwrap();
    store.rub_out().unwrap();
    let numbers: Vec<u32> = store
        .photographs(&beer)
        .unwrap()
        .iter()
        .map(|it| it.number)
        .collect();
    assert_eq!(numbers, [1, 2]);
    assert_eq!(store.next_photograph_number(&beer), Ok(4));
    assert_eq!(store.every_photograph().unwrap().len(), 2);
    assert!(matches!(
        store.photograph_bytes(&last),
        Err(StorageError::Missing { .. })
    ));
    assert!(store.remove_photograph(&last, &table::at(57)).is_err());
    drop(store);
    let bytes = std::fs::read(home.path().join("thirdglass.db")).unwrap();
    let holds = |wanted: &[u8]| bytes.windows(wanted.len()).any(|it| it == wanted);
    assert!(holds(BYTES[1]) && !holds(BYTES[2]));
}

#[test]
fn the_file_refuses_to_change_a_photograph_and_to_bring_a_removed_one_back() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    lay_photograph(&mut store);
    let file = Connection::open(home.path().join("thirdglass.db")).unwrap();
    for change in [
        "bytes = x'00'",
        "number = 9",
        "notes = NULL",
        "kind = 'label'",
        "made_at = 'later'",
    ] {
        let sql = format!("UPDATE photograph SET {change} WHERE id = 'photograph-2'");
        assert!(file.execute(&sql, []).is_err(), "{sql}");
    }
    let id = PhotographId::new("photograph-1");
    store.remove_photograph(&id, &table::at(56)).unwrap();
    let back = "UPDATE photograph SET bytes = x'00', sha256 = 'b', removed_at = NULL";
    assert!(file.execute(back, []).is_err());
}

#[test]
fn a_number_is_given_once_and_a_beer_must_be_there() {
    let mut store = Store::in_memory().unwrap();
    table::lay_and_taste(&mut store);
    lay_photograph(&mut store);
    let again = Photograph {
        id: PhotographId::new("another"),
        ..photographs().remove(0)
    };
    let beer = table::beer().id;
    assert!(store.add_photograph(&beer, &again, b"x").is_err());
    let gone = thirdglass::domain::BeerId::new("gone");
    assert!(store.add_photograph(&gone, &again, b"x").is_err());
}
