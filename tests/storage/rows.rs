//! Tasters, recipe versions, batches, logs, beers and sittings.

use rusqlite::Connection;
use thirdglass::domain::Abv;
use thirdglass::domain::Batch;
use thirdglass::domain::BatchId;
use thirdglass::domain::Beer;
use thirdglass::domain::BeerId;
use thirdglass::domain::RecipeVersion;
use thirdglass::domain::RecipeVersionId;
use thirdglass::domain::SeatId;
use thirdglass::domain::Sitting;
use thirdglass::domain::SittingId;
use thirdglass::domain::Taster;
use thirdglass::domain::TasterId;
use thirdglass::storage::StorageError;
use thirdglass::storage::Store;

use crate::kitchen_table as table;

fn laid() -> Store {
    let mut store = Store::in_memory().unwrap();
    table::lay(&mut store);
    store
}

#[test]
fn everything_stored_comes_back_letter_for_letter() {
    let mut store = Store::in_memory().unwrap();
    table::lay_and_taste(&mut store);
    table::assert_laid_and_tasted(&store);
}

#[test]
fn names_are_found_whatever_their_capitals_beyond_ascii_too() {
    let store = laid();
    assert_eq!(
        store.taster_named(&table::name("ANA")),
        Ok(Some(table::taster("Ana")))
    );
    assert_eq!(
        store.batch_marked(&table::name("öSE 7")),
        Ok(Some(table::batch()))
    );
    assert_eq!(
        store.beer_marked(&table::name("ÖSE 7")),
        Ok(Some(table::beer()))
    );
    assert_eq!(store.beer_marked(&table::name("Ose 7")), Ok(None));
}

#[test]
fn a_second_taster_batch_or_beer_of_the_same_name_is_refused() {
    let mut store = laid();
    let taken = |what, found: &str| {
        let found = found.to_owned();
        Err(StorageError::Taken { what, found })
    };
    let twin = Taster {
        id: TasterId::new("taster-twin"),
        ..table::taster("ana")
    };
    assert_eq!(store.add_taster(&twin), taken("the name", "ana"));
    let beer = Beer {
        id: BeerId::new("beer-twin"),
        cap_mark: table::name("No Label"),
        ..table::unrecorded_beer()
    };
    assert_eq!(store.add_beer(&beer), taken("the cap mark", "No Label"));
    let batch = Batch {
        id: BatchId::new("batch-twin"),
        cap_mark: table::name("free"),
        ..table::batch()
    };
    // The batch itself would do; its beer would not, so neither is stored.
    assert_eq!(
        store.add_batch(&batch, &beer),
        taken("the cap mark", "No Label")
    );
    assert_eq!(store.batches(), Ok(vec![table::batch()]));
}

#[test]
fn what_was_removed_leaves_the_lists_and_frees_its_name() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay(&mut store);
    let other = Connection::open(home.path().join("thirdglass.db")).unwrap();
    other
        .execute(
            "UPDATE taster SET removed_at = made_at WHERE name = 'Ana'",
            [],
        )
        .unwrap();
    assert_eq!(store.tasters(), Ok(vec![table::taster("Bo")]));
    assert_eq!(store.taster_named(&table::name("Ana")), Ok(None));
    assert_eq!(
        store.taster(&table::taster("Ana").id),
        Ok(Some(table::taster("Ana")))
    );
    let again = Taster {
        id: TasterId::new("taster-again"),
        ..table::taster("Ana")
    };
    assert_eq!(store.add_taster(&again), Ok(()));
}

#[test]
fn a_recipe_version_is_found_by_id_by_hash_and_the_newest_by_name() {
    let mut store = laid();
    let newer = RecipeVersion {
        id: RecipeVersionId::new("version-3"),
        hash: "c".repeat(64),
        made_at: table::at(9),
        ..table::second_version()
    };
    store.add_recipe_version(&newer).unwrap();
    let found = store.recipe_version_named(&newer.name, &newer.version);
    assert_eq!(found, Ok(Some(newer)));
    let second = table::second_version();
    assert_eq!(store.recipe_version(&second.id), Ok(Some(second.clone())));
    assert_eq!(
        store.recipe_version_with_hash(&second.hash),
        Ok(Some(second.clone()))
    );
    assert_eq!(store.recipe_version_with_hash("none"), Ok(None));
    let twin = RecipeVersion {
        id: RecipeVersionId::new("version-twin"),
        ..second
    };
    assert!(matches!(
        store.add_recipe_version(&twin),
        Err(StorageError::Taken { .. })
    ));
}

#[test]
fn a_later_line_of_the_log_counts_instead_of_the_earlier_and_notes_stand_side_by_side() {
    let mut store = laid();
    let batch = table::batch().id;
    let gravity = table::entry("entry-5", "original-gravity", "1.0531", 10);
    let bottles = table::entry("entry-6", "bottles-left", "8", 11);
    let again = table::entry("entry-7", "bottles-left", "7", 12);
    let note = table::entry("entry-8", "note", "one gusher", 13);
    for entry in [&gravity, &bottles, &again, &note] {
        store.add_entry(&batch, entry).unwrap();
    }
    let first = table::entries();
    let expected = vec![first[0].clone(), first[2].clone(), gravity, again, note];
    assert_eq!(store.entries(&batch), Ok(expected));
}

#[test]
fn a_line_for_a_batch_that_is_not_stored_is_refused() {
    let mut store = laid();
    let nowhere = BatchId::new("batch-9");
    assert!(store.add_entry(&nowhere, &table::entries()[0]).is_err());
}

#[test]
fn a_beer_known_by_its_cap_mark_becomes_the_beer_of_a_batch_added_later() {
    let mut store = laid();
    let batch = Batch {
        id: BatchId::new("batch-2"),
        cap_mark: table::unrecorded_beer().cap_mark,
        ..table::batch()
    };
    let beer = Beer {
        batch: Some(batch.id.clone()),
        abv: Some(Abv::new(4.0).unwrap()),
        ..table::unrecorded_beer()
    };
    store.add_batch(&batch, &beer).unwrap();
    assert_eq!(store.beer_of_batch(&batch.id), Ok(Some(beer)));
}

#[test]
fn a_beer_belongs_to_one_batch_and_a_batch_answers_with_the_beer_of_its_own_cap_mark() {
    let mut store = laid();
    let (batch, loose) = (table::batch().id, table::unrecorded_beer().id);
    assert_eq!(store.attach_batch(&loose, &batch), Ok(()));
    assert_eq!(store.attach_batch(&loose, &batch), Ok(()));
    assert_eq!(store.beer_of_batch(&batch), Ok(Some(table::beer())));
    let other = BatchId::new("batch-2");
    assert_eq!(
        store.attach_batch(&loose, &other),
        Err(StorageError::HasBatch { beer: loose, batch })
    );
    assert!(matches!(
        store.attach_batch(&BeerId::new("beer-9"), &other),
        Err(StorageError::Missing { .. })
    ));
}

#[test]
fn the_first_closing_and_the_first_leaving_count() {
    let mut store = Store::in_memory().unwrap();
    table::lay_and_taste(&mut store);
    let id = table::sitting().id;
    store.close_sitting(&id, table::at(30)).unwrap();
    store.close_sitting(&id, table::at(40)).unwrap();
    let closed = Sitting {
        closed_at: Some(table::at(30)),
        ..table::sitting()
    };
    assert_eq!(store.sitting(&id), Ok(Some(closed)));
    assert_eq!(store.open_sitting_of(&table::beer().id), Ok(None));
    let seat = SeatId::new("seat-2");
    store.leave_seat(&seat, table::at(31)).unwrap();
    store.leave_seat(&seat, table::at(32)).unwrap();
    let rows = store.notes_of_taster(&table::taster("Bo").id).unwrap();
    assert_eq!(rows[0].left_at, Some(table::at(31)));
    for refused in [
        store.close_sitting(&SittingId::new("none"), table::at(30)),
        store.leave_seat(&SeatId::new("none"), table::at(30)),
    ] {
        assert!(matches!(refused, Err(StorageError::Missing { .. })));
    }
}
