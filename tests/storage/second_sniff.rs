//! Second sniffs: the drawn order, the answers, and what the file itself refuses.

use rusqlite::Connection;
use thirdglass::domain::NotesId;
use thirdglass::domain::SecondSniff;
use thirdglass::domain::SniffAnswer;
use thirdglass::storage::Store;

use crate::kitchen_table as table;

fn tasted() -> Store {
    let mut store = Store::in_memory().unwrap();
    table::lay_and_taste(&mut store);
    store
}

/// The sniff of the table with no answer given yet.
fn unanswered() -> SecondSniff {
    let mut sniff = table::second_sniff();
    for word in &mut sniff.words {
        word.answered = None;
    }
    sniff
}

fn answer_all(store: &mut Store, sniff: &SecondSniff) {
    for word in &sniff.words {
        store
            .answer_sniffed_word(&word.id, SniffAnswer::There, table::at(40))
            .unwrap();
    }
}

#[test]
fn the_order_drawn_and_every_answer_are_kept_and_no_answer_is_told_from_cannot_tell() {
    let mut store = tasted();
    let begun = unanswered();
    assert_eq!(store.second_sniff(&begun.notes), Ok(None));
    assert_eq!(store.start_second_sniff(&begun), Ok(begun.clone()));
    assert_eq!(store.second_sniff(&begun.notes), Ok(Some(begun.clone())));
    let mut expected = begun;
    let answers = [SniffAnswer::CannotTell, SniffAnswer::NotThere];
    for (word, answer) in expected.words.iter_mut().zip(answers) {
        store
            .answer_sniffed_word(&word.id, answer, table::at(40))
            .unwrap();
        word.answered = Some((answer, table::at(40)));
    }
    assert_eq!(store.second_sniff(&expected.notes), Ok(Some(expected)));
}

#[test]
fn a_second_start_changes_nothing_and_gives_the_first() {
    let mut store = tasted();
    let first = unanswered();
    store.start_second_sniff(&first).unwrap();
    let mut other = first.clone();
    other.words.reverse();
    other.made_at = table::at(50);
    assert_eq!(store.start_second_sniff(&other), Ok(first.clone()));
    assert_eq!(store.second_sniff(&first.notes), Ok(Some(first)));
}

#[test]
fn an_answer_can_be_taken_back_and_given_anew_but_is_never_written_over() {
    let mut store = tasted();
    let begun = unanswered();
    store.start_second_sniff(&begun).unwrap();
    let word = &begun.words[0];
    let stored = |store: &Store| {
        let sniff = store.second_sniff(&begun.notes).unwrap().unwrap();
        sniff.words[0].answer()
    };
    for answer in [SniffAnswer::There, SniffAnswer::NotThere] {
        store
            .answer_sniffed_word(&word.id, answer, table::at(40))
            .unwrap();
    }
    assert_eq!(stored(&store), Some(SniffAnswer::There));
    store.take_back_sniffed_word(&word.id).unwrap();
    assert_eq!(stored(&store), None);
    store
        .answer_sniffed_word(&word.id, SniffAnswer::NotThere, table::at(41))
        .unwrap();
    assert_eq!(stored(&store), Some(SniffAnswer::NotThere));
}

#[test]
fn after_the_last_answer_none_can_be_taken_back() {
    let mut store = tasted();
    let begun = unanswered();
    store.start_second_sniff(&begun).unwrap();
    answer_all(&mut store, &begun);
    let finished = store.second_sniff(&begun.notes).unwrap().unwrap();
    assert_eq!(finished.asked(), None);
    let refused = store.take_back_sniffed_word(&begun.words[5].id);
    let refusal = refused.unwrap_err().to_string();
    assert!(refusal.contains("finished"), "{refusal}");
    assert_eq!(store.second_sniff(&begun.notes), Ok(Some(finished)));
}

#[test]
fn notes_that_are_still_open_get_no_second_sniff() {
    let mut store = tasted();
    let notes = NotesId::new("notes-2");
    let early = SecondSniff {
        notes: notes.clone(),
        ..unanswered()
    };
    let refusal = store.start_second_sniff(&early).unwrap_err().to_string();
    assert!(refusal.contains("not locked"), "{refusal}");
    assert_eq!(store.second_sniff(&notes), Ok(None));
}

#[test]
fn a_second_sniff_leaves_the_locked_notes_as_they_were() {
    let mut store = tasted();
    let begun = unanswered();
    let before = store.notes(&begun.notes).unwrap();
    store.start_second_sniff(&begun).unwrap();
    answer_all(&mut store, &begun);
    assert_eq!(store.notes(&begun.notes).unwrap(), before);
}

#[test]
fn the_file_itself_keeps_the_drawn_words_and_refuses_impossible_answers() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    store.start_second_sniff(&unanswered()).unwrap();
    let raw = Connection::open(home.path().join("thirdglass.db")).unwrap();
    for (sql, because) in [
        ("UPDATE second_sniff SET kind = 'decoy'", "stay"),
        ("UPDATE second_sniff SET descriptor = 'clove'", "stay"),
        ("UPDATE second_sniff SET position = 7 - position", "stay"),
        ("DELETE FROM second_sniff", "stays with its notes"),
        ("UPDATE second_sniff SET answer = 'there'", "CHECK"),
        ("UPDATE second_sniff SET answered_at = 'now'", "CHECK"),
        (
            "UPDATE second_sniff SET answer = 'perhaps', answered_at = 'now'",
            "CHECK",
        ),
    ] {
        let refused = raw.execute(sql, []).unwrap_err().to_string();
        assert!(refused.contains(because), "{sql}: {refused}");
    }
}

#[test]
fn a_taster_who_is_forgotten_takes_the_second_sniff_along() {
    let home = tempfile::tempdir().unwrap();
    let mut store = Store::open(home.path(), &table::at(0)).unwrap();
    table::lay_and_taste(&mut store);
    let begun = unanswered();
    store.start_second_sniff(&begun).unwrap();
    let raw = Connection::open(home.path().join("thirdglass.db")).unwrap();
    raw.pragma_update(None, "foreign_keys", true).unwrap();
    raw.execute("DELETE FROM notes WHERE id = 'notes-1'", [])
        .unwrap();
    assert_eq!(store.second_sniff(&begun.notes), Ok(None));
    assert_eq!(store.check(), Ok(Vec::new()));
}
