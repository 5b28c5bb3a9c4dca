//! A blind test by keys alone, from the plan to the result, and what its tasters may see.

use crate::domain::SheetKind;
use crate::screens::App;
use crate::screens::BlindTestsScreen;
use crate::screens::Press;
use crate::screens::Screen;
use crate::screens::trial::flat;
use crate::screens::trial::keys;
use crate::screens::trial::picture;
use crate::screens::trial::started;
use crate::workflow::Home;

const FRIENDS: [&str; 7] = ["Ana", "Ben", "Cleo", "Dot", "Eve", "Finn", "Gil"];

/// A planned triangle of two beers for so many friends, poured by one who does not taste.
fn planned(first: &str, second: &str, friends: u32) -> App {
    let mut app = started(Home::trial());
    keys(&mut app, &format!("3a{first}⏎{second}⏎{friends}⏎⏎⏎⏎⏎⏎⏎"));
    app
}

fn title(app: &mut App) -> String {
    picture(app).lines().next().unwrap().trim().to_owned()
}

/// The codes before a place, the odd glass first, by the key.
fn odd_first(app: &mut App, place: u16) -> Vec<String> {
    let planned = app.home().planned_test(1).unwrap();
    let set = planned.sets.iter().find(|it| it.place == place).unwrap();
    let glasses: Vec<_> = set
        .samples
        .iter()
        .map(|it| planned.sample(it).unwrap().clone())
        .collect();
    let alike = |it: &crate::domain::Sample| {
        let beers = glasses.iter().map(|it| &it.beer);
        beers.filter(|beer| **beer == it.beer).count()
    };
    let mut sorted = glasses.clone();
    sorted.sort_by_key(alike);
    sorted.iter().map(|it| it.code.to_string()).collect()
}

/// Somebody sits down at the first place that is free.
fn sit(app: &mut App, name: &str) {
    keys(app, &format!("1{name}⏎"));
    if title(app).starts_with("Where does") {
        keys(app, "⏎");
    }
}

#[test]
fn seven_friends_are_led_from_the_plan_to_the_result_by_keys_alone() {
    let mut app = planned("Gate", "Barn", 7);
    assert_eq!(title(&mut app), "Blind test 1");
    let page = picture(&mut app).replace("\n ", " ");
    assert!(page.contains("noticed 57 times in 100"), "{page}");
    for (place, name) in (1..).zip(FRIENDS) {
        let codes = odd_first(&mut app, place);
        let choice = &codes[usize::from(place > 5)];
        sit(&mut app, name);
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
    sit(&mut app, "Ana");
    let codes = odd_first(&mut app, 1);
    keys(&mut app, &codes[1]);
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
    keys(&mut again, &format!("{}3⏎⏎⏎⏎", codes[0]));
    keys(&mut again, "1Ana⏎");
    assert!(
        picture(&mut again).contains("answered every set"),
        "{}",
        picture(&mut again)
    );
    keys(&mut again, "⎋5");
    assert!(
        picture(&mut again).contains("2 of 3 answers are missing"),
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
        let ana = odd_first(&mut app, 1);
        let ben = odd_first(&mut app, 2);
        let all = format!("1Ana⏎⏎{}2soft⏎{}⏎⏎1Ben⏎⏎{}3⏎⏎⏎⏎34", ana[1], ana[0], ben[0]);
        for sign in all.chars() {
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
    keys(&mut app, "3aGate⏎Barn⏎1⏎3⏎⏎⏎⏎↓↓⏎⏎");
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
    keys(&mut app, "↓⏎1⏎⏎⏎");
    keys(&mut app, "↓⏎1⏎⏎⏎↓⏎1⏎⏎⏎⏎");
    let sheet = app.home().sheet(1, SheetKind::Pourer, Some("Ana")).unwrap();
    assert_eq!(sheet.rows.len(), 3);
    assert_eq!(title(&mut app), "Blind test 1", "{}", picture(&mut app));
}

#[test]
fn a_direction_asks_for_a_word_and_the_beer_that_is_expected_to_have_more() {
    let mut app = started(Home::trial());
    keys(&mut app, "3aGate⏎Barn⏎8⏎⏎↓↓↓⏎bitter⏎↓↓⏎⏎⏎⏎⏎");
    let page = flat(&mut app);
    assert!(page.contains("more bitter, expected in Barn"), "{page}");
}

#[test]
fn no_screen_of_a_blind_test_breaks_in_a_small_room() {
    let mut app = planned("Gate", "Barn", 3);
    let small = crate::screens::Room {
        width: 30,
        height: 6,
    };
    for sign in "1Ana⏎⏎↓⏎2x⏎⏎⏎⏎3⏎4".chars() {
        app.framed(small);
        keys(&mut app, &sign.to_string());
    }
    app.press(&Press::Esc);
}

#[test]
fn esc_takes_one_answer_of_the_plan_back_and_loses_no_other() {
    let mut app = started(Home::trial());
    keys(&mut app, "3aGate⏎Barn⏎7⏎2⏎⎋");
    let page = flat(&mut app);
    assert!(page.contains("How many times does each"), "{page}");
    assert!(page.contains("Gate and Barn"), "{page}");
    keys(&mut app, "⎋⎋Door⏎5⏎⏎⏎⏎⏎⏎⏎");
    let page = flat(&mut app);
    assert!(
        page.contains("Gate and Door") && page.contains("5 tasters"),
        "{page}"
    );
}

#[test]
fn the_same_bottle_twice_and_risks_that_are_none_are_refused_in_place() {
    let mut app = started(Home::trial());
    keys(&mut app, "3aGate⏎gate⏎");
    assert!(picture(&mut app).contains("the same bottle"));
    keys(&mut app, "⌫⌫⌫⌫Barn⏎7⏎⏎⏎⏎5 20⏎");
    let page = flat(&mut app);
    assert!(page.contains("Three numbers between 0 and 100"), "{page}");
}

#[test]
fn a_test_that_may_stop_early_tells_its_own_errors_before_it_begins() {
    let mut app = started(Home::trial());
    // The rule of Wald with 5 and 5 in 100 for half of all people, cut at 21.
    keys(&mut app, "3aGate⏎Barn⏎7⏎3⏎⏎↓⏎5 5 50⏎⏎⏎");
    let page = flat(&mut app);
    // The course of this rule, by exact recursion in Python fractions: a false difference .02553, and
    // 15.7 % undecided.
    assert!(page.contains("26 times in 1,000"), "{page}");
    assert!(page.contains("undecided 16 times in 100"), "{page}");
}

#[test]
fn the_picture_of_friends_and_rounds_moves_and_leads_to_the_plan() {
    let mut app = started(Home::trial());
    keys(&mut app, "3h");
    let page = flat(&mut app);
    // Whole numbers: 5 or more of 7 with a chance of 2/3 is 1248/2187.
    assert!(page.contains("noticed 57 times in 100"), "{page}");
    keys(&mut app, "→↓");
    let page = flat(&mut app);
    assert!(page.contains("8 friends, twice each"), "{page}");
    keys(&mut app, "m⏎");
    keys(&mut app, "Gate⏎Barn⏎⏎⏎⏎⏎");
    let page = flat(&mut app);
    assert!(
        page.contains("tetrad") && page.contains("8 tasters, 2 sets each"),
        "{page}"
    );
}

#[test]
fn one_tasters_record_is_shown_beside_the_others() {
    let mut app = planned("Gate", "Barn", 3);
    for (place, name) in (1..).zip(["Ana", "Ben", "Cleo"]) {
        let codes = odd_first(&mut app, place);
        let choice = &codes[usize::from(name == "Ben")];
        sit(&mut app, name);
        keys(&mut app, &format!("{choice}1⏎⏎⏎⏎"));
    }
    keys(&mut app, "5⎋tBen⏎");
    let page = flat(&mut app);
    assert!(page.contains("0 of 1 right"), "{page}");
    assert!(page.contains("The others at the same: 2 of 2"), "{page}");
}

#[test]
fn a_code_is_typed_whole_and_one_that_stands_elsewhere_is_not_taken() {
    let mut app = planned("Gate", "Barn", 3);
    sit(&mut app, "Ana");
    let other = odd_first(&mut app, 2);
    keys(&mut app, &other[0]);
    assert!(flat(&mut app).contains(&format!("No glass before you is called {}", other[0])));
    let own = odd_first(&mut app, 1);
    keys(&mut app, &own[2]);
    let page = flat(&mut app);
    assert!(page.contains(&format!("You chose {}", own[2])), "{page}");
}

#[test]
fn a_friend_sits_where_the_cups_stand_whoever_came_first() {
    let mut app = planned("Gate", "Barn", 3);
    keys(&mut app, "1Ana⏎3⏎");
    let codes = odd_first(&mut app, 3);
    assert!(flat(&mut app).contains(&codes[0]));
    assert!(title(&mut app).contains("place 3"));
}

#[test]
fn an_answer_given_anew_keeps_what_else_was_said_and_leaving_is_asked_for() {
    let mut app = planned("Gate", "Barn", 3);
    let codes = odd_first(&mut app, 1);
    sit(&mut app, "Ana");
    keys(&mut app, &format!("{}2soft, plum⏎{}", codes[0], codes[1]));
    let page = flat(&mut app);
    assert!(page.contains("rather sure, soft, plum"), "{page}");
    keys(&mut app, &format!("↑{}1⎋", codes[2]));
    sit(&mut app, "Ana");
    let page = flat(&mut app);
    assert!(
        page.contains(&format!("{}, a guess, soft, plum", codes[2])),
        "{page}"
    );
    keys(&mut app, "⎋");
    assert!(flat(&mut app).contains("You have not left yet"));
}
