//! What the keys of a tasting do to the notes.

use crate::domain::BottleFault;
use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Knew;
use crate::domain::Nose;
use crate::domain::Rating;
use crate::domain::Scale;
use crate::screens::App;
use crate::screens::Press;
use crate::screens::press_line;
use crate::screens::told;
use crate::screens::trial::keys;
use crate::screens::trial::notes;
use crate::screens::trial::picture;
use crate::screens::trial::tasting_at;

pub(super) fn scale(id: &str) -> &'static Scale {
    Scale::from_id(id).unwrap()
}

pub(super) fn at_scale(id: &str) -> App {
    tasting_at(Form::Full, Field::Scale(scale(id)))
}

pub(super) fn at(field: Field) -> App {
    tasting_at(Form::Full, field)
}

pub(super) fn field(app: &mut App) -> String {
    notes(app).current_field
}

pub(super) fn rating(app: &mut App, id: &str) -> Option<Rating> {
    notes(app).rating(scale(id))
}

#[test]
fn backspace_takes_the_last_answer_back_and_returns_to_its_question() {
    let mut app = at_scale("sweet");
    keys(&mut app, "5");
    assert_eq!(field(&mut app), "scale:bitter");
    keys(&mut app, "⌫");
    assert_eq!(field(&mut app), "scale:sweet");
    assert_eq!(rating(&mut app, "sweet"), None);
}

#[test]
fn after_backspace_a_line_of_free_notes_is_that_of_its_question() {
    let mut app = at(Field::Remark);
    keys(&mut app, "soft⏎");
    assert_eq!(field(&mut app), "lock");
    keys(&mut app, "⌫⏎");
    assert_eq!(notes(&mut app).remark, None);
    assert_eq!(field(&mut app), "lock");
}

#[test]
fn passed_over_and_cannot_tell_are_kept_as_such_and_never_as_zero() {
    let mut app = at_scale("sweet");
    keys(&mut app, " -⏎0");
    assert_eq!(rating(&mut app, "sweet"), Some(Rating::Skipped));
    assert_eq!(rating(&mut app, "bitter"), Some(Rating::CannotTell));
    assert_eq!(rating(&mut app, "sour"), Some(Rating::Skipped));
    assert_eq!(rating(&mut app, "salty"), Some(Rating::Rated(0.0)));
    assert_eq!(rating(&mut app, "fullness"), None);
}

#[test]
fn a_bad_bottle_ends_the_tasting_and_stays_out_of_the_comparison() {
    let mut app = at_scale("sweet");
    keys(&mut app, "5!3");
    assert!(picture(&mut app).contains("Kept: it has turned sour."));
    keys(&mut app, "⏎");
    let home = app.home();
    assert!(home.open_tastings().unwrap().is_empty());
    let locked = home.locked_notes().unwrap();
    assert_eq!(locked[0].bottle_fault, Some(BottleFault::Sour));
    let both = home.compare("T1", None).unwrap();
    assert_eq!((both.found.len(), both.faulty.len()), (0, 1));
}

#[test]
fn a_bottle_thought_bad_by_mistake_goes_on_where_it_was() {
    let mut app = at_scale("sweet");
    keys(&mut app, "5!⎋");
    assert!(picture(&mut app).contains("How bitter?"));
    assert_eq!(rating(&mut app, "sweet"), Some(Rating::Rated(5.0)));
}

#[test]
fn a_second_pass_locks_the_first_and_asks_again() {
    let mut app = at(Field::Lock);
    keys(&mut app, "=");
    let second = notes(&mut app);
    assert_eq!((second.round, second.ratings.len()), (2, 0));
    assert_eq!(second.current_field, "first-sniff");
    assert_eq!(app.home().locked_notes().unwrap().len(), 1);
    assert!(picture(&mut app).contains("as it warms"));
}

#[test]
fn a_look_back_keeps_every_answer() {
    let mut app = at(Field::Knew);
    keys(&mut app, "32");
    assert_eq!(field(&mut app), "first-sniff");
    keys(&mut app, "↑↑⏎⏎");
    assert_eq!(field(&mut app), "first-sniff");
    let kept = notes(&mut app);
    assert_eq!(
        (kept.knew, kept.nose),
        (Some(Knew::Recipe), Some(Nose::Cold))
    );
    let mut app = at_scale("sweet");
    keys(&mut app, "58↑↑⏎⏎⇥⇤↑⏎");
    assert_eq!(rating(&mut app, "sweet"), Some(Rating::Rated(5.0)));
    assert_eq!(rating(&mut app, "bitter"), Some(Rating::Rated(8.0)));
}

#[test]
fn free_notes_are_kept_whichever_way_their_line_is_left() {
    for leaving in ["⏎", "↑", "↓", "⇥", "⇤", "⎋"] {
        let mut app = at(Field::Remark);
        keys(&mut app, "soft end");
        keys(&mut app, leaving);
        let remark = notes(&mut app).remark.expect("it was typed");
        assert_eq!(remark.as_str(), "soft end", "left by {leaving}");
    }
}

#[test]
fn the_watch_of_the_length_can_be_stopped_from_the_question_after() {
    let mut app = at_scale("length");
    keys(&mut app, ".⏎.");
    let length = rating(&mut app, "length").and_then(Rating::value);
    assert!(length.is_some_and(|seconds| seconds > 0.0), "{length:?}");
    assert!(notes(&mut app).stopwatch(scale("head-retention")).is_none());
}

#[test]
fn enter_held_down_locks_no_blank_notes() {
    let mut app = at(Field::Lock);
    keys(&mut app, "⏎⏎⏎⏎");
    assert!(notes(&mut app).locked_at.is_none());
    assert!(picture(&mut app).contains("y locks it all the same"));
}

#[test]
fn whoever_tasted_last_begins_an_unknown_bottle_with_five_keys() {
    let mut app = crate::screens::trial::welcomed();
    keys(&mut app, "yAna⏎7⏎⇥⇥⇥⇥⇥⇥⇥⇥⇥y⎋");
    keys(&mut app, "1⏎X7⏎");
    let picture = picture(&mut app);
    assert!(picture.contains("Ana tastes X7"), "{picture}");
}

#[test]
fn a_bottle_without_a_recipe_ends_without_a_refusal() {
    let mut app = crate::screens::trial::welcomed();
    keys(&mut app, "yAna⏎7⏎⏎⏎⏎⇥⇥⇥⇥⇥⇥⇥y");
    assert!(picture(&mut app).contains("No recipe is known for 7"));
    keys(&mut app, "⏎");
    assert!(picture(&mut app).contains("Taste a beer"));
}

#[test]
fn a_word_after_a_slash_works_where_its_sign_would_be_typed() {
    let mut app = at(Field::Remark);
    press_line(&mut app, "/explain");
    press_line(&mut app, "/explain");
    press_line(&mut app, "/bad-bottle");
    assert_eq!(notes(&mut app).remark, None);
    assert!(picture(&mut app).contains("What is it?"));
}

#[test]
fn signs_that_would_be_typed_are_not_shown_as_keys() {
    let mut app = at(Field::Remark);
    let shown = picture(&mut app);
    assert!(
        shown.contains("F1 explain") && !shown.contains("bad bottle"),
        "{shown}"
    );
    keys(&mut app, "!");
    assert!(picture(&mut app).contains("> !"));
}

#[test]
fn line_by_line_a_sentence_stands_before_the_question_it_leaves_open() {
    let mut app = at_scale("length");
    press_line(&mut app, "/watch");
    press_line(&mut app, "/watch");
    let told = told(&mut app);
    assert!(
        told.contains("Length stopped at") && told.contains("how much foam clings"),
        "{told}"
    );
}

#[test]
fn a_tasting_locked_in_another_window_is_not_gone_on_with() {
    let mut app = at_scale("sweet");
    keys(&mut app, "⎋");
    assert!(picture(&mut app).contains("Go on: Ana tastes T1"));
    let open = app.home().open_tastings().unwrap();
    let mut tasting = app.home().tasting(&open[0].notes).unwrap();
    app.home().lock(&mut tasting).unwrap();
    app.press(&Press::Enter);
    assert!(picture(&mut app).contains("was locked meanwhile"));
}

#[test]
fn a_line_of_several_digits_answers_no_question_that_was_not_seen() {
    let mut app = at_scale("head");
    press_line(&mut app, "15");
    assert_eq!(field(&mut app), "scale:head");
    assert!(notes(&mut app).ratings.is_empty());
    assert!(picture(&mut app).contains("One key a line"));
}

#[test]
fn an_unknown_word_after_a_slash_is_told() {
    let mut app = at_scale("head");
    press_line(&mut app, "/skp");
    assert!(picture(&mut app).contains("There is no /skp."));
}
