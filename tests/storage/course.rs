//! Courses, meetings and series: what was drawn and answered comes back, and what the file itself refuses.

use std::path::Path;

use rusqlite::Connection;
use thirdglass::domain::BlindingCode;
use thirdglass::domain::Course;
use thirdglass::domain::CourseId;
use thirdglass::domain::DescriptorId;
use thirdglass::domain::Digit;
use thirdglass::domain::Meeting;
use thirdglass::domain::MeetingCount;
use thirdglass::domain::MeetingId;
use thirdglass::domain::MeetingPart;
use thirdglass::domain::Minutes;
use thirdglass::domain::Name;
use thirdglass::domain::Practice;
use thirdglass::domain::PracticeAnswerId;
use thirdglass::domain::PracticeKind;
use thirdglass::domain::Reveal;
use thirdglass::domain::Scale;
use thirdglass::domain::Seat;
use thirdglass::domain::SeatId;
use thirdglass::domain::SeatRole;
use thirdglass::domain::SeriesStep;
use thirdglass::domain::Sitting;
use thirdglass::domain::SittingId;
use thirdglass::domain::SittingKind;
use thirdglass::domain::StrengthAnswer;
use thirdglass::domain::StrengthGlass;
use thirdglass::domain::StrengthReply;
use thirdglass::storage::StorageError;
use thirdglass::storage::Store;

use crate::blind_test;
use crate::kitchen_table as table;
use crate::practice;

fn sitting() -> SittingId {
    SittingId::new("sitting-of-series-1")
}

fn seat() -> SeatId {
    SeatId::new("seat-of-series-1")
}

fn glasses() -> Vec<StrengthGlass> {
    let drawn = [(1, 3, 418), (2, 1, 275), (3, 5, 936)];
    drawn
        .map(|(position, step, code)| StrengthGlass {
            seat: seat(),
            position,
            scale: Scale::from_id("sweet").unwrap(),
            step: SeriesStep::new(step).unwrap(),
            code: BlindingCode::new(code).unwrap(),
        })
        .to_vec()
}

fn answers() -> Vec<StrengthAnswer> {
    let replies = [
        (1, StrengthReply::Rated(Digit::new(0).unwrap())),
        (2, StrengthReply::Rated(Digit::new(9).unwrap())),
        (2, StrengthReply::Placed(SeriesStep::new(5).unwrap())),
    ];
    let answer = |(at, (position, reply))| StrengthAnswer {
        id: PracticeAnswerId::new(format!("strength-{at}")),
        seat: seat(),
        position,
        reply,
        given_at: table::at(57 + at),
    };
    (0_u32..).zip(replies).map(answer).collect()
}

fn course() -> Course {
    Course {
        id: CourseId::new("course-1"),
        name: Name::new("a course", "Winter").unwrap(),
        meetings: MeetingCount::new(5).unwrap(),
        people: vec![table::taster("Bo").id, table::taster("Ana").id],
        check: vec![
            DescriptorId::new("toast").unwrap(),
            DescriptorId::new("honey").unwrap(),
        ],
        made_at: table::at(55),
    }
}

fn meeting() -> Meeting {
    Meeting {
        id: MeetingId::new("meeting-1"),
        course: CourseId::new("course-1"),
        number: 1,
        length: Minutes::new(90.0).unwrap(),
        made_at: table::at(56),
        practices: vec![(MeetingPart::Strength, sitting())],
    }
}

/// Lays a course with a meeting and a series onto the table.
pub(crate) fn lay_course(store: &mut Store) {
    store.add_course(&course()).unwrap();
    let opened = Sitting {
        id: sitting(),
        kind: SittingKind::Practice,
        seed: 8,
        made_at: table::at(56),
        closed_at: None,
    };
    let practice = Practice {
        sitting: sitting(),
        kind: PracticeKind::Strength,
        reveal: Reveal::End,
    };
    let seat = Seat {
        id: seat(),
        sitting: sitting(),
        taster: table::taster("Ana").id,
        role: SeatRole::Taster,
        left_at: None,
    };
    store
        .add_practice(&practice, &opened, &[seat], &[])
        .unwrap();
    store.add_strength_glasses(&glasses()).unwrap();
    for answer in answers() {
        store.add_strength_answer(&answer).unwrap();
    }
    store.add_meeting(&meeting()).unwrap();
}

/// That the course is there as it was laid.
pub(crate) fn assert_course_laid(store: &Store) {
    assert_eq!(store.courses(), Ok(vec![course()]));
    assert_eq!(store.meetings(&course().id), Ok(vec![meeting()]));
    assert_eq!(store.strength_glasses(&seat()), Ok(glasses()));
    assert_eq!(store.strength_answers(&seat()), Ok(answers()));
}

/// A file with a course, as the fixture of schema 5 was made.
pub(crate) fn make_fixture(path: &Path) {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    store.start_second_sniff(&table::second_sniff()).unwrap();
    blind_test::lay_test(&mut store);
    practice::lay_practice(&mut store);
    lay_course(&mut store);
    store.backup_to(path).unwrap();
}

fn laid() -> Store {
    let mut store = Store::in_memory().unwrap();
    table::lay(&mut store);
    lay_course(&mut store);
    store
}

#[test]
fn what_was_drawn_and_answered_comes_back_in_its_order() {
    let mut store = laid();
    assert_course_laid(&store);
    let ana = table::taster("Ana").id;
    assert_eq!(store.strength_seats(&ana), Ok(vec![]));
    store.leave_seat(&seat(), table::at(59)).unwrap();
    assert_eq!(store.strength_seats(&ana), Ok(vec![seat()]));
    assert_eq!(store.strength_seats(&table::taster("Bo").id), Ok(vec![]));
}

#[test]
fn a_second_course_of_the_same_name_is_refused_and_nothing_of_it_kept() {
    let mut store = laid();
    let second = Course {
        id: CourseId::new("course-2"),
        name: Name::new("a course", "WINTER").unwrap(),
        ..course()
    };
    let refused = store.add_course(&second).unwrap_err();
    assert!(matches!(refused, StorageError::Taken { .. }), "{refused:?}");
    assert_course_laid(&store);
}

#[test]
fn who_joins_later_stands_behind_the_others_and_nobody_joins_twice() {
    let mut store = laid();
    let (ana, dora) = (table::taster("Ana"), table::taster("Dora"));
    store.add_taster(&dora).unwrap();
    store.join_course(&course().id, &dora.id).unwrap();
    store.join_course(&course().id, &ana.id).unwrap();
    let people = store.courses().unwrap().remove(0).people;
    assert_eq!(people, [table::taster("Bo").id, ana.id, dora.id]);
}

#[test]
fn the_check_of_a_course_is_no_practice() {
    let mut store = Store::in_memory().unwrap();
    table::lay(&mut store);
    practice::lay_practice_told(&mut store, Reveal::Course);
    let ana = table::taster("Ana").id;
    assert_eq!(store.practised_items(&ana), Ok(Vec::new()));
    assert_eq!(store.practised_answers(&ana), Ok(Vec::new()));
}

#[test]
fn the_file_refuses_what_cannot_be() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("made.db");
    make_fixture(&path);
    let file = Connection::open(&path).unwrap();
    file.pragma_update(None, "foreign_keys", true).unwrap();
    let refused = |sql: &str| assert!(file.execute(sql, []).is_err(), "{sql}");
    let answer = |rest: &str| {
        format!(
            "INSERT INTO strength_answer (id, seat, position, reply, value, given_at)
             VALUES ('x', 'seat-of-series-1', {rest}, '2026-03-14T18:00:00.000Z')"
        )
    };
    refused(&answer("9, 'rated', 3"));
    refused(&answer("1, 'rated', 10"));
    refused(&answer("1, 'placed', 0"));
    refused(&answer("1, 'guessed', 3"));
    refused("UPDATE strength_glass SET step = 2");
    refused("UPDATE strength_answer SET value = 2");
    refused("UPDATE course_word SET descriptor = 'clove'");
    refused(
        "INSERT INTO meeting (id, course, number, minutes, made_at)
         VALUES ('m2', 'course-1', 1, 60.0, '2026-03-14T18:00:00.000Z')",
    );
}
