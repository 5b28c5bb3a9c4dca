//! What the keys of a second sniff do, and what it tells when.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::NotesId;
use crate::domain::NotesSource;
use crate::domain::SecondSniff;
use crate::domain::SniffAnswer;
use crate::domain::SniffKind;
use crate::domain::SniffedWord;
use crate::screens::Action;
use crate::screens::App;
use crate::screens::press_line;
use crate::screens::told;
use crate::screens::trial::flat;
use crate::screens::trial::keys;
use crate::screens::trial::tasting_at;

/// Ana has locked T1 without a word, and looks at what she found.
fn locked() -> (App, NotesId) {
    let mut app = tasting_at(Form::Full, Field::Lock);
    keys(&mut app, "y");
    let rows = app.home().locked_notes().unwrap();
    let [row] = rows.as_slice() else {
        panic!("{} sets of notes are locked", rows.len());
    };
    (app, row.notes.clone())
}

fn stored(app: &mut App, notes: &NotesId) -> SecondSniff {
    app.home().second_sniff(notes).unwrap()
}

/// The keys that answer as somebody would who finds all but one hoped-for word and one decoy.
fn answers(sniff: &SecondSniff) -> String {
    let (mut wanted, mut decoys) = (0, 0);
    let key = |kind| match kind {
        SniffKind::Decoy => {
            decoys += 1;
            ["y", "n", "-"][decoys - 1]
        }
        SniffKind::Hoped | SniffKind::Promised => {
            wanted += 1;
            ["y", "n", "y"][wanted - 1]
        }
    };
    sniff.words.iter().map(|it| it.kind).map(key).collect()
}

#[test]
fn six_words_are_asked_and_only_after_the_last_it_is_told_which_were_decoys() {
    let (mut app, notes) = locked();
    assert!(flat(&mut app).contains("r second sniff"));
    let before = app.home().tasting(&notes).unwrap();
    keys(&mut app, "r");
    let begun = stored(&mut app, &notes);
    let answers = answers(&begun);
    for (index, key) in answers.chars().enumerate() {
        let told = flat(&mut app);
        assert!(told.contains(&format!("Word {} of 6", index + 1)), "{told}");
        for early in ["hoped for", "promised", "a decoy"] {
            assert!(!told.contains(early), "{early}: {told}");
        }
        keys(&mut app, &key.to_string());
    }
    let told = flat(&mut app);
    let sum = "You found 2 of 3 hoped-for or promised words and 1 of 3 decoys: a second sniff with a hint proves little; it is kept apart and changes no verdict. For 1 of them you could not tell.";
    assert!(told.contains(sum), "{told}");
    assert!(told.contains("orange peel hoped for you said:"), "{told}");
    assert!(told.contains("cut grass promised you said:"), "{told}");
    assert_eq!(told.matches("a decoy you said:").count(), 3, "{told}");
    assert_eq!(app.home().tasting(&notes).unwrap(), before);
    keys(&mut app, "⏎");
    assert!(flat(&mut app).contains("Ana found in T1"));
    keys(&mut app, "r");
    assert!(flat(&mut app).contains(sum));
}

#[test]
fn backspace_takes_the_last_answer_back_and_escape_keeps_the_others() {
    let (mut app, notes) = locked();
    keys(&mut app, "ryn⌫");
    assert!(flat(&mut app).contains("Word 2 of 6"));
    keys(&mut app, "-");
    let left = stored(&mut app, &notes);
    keys(&mut app, "⎋");
    assert!(flat(&mut app).contains("Ana found in T1"));
    keys(&mut app, "r");
    assert!(flat(&mut app).contains("Word 3 of 6"));
    assert_eq!(stored(&mut app, &notes), left);
    let answers: Vec<_> = left.answered().filter_map(SniffedWord::answer).collect();
    assert_eq!(answers, [SniffAnswer::There, SniffAnswer::CannotTell]);
    keys(&mut app, "⌫⌫");
    assert_eq!(stored(&mut app, &notes).answered().count(), 0);
    assert!(!app.actions().contains(&Action::Undo));
}

#[test]
fn after_the_last_word_no_key_changes_an_answer() {
    let (mut app, notes) = locked();
    keys(&mut app, "rynynyn");
    let finished = stored(&mut app, &notes);
    assert_eq!(finished.asked(), None);
    keys(&mut app, "⌫y-n");
    assert_eq!(stored(&mut app, &notes), finished);
}

#[test]
fn line_by_line_it_is_the_same() {
    use SniffAnswer::{CannotTell, NotThere, There};
    let (mut app, notes) = locked();
    assert!(told(&mut app).contains("/second-sniff"));
    press_line(&mut app, "/second-sniff");
    assert!(told(&mut app).contains("Word 1 of 6"));
    for line in ["y", "/no", "/cannot-tell", "-", "n", "/undo", "n", "/yes"] {
        press_line(&mut app, line);
    }
    let answers = stored(&mut app, &notes).words;
    let answers: Vec<_> = answers.iter().filter_map(SniffedWord::answer).collect();
    let expected = [There, NotThere, CannotTell, CannotTell, NotThere, There];
    assert_eq!(answers, expected);
    assert!(told(&mut app).contains("changes no verdict"));
}

#[test]
fn while_somebody_else_tastes_neither_a_word_nor_a_result_is_shown() {
    let (mut app, notes) = locked();
    keys(&mut app, "r");
    let begun = stored(&mut app, &notes);
    let word = begun.asked().unwrap().descriptor.clone();
    let word = app.home().wheel().descriptor(&word).unwrap().word.clone();
    assert!(flat(&mut app).contains(&word));
    let ben = app.home().add_taster("Ben").unwrap();
    let open = app.home().start_tasting(&ben, "T1", NotesSource::App);
    let mut open = open.unwrap();
    let sealed = "the second sniff of “T1” is sealed until Ben locks their notes";
    let told = flat(&mut app);
    assert!(told.contains(sealed) && !told.contains(&word), "{told}");
    assert_eq!(app.actions(), [Action::Back]);
    keys(&mut app, "y⎋r");
    assert!(flat(&mut app).contains(sealed));
    app.home().lock(&mut open).unwrap();
    keys(&mut app, "r");
    assert!(flat(&mut app).contains("Word 1 of 6"));
    assert_eq!(stored(&mut app, &notes), begun);
}

#[test]
fn a_bad_bottle_is_not_smelled_again() {
    let mut app = tasting_at(Form::Full, Field::Lock);
    keys(&mut app, "!4⏎5⏎");
    let told = flat(&mut app);
    assert!(
        told.contains("Something was wrong with this bottle"),
        "{told}"
    );
    assert!(!told.contains("second sniff"), "{told}");
}
