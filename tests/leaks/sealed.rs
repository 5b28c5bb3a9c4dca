//! While a glass is open nothing planted is told anywhere, and all of it is after the lock.

use crate::heard::Heard;
use crate::planted::Planted;
use crate::planted::RECIPE;
use crate::walk::DOWN;
use crate::walk::ESC;
use crate::walk::RIGHT;
use crate::walk::Walk;

/// How many questions the full form asks, as the bar above them says.
fn questions(screen: &str) -> usize {
    let number = screen.split(" of ").nth(1).expect("the bar is there");
    let digits: String = number.chars().take_while(char::is_ascii_digit).collect();
    digits.parse().expect("a number stands there")
}

/// Ana opens T1 and walks through every question of the full form and everything around it.
fn tasting(planted: &Planted) -> Vec<Heard> {
    let mut walk = Walk::start(
        &planted.kitchen,
        &["taste", "T1", "--taster", "Ana"],
        "Ready? Enter begins",
    );
    walk.explain("Ready?");
    let all = questions(&walk.pty.text());
    for at in 2..=all {
        walk.press(DOWN, &format!(" {at} of {all}"));
        walk.explain(&format!(" {at} of {all}"));
        if walk.pty.text().contains("What do you smell?") {
            words(&mut walk);
        }
    }
    walk.pty.forget_raw();
    walk.pty.resize(120, 40);
    walk.look("Enter locks");
    walk.pty.forget_raw();
    walk.pty.resize(80, 24);
    walk.look("Enter locks");
    walk.press("!", "What is it?");
    walk.explain("What is it?");
    walk.press(ESC, "Enter locks");
    walk.press(ESC, "Ana tastes T1");
    walk.explain("Ana tastes T1");
    walk.pages();
    walk.end()
}

/// The market, the sweep and the search at the question for words.
fn words(walk: &mut Walk) {
    walk.on_the_wheel = true;
    walk.press("l", "> l");
    walk.press(ESC, "Type a word");
    walk.press(RIGHT, "Sweet shop");
    walk.press(RIGHT, "* keeps");
    walk.press(ESC, "Sweet shop");
    walk.press(ESC, "Type a word");
    walk.press("+", "Place 1 of 13");
    walk.press(ESC, "Type a word");
    walk.on_the_wheel = false;
    // The last picture of the wheel is gone from the screen now.
    walk.explain("Type a word");
}

#[test]
fn while_a_glass_is_open_nothing_planted_is_told_and_after_the_lock_all_of_it_is() {
    let planted = Planted::new();
    let mut open = tasting(&planted);
    let mut window = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    window.pages();
    window.choose("Go on: Ana tastes T1", "Enter locks");
    open.extend(window.end());
    open.extend(planted.commands());
    open.push(Heard::new(
        "line by line",
        &planted.tastes("Ana", "/up\n/explain\n/back\n"),
    ));
    planted.assert_silent(&open);

    planted.locks("Ana");
    let mut after = Walk::start(&planted.kitchen, &[], "Taste what you brewed");
    after.pages();
    let mut after = after.end();
    assert!(after.iter().any(|it| it.text.contains("Word 1 of ")));
    after.extend(planted.commands());
    planted.assert_told(&after);
    assert_ne!(planted.leaks(&after), Vec::<String>::new());
}

#[test]
fn no_wheel_shows_marks_of_a_glass_that_is_being_tasted() {
    let planted = Planted::new();
    let to_the_lock = "/next-stage\n".repeat(12);
    planted.tastes("Dov", &format!("\n4\n1\ntoast\n6\n{to_the_lock}\n"));
    let of_dov = ["--taster", "Dov"];
    let of_beer = ["--batch", "T1"];
    assert!(planted.poster(of_dov, "before.svg").0.is_some());

    planted.tastes("Ana", "\n");
    let (drawn, complaint) = planted.poster(of_dov, "dov.svg");
    assert!(drawn.is_none() && complaint.contains("nothing on the wheel that Dov named"));
    let (drawn, complaint) = planted.poster(of_beer, "beer.svg");
    assert!(drawn.is_none() && complaint.contains("is sealed until Ana"));
    let mut walk = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    walk.choose("Words and jars", "Where have you smelled");
    walk.press("@", "The wheel of words");
    walk.press("#", "No marks can be shown");
    let heard = walk.end();
    assert!(!heard.iter().any(|it| it.text.contains("1 of 1")));

    planted.locks("Ana");
    let (marked, _) = planted.poster(of_dov, "dov.svg");
    let (plain, _) = planted.poster(["--paper", "a4"], "plain.svg");
    assert!(marked.is_some() && marked != plain);
    assert!(planted.poster(of_beer, "beer.svg").0.is_some());
    let mut walk = Walk::start(&planted.kitchen, &[], "Taste what you brewed");
    walk.choose("Words and jars", "Where have you smelled");
    walk.press("@", "The wheel of words");
    // Ana named nothing and Ben a word of his own; Dov is the only one with a word of the wheel.
    walk.press("#", "in which Dov named it");
    assert!(walk.pty.text().contains("1 of 1"));
}

#[test]
fn while_one_of_two_tasters_has_not_locked_both_are_told_nothing() {
    let planted = Planted::new();
    planted.tastes("Ana", "\n");
    planted.tastes("Dov", "\n");
    planted.locks("Dov");
    let mut walk = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    walk.pages();
    let mut heard = walk.end();
    heard.extend(planted.commands());
    planted.assert_silent(&heard);
}

#[test]
fn a_batch_of_the_same_recipe_does_not_tell_the_plan_of_the_open_one() {
    let planted = Planted::new();
    planted
        .kitchen
        .done(&["batch", "add", &planted.recipe, "--mark", "T2"]);
    let tasted = ["taste", "T2", "--taster", "Ben", "--plain"];
    let lines = format!("{}/yes\n", "/next-stage\n".repeat(12));
    planted.kitchen.fed(&tasted, &lines);
    let asked: [&[&str]; 6] = [
        &["batch", "list"],
        &["batch", "show", "T2"],
        &["batch", "show", "T2", "--json"],
        &["compare", "T2"],
        &["compare", "T2", "--json"],
        &["recipe", "history", "Lantern", "heron"],
    ];
    let heard = || {
        asked
            .iter()
            .flat_map(|it| planted.asked(it))
            .collect::<Vec<_>>()
    };
    assert_ne!(
        planted.leaks(&heard()),
        Vec::<String>::new(),
        "nobody tastes"
    );
    planted.tastes("Ana", "\n");
    assert_eq!(planted.leaks(&heard()), Vec::<String>::new());
}

#[test]
fn while_a_panel_waits_nothing_of_its_beers_is_told_though_nobody_has_begun() {
    let planted = Planted::new();
    let plan = [
        "panel",
        "plan",
        "T1",
        "B7",
        "--tasters",
        "Ana, Dov",
        "--doubled",
        "1",
    ];
    planted.kitchen.done(&plan);
    let mut walk = Walk::start(
        &planted.kitchen,
        &[],
        "Go on: panel 1, none of two are done",
    );
    walk.pages();
    let mut heard = walk.end();
    heard.extend(planted.commands());
    heard.extend(planted.asked(&["panel", "list"]));
    heard.extend(planted.asked(&["panel", "result"]));
    planted.assert_silent(&heard);
    planted.kitchen.done(&["panel", "tell", "--early"]);
    assert_ne!(planted.leaks(&planted.commands()), Vec::<String>::new());
}

#[test]
fn while_a_batch_is_tasted_no_recipe_is_named_by_what_was_removed_of_it() {
    let planted = Planted::new();
    let other = RECIPE.replace("7-vole", "8-vole");
    let other = planted.kitchen.write("r8.toml", other);
    planted
        .kitchen
        .done(&["batch", "add", &other, "--mark", "T8"]);
    planted.kitchen.done(&["remove", "batch", "T8"]);
    planted
        .kitchen
        .done(&["remove", "recipe", "Lantern heron", "8-vole"]);
    let list = planted.kitchen.done(&["removed"]);
    assert!(list.contains("Lantern heron 8-vole"), "{list}");
    planted.tastes("Ana", "\n");
    let mut walk = Walk::start(&planted.kitchen, &[], "Ana tastes T1");
    walk.choose("Notes", "Cleo");
    walk.press("p", "Ben");
    walk.everything();
    let mut heard = walk.end();
    heard.extend(planted.asked(&["removed"]));
    heard.extend(planted.asked(&["removed", "--json"]));
    heard.extend(planted.asked(&["remove", "recipe", "Nothing", "1"]));
    planted.assert_silent(&heard);
}
