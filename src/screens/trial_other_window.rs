//! What stands on a screen while somebody writes in another window: nothing sealed stays, and no row stands for another.

use crate::domain::NotesSource;
use crate::screens::App;
use crate::screens::trial::flat;
use crate::screens::trial::keys;
use crate::screens::trial::picture;
use crate::screens::trial::started;
use crate::workflow::Home;

/// The demonstration at the list of batches, with the arrow on this one.
fn at_the_row_of(mark: &str) -> App {
    let mut app = started(Home::trial_demo());
    keys(&mut app, "4");
    while !picture(&mut app).contains(&format!("▸ {mark}")) {
        keys(&mut app, "↓");
    }
    app
}

/// Another window begins to taste.
fn somebody_tastes(app: &mut App, mark: &str) {
    let home = app.home();
    let taster = home.taster_or_new("Nora").unwrap();
    home.start_tasting(&taster, mark, NotesSource::App).unwrap();
}

/// The name of the recipe of this batch.
fn recipe_of(app: &mut App, mark: &str) -> String {
    let rows = app.home().batch_rows().unwrap().into_iter();
    let mut own = rows.filter(|it| it.mark.as_str() == mark);
    let told = own.next().unwrap().recipe.unwrap();
    told.split(',').next().unwrap().to_owned()
}

#[test]
fn the_list_of_batches_and_the_title_of_a_history_forget_a_recipe_that_is_tasted_now() {
    let mut app = at_the_row_of("OD2");
    let recipe = recipe_of(&mut app, "OD2");
    assert!(picture(&mut app).contains(&recipe));
    somebody_tastes(&mut app, "OD2");
    let list = picture(&mut app);
    assert!(
        list.contains("OD2") && !list.contains(&format!("OD2  {recipe}")),
        "{list}"
    );
    let own = list.lines().find(|it| it.contains("OD2")).unwrap();
    assert!(!own.contains(&recipe), "{list}");

    let mut app = at_the_row_of("OD2");
    keys(&mut app, "⏎g");
    assert!(picture(&mut app).contains(&format!("History of {recipe}")));
    somebody_tastes(&mut app, "OD2");
    let history = picture(&mut app);
    assert!(!history.contains(&recipe), "{history}");
}

#[test]
fn a_version_that_was_drafted_is_not_told_nor_written_while_somebody_tastes() {
    for steps in ["", "⏎"] {
        let mut app = at_the_row_of("OD1");
        let recipe = recipe_of(&mut app, "OD1").to_lowercase().replace(' ', "-");
        keys(&mut app, "⏎b⏎");
        assert!(flat(&mut app).contains("The new version"));
        keys(&mut app, steps);
        somebody_tastes(&mut app, "OD1");
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("version.toml");
        keys(&mut app, "⏎");
        keys(&mut app, &file.display().to_string());
        keys(&mut app, "⏎⏎");
        assert!(!file.exists(), "{steps}");
        let page = flat(&mut app);
        assert!(!page.contains(&recipe), "{steps}: {page}");
    }
}

#[test]
fn a_proposal_is_not_taken_further_once_other_notes_are_there() {
    let mut app = at_the_row_of("OD1");
    keys(&mut app, "⏎b⏎");
    app.home().add_taster("Nora").unwrap();
    let page = flat(&mut app);
    assert!(page.contains("Go back: the proposals are"), "{page}");
    keys(&mut app, "⏎");
    assert!(!flat(&mut app).contains("Into which file?"));
    keys(&mut app, "⎋⏎⏎");
    assert!(flat(&mut app).contains("Into which file?"));
}

#[test]
fn a_row_that_another_window_moved_is_shown_before_it_is_opened_or_removed() {
    let mut app = started(Home::trial_with_a_batch());
    let home = app.home();
    let ana = home.add_taster("Ana").unwrap();
    let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
    home.lock(&mut tasting).unwrap();
    keys(&mut app, "5");
    assert!(picture(&mut app).contains("Ana"));
    app.home().rename_taster("Ana", "Zara").unwrap();
    let list = picture(&mut app);
    assert!(list.contains("Zara") && !list.contains("Ana"), "{list}");
    let what = app.home().locked_notes().unwrap()[0].notes.clone();
    app.home()
        .remove(&crate::workflow::Removable::Notes(what))
        .unwrap();
    app.press(&crate::screens::Press::Enter);
    let list = flat(&mut app);
    assert!(
        list.contains("No notes are locked yet") && !list.contains("could not"),
        "{list}"
    );
}
