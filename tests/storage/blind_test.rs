//! Blind tests: the drawn order, the answers, and what the file itself refuses.

use rusqlite::Connection;
use thirdglass::domain::Aims;
use thirdglass::domain::BeerSide;
use thirdglass::domain::BlindTest;
use thirdglass::domain::BlindingCode;
use thirdglass::domain::DescriptorId;
use thirdglass::domain::Direction;
use thirdglass::domain::Millilitres;
use thirdglass::domain::NotesSource;
use thirdglass::domain::Pouring;
use thirdglass::domain::Purpose;
use thirdglass::domain::Remark;
use thirdglass::domain::Risk;
use thirdglass::domain::Sample;
use thirdglass::domain::SampleId;
use thirdglass::domain::Seat;
use thirdglass::domain::SeatId;
use thirdglass::domain::SeatRole;
use thirdglass::domain::Share;
use thirdglass::domain::Sitting;
use thirdglass::domain::SittingId;
use thirdglass::domain::SittingKind;
use thirdglass::domain::Stopping;
use thirdglass::domain::Subject;
use thirdglass::domain::Sureness;
use thirdglass::domain::TestAnswer;
use thirdglass::domain::TestAnswerId;
use thirdglass::domain::TestId;
use thirdglass::domain::TestSet;
use thirdglass::storage::StorageError;
use thirdglass::storage::Store;

use crate::kitchen_table as table;

/// The test of the table: a comparison of two glasses after a reference.
pub(crate) fn blind_test() -> BlindTest {
    BlindTest {
        id: TestId::new("test-1"),
        number: 1,
        sitting: SittingId::new("sitting-of-test-1"),
        beers: [table::beer().id, table::unrecorded_beer().id],
        method: "duo-trio".to_owned(),
        purpose: Purpose::Difference,
        aims: Aims {
            alpha: Risk::new(0.05).unwrap(),
            beta: Risk::new(0.2).unwrap(),
            pd: Share::new(0.5).unwrap(),
        },
        direction: Some(Direction {
            expected: Some(BeerSide::B),
            attribute: "bitter".to_owned(),
        }),
        stopping: Stopping::Evidence,
        pouring: Pouring::Two,
        places: 1,
        rounds: 1,
        glass: Millilitres::new(30.0).unwrap(),
        seed: u64::MAX,
        salt: "salt".to_owned(),
        commitment: "hash".to_owned(),
        made_at: table::at(50),
        closed_at: None,
    }
}

fn sitting() -> Sitting {
    Sitting {
        id: blind_test().sitting,
        kind: SittingKind::Test,
        seed: u64::MAX,
        made_at: table::at(50),
        closed_at: None,
    }
}

fn samples() -> Vec<Sample> {
    let sample = |id: &str, code, beer: usize| Sample {
        id: SampleId::new(id),
        sitting: blind_test().sitting,
        code: BlindingCode::new(code).unwrap(),
        beer: blind_test().beers[beer].clone(),
        duplicate_of: None,
    };
    // Ids that sort the other way round: the order is that of the drawing.
    vec![sample("z", 318, 1), sample("y", 742, 0)]
}

fn sets() -> Vec<TestSet> {
    vec![TestSet {
        place: 1,
        round: 1,
        reference: Some(BeerSide::B),
        samples: samples().into_iter().map(|it| it.id).collect(),
    }]
}

fn place() -> Seat {
    Seat {
        id: SeatId::new("place-of-ana"),
        sitting: blind_test().sitting,
        taster: table::taster("Ana").id,
        role: SeatRole::Taster,
        left_at: None,
    }
}

fn answer() -> TestAnswer {
    TestAnswer {
        id: TestAnswerId::new("answer-1"),
        seat: place().id,
        round: 1,
        chosen: SampleId::new("y"),
        sureness: Some(Sureness::Rather),
        prefers: Some(SampleId::new("z")),
        words: vec![
            Subject::Free(Remark::new("a word", "thinner").unwrap()),
            Subject::Descriptor(DescriptorId::new("cocoa-powder").unwrap()),
        ],
        source: NotesSource::Document,
        given_at: table::at(51),
        replaces: None,
    }
}

/// Stores the test with its one answer.
pub(crate) fn lay_test(store: &mut Store) {
    store
        .add_test(&blind_test(), &sitting(), &samples(), &sets())
        .unwrap();
    store
        .take_test_place(&blind_test().id, 1, &place())
        .unwrap();
    store.add_answer(&answer()).unwrap();
}

/// That the test is in the store, letter for letter.
pub(crate) fn assert_test_laid(store: &Store) {
    assert_eq!(store.test_numbered(1), Ok(Some(blind_test())));
    assert_eq!(store.test_sets(&blind_test().id), Ok(sets()));
    assert_eq!(store.samples_of(&blind_test().sitting), Ok(samples()));
    assert_eq!(store.answers(&blind_test().id), Ok(vec![answer()]));
}

fn tested() -> Store {
    let mut store = Store::in_memory().unwrap();
    table::lay_and_taste(&mut store);
    lay_test(&mut store);
    store
}

#[test]
fn a_test_its_drawn_order_and_its_answers_come_back_as_they_were() {
    let store = tested();
    assert_test_laid(&store);
    assert_eq!(store.tests(), Ok(vec![blind_test()]));
    assert_eq!(store.test_numbered(2), Ok(None));
    assert_eq!(store.check(), Ok(Vec::new()));
}

#[test]
fn a_correction_takes_the_place_of_an_answer_and_a_second_answer_is_refused() {
    let mut store = tested();
    let again = TestAnswer {
        id: TestAnswerId::new("answer-2"),
        ..answer()
    };
    assert!(store.add_answer(&again).is_err());
    let corrected = TestAnswer {
        replaces: Some(answer().id),
        chosen: SampleId::new("z"),
        words: Vec::new(),
        ..again
    };
    store.add_answer(&corrected).unwrap();
    assert_eq!(store.answers(&blind_test().id), Ok(vec![corrected]));
}

#[test]
fn nothing_is_answered_after_leaving_or_closing() {
    for close in [true, false] {
        let mut store = Store::in_memory().unwrap();
        table::lay_and_taste(&mut store);
        store
            .add_test(&blind_test(), &sitting(), &samples(), &sets())
            .unwrap();
        store
            .take_test_place(&blind_test().id, 1, &place())
            .unwrap();
        if close {
            store.close_sitting(&sitting().id, table::at(52)).unwrap();
        } else {
            store.leave_seat(&place().id, table::at(52)).unwrap();
        }
        let refused = store.add_answer(&answer());
        assert!(
            matches!(refused, Err(StorageError::Database { .. })),
            "{refused:?}"
        );
    }
}

#[test]
fn a_place_is_taken_once() {
    let mut store = tested();
    let bo = Seat {
        id: SeatId::new("place-of-bo"),
        taster: table::taster("Bo").id,
        ..place()
    };
    assert!(store.take_test_place(&blind_test().id, 1, &bo).is_err());
    let taken = store.taken_places(&blind_test().id).unwrap();
    assert_eq!(taken.len(), 1);
    assert_eq!(taken[0].1, table::taster("Ana").id);
}

#[test]
fn who_saw_the_key_is_kept_once() {
    let mut store = tested();
    let (sitting, bo) = (blind_test().sitting, table::taster("Bo").id);
    assert_eq!(store.key_seen(&sitting, &bo), Ok(false));
    for id in ["looks-1", "looks-2"] {
        let seat = Seat {
            id: SeatId::new(id),
            taster: bo.clone(),
            role: SeatRole::Pourer,
            ..place()
        };
        store.see_key(&seat, table::at(53)).unwrap();
    }
    assert_eq!(store.key_seen(&sitting, &bo), Ok(true));
    assert_eq!(
        store.key_holders(&sitting),
        Ok(vec![(bo, SeatRole::Pourer)])
    );
}

#[test]
fn the_file_itself_keeps_plans_orders_and_answers_as_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let mut store = Store::open(folder.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    lay_test(&mut store);
    drop(store);
    let raw = Connection::open(folder.path().join("thirdglass.db")).unwrap();
    for change in [
        "UPDATE test SET alpha = 0.1",
        "UPDATE test SET salt = 'other'",
        "UPDATE test_set SET sample = 'z' WHERE sample = 'y'",
        "UPDATE answer SET chosen = 'z'",
    ] {
        let refused = raw.execute(change, []).unwrap_err().to_string();
        assert!(refused.contains("stays"), "{change}: {refused}");
    }
}
