//! Practice: what was drawn and answered comes back, and what the file itself refuses.

use rusqlite::Connection;
use thirdglass::domain::BlindingCode;
use thirdglass::domain::Certainty;
use thirdglass::domain::DescriptorId;
use thirdglass::domain::ItemForm;
use thirdglass::domain::PlaceId;
use thirdglass::domain::Practice;
use thirdglass::domain::PracticeAnswer;
use thirdglass::domain::PracticeAnswerId;
use thirdglass::domain::PracticeItem;
use thirdglass::domain::PracticeKind;
use thirdglass::domain::PracticeReply;
use thirdglass::domain::Reveal;
use thirdglass::domain::Seat;
use thirdglass::domain::SeatId;
use thirdglass::domain::SeatRole;
use thirdglass::domain::ShelfId;
use thirdglass::domain::Sitting;
use thirdglass::domain::SittingId;
use thirdglass::domain::SittingKind;
use thirdglass::domain::Spiked;
use thirdglass::storage::Store;

use crate::kitchen_table as table;

fn sitting() -> SittingId {
    SittingId::new("sitting-of-practice-1")
}

fn seat() -> SeatId {
    SeatId::new("seat-of-practice-1")
}

fn word(id: &str) -> DescriptorId {
    DescriptorId::new(id).unwrap()
}

fn practice() -> Practice {
    Practice {
        sitting: sitting(),
        kind: PracticeKind::Jars,
        reveal: Reveal::End,
    }
}

fn items() -> Vec<PracticeItem> {
    vec![
        PracticeItem {
            seat: seat(),
            position: 1,
            form: ItemForm::Jar,
            descriptor: word("toast"),
            options: Vec::new(),
            code: Some(BlindingCode::new(318).unwrap()),
            spiked: None,
        },
        PracticeItem {
            seat: seat(),
            position: 2,
            form: ItemForm::Definition,
            descriptor: word("honey"),
            options: vec![word("clove"), word("honey")],
            code: None,
            spiked: None,
        },
        PracticeItem {
            seat: seat(),
            position: 3,
            form: ItemForm::Presence,
            descriptor: word("clove"),
            options: Vec::new(),
            code: Some(BlindingCode::new(572).unwrap()),
            spiked: Some(Spiked::Plain),
        },
    ]
}

fn answers() -> Vec<PracticeAnswer> {
    let replies = [
        (
            1,
            PracticeReply::Place(PlaceId::new("bakery").unwrap()),
            None,
        ),
        (
            1,
            PracticeReply::Shelf(ShelfId::new("toasted").unwrap()),
            None,
        ),
        (
            1,
            PracticeReply::Word(word("toast")),
            Certainty::new(70).ok(),
        ),
        (2, PracticeReply::CannotTell, None),
        (
            3,
            PracticeReply::Presence(Spiked::Spiked),
            Certainty::new(100).ok(),
        ),
    ];
    let answer = |(at, (position, reply, certainty))| PracticeAnswer {
        id: PracticeAnswerId::new(format!("answer-{at}")),
        seat: seat(),
        position,
        reply,
        certainty,
        given_at: table::at(51 + at),
    };
    (0_u32..).zip(replies).map(answer).collect()
}

/// Lays a practice with its answers onto the table.
pub(crate) fn lay_practice(store: &mut Store) {
    lay_practice_told(store, practice().reveal);
}

/// Lays the same practice with another time of telling.
pub(crate) fn lay_practice_told(store: &mut Store, reveal: Reveal) {
    let told = Practice {
        reveal,
        ..practice()
    };
    let opened = Sitting {
        id: sitting(),
        kind: SittingKind::Practice,
        seed: 7,
        made_at: table::at(50),
        closed_at: None,
    };
    let seat = Seat {
        id: seat(),
        sitting: sitting(),
        taster: table::taster("Ana").id,
        role: SeatRole::Taster,
        left_at: None,
    };
    store
        .add_practice(&told, &opened, &[seat], &items())
        .unwrap();
    for answer in answers() {
        store.add_practice_answer(&answer).unwrap();
    }
}

/// That the practice is there as it was laid.
pub(crate) fn assert_practice_laid(store: &Store) {
    assert_eq!(store.practice(&sitting()), Ok(Some(practice())));
    assert_eq!(store.practice_items(&seat()), Ok(items()));
    assert_eq!(store.practice_answers(&seat()), Ok(answers()));
}

fn laid() -> Store {
    let mut store = Store::in_memory().unwrap();
    table::lay(&mut store);
    lay_practice(&mut store);
    store
}

#[test]
fn what_was_drawn_and_answered_comes_back_in_its_order() {
    assert_practice_laid(&laid());
}

#[test]
fn everything_a_taster_practised_is_found_and_nobody_elses() {
    let mut store = laid();
    let ana = table::taster("Ana").id;
    // It is told at the end, and the table is not at its end yet.
    assert_eq!(store.practised_answers(&ana), Ok(Vec::new()));
    assert_eq!(store.open_practices(&ana), Ok(vec![sitting()]));
    store.leave_seat(&seat(), table::at(58)).unwrap();
    let practised = store.practised_items(&ana).unwrap();
    // Read for measures, which do not ask what else there was to choose.
    assert_eq!(practised.len(), items().len());
    assert_eq!(store.practised_answers(&ana), Ok(answers()));
    let ben = table::taster("Ben").id;
    assert_eq!(store.practised_answers(&ben), Ok(Vec::new()));
    assert_eq!(store.open_practices(&ben), Ok(Vec::new()));
}

#[test]
fn a_practice_that_was_left_is_open_no_more() {
    let mut store = laid();
    store.leave_seat(&seat(), table::at(58)).unwrap();
    assert_eq!(
        store.open_practices(&table::taster("Ana").id),
        Ok(Vec::new())
    );
}

#[test]
fn the_file_refuses_what_cannot_be() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made.db");
    crate::course::make_fixture(&path);
    let file = Connection::open(&path).unwrap();
    file.pragma_update(None, "foreign_keys", true).unwrap();
    let refused = |sql: &str| assert!(file.execute(sql, []).is_err(), "{sql}");
    let answer = |rest: &str| {
        format!(
            "INSERT INTO practice_answer (id, seat, position, reply, chosen, certainty, given_at)
             VALUES ('x', 'seat-of-practice-1', {rest}, '2026-03-14T18:00:00.000Z')"
        )
    };
    refused(&answer("9, 'word', 'toast', NULL"));
    refused(&answer("1, 'word', NULL, NULL"));
    refused(&answer("1, 'cannot-tell', 'toast', NULL"));
    refused(&answer("1, 'word', 'toast', 101"));
    refused(&answer("1, 'shrug', 'toast', NULL"));
    refused("UPDATE practice_item SET code = 399");
    refused("UPDATE practice_answer SET certainty = 10");
}
