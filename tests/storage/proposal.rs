//! Proposals for the next recipe: kept as they were made, found by the recipe that was written.

use rusqlite::Connection;
use thirdglass::domain::BatchId;
use thirdglass::domain::ProposalId;
use thirdglass::domain::RecipeVersionId;
use thirdglass::storage::ProposalRow;
use thirdglass::storage::Store;

use crate::kitchen_table as table;

/// A proposal from the batch of the table, of which version 3 was written.
fn proposal() -> ProposalRow {
    ProposalRow {
        id: ProposalId::new("proposal-1"),
        batch: table::batch().id,
        parent: table::first_version().id,
        name: table::name("Dark bread"),
        version: table::name("3"),
        hash: "d".repeat(64),
        document: "chance = 0.8\nchanges = [\"less roast\"]\nline = []\n".to_owned(),
        made_at: table::at(50),
    }
}

pub(crate) fn lay_proposal(store: &mut Store) {
    store.add_proposal(&proposal()).unwrap();
}

pub(crate) fn assert_proposal_laid(store: &Store) {
    assert_eq!(store.proposals(), Ok(vec![proposal()]));
}

fn laid() -> Store {
    let mut store = Store::in_memory().unwrap();
    table::lay(&mut store);
    lay_proposal(&mut store);
    store
}

#[test]
fn the_newest_proposal_is_found_by_the_recipe_that_was_written() {
    let mut store = laid();
    let newer = ProposalRow {
        id: ProposalId::new("proposal-2"),
        hash: "e".repeat(64),
        made_at: table::at(51),
        ..proposal()
    };
    store.add_proposal(&newer).unwrap();
    let other = ProposalRow {
        id: ProposalId::new("proposal-3"),
        version: table::name("4"),
        made_at: table::at(52),
        ..proposal()
    };
    store.add_proposal(&other).unwrap();
    let found = store.proposal_for(&newer.name, &newer.version);
    assert_eq!(found, Ok(Some(newer.clone())));
    assert_eq!(store.proposal_for(&newer.name, &table::name("5")), Ok(None));
    assert_eq!(store.proposals(), Ok(vec![proposal(), newer, other]));
}

#[test]
fn a_proposal_of_a_batch_or_a_version_that_is_not_there_is_refused() {
    let mut store = laid();
    let id = ProposalId::new("proposal-2");
    let no_batch = ProposalRow {
        id: id.clone(),
        batch: BatchId::new("gone"),
        ..proposal()
    };
    assert!(store.add_proposal(&no_batch).is_err());
    let no_parent = ProposalRow {
        id,
        parent: RecipeVersionId::new("gone"),
        ..proposal()
    };
    assert!(store.add_proposal(&no_parent).is_err());
    assert_proposal_laid(&store);
}

#[test]
fn the_file_refuses_to_change_what_was_proposed_and_lets_it_be_removed() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay(&mut store);
    lay_proposal(&mut store);
    let file = Connection::open(home.path().join("thirdglass.db")).unwrap();
    for column in ["document", "version", "hash", "made_at", "batch"] {
        let sql = format!("UPDATE proposal SET {column} = 'other'");
        assert!(file.execute(&sql, []).is_err(), "{sql}");
    }
    assert_proposal_laid(&store);
    file.execute("UPDATE proposal SET removed_at = made_at", [])
        .unwrap();
    assert_eq!(store.proposals(), Ok(Vec::new()));
    let it = proposal();
    assert_eq!(store.proposal_for(&it.name, &it.version), Ok(None));
}
