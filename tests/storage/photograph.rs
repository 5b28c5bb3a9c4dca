//! Photographs: kept with their beer and their notes, numbered for good.

use rusqlite::Connection;
use thirdglass::domain::NotesId;
use thirdglass::domain::Photograph;
use thirdglass::domain::PhotographId;
use thirdglass::domain::PhotographKind;
use thirdglass::storage::Store;

use crate::kitchen_table as table;

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

#[test]
fn the_file_refuses_to_change_a_photograph() {
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
