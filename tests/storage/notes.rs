//! Notes: every change, the lock, and the lists.

use std::collections::HashMap;
use std::collections::HashSet;

use rusqlite::Connection;
use thirdglass::domain::BottleFault;
use thirdglass::domain::DescriptorId;
use thirdglass::domain::Field;
use thirdglass::domain::Form;
use thirdglass::domain::Knew;
use thirdglass::domain::MarkId;
use thirdglass::domain::Moment;
use thirdglass::domain::Nose;
use thirdglass::domain::Notes;
use thirdglass::domain::NotesChange;
use thirdglass::domain::NotesId;
use thirdglass::domain::Prompting;
use thirdglass::domain::Rating;
use thirdglass::domain::Remark;
use thirdglass::domain::SeatId;
use thirdglass::domain::SeatRole;
use thirdglass::domain::SittingKind;
use thirdglass::domain::Stage;
use thirdglass::domain::Stopwatch;
use thirdglass::storage::NotesRow;
use thirdglass::storage::StorageError;
use thirdglass::storage::Store;

use crate::kitchen_table as table;

fn tasted() -> Store {
    let mut store = Store::in_memory().unwrap();
    table::lay_and_taste(&mut store);
    store
}

fn bos_notes() -> Notes {
    table::blank_notes("notes-2", &table::seat(2, &table::taster("Bo")), 1)
}

/// A number for each kind of change; a new kind does not compile until it is tried below.
fn kind_of(change: &NotesChange) -> usize {
    match change {
        NotesChange::Moved(_) => 0,
        NotesChange::Formed(_) => 1,
        NotesChange::Knew(_) => 2,
        NotesChange::Nosed(_) => 3,
        NotesChange::Rated(..) => 4,
        NotesChange::Marked(_) => 5,
        NotesChange::Unmarked(_) => 6,
        NotesChange::Watched(_) => 7,
        NotesChange::Unwatched(_) => 8,
        NotesChange::Remarked(_) => 9,
        NotesChange::Faulted(_) => 10,
        NotesChange::SealBroken(_) => 11,
        NotesChange::Locked(_) => 12,
    }
}

fn every_change() -> Vec<NotesChange> {
    let mark = |id: &str, word: &str, intensity| {
        let word = table::word(word);
        NotesChange::Marked(table::mark(id, word, intensity, Prompting::Unprompted))
    };
    let watch = |stopped| {
        NotesChange::Watched(Stopwatch {
            scale: table::scale("length"),
            started_at: table::at(8),
            stopped_at: stopped,
        })
    };
    let rated = |id, rating| NotesChange::Rated(table::scale(id), rating);
    vec![
        NotesChange::Moved(Field::Words(Stage::Aroma)),
        NotesChange::Formed(Form::Short),
        NotesChange::Knew(Some(Knew::Recipe)),
        NotesChange::Knew(None),
        NotesChange::Nosed(Some(Nose::Cold)),
        rated("haze", Some(Rating::Rated(0.0))),
        rated("sweet", Some(Rating::Skipped)),
        rated("bitter", Some(Rating::CannotTell)),
        rated("haze", Some(Rating::Rated(7.0))),
        rated("sweet", None),
        mark("mark-z", "bread-crust", None),
        mark("mark-y", "cocoa", Some(5)),
        mark("mark-z", "rye-bread", Some(0)),
        mark("mark-x", "orange-peel", Some(9)),
        NotesChange::Unmarked(MarkId::new("mark-y")),
        mark("mark-y", "cocoa", Some(6)),
        watch(None),
        watch(Some(table::at(9))),
        NotesChange::Unwatched(table::scale("length")),
        watch(None),
        NotesChange::Remarked(Some(Remark::new("a remark", "soft\nshort").unwrap())),
        NotesChange::Faulted(Some(BottleFault::Gushing)),
        NotesChange::Faulted(None),
        NotesChange::SealBroken(table::at(10)),
        NotesChange::SealBroken(table::at(11)),
        NotesChange::Locked(table::at(12)),
    ]
}

#[test]
fn after_every_change_the_store_holds_what_memory_holds() {
    let mut store = tasted();
    let mut notes = bos_notes();
    let mut tried = HashSet::new();
    for change in every_change() {
        notes.apply(&change);
        store
            .change_notes(&notes.id, std::slice::from_ref(&change))
            .unwrap();
        assert_eq!(
            store.notes(&notes.id),
            Ok(Some(notes.clone())),
            "{change:?}"
        );
        tried.insert(kind_of(&change));
    }
    assert_eq!(tried.len(), 13);
}

#[test]
fn every_change_can_be_taken_back_in_the_store_as_in_memory() {
    let mut store = tasted();
    let mut notes = bos_notes();
    for change in every_change() {
        let Some(undoing) = notes.undoing(&change) else {
            continue;
        };
        for change in [&change, &undoing, &change] {
            notes.apply(change);
            store
                .change_notes(&notes.id, std::slice::from_ref(change))
                .unwrap();
        }
        assert_eq!(
            store.notes(&notes.id),
            Ok(Some(notes.clone())),
            "{change:?}"
        );
    }
}

#[test]
fn locked_notes_refuse_every_change() {
    let mut store = tasted();
    let id = NotesId::new("notes-1");
    let before = store.notes(&id).unwrap();
    let refused = Err(StorageError::Locked { notes: id.clone() });
    for change in every_change() {
        assert_eq!(store.change_notes(&id, &[change]), refused);
    }
    assert_eq!(store.notes(&id).unwrap(), before);
}

#[test]
fn what_follows_a_lock_in_the_same_breath_undoes_the_lock_too() {
    let mut store = tasted();
    let notes = bos_notes();
    let changes = [
        NotesChange::Locked(table::at(12)),
        NotesChange::Faulted(Some(BottleFault::Flat)),
    ];
    assert_eq!(
        store.change_notes(&notes.id, &changes),
        Err(StorageError::Locked {
            notes: notes.id.clone()
        })
    );
    assert_eq!(store.notes(&notes.id), Ok(Some(notes)));
}

#[test]
fn the_file_itself_refuses_to_change_locked_notes_but_not_open_ones() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    let bo = bos_notes();
    let open: Vec<NotesChange> = every_change()
        .into_iter()
        .filter(|change| kind_of(change) != 12)
        .collect();
    store.change_notes(&bo.id, &open).unwrap();
    let raw = Connection::open(home.path().join("thirdglass.db")).unwrap();
    let tries = [
        "UPDATE notes SET locked_at = NULL WHERE id = ?1",
        "UPDATE notes SET remark = 'better' WHERE id = ?1",
        "UPDATE notes SET round = 3 WHERE id = ?1",
        "UPDATE rating SET value = 9 WHERE notes = ?1 AND state = 'rated'",
        "DELETE FROM rating WHERE notes = ?1",
        "INSERT INTO rating SELECT ?1, 'salty', 1, 'rated', 90",
        "UPDATE mark SET intensity = 9 WHERE notes = ?1",
        "DELETE FROM mark WHERE notes = ?1",
        "INSERT INTO mark SELECT 'm', ?1, 'aroma', 'cocoa', NULL, NULL, NULL, 1, 'prompted', 90",
        "UPDATE stopwatch SET stopped_at = NULL WHERE notes = ?1",
        "DELETE FROM stopwatch WHERE notes = ?1",
        "INSERT INTO stopwatch SELECT ?1, 'head-retention', 'now', NULL, 90",
    ];
    for sql in tries {
        let refused = raw.execute(sql, ["notes-1"]).unwrap_err();
        assert!(refused.to_string().contains("locked"), "{sql}: {refused}");
        // The same on open notes is possible, so it is the lock that refused.
        let undone = raw.unchecked_transaction().unwrap();
        assert!(undone.execute(sql, [bo.id.as_str()]).unwrap() > 0, "{sql}");
    }
}

#[test]
fn impossible_answers_do_not_get_into_the_file() {
    let mut store = tasted();
    let notes = bos_notes();
    let strong = table::mark("m", table::word("cocoa"), Some(10), Prompting::Unprompted);
    for change in [
        NotesChange::Marked(strong),
        NotesChange::Rated(table::scale("haze"), Some(Rating::Rated(f64::NAN))),
    ] {
        let good = NotesChange::Faulted(Some(BottleFault::Flat));
        assert!(store.change_notes(&notes.id, &[good, change]).is_err());
    }
    assert_eq!(store.notes(&notes.id), Ok(Some(notes)));
}

#[test]
fn a_mark_of_other_notes_is_never_taken_over() {
    let mut store = tasted();
    let stolen = table::mark(
        "notes-1-d",
        table::word("cocoa"),
        None,
        Prompting::Unprompted,
    );
    let id = bos_notes().id;
    assert!(matches!(
        store.change_notes(&id, &[NotesChange::Marked(stolen)]),
        Err(StorageError::Taken { .. })
    ));
    let unmarked = NotesChange::Unmarked(MarkId::new("notes-1-d"));
    store.change_notes(&id, &[unmarked]).unwrap();
    let anas = store.notes(&NotesId::new("notes-1")).unwrap().unwrap();
    assert_eq!(anas.marks.len(), 4);
}

#[test]
fn notes_that_are_not_stored_cannot_be_changed_or_found() {
    let mut store = tasted();
    let id = NotesId::new("none");
    assert_eq!(store.notes(&id), Ok(None));
    assert!(matches!(
        store.notes_with_row(&id),
        Err(StorageError::Missing { .. })
    ));
    assert!(matches!(
        store.change_notes(&id, &[]),
        Err(StorageError::Missing { .. })
    ));
}

fn ids(rows: Result<Vec<NotesRow>, StorageError>) -> Vec<String> {
    rows.unwrap()
        .iter()
        .map(|row| row.notes.to_string())
        .collect()
}

#[test]
fn lists_name_taster_beer_and_state_and_leave_out_what_is_locked_or_left() {
    let mut store = tasted();
    let (ana, bo) = (table::taster("Ana"), table::taster("Bo"));
    let beer = table::beer();
    assert_eq!(ids(store.open_notes()), ["notes-2"]);
    assert_eq!(ids(store.open_notes_of_beer(&beer.id)), ["notes-2"]);
    assert_eq!(
        ids(store.open_notes_of_beer(&table::unrecorded_beer().id)),
        [""; 0]
    );
    assert_eq!(ids(store.notes_of_beer(&beer.id)), ["notes-1", "notes-2"]);
    assert_eq!(ids(store.notes_of_taster(&bo.id)), ["notes-2"]);
    let full = table::full_notes("notes-1", &table::seat(1, &ana));
    let expected = NotesRow {
        notes: full.id.clone(),
        seat: full.seat.clone(),
        role: SeatRole::Taster,
        sitting: table::sitting().id,
        kind: SittingKind::Tasting,
        code: table::sample().code,
        taster: ana.clone(),
        beer,
        typed_on: full.typed_on,
        tasted_on: full.tasted_on,
        locked_at: full.locked_at,
        left_at: None,
        bottle_fault: full.bottle_fault,
        seal_broken_at: full.seal_broken_at,
        round: 1,
    };
    assert_eq!(store.notes_of_taster(&ana.id), Ok(vec![expected.clone()]));
    let whole = store.notes_with_row(&NotesId::new("notes-1"));
    assert_eq!(whole, Ok((full, expected, table::sample())));
    store
        .leave_seat(&SeatId::new("seat-2"), table::at(30))
        .unwrap();
    assert_eq!(ids(store.open_notes()), [""; 0]);
}

#[test]
fn a_second_round_stands_beside_the_first_and_a_third_of_the_same_number_is_refused() {
    let mut store = tasted();
    let seat = table::seat(1, &table::taster("Ana"));
    store
        .add_notes(&table::blank_notes("notes-3", &seat, 2))
        .unwrap();
    assert_eq!(
        ids(store.notes_of_taster(&seat.taster)),
        ["notes-1", "notes-3"]
    );
    assert!(
        store
            .add_notes(&table::blank_notes("notes-4", &seat, 2))
            .is_err()
    );
}

#[test]
fn known_words_are_those_named_unasked_each_from_the_first_lock_on() {
    let mut store = tasted();
    let seat = table::seat(1, &table::taster("Ana"));
    let mut second = table::blank_notes("notes-3", &seat, 2);
    second.marks = vec![
        table::mark("m-1", table::word("cocoa"), None, Prompting::Unprompted),
        table::mark("m-2", table::word("clove"), None, Prompting::Prompted),
    ];
    store.add_notes(&second).unwrap();
    let known = |store: &Store| -> HashMap<DescriptorId, Moment> {
        store.first_named_by(&seat.taster).unwrap()
    };
    let word = |id: &str| DescriptorId::new(id).unwrap();
    // The second round is still open, so only the first counts.
    let first = known(&store);
    assert_eq!(first.len(), 1);
    let locked = store.notes(&NotesId::new("notes-1")).unwrap().unwrap();
    assert_eq!(first.get(&word("bread-crust")), locked.locked_at.as_ref());
    store
        .change_notes(&second.id, &[NotesChange::Locked(table::at(40))])
        .unwrap();
    let both = known(&store);
    assert_eq!(both.len(), 2);
    assert_eq!(both.get(&word("cocoa")), Some(&table::at(40)));
    // Named again, a word keeps the moment at which it was first named.
    let mut third = table::blank_notes("notes-4", &seat, 3);
    third.marks = vec![table::mark(
        "m-9",
        table::word("cocoa"),
        None,
        Prompting::Unprompted,
    )];
    store.add_notes(&third).unwrap();
    store
        .change_notes(&third.id, &[NotesChange::Locked(table::at(50))])
        .unwrap();
    assert_eq!(known(&store), both);
    let bo = store.first_named_by(&table::taster("Bo").id);
    assert_eq!(bo, Ok(HashMap::new()));
}
