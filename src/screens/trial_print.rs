//! What is printed, by keys alone: each thing from the screen where one looks for it, and never past a seal.

use crate::domain::DescriptorId;
use crate::domain::Mark;
use crate::domain::MarkId;
use crate::domain::NotesChange;
use crate::domain::NotesSource;
use crate::domain::Prompting;
use crate::domain::Stage;
use crate::domain::Subject;
use crate::screens::App;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::TasterPageScreen;
use crate::screens::trial::flat;
use crate::screens::trial::keys;
use crate::screens::trial::started;
use crate::workflow::Home;

/// The pages that follow one another on the print screen as the arrow goes down.
fn offered(app: &mut App, count: usize) -> Vec<String> {
    let mut pages = vec![flat(app)];
    for _ in 1..count {
        keys(app, "↓");
        pages.push(flat(app));
    }
    pages
}

fn assert_tells(page: &str, words: &[&str]) {
    for it in words {
        assert!(page.contains(it), "{it}: {page}");
    }
}

#[test]
fn labels_for_the_glasses_of_a_panel_are_on_its_page_and_tab_turns_to_sheets_of_labels() {
    let mut app = started(Home::trial_with_a_batch());
    keys(&mut app, "9aT1, B2⏎⏎Ana⏎⏎⏎↓⏎⏎⏎⏎");
    assert_tells(&flat(&mut app), &["4 Labels for the glasses"]);
    keys(&mut app, "4");
    let page = flat(&mut app);
    assert_tells(
        &page,
        &[
            "Panel 1: labels for the glasses",
            "to be cut from plain paper",
        ],
    );
    assert!(!page.contains("T1") && !page.contains("B2"), "{page}");
    keys(&mut app, "⇥⇥");
    assert_tells(
        &flat(&mut app),
        &["21 of 70 × 42.3 mm on A4", "Tab other labels"],
    );
    keys(&mut app, "⇥⇥⇥⇥⇥⇥");
    assert_tells(&flat(&mut app), &["10 of 101.6 × 50.8 mm on US letter"]);
    keys(&mut app, "⇥");
    assert_tells(&flat(&mut app), &["to be cut from plain paper"]);
}

#[test]
fn a_batch_offers_its_page_a_sheet_to_taste_it_by_hand_and_the_wheel_of_what_was_named() {
    let mut app = started(Home::trial_with_a_batch());
    keys(&mut app, "4⏎o");
    let [batch, sheet, wheel] = offered(&mut app, 3).try_into().unwrap();
    assert_tells(&batch, &["T1-batch.pdf"]);
    assert_tells(&sheet, &["Tasting sheet", "T1-tasting-sheet.pdf"]);
    assert_tells(&wheel, &["nobody has locked notes on “T1” yet"]);
    keys(&mut app, "↑");
    assert_tells(&flat(&mut app), &["T1-tasting-sheet.pdf"]);
}

#[test]
fn notes_on_a_bottle_without_a_recipe_offer_a_sheet_and_the_wheel_of_what_was_named_in_it() {
    let mut home = Home::trial();
    let ana = home.taster_or_new("Ana").unwrap();
    let mut tasting = home.start_tasting(&ana, "B2", NotesSource::App).unwrap();
    let changes = [NotesChange::Marked(Mark {
        id: MarkId::new("toast".to_owned()),
        stage: Stage::Aroma,
        subject: Subject::Descriptor(DescriptorId::new("toast").unwrap()),
        intensity: Some(4),
        prompting: Prompting::Unprompted,
    })];
    home.change(&mut tasting, &changes).unwrap();
    home.lock(&mut tasting).unwrap();
    let mut app = started(home);
    keys(&mut app, "5⏎o");
    let [sheet, wheel] = offered(&mut app, 2).try_into().unwrap();
    assert_tells(&sheet, &["Tasting sheet", "B2-tasting-sheet.pdf"]);
    assert_tells(&wheel, &["What was named in B2", "B2-wheel.pdf"]);
}

#[test]
fn while_a_batch_is_tasted_its_page_and_wheel_stay_sealed_on_paper_too() {
    let mut app = started(Home::trial_with_a_batch());
    keys(&mut app, "4⏎");
    let home = app.home();
    let ana = home.taster_or_new("Ana").unwrap();
    home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
    keys(&mut app, "o");
    let [batch, sheet, wheel] = offered(&mut app, 3).try_into().unwrap();
    for sealed in [batch, wheel] {
        assert_tells(&sealed, &["is sealed until Ana locks their notes"]);
        assert!(!sealed.contains("The file to write"), "{sealed}");
    }
    assert_tells(&sheet, &["Tasting sheet"]);
}

#[test]
fn what_is_sealed_while_its_print_screen_is_open_is_not_written() {
    let mut app = started(Home::trial_with_a_batch());
    keys(&mut app, "4⏎o");
    assert_tells(&flat(&mut app), &["T1-batch.pdf"]);
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("sealed.pdf");
    app.press(&Press::RubLine);
    app.press(&Press::Paste(file.display().to_string()));
    let home = app.home();
    let ana = home.taster_or_new("Ana").unwrap();
    home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
    keys(&mut app, "⏎");
    assert_tells(&flat(&mut app), &["is sealed until Ana locks their notes"]);
    assert!(!file.exists());
}

#[test]
fn a_taster_offers_the_page_the_wheel_of_what_they_named_and_a_sheet_with_their_name() {
    let mut home = Home::trial();
    home.add_taster("Ana").unwrap();
    let mut app = App::new(home, vec![Box::new(TasterPageScreen::new("Ana"))]);
    keys(&mut app, "o");
    let [_, wheel, sheet] = offered(&mut app, 3).try_into().unwrap();
    assert_tells(&wheel, &["nothing on the wheel that Ana named"]);
    assert_tells(&sheet, &["Tasting sheet", "tasting-sheet.pdf"]);
}

#[test]
fn the_first_screen_offers_a_sheet_for_any_glass_and_the_wheel() {
    let mut app = started(Home::trial());
    keys(&mut app, "o");
    let [sheet, wheel] = offered(&mut app, 2).try_into().unwrap();
    assert_tells(&sheet, &["Tasting sheet", "tasting-sheet.pdf"]);
    assert_tells(
        &wheel,
        &["The market of words", "wheel.pdf", "One sheet of A4."],
    );
}

#[test]
fn a_word_offers_card_and_label_of_its_jar_and_of_the_jars_of_its_shelf() {
    let mut app = started(Home::trial());
    // Bakery, Toasted, toast.
    keys(&mut app, "6142o");
    let pages = offered(&mut app, 5);
    assert_tells(&pages[0], &["“toast” as a preparation card"]);
    assert_tells(&pages[1], &["Labels for jars", "toast-jar-labels.pdf"]);
    assert_tells(
        &pages[2],
        &["all jars of the shelf Toasted", "Toasted-jar-cards.pdf"],
    );
    assert_tells(&pages[3], &["Labels for jars", "Toasted-jar-labels.pdf"]);
    assert_tells(&pages[4], &["The market of words"]);
}

#[test]
fn where_letters_turn_the_wheel_f2_prints_it_with_the_marks_it_shows() {
    let mut app = started(Home::trial_with_a_batch());
    keys(&mut app, "6");
    assert_tells(&flat(&mut app), &["F2 on paper"]);
    keys(&mut app, "@");
    assert_tells(&flat(&mut app), &["F2 on paper"]);
    app.press(&Press::Paper);
    assert_tells(&flat(&mut app), &["The market of words", "wheel.pdf"]);
    keys(&mut app, "⎋#");
    app.press(&Press::Paper);
    assert_tells(
        &flat(&mut app),
        &["chance that it is named in T1", "marked-wheel.pdf"],
    );
    let home = app.home();
    let ana = home.taster_or_new("Ana").unwrap();
    home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
    // The marks were on the wheel; on paper they are asked for anew, with every sheet.
    keys(&mut app, "⇥");
    assert_tells(&flat(&mut app), &["is sealed until Ana locks"]);
}

#[test]
fn a_name_that_was_typed_stays_when_something_else_is_chosen() {
    let mut app = started(Home::trial());
    keys(&mut app, "o");
    app.press(&Press::RubLine);
    keys(&mut app, "mine.pdf↓");
    assert_tells(&flat(&mut app), &["The market of words", "> mine.pdf"]);
}

#[test]
fn the_print_screen_fits_into_any_room() {
    let mut app = started(Home::trial());
    keys(&mut app, "6142o");
    for (width, height) in [(80, 24), (30, 8), (20, 5), (1, 1), (0, 0)] {
        let rows = app.framed(Room { width, height }).rows;
        assert!(rows.len() <= height);
        for row in rows {
            let text = row.line.text();
            assert!(crate::drawing::width(&text) <= width, "{text}");
        }
    }
}
