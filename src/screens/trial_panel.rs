//! A panel of one taster on the screen: their glasses, the talk, what they change after it, and what is told.

use crate::screens::App;
use crate::screens::trial::flat;
use crate::screens::trial::keys;
use crate::screens::trial::picture;
use crate::screens::trial::started;
use crate::workflow::Home;

/// Ana's panel of T1 and another bottle, one of them poured a second time, as a short glass.
fn planned() -> App {
    let mut app = started(Home::trial_with_a_batch());
    keys(&mut app, "9aT1, B2⏎⏎Ana⏎⏎⏎↓⏎⏎⏎⏎");
    app
}

/// Ana locks all three glasses.
fn tasted() -> App {
    let mut app = planned();
    keys(&mut app, "1⏎⏎⏎15⏎43436⏎⏎5⏎43436⏎⏎5⏎43436⏎");
    app
}

#[test]
fn a_lock_shows_nothing_but_the_next_glass_and_the_last_one_hides_everything() {
    let mut app = planned();
    keys(&mut app, "1⏎⏎⏎15⏎43436⏎");
    let shown = picture(&mut app);
    assert!(shown.contains("1 of 3 locked"), "{shown}");
    for secret in ["T1", "B2", "Harbour", "bitter"] {
        assert!(!shown.contains(secret), "{shown}");
    }
    keys(&mut app, "⏎5⏎43436⏎⏎5⏎43436⏎");
    assert!(picture(&mut app).contains("All 3 glasses are locked"));
    keys(&mut app, "⏎");
    let shown = picture(&mut app);
    assert!(
        shown.contains("Pass the screen") && !shown.contains("glass "),
        "{shown}"
    );
    keys(&mut app, "⏎");
    assert!(picture(&mut app).contains("All are done. Talk"));
}

#[test]
fn who_removes_a_panel_that_still_seals_is_told_that_its_seal_goes_for_good() {
    let mut app = planned();
    keys(&mut app, "z");
    let asked = flat(&mut app);
    assert!(
        asked.contains("y removes") && asked.contains("stays open when it comes back"),
        "{asked}"
    );
}

#[test]
fn esc_keeps_what_was_typed_and_the_first_screen_goes_on_with_the_panel_in_one_line() {
    let mut app = planned();
    keys(&mut app, "1⏎⏎⏎15⏎4⎋⎋");
    assert!(picture(&mut app).contains("Pass the screen"));
    keys(&mut app, "⏎⎋⎋");
    let shown = picture(&mut app);
    assert!(
        shown.contains("Go on: panel 1, none of one are done"),
        "{shown}"
    );
    assert_eq!(shown.matches("Go on").count(), 1, "{shown}");
    keys(&mut app, "↓↓⏎1⏎⏎");
    assert!(picture(&mut app).contains("How bitter?"));
}

#[test]
fn after_the_talk_a_glass_can_be_changed_and_telling_is_asked_for_once_more() {
    let mut app = tasted();
    keys(&mut app, "⏎⏎⏎");
    assert!(picture(&mut app).contains("Nobody has to agree"));
    keys(&mut app, "⎋1⏎");
    assert_eq!(picture(&mut app).matches("as it was").count(), 3);
    keys(&mut app, "⏎");
    assert!(picture(&mut app).contains("after the talk"));
    keys(&mut app, "⇥⇥⇥⇥⇥⇥⏎⎋⏎");
    let shown = picture(&mut app);
    assert!(
        shown.contains("3 of 3 locked, 1 looked at again"),
        "{shown}"
    );
    keys(&mut app, "3");
    let shown = picture(&mut app);
    assert!(
        shown.contains("Everybody is done. Enter once more"),
        "{shown}"
    );
    keys(&mut app, "3");
    let shown = picture(&mut app);
    assert!(
        shown.contains("stood before everybody two times"),
        "{shown}"
    );
    keys(&mut app, "⎋1⏎");
    let shown = picture(&mut app);
    assert!(shown.contains("On 5 of 5 scales"), "{shown}");
}

#[test]
fn who_leaves_is_asked_once_more_and_is_waited_for_no_longer() {
    let mut app = planned();
    keys(&mut app, "1⏎x");
    assert!(picture(&mut app).contains("x again: Ana leaves"));
    keys(&mut app, "x⏎");
    let shown = picture(&mut app);
    assert!(
        shown.contains("left") && shown.contains("All are done"),
        "{shown}"
    );
}

#[test]
fn what_enter_takes_is_in_sight_however_much_is_told_above_it() {
    let mut app = started(Home::trial_with_a_batch());
    keys(&mut app, "9aT1, B2, C3, D4⏎⏎Ana, Ben, Cleo⏎⏎⏎⏎");
    let shown = picture(&mut app);
    assert!(shown.contains("poured a second time"), "{shown}");
    assert!(shown.contains("▸  1"), "{shown}");
}
