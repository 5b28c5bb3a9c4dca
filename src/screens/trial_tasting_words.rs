//! How words are named in a tasting: typed, found in the market, asked for in a sweep, carried over.

use crate::domain::Field;
use crate::domain::Form;
use crate::domain::Mark;
use crate::domain::Prompting;
use crate::domain::Rating;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::screens::App;
use crate::screens::trial::keys;
use crate::screens::trial::notes;
use crate::screens::trial::picture;
use crate::screens::trial::tasting_at;
use crate::screens::trial_tasting::at;
use crate::screens::trial_tasting::at_scale;
use crate::screens::trial_tasting::field;
use crate::screens::trial_tasting::rating;

const AROMA: Field = Field::Words(Stage::Aroma);

const FLAVOUR: Field = Field::Words(Stage::Flavour);

/// The one mark there is: what, how strong, whether asked for.
fn mark(app: &mut App) -> (String, Option<u8>, Prompting) {
    let marks = notes(app).marks;
    let [mark] = marks.as_slice() else {
        panic!("{marks:?}");
    };
    (subject(mark), mark.intensity, mark.prompting)
}

fn subject(mark: &Mark) -> String {
    match &mark.subject {
        Subject::Descriptor(id) => id.to_string(),
        Subject::Shelf(id) => format!("shelf {id}"),
        Subject::Place(id) => format!("place {id}"),
        Subject::Free(text) => text.as_str().to_owned(),
    }
}

#[test]
fn backspace_takes_a_strength_back_for_another_one_and_then_the_word() {
    let mut app = at(FLAVOUR);
    keys(&mut app, "ora⏎5⌫");
    assert_eq!(mark(&mut app).1, None);
    keys(&mut app, "3");
    assert_eq!(mark(&mut app).1, Some(3));
    keys(&mut app, "⌫⌫");
    assert!(notes(&mut app).marks.is_empty());
}

#[test]
fn a_misspelt_word_finds_its_word() {
    let mut app = at(AROMA);
    keys(&mut app, "bred crust⏎");
    assert_eq!(mark(&mut app).0, "bread-crust");
    let mut app = at(AROMA);
    keys(&mut app, "oragne peel⏎");
    assert_eq!(mark(&mut app).0, "orange-peel");
}

#[test]
fn a_digit_accepts_the_word_on_top_with_that_strength() {
    let mut app = at(AROMA);
    keys(&mut app, "ora7");
    let expected = ("orange-peel".to_owned(), Some(7), Prompting::Unprompted);
    assert_eq!(mark(&mut app), expected);
}

#[test]
fn what_is_not_on_the_wheel_is_kept_in_ones_own_words() {
    let mut app = at(AROMA);
    keys(&mut app, "zzyx⏎4");
    let expected = ("zzyx".to_owned(), Some(4), Prompting::Unprompted);
    assert_eq!(mark(&mut app), expected);
}

#[test]
fn a_walk_through_the_market_marks_a_word() {
    let mut app = at(AROMA);
    // The first word on the first shelf of the first place, by the file of that place.
    keys(&mut app, "→⏎⏎⏎");
    assert!(picture(&mut app).contains("How strong is raw grain?"));
    keys(&mut app, "4");
    assert_eq!(
        mark(&mut app),
        ("raw-grain".to_owned(), Some(4), Prompting::Unprompted)
    );
}

#[test]
fn one_digit_each_walks_from_place_to_shelf_to_word() {
    let mut app = at(AROMA);
    keys(&mut app, "→1");
    assert!(picture(&mut app).contains("Bakery: which shelf is nearest?"));
    keys(&mut app, "1");
    keys(&mut app, "9");
    assert!(picture(&mut app).contains("which word fits?"), "no ninth");
    keys(&mut app, "14");
    let expected = ("raw-grain".to_owned(), Some(4), Prompting::Unprompted);
    assert_eq!(mark(&mut app), expected);
}

#[test]
fn a_word_found_in_a_sweep_was_asked_for() {
    let mut app = at(AROMA);
    keys(&mut app, "+→114");
    let expected = ("raw-grain".to_owned(), Some(4), Prompting::Prompted);
    assert_eq!(mark(&mut app), expected);
}

#[test]
fn a_star_keeps_the_place_and_nearer_by_the_shelf() {
    let mut app = at(AROMA);
    keys(&mut app, "**3");
    assert_eq!(
        mark(&mut app),
        ("place bakery".to_owned(), Some(3), Prompting::Unprompted)
    );
    let mut app = at(AROMA);
    keys(&mut app, "→⏎⏎*");
    assert!(mark(&mut app).0.starts_with("shelf "));
}

#[test]
fn the_digit_of_a_word_given_up_for_the_market_does_not_reach_it_any_more() {
    let mut app = at(AROMA);
    keys(&mut app, "ora⏎→9");
    assert_eq!(mark(&mut app).1, None);
}

#[test]
fn a_sweep_keeps_a_place_with_nothing_as_asked_and_zero() {
    let mut app = at(AROMA);
    keys(&mut app, "+⏎");
    assert_eq!(
        mark(&mut app),
        ("place bakery".to_owned(), Some(0), Prompting::Prompted)
    );
    assert!(picture(&mut app).contains("Place 2 of 13"));
}

#[test]
fn backspace_in_a_sweep_goes_one_place_back_and_touches_nothing_else() {
    let mut app = at_scale("aroma-intensity");
    keys(&mut app, "6+⏎⌫");
    assert!(picture(&mut app).contains("Place 1 of 13"));
    assert!(notes(&mut app).marks.is_empty());
    keys(&mut app, "⌫");
    assert!(!picture(&mut app).contains("Place 1 of 13"));
    assert_eq!(field(&mut app), "words:aroma");
    assert_eq!(
        rating(&mut app, "aroma-intensity"),
        Some(Rating::Rated(6.0))
    );
}

#[test]
fn a_place_where_a_word_was_named_gets_no_zero() {
    let mut app = at(AROMA);
    keys(&mut app, "bread crust4+⏎⏎");
    let subjects: Vec<String> = notes(&mut app).marks.iter().map(subject).collect();
    assert_eq!(subjects, ["bread-crust", "place sweet-shop"]);
    // The place without a zero has none to take back.
    keys(&mut app, "⌫⌫");
    assert!(picture(&mut app).contains("Place 1 of 13"));
    assert_eq!(mark(&mut app).0, "bread-crust");
}

#[test]
fn places_with_nothing_do_not_count_as_the_three_words_of_the_short_glass() {
    let mut app = tasting_at(Form::Short, FLAVOUR);
    keys(&mut app, "+⏎⏎⏎⎋ora5");
    assert_eq!(field(&mut app), "words:flavour");
    keys(&mut app, "toa4lem2");
    assert_eq!(field(&mut app), "scale:sweet");
}

#[test]
fn a_smell_is_carried_over_to_the_mouth_with_one_digit() {
    let mut app = at(AROMA);
    keys(&mut app, "ora5⏎");
    assert_eq!(field(&mut app), "carried-over");
    keys(&mut app, "3");
    assert_eq!(field(&mut app), "words:flavour");
    let marks = notes(&mut app).marks;
    let carried = &marks[1];
    assert_eq!(
        (subject(carried), carried.stage),
        (subject(&marks[0]), Stage::Flavour)
    );
    assert_eq!(carried.intensity, Some(3));
    assert_eq!(carried.prompting, Prompting::Prompted);
}

#[test]
fn a_smell_left_unsaid_in_the_mouth_is_silence() {
    let mut app = at(AROMA);
    keys(&mut app, "ora5toa4⏎ ⏎");
    assert_eq!(field(&mut app), "words:flavour");
    assert_eq!(notes(&mut app).marks_at(Stage::Flavour).count(), 0);
}
