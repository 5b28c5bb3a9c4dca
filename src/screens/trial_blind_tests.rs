//! A blind test by keys alone, from the plan to the result, and what its tasters may see.

use crate::domain::SheetKind;
use crate::screens::App;
use crate::screens::BlindTestsScreen;
use crate::screens::Press;
use crate::screens::Screen;
use crate::screens::trial::keys;
use crate::screens::trial::picture;
use crate::screens::trial::started;
use crate::workflow::Home;

const FRIENDS: [&str; 7] = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn", "Gil"];

/// A planned triangle of two beers for so many friends, poured by one who does not taste.
fn planned(first: &str, second: &str, friends: u32) -> App {
    let mut app = started(Home::trial());
    keys(&mut app, &format!("3a{first}⏎{second}⏎{friends}⏎⏎⏎⏎"));
    app
}

fn title(app: &mut App) -> String {
    picture(app).lines().next().unwrap().trim().to_owned()
}

/// The digit of the odd glass in front of whoever sits at a place, by the key.
fn odd_digit(app: &mut App, place: u16) -> usize {
    let planned = app.home().planned_test(1).unwrap();
    let set = planned.sets.iter().find(|it| it.place == place).unwrap();
    let beers: Vec<_> = set
        .samples
        .iter()
        .map(|it| planned.sample(it).unwrap().beer.clone())
        .collect();
    let alone = |beer: &crate::domain::BeerId| beers.iter().filter(|it| *it == beer).count() == 1;
    beers.iter().position(alone).unwrap() + 1
}

#[test]
fn seven_friends_are_led_from_the_plan_to_the_result_by_keys_alone() {
    let mut app = planned("Gate", "Barn", 7);
    assert_eq!(title(&mut app), "Blind test 1");
    let page = picture(&mut app).replace("\n ", " ");
    assert!(page.contains("noticed 57 times in 100"), "{page}");
    for (place, name) in (1..).zip(FRIENDS) {
        let odd = odd_digit(&mut app, place);
        let wrong = odd % 3 + 1;
        let choice = if place <= 5 { odd } else { wrong };
        keys(&mut app, &format!("1{name}⏎"));
        assert!(picture(&mut app).contains("Taste from left to right"));
        keys(&mut app, &format!("{choice}2thinner⏎⏎"));
        assert!(picture(&mut app).contains("Your answers"));
        keys(&mut app, "⏎");
        assert_eq!(title(&mut app), "Pass the screen on");
        assert!(!picture(&mut app).contains(name));
        keys(&mut app, "⏎");
    }
    assert!(picture(&mut app).contains("It has all the answers it needs"));
    keys(&mut app, "5⏎");
    let result = picture(&mut app);
    assert!(result.contains("5 of 7 answers are right"), "{result}");
    keys(&mut app, "→");
    let count = app.home().test_result(1).unwrap().analysis.count;
    assert_eq!((count.hits(), count.tries()), (5, 7));
}

#[test]
fn an_answer_is_corrected_before_leaving_and_a_dark_screen_loses_none() {
    let mut app = planned("Gate", "Barn", 3);
    keys(&mut app, "1Ana⏎1");
    let mut screens: Vec<Box<dyn Screen>> = vec![Box::<BlindTestsScreen>::default()];
    let home = std::mem::replace(app.home(), Home::trial());
    let mut again = App::new(home, std::mem::take(&mut screens));
    keys(&mut again, "⏎1Ana⏎");
    assert!(
        picture(&mut again).contains("Your answers"),
        "{}",
        picture(&mut again)
    );
    keys(&mut again, "↑");
    let odd = odd_digit(&mut again, 1);
    keys(&mut again, &format!("{odd}3⏎⏎⏎⏎"));
    keys(&mut again, "1Ana⏎");
    assert!(
        picture(&mut again).contains("answered every set"),
        "{}",
        picture(&mut again)
    );
    keys(&mut again, "⎋5");
    assert!(
        picture(&mut again).contains("still waits for 2 of its 3"),
        "{}",
        picture(&mut again)
    );
    keys(&mut again, "6");
    let result = again.home().test_result(1).unwrap();
    let count = result.analysis.count;
    assert_eq!((count.hits(), count.tries(), result.missing), (1, 1, 2));
}

#[test]
fn who_saw_the_key_is_refused_and_no_list_of_names_tells_who_was_here() {
    let mut app = planned("Gate", "Barn", 3);
    keys(&mut app, "2Hob⏎");
    assert!(picture(&mut app).contains("mL of"), "{}", picture(&mut app));
    keys(&mut app, "⏎1");
    assert!(!picture(&mut app).contains("Hob"));
    keys(&mut app, "Hob⏎");
    assert!(
        picture(&mut app).contains("cannot answer it"),
        "{}",
        picture(&mut app)
    );
}

#[test]
fn a_taster_sees_the_same_whichever_beer_is_in_which_cup() {
    let frames = |beers: [&str; 2]| {
        let mut app = planned(beers[0], beers[1], 3);
        let mut seen = Vec::new();
        // Only the names of the beers, in their order, may differ.
        for sign in "1Ana⏎22soft⏎1⏎⏎1Ben⏎13⏎⏎⏎⏎34".chars() {
            keys(&mut app, &sign.to_string());
            let page = picture(&mut app)
                .replace(beers[0], "A")
                .replace(beers[1], "B");
            let lines = page.lines().filter(|it| !it.contains("ommitment"));
            seen.push(lines.collect::<Vec<_>>().join("\n"));
        }
        seen
    };
    // Names of one length, so that lines break alike.
    let (one, other) = (frames(["Gate", "Barn"]), frames(["Barn", "Gate"]));
    for (here, there) in one.iter().zip(&other) {
        let hashes = |text: &str| -> String {
            let words = text.split_whitespace().filter(|it| it.len() < 40);
            words.collect::<Vec<_>>().join(" ")
        };
        assert_eq!(hashes(here), hashes(there));
    }
}

#[test]
fn alone_the_cups_are_shuffled_and_the_code_beneath_is_the_answer() {
    let mut app = started(Home::trial());
    keys(&mut app, "3aGate⏎Barn⏎1⏎3⏎⏎↓↓⏎");
    assert_eq!(title(&mut app), "Blind test 1", "{}", picture(&mut app));
    keys(&mut app, "1Ana⏎");
    let key = picture(&mut app);
    assert!(key.contains("Gate") && key.contains("shuffle"), "{key}");
    keys(&mut app, "⏎");
    let page = picture(&mut app);
    assert!(
        page.contains("turn it over") && !page.contains("Gate"),
        "{page}"
    );
    keys(&mut app, "11⏎⏎⏎");
    keys(&mut app, "11⏎⏎⏎11⏎⏎⏎⏎");
    let sheet = app.home().sheet(1, SheetKind::Pourer, Some("Ana")).unwrap();
    assert_eq!(sheet.rows.len(), 3);
    assert_eq!(title(&mut app), "Blind test 1", "{}", picture(&mut app));
}

#[test]
fn a_direction_asks_for_a_word_and_the_beer_that_is_expected_to_have_more() {
    let mut app = started(Home::trial());
    keys(&mut app, "3aGate⏎Barn⏎8⏎⏎↓↓↓⏎bitter⏎↓↓⏎⏎");
    let page = picture(&mut app).replace('\n', " ");
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains("more bitter, expected in Barn"), "{page}");
}

#[test]
fn no_screen_of_a_blind_test_breaks_in_a_small_room() {
    let mut app = planned("Gate", "Barn", 3);
    let small = crate::screens::Room {
        width: 30,
        height: 6,
    };
    for sign in "1Ana⏎12x⏎⏎⏎⏎3⏎4".chars() {
        app.framed(small);
        keys(&mut app, &sign.to_string());
    }
    app.press(&Press::Esc);
}
