//! All or nothing, and two programs on one file.

use std::panic::AssertUnwindSafe;
use std::panic::catch_unwind;
use std::path::Path;
use std::sync::Barrier;
use std::thread;

use thirdglass::storage::StorageError;
use thirdglass::storage::Store;

use crate::kitchen_table as table;

#[derive(Debug, PartialEq)]
enum Stop {
    Storage(StorageError),
    OnPurpose,
}

impl From<StorageError> for Stop {
    fn from(error: StorageError) -> Self {
        Self::Storage(error)
    }
}

#[test]
fn a_long_work_that_stops_half_way_stores_nothing_and_its_repetition_everything() {
    let mut store = Store::in_memory().unwrap();
    let stopped: Result<(), Stop> = store.in_one_go(|store| {
        table::lay_and_taste(store);
        assert_eq!(store.tasters()?.len(), 2);
        Err(Stop::OnPurpose)
    });
    assert_eq!(stopped, Err(Stop::OnPurpose));
    assert_eq!(store.tasters(), Ok(Vec::new()));
    assert_eq!(store.recipe_versions(), Ok(Vec::new()));
    let done: Result<(), Stop> = store.in_one_go(|store| {
        table::lay_and_taste(store);
        Ok(())
    });
    assert_eq!(done, Ok(()));
    table::assert_laid_and_tasted(&store);
}

#[test]
fn a_step_that_fails_inside_leaves_nothing_of_itself_and_the_rest_can_go_on() {
    let mut store = Store::in_memory().unwrap();
    store.add_taster(&table::taster("Ana")).unwrap();
    let done: Result<(), StorageError> = store.in_one_go(|store| {
        store.add_taster(&table::taster("Bo"))?;
        let inner: Result<(), StorageError> = store.in_one_go(|store| {
            store.add_taster(&table::taster("Cy"))?;
            store.add_taster(&table::taster("Ana"))
        });
        assert!(matches!(inner, Err(StorageError::Taken { .. })));
        store.add_taster(&table::taster("Di"))
    });
    assert_eq!(done, Ok(()));
    let names: Vec<String> = store
        .tasters()
        .unwrap()
        .iter()
        .map(|taster| taster.name.to_string())
        .collect();
    assert_eq!(names, ["Ana", "Bo", "Di"]);
}

#[test]
fn a_panic_inside_stores_nothing_and_the_store_goes_on() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    let panicked = catch_unwind(AssertUnwindSafe(|| {
        store.in_one_go(|store| -> Result<(), StorageError> {
            store.add_taster(&table::taster("Ana"))?;
            panic!("on purpose")
        })
    }));
    assert!(panicked.is_err());
    store.add_taster(&table::taster("Bo")).unwrap();
    // Another program sees what was stored, so nothing hangs in an unfinished transaction.
    let other = Store::open(home.path(), &table::at(0)).unwrap();
    assert_eq!(other.tasters(), Ok(vec![table::taster("Bo")]));
}

#[test]
fn a_first_seat_is_stored_whole_or_not_at_all() {
    let mut store = Store::in_memory().unwrap();
    table::lay(&mut store);
    // Cy is not stored, so the seat cannot be; the sitting and the glass must not stay alone.
    let seat = table::seat(1, &table::taster("Cy"));
    let notes = table::blank_notes("notes-1", &seat, 1);
    let refused = store.open_sitting(&table::sitting(), &seat, &table::sample(), &notes);
    assert!(matches!(refused, Err(StorageError::Database { .. })));
    assert_eq!(store.sitting(&table::sitting().id), Ok(None));
    assert_eq!(store.open_sitting_of(&table::beer().id), Ok(None));
}

/// Reads how many tasters there are and adds one of that number, `times` times.
fn count_and_add(home: &Path, start: &Barrier, times: usize) {
    let mut store = Store::open(home, &table::at(0)).unwrap();
    start.wait();
    for _ in 0..times {
        let added: Result<(), StorageError> = store.in_one_go(|store| {
            let number = store.tasters()?.len();
            store.add_taster(&table::taster(&format!("t{number}")))
        });
        assert_eq!(added, Ok(()));
    }
}

#[test]
fn two_programs_that_read_and_then_write_by_turns_lose_nothing() {
    let home = tempfile::tempdir().unwrap();
    let start = Barrier::new(2);
    thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(|| count_and_add(home.path(), &start, 150));
        }
    });
    let store = Store::open(home.path(), &table::at(0)).unwrap();
    assert_eq!(store.tasters().unwrap().len(), 300);
    assert!(store.taster_named(&table::name("t299")).unwrap().is_some());
}
