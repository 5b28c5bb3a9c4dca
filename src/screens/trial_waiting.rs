//! What takes long says so first: a sign on the picture that stands, then the work, and no key lost between them.

use crate::domain::NotesSource;
use crate::screens::App;
use crate::screens::Press;
use crate::screens::trial::keys;
use crate::screens::trial::picture;
use crate::screens::trial::started;
use crate::workflow::Home;

const SIGN: &str = "One moment: all that was tasted";

/// A home of so many tastings, at the page of its batch.
fn at_the_batch(tastings: usize) -> App {
    let mut home = Home::trial_with_a_batch();
    let ana = home.taster_or_new("Ana").unwrap();
    for _ in 0..tastings {
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        home.lock(&mut tasting).unwrap();
    }
    let mut app = started(home);
    keys(&mut app, "4⏎");
    assert!(picture(&mut app).contains("Batch T1"));
    app
}

#[test]
fn in_a_long_history_the_sign_stands_on_the_page_that_was_there_until_the_work_is_done() {
    let mut app = at_the_batch(200);
    let before = picture(&mut app);
    app.press_in_sight(&Press::Enter);
    let sign = picture(&mut app);
    assert!(app.is_waiting() && sign.contains(SIGN), "{sign}");
    // All but the line of the sign is as it was, the keys too.
    let lines = before.lines().zip(sign.lines());
    assert_eq!(lines.filter(|it| it.0 != it.1).count(), 1, "{sign}");
    app.go_on();
    let done = picture(&mut app);
    assert!(
        done.contains("plan and notes side by side") && !done.contains(SIGN),
        "{done}"
    );
    assert!(!app.is_waiting());
}

#[test]
fn a_key_that_comes_meanwhile_is_done_after_what_waits() {
    let mut app = at_the_batch(200);
    app.press_in_sight(&Press::Enter);
    app.press_in_sight(&Press::Esc);
    let page = picture(&mut app);
    assert!(page.contains("Batch T1") && !app.is_waiting(), "{page}");
    app.press_in_sight(&Press::Esc);
    assert!(picture(&mut app).contains("Batches"));
}

#[test]
fn a_short_history_and_keys_that_look_nothing_up_never_wait() {
    let mut app = at_the_batch(199);
    app.press_in_sight(&Press::Enter);
    assert!(!app.is_waiting());
    let mut app = at_the_batch(200);
    app.press_in_sight(&Press::Char('?'));
    assert!(!app.is_waiting());
    // The explanation is closed by any key, which does nothing else.
    app.press_in_sight(&Press::Enter);
    assert!(!app.is_waiting());
    assert!(picture(&mut app).contains("Batch T1"));
}
