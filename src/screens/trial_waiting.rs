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

#[test]
fn what_was_drawn_stands_until_somebody_writes_and_only_then_waits_again() {
    let mut app = at_the_batch(200);
    keys(&mut app, "⏎");
    let shown = picture(&mut app);
    for press in [Press::PageDown, Press::Right, Press::PageUp, Press::Left] {
        app.press_in_sight(&press);
        assert!(!app.is_waiting(), "{press:?}");
        picture(&mut app);
    }
    assert_eq!(picture(&mut app), shown);
    app.home().add_taster("Ben").unwrap();
    app.press_in_sight(&Press::PageDown);
    assert!(app.is_waiting());
    app.go_on();
    picture(&mut app);
    app.press_in_sight(&Press::PageUp);
    assert!(!app.is_waiting());
}

#[test]
fn a_page_that_was_left_before_it_stood_is_never_looked_through() {
    let mut app = at_the_batch(200);
    for open in ['w', 'g', 'b', 'o'] {
        app.press_in_sight(&Press::Char(open));
        app.press_in_sight(&Press::Esc);
        assert!(picture(&mut app).contains("Batch T1"), "{open}");
    }
}

#[test]
fn a_blank_sheet_is_there_at_once_and_a_batch_on_paper_waits() {
    let mut app = at_the_batch(200);
    app.press_in_sight(&Press::Char('o'));
    assert!(app.is_waiting(), "the batch is the first that is offered");
    app.go_on();
    assert!(picture(&mut app).contains("On paper"));
    app.press_in_sight(&Press::Down);
    assert!(!app.is_waiting(), "a sheet to taste by hand");
    assert!(picture(&mut app).contains("One sheet of A4."));
    app.press_in_sight(&Press::Up);
    assert!(app.is_waiting());
}

#[test]
fn what_is_done_with_everything_says_so_however_little_there_is() {
    let mut app = started(Home::trial());
    keys(&mut app, "e");
    picture(&mut app);
    app.press_in_sight(&Press::Char('5'));
    let sign = picture(&mut app);
    assert!(
        app.is_waiting() && sign.contains("One moment: everything is looked through."),
        "{sign}"
    );
    app.go_on();
    assert!(picture(&mut app).contains("Looked through"));
}
