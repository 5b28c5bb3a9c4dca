//! What was removed: out of every list, back as it was, thrown out to the last byte, and nothing left of whom is forgotten.

use std::path::Path;

use rusqlite::Connection;
use thirdglass::domain::PhotographId;
use thirdglass::domain::RemovedKind;
use thirdglass::domain::TasterId;
use thirdglass::storage::Held;
use thirdglass::storage::Holder;
use thirdglass::storage::StorageError;
use thirdglass::storage::Store;

use crate::blind_test;
use crate::course;
use crate::import;
use crate::kitchen_table as table;
use crate::photograph;
use crate::practice;
use crate::proposal;

const PHOTOGRAPH: (RemovedKind, &str) = (RemovedKind::Photograph, "photograph-3");

/// Removes the last photograph of the table.
pub(crate) fn lay_removal(store: &mut Store) {
    store
        .remove(PHOTOGRAPH, "3 of Öse 7", table::at(57))
        .unwrap();
}

pub(crate) fn assert_removal_laid(store: &Store) {
    let removals = store.removals().unwrap();
    assert_eq!(removals.len(), 1);
    assert_eq!((removals[0].number, removals[0].kind), (1, PHOTOGRAPH.0));
    assert_eq!(
        (removals[0].root.as_str(), removals[0].name.as_str()),
        (PHOTOGRAPH.1, "3 of Öse 7")
    );
    assert_eq!(removals[0].removed_at, table::at(57));
    assert_eq!(store.photographs(&table::beer().id).unwrap().len(), 2);
}

/// How the fixtures of schemas 9 and 10 were made, when each was new.
pub(crate) fn make_fixture(path: &Path) {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    lay_everything(&mut store);
    lay_removal(&mut store);
    store.backup_to(path).unwrap();
}

fn lay_everything(store: &mut Store) {
    table::lay_and_taste(store);
    store.start_second_sniff(&table::second_sniff()).unwrap();
    blind_test::lay_test(store);
    practice::lay_practice(store);
    course::lay_course(store);
    import::lay_import(store);
    import::lay_panel(store);
    proposal::lay_proposal(store);
    photograph::lay_photograph(store);
}

fn holds(home: &Path, wanted: &[u8]) -> bool {
    let files = ["thirdglass.db", "thirdglass.db-wal"]
        .map(|it| std::fs::read(home.join(it)).unwrap_or_default());
    files
        .iter()
        .any(|bytes| bytes.windows(wanted.len()).any(|it| it == wanted))
}

#[test]
fn a_removed_photograph_keeps_its_number_comes_back_and_leaves_no_byte_when_it_is_thrown_out() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    lay_everything(&mut store);
    lay_removal(&mut store);
    assert_removal_laid(&store);
    assert_eq!(store.next_photograph_number(&table::beer().id), Ok(4));
    let id = PhotographId::new(PHOTOGRAPH.1);
    assert!(matches!(
        store.photograph_bytes(&id),
        Err(StorageError::Missing { .. })
    ));
    let removal = store.removals().unwrap().remove(0);
    store.bring_back(&removal).unwrap();
    photograph::assert_photograph_laid(&store);
    assert_eq!(store.removals(), Ok(Vec::new()));
    lay_removal(&mut store);
    let removal = store.removals().unwrap().remove(0);
    store.throw_out(&removal).unwrap();
    store.rub_out().unwrap();
    // What is thrown out, or was brought back in another window, is neither brought back nor thrown out again.
    for again in [store.bring_back(&removal), store.throw_out(&removal)] {
        assert!(
            matches!(again, Err(StorageError::Missing { .. })),
            "{again:?}"
        );
    }
    assert_eq!(store.photographs(&table::beer().id).unwrap().len(), 2);
    drop(store);
    assert!(holds(home.path(), b"sheet of the one") && !holds(home.path(), b"sheet of the other"));
}

#[test]
fn something_whose_place_is_taken_or_whose_ground_is_gone_does_not_come_back() {
    let mut store = Store::in_memory().unwrap();
    lay_everything(&mut store);
    lay_removal(&mut store);
    let removal = store.removals().unwrap().remove(0);
    store
        .remove((RemovedKind::Tasting, "notes-2"), "Öse 7", table::at(58))
        .unwrap();
    // The photograph belonged to these notes.
    let refused = store.bring_back(&removal).unwrap_err();
    assert!(matches!(refused, StorageError::StoodOn { .. }), "{refused}");
    assert!(
        refused.to_string().contains("bring that back first"),
        "{refused}"
    );
    let notes = store.removals().unwrap().remove(0);
    store.bring_back(&notes).unwrap();
    store.bring_back(&removal).unwrap();
    photograph::assert_photograph_laid(&store);
    // An import that was read in again meanwhile has the place of the first.
    store
        .remove((RemovedKind::Import, "1"), "1", table::at(59))
        .unwrap();
    let removal = store.removals().unwrap().remove(0);
    assert!(store.imports().unwrap().is_empty());
    import::lay_import(&mut store);
    let refused = store.bring_back(&removal).unwrap_err();
    assert!(
        matches!(refused, StorageError::PlaceTaken { .. }),
        "{refused}"
    );
    assert_eq!(store.imports().unwrap().len(), 1);
}

#[test]
fn a_forgotten_taster_is_forgotten_in_what_was_removed_too() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    lay_everything(&mut store);
    let ana: TasterId = table::taster("Ana").id;
    let sittings: Vec<String> = store
        .tests()
        .unwrap()
        .iter()
        .map(|it| it.sitting.to_string())
        .collect();
    for sitting in &sittings {
        store
            .remove((RemovedKind::Test, sitting), "1", table::at(57))
            .unwrap();
    }
    store
        .remove((RemovedKind::Tasting, "notes-1"), "Öse 7", table::at(58))
        .unwrap();
    assert_eq!(store.removals().unwrap().len(), sittings.len() + 1);
    store
        .forget_taster(&ana, table::at(59), || TasterId::new("nobody"))
        .unwrap();
    store.rub_out().unwrap();
    let file = Connection::open(home.path().join("thirdglass.db")).unwrap();
    let cells = "SELECT count(*) FROM removed_cell WHERE value = ?1";
    let left: u32 = file
        .query_row(cells, [ana.as_str()], |row| row.get(0))
        .unwrap();
    assert_eq!(left, 0);
    let kinds: Vec<RemovedKind> = store.removals().unwrap().iter().map(|it| it.kind).collect();
    assert!(!kinds.contains(&RemovedKind::Tasting), "{kinds:?}");
    drop(file);
    drop(store);
    assert!(!holds(home.path(), ana.as_str().as_bytes()));
}

#[test]
fn what_stands_on_a_batch_is_counted_before_it_goes() {
    let mut store = Store::in_memory().unwrap();
    lay_everything(&mut store);
    let held = store.held_by(RemovedKind::Batch, "batch-1").unwrap();
    // One tasting, one blind test and one panel were laid.
    let laid = [
        (Holder::Tasting, "tasting"),
        (Holder::Test, "blind test"),
        (Holder::Panel, "panel"),
    ];
    let one_of_each = laid.map(|(holder, words)| Held {
        holder,
        count: 1,
        words,
    });
    assert_eq!(held, one_of_each);
    let refused = store.remove((RemovedKind::Batch, "batch-1"), "Öse 7", table::at(57));
    assert!(refused.is_err());
    assert!(store.removals().unwrap().is_empty() && store.batches().unwrap().len() == 1);
}

#[test]
fn something_is_removed_once_and_its_number_is_never_given_again() {
    let mut store = Store::in_memory().unwrap();
    lay_everything(&mut store);
    lay_removal(&mut store);
    let again = store.remove(PHOTOGRAPH, "3 of Öse 7", table::at(58));
    assert!(
        matches!(again, Err(StorageError::Missing { .. })),
        "{again:?}"
    );
    let removal = store.removals().unwrap().remove(0);
    store.bring_back(&removal).unwrap();
    lay_removal(&mut store);
    assert_eq!(store.removals().unwrap()[0].number, 2);
}

#[test]
fn what_hung_on_removed_notes_is_forgotten_with_their_taster() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    lay_everything(&mut store);
    let sheet = (RemovedKind::Photograph, "photograph-2");
    store.remove(sheet, "2 of Öse 7", table::at(57)).unwrap();
    let notes = (RemovedKind::Tasting, "notes-1");
    store.remove(notes, "Öse 7", table::at(58)).unwrap();
    let ana = table::taster("Ana").id;
    let draw = || TasterId::new("nobody");
    // Their notes, and the photograph that went before them.
    assert_eq!(store.traces(&ana).unwrap().removals, 2);
    store.forget_taster(&ana, table::at(59), draw).unwrap();
    store.rub_out().unwrap();
    assert_eq!(store.removals(), Ok(Vec::new()));
    drop(store);
    assert!(!holds(home.path(), b"sheet of the one"));
}

#[test]
fn a_home_of_which_all_was_removed_is_not_empty() {
    let mut store = Store::in_memory().unwrap();
    table::lay(&mut store);
    let batch = store.batches().unwrap().remove(0);
    assert!(store.ensure_empty().is_err());
    store
        .remove(
            (RemovedKind::Batch, batch.id.as_str()),
            "Öse 7",
            table::at(57),
        )
        .unwrap();
    let refused = store.ensure_empty().unwrap_err();
    assert!(!refused.to_string().is_empty());
}
