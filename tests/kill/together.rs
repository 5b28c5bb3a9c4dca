//! Two apps and a stream of commands on one file: no answer is lost, nobody waits for ever, and a wait is explained.

use std::path::Path;
use std::thread;

use rusqlite::Connection;
use thirdglass::formats::EXAMPLE;
use thirdglass::statistics::Dice;

use crate::file::assert_sound;
use crate::file::kept;
use crate::keys::keys;
use crate::kitchen::Kitchen;
use crate::kitchen::flat;
use crate::pty::Pty;
use crate::script::Script;

/// Commands while two people taste.
const COMMANDS: usize = 60;

/// What another program hears that had to wait for too long.
const BUSY: &str = "another program kept the file busy for 5 seconds; close it and try again";

fn app(kitchen: &Kitchen, mark: &str, name: &str) -> Pty {
    let pty = kitchen.launch(&["taste", mark, "--taster", name]).start();
    pty.wait_for_picture("Ready?");
    pty
}

/// Presses a key and waits for the picture that answers.
fn press(pty: &mut Pty, key: &str, then: &str) {
    pty.forget_raw();
    pty.send(key);
    pty.wait_for_picture(then);
}

/// Tastes a bottle on a terminal, from the first key to the lock.
fn taste(kitchen: &Kitchen, mark: &str, name: &str, script: &Script) {
    let mut pty = app(kitchen, mark, name);
    let keys = keys(script);
    let (lock, before) = keys.split_last().expect("there are keys");
    for (key, _) in before {
        press(&mut pty, key, &format!("{name} tastes {mark}"));
    }
    press(&mut pty, &lock.0, mark);
}

fn texts(file: &Connection, sql: &str) -> Vec<String> {
    let mut rows = file.prepare(sql).expect("it can be read");
    let rows = rows
        .query_map([], |row| row.get(0))
        .expect("it can be read");
    rows.collect::<Result<_, _>>().expect("it can be read")
}

fn opened(file: &Path) -> Connection {
    Connection::open(file).expect("the file is there")
}

#[test]
fn two_people_taste_while_commands_are_typed_and_every_answer_is_there() {
    let kitchen = Kitchen::new();
    let recipe = kitchen.write("r.toml", EXAMPLE);
    kitchen.done(&["batch", "add", &recipe, "--mark", "S1"]);
    let scripts = [1, 2].map(|seed| Script::draw(&mut Dice::from_seed(seed)));
    thread::scope(|scope| {
        scope.spawn(|| taste(&kitchen, "K1", "Ana", &scripts[0]));
        scope.spawn(|| taste(&kitchen, "K2", "Ben", &scripts[1]));
        for number in 0..COMMANDS {
            kitchen.done(&["batch", "log", "S1", "note", &format!("line {number}")]);
            kitchen.done(&["taster", "add", &format!("Guest {number}")]);
        }
    });
    let file = opened(&kitchen.file());
    assert_sound(&file, "after all");
    for (mark, script) in ["K1", "K2"].into_iter().zip(&scripts) {
        let last = &script.steps.last().expect("it has steps").kept;
        assert_eq!(kept(&file, mark).as_ref(), Some(last), "{mark}");
    }
    let of_number = |what: &str| {
        let mut expected: Vec<String> = (0..COMMANDS).map(|it| format!("{what} {it}")).collect();
        expected.sort();
        expected
    };
    let lines = texts(
        &file,
        "SELECT value FROM batch_entry WHERE kind = 'note' ORDER BY value",
    );
    assert_eq!(lines, of_number("line"));
    let guests = "SELECT name FROM taster WHERE name LIKE 'Guest %' ORDER BY name";
    assert_eq!(texts(&file, guests), of_number("Guest"));
}

#[test]
fn one_tasting_in_two_windows_loses_no_answer_of_the_other_window() {
    let kitchen = Kitchen::new();
    let script = Script::draw(&mut Dice::from_seed(3));
    let keys = keys(&script);
    let mut one = app(&kitchen, "K1", "Ana");
    let mut other = app(&kitchen, "K1", "Ana");
    for (key, _) in &keys[..keys.len() / 2] {
        press(&mut one, key, "Ana tastes K1");
    }
    let before = kept(&opened(&kitchen.file()), "K1").expect("it is kept");
    assert!(!before.ratings.is_empty(), "{before:?}");
    // The second window still shows the first question.
    press(&mut other, "\r", "Ana tastes K1");
    let after = kept(&opened(&kitchen.file()), "K1").expect("it is kept");
    assert_eq!(after.ratings, before.ratings);
    assert_eq!(after.marks, before.marks);
    assert_eq!((after.knew, after.nose), (before.knew, before.nose));
}

#[test]
fn who_has_to_wait_too_long_is_told_why_and_can_go_on() {
    let kitchen = Kitchen::new();
    let script = Script::draw(&mut Dice::from_seed(4));
    let mut pty = app(&kitchen, "K1", "Ana");
    let other = opened(&kitchen.file());
    other
        .execute_batch("BEGIN IMMEDIATE")
        .expect("nobody writes");
    let told = thread::scope(|scope| {
        let command = scope.spawn(|| kitchen.run(&["taster", "add", "Ben"]));
        press(&mut pty, "\r", "busy for 5 seconds");
        command.join().expect("it ends")
    });
    assert_eq!(told.code, 1, "{told:?}");
    assert!(told.err.starts_with("thirdglass: could not "), "{told:?}");
    assert!(told.err.contains(BUSY), "{told:?}");
    let shown = flat(&pty.text());
    assert!(shown.contains(BUSY), "{shown}");
    other.execute_batch("ROLLBACK").expect("it is ours");
    press(&mut pty, "\r", "What do you know");
    let found = kept(&other, "K1").expect("it is kept");
    assert_eq!(found, *script.kept(1));
    kitchen.done(&["taster", "add", "Ben"]);
}
