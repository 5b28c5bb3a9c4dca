//! Whoever reads the plan before the lock carries the mark of a broken seal.

use crate::kitchen::flat;
use crate::planted::Planted;
use crate::walk::Walk;

#[test]
fn a_broken_seal_opens_the_plan_and_stays_in_the_notes_for_ever() {
    let planted = Planted::new();
    planted.tastes("Ana", "\n");
    let told = planted.kitchen.done(&["compare", "T1", "--break-seal"]);
    assert!(
        told.contains("The open notes of Ana carry that mark for ever."),
        "{told}"
    );
    assert!(told.contains("Lantern heron"), "{told}");
    assert!(
        !told.contains("SEAL BROKEN"),
        "Ana has locked nothing yet: {told}"
    );
    planted.locks("Ana");
    let told = planted.kitchen.done(&["compare", "T1"]);
    let line = flat(&told);
    assert_eq!(line.matches("SEAL BROKEN").count(), 1, "{told}");
    let ana = line.split("Ana on ").nth(1).expect("she is named");
    assert!(
        ana.split(';')
            .next()
            .is_some_and(|it| it.contains("SEAL BROKEN")),
        "{told}"
    );
    let file = rusqlite::Connection::open(planted.kitchen.file()).unwrap();
    let marked = "SELECT count(*) FROM notes JOIN seat ON seat.id = notes.seat
        JOIN taster ON taster.id = seat.taster
        WHERE seal_broken_at IS NOT NULL AND name = 'Ana'";
    let count: i64 = file.query_row(marked, [], |row| row.get(0)).unwrap();
    assert_eq!(count, 1);
}

#[test]
fn a_tasting_left_in_one_window_takes_no_answer_in_another() {
    let planted = Planted::new();
    let mut first = Walk::start(
        &planted.kitchen,
        &["taste", "T1", "--taster", "Ana"],
        "Ready?",
    );
    let mut second = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    second.press("x", "for good");
    second.press("x", "Ana left");
    let plan = planted.kitchen.done(&["compare", "T1"]);
    assert!(plan.contains("Lantern heron"), "{plan}");
    first.press("\r", "was left without locking");
    let notes = planted.kitchen.done(&["compare", "T1", "--json"]);
    assert!(!notes.contains("Ana"), "{notes}");
}

#[test]
fn who_removes_open_notes_reads_the_plan_and_brings_them_back_carries_the_mark_of_a_broken_seal() {
    let planted = Planted::new();
    planted.tastes("Ana", "\n");
    planted.kitchen.done(&["remove", "tasting", "T1", "Ana"]);
    let plan = planted.kitchen.done(&["compare", "T1"]);
    assert!(plan.contains("Lantern heron"), "{plan}");
    let back = flat(&planted.kitchen.done(&["removed", "--bring-back", "1"]));
    assert!(
        back.contains("what Ana noted and has not locked carries the mark"),
        "{back}"
    );
    planted.locks("Ana");
    let told = planted.kitchen.done(&["compare", "T1"]);
    assert_eq!(told.matches("SEAL BROKEN").count(), 1, "{told}");
}

#[test]
fn locked_notes_come_back_without_a_mark() {
    let planted = Planted::new();
    planted.tastes("Ana", "\n");
    planted.locks("Ana");
    planted.kitchen.done(&["remove", "tasting", "T1", "Ana"]);
    let back = planted.kitchen.done(&["removed", "--bring-back", "1"]);
    assert!(!back.contains("mark of a broken seal"), "{back}");
    let told = planted.kitchen.done(&["compare", "T1"]);
    assert!(
        told.contains("Ana") && !told.contains("SEAL BROKEN"),
        "{told}"
    );
}
