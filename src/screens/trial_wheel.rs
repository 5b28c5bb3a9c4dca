//! The wheel, told line by line and drawn: how one walks it, and whose marks it shows.

use crate::domain::NotesSource;
use crate::drawing::Ink;
use crate::screens::App;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::press_line;
use crate::screens::told;
use crate::screens::trial::USUAL;
use crate::screens::trial::keys;
use crate::screens::trial::picture;
use crate::screens::trial::started;
use crate::workflow::Home;

const WIDE: Room = Room {
    width: 160,
    height: 50,
};

/// The app at the wheel.
fn at_the_wheel(home: Home) -> App {
    let mut app = started(home);
    keys(&mut app, "6@");
    app
}

/// The line of the list that is chosen.
fn chosen(app: &mut App) -> String {
    let told = told(app);
    let line = told.lines().find(|it| it.trim_start().starts_with('▸'));
    line.unwrap_or_else(|| panic!("nothing is chosen in\n{told}"))
        .trim_matches(['▸', ' '])
        .to_owned()
}

/// The picture as it is without colours, row by row.
fn drawn(app: &mut App, room: Room) -> Vec<String> {
    let rows = app.framed(room).rows;
    let row = |row: &crate::screens::Row| {
        let spans = row.line.spans.iter();
        let signs = spans.filter_map(|span| match span.ink {
            Ink::Tile(tile) => Some(tile.bare),
            _ => None,
        });
        signs.collect::<String>()
    };
    rows.iter().map(row).collect()
}

#[test]
fn line_by_line_the_wheel_is_a_list_that_is_walked_with_the_same_keys() {
    let mut app = started(Home::trial());
    press_line(&mut app, "6");
    press_line(&mut app, "/wheel");
    let page = told(&mut app);
    assert!(page.contains("The wheel of words") && page.contains("13 Workshop and first-aid box"));
    assert!(!page.contains('▀') && !page.contains("\n\n\n"), "{page}");
    press_line(&mut app, "12");
    assert_eq!(chosen(&mut app), "12 Cellar and attic");
    press_line(&mut app, "s");
    assert_eq!(chosen(&mut app), "2 Sweet shop");
    press_line(&mut app, "/left");
    assert_eq!(chosen(&mut app), "1 Bakery");
    press_line(&mut app, "");
    assert!(told(&mut app).contains("Bakery: which shelf is nearest?"));
    press_line(&mut app, "4");
    assert_eq!(chosen(&mut app), "4 Toasted");
    press_line(&mut app, "");
    press_line(&mut app, "2");
    assert_eq!(chosen(&mut app), "2 toast");
    press_line(&mut app, "");
    assert!(told(&mut app).contains("Jar:"));
    for (place, there) in [
        ("back", "2 toast"),
        ("back", "4 Toasted"),
        ("back", "1 Bakery"),
    ] {
        press_line(&mut app, &format!("/{place}"));
        assert_eq!(chosen(&mut app), there);
    }
    press_line(&mut app, "/back");
    assert!(told(&mut app).contains("Words and jars"));
}

#[test]
fn arrows_turn_the_wheel_once_round_in_both_directions() {
    let mut app = at_the_wheel(Home::trial());
    keys(&mut app, "←");
    assert_eq!(chosen(&mut app), "13 Workshop and first-aid box");
    keys(&mut app, "→→");
    assert_eq!(chosen(&mut app), "2 Sweet shop");
    keys(&mut app, "↓↓↑");
    assert_eq!(chosen(&mut app), "3 Hearth and coffee bar");
}

#[test]
fn two_digits_make_one_number_only_where_there_is_such_a_row() {
    let mut app = at_the_wheel(Home::trial());
    for (typed, there) in [
        ("13", "13 Workshop and first-aid box"),
        ("14", "4 Citrus stall"),
        ("10", "10 Dairy"),
        ("1→2", "2 Sweet shop"),
        ("0", "10 Dairy"),
    ] {
        keys(&mut app, typed);
        assert_eq!(chosen(&mut app), there, "{typed}");
    }
}

#[test]
fn a_click_on_a_row_of_the_list_chooses_it_and_another_goes_in() {
    let mut app = at_the_wheel(Home::trial());
    let rows = app.framed(USUAL).rows;
    let row = rows.iter().find(|it| it.line.text().contains("Woodland"));
    let press = row.unwrap().press.clone().unwrap();
    assert_eq!(press, Press::Row(7));
    app.press(&press);
    assert_eq!(chosen(&mut app), "8 Woodland");
    app.press(&press);
    assert!(picture(&mut app).contains("Woodland: which shelf is nearest?"));
}

#[test]
fn every_number_of_the_list_stands_in_the_round_and_names_where_there_is_room() {
    let mut app = at_the_wheel(Home::trial());
    let small = drawn(&mut app, USUAL).join("\n");
    let wide = drawn(&mut app, WIDE).join("\n");
    for number in 1..=13 {
        assert!(small.contains(&number.to_string()), "{number}\n{small}");
        assert!(wide.contains(&number.to_string()), "{number}\n{wide}");
    }
    assert!(small.contains("scales"), "{small}");
    for name in ["Bakery", "Dairy", "Garden", "coffee", "scales", "aroma"] {
        assert!(wide.contains(name), "{name}\n{wide}");
    }
    // The list beside it is whole at 80 cells.
    let list = picture(&mut app);
    assert!(list.contains("13 Workshop and first-aid box"), "{list}");
    keys(&mut app, "⏎");
    let inside = drawn(&mut app, USUAL).join("\n");
    assert!(
        inside.contains("Grain") && inside.contains("Bakery"),
        "{inside}"
    );
}

#[test]
fn a_room_too_small_for_a_round_shows_the_list_alone() {
    let mut app = at_the_wheel(Home::trial());
    let small = Room {
        width: 50,
        height: 24,
    };
    assert!(drawn(&mut app, small).iter().all(String::is_empty));
    let rows = app.framed(small).rows;
    assert!(rows.iter().any(|it| it.line.text().contains("13 Workshop")));
}

#[test]
fn marks_are_turned_through_to_none_again_and_silence_is_a_dash() {
    let mut app = at_the_wheel(Home::trial_with_a_batch());
    assert!(!picture(&mut app).contains('–'));
    press_line(&mut app, "/whose");
    let page = told(&mut app);
    assert!(page.contains("# chance that it is named in T1"), "{page}");
    assert!(page.contains(" %"), "{page}");
    let plain = drawn(&mut app, USUAL);
    press_line(&mut app, "/whose");
    assert!(!told(&mut app).contains('#'));
    assert_ne!(
        drawn(&mut app, USUAL),
        plain,
        "heat is seen without colours"
    );
}

#[test]
fn marks_of_a_beer_leave_the_wheel_when_somebody_begins_to_taste_it() {
    let mut app = at_the_wheel(Home::trial_with_a_batch());
    press_line(&mut app, "/whose");
    assert!(told(&mut app).contains("named in T1"));
    let home = app.home();
    let ana = home.taster_or_new("Ana").unwrap();
    home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
    let page = told(&mut app);
    assert!(!page.contains("T1") && !page.contains('%'), "{page}");
    press_line(&mut app, "/whose");
    let page = told(&mut app);
    assert!(
        page.contains("No marks can be shown") && !page.contains('%'),
        "{page}"
    );
}
