//! From locked notes to the next recipe, through the program itself: by keys on a terminal, and by commands.

use std::fs;

use crate::kitchen::Kitchen;
use crate::kitchen::PROGRAM;
use crate::pty::Launch;

const ESC: &str = "\x1b";
const UP: &str = "\x1b[A";
const PAGE_DOWN: &str = "\x1b[6~";

#[test]
fn from_locked_notes_to_a_new_version_a_planned_triangle_and_the_history() {
    let folder = tempfile::tempdir().expect("a folder can be made");
    let file = folder.path().join("oven-door-3.toml");
    let file = file.to_str().expect("the path is text");
    let mut app = Launch::new(PROGRAM).arg("--demo").start();
    // Each step: what stands on the screen, and the keys that lead on.
    let steps = [
        ("Batches", "4"),
        ("▸ OD1", "\r"),
        ("Batch OD1", "b"),
        ("These hopes are missed", "\r"),
        ("version 3 from 1", "\r"),
        ("Into which file", file),
        (file, "\r"),
    ];
    for (text, keys) in steps {
        app.wait_for(text);
        app.send(keys);
    }
    app.wait_for("Written:");
    let written = fs::read_to_string(file).expect("it was written");
    assert!(written.contains("version = \"3\"") && written.contains("# expected:"));
    // Brewed, and added from its file; then the blind test of old against new, and the history.
    let steps = [
        ("Once both beers are in bottles", "\r"),
        ("What to brew next", ESC),
        ("Batch OD1", ESC),
        ("▸ OD1", "a"),
        ("Which recipe file", file),
        (file, "\r"),
        ("What is written on the caps", "OD3\r"),
        ("Batch OD3", "c"),
        ("How many people taste", "6\r"),
        ("How many times", "\r"),
        // The test that was proposed with the change is chosen already; here it is the triangle all the same.
        ("▸  tetrad test", UP),
        ("▸  triangle test", "\r"),
        ("▸  a difference, after all answers", "\r"),
        ("Three risks", "\r"),
        ("Who pours", "\r"),
        ("Nothing is kept yet", "\r"),
        ("0 of 6 answers are there", ESC),
        ("Batch OD3", "g"),
    ];
    for (text, keys) in steps {
        app.wait_for(text);
        app.send(keys);
    }
    app.wait_for("History");
    while !app.text().contains("Promised") {
        let before = app.text();
        app.send(PAGE_DOWN);
        app.wait_until("another part", |it| it.contents() != before);
    }
    assert!(app.text().contains("version 3"), "{}", app.text());
}

#[test]
fn a_version_is_written_by_a_command_passes_the_check_and_overwrites_nothing() {
    let kitchen = Kitchen::new();
    let file = kitchen.folder().join("next.toml");
    let file = file.to_str().expect("the path is text");
    let write = || kitchen.run(&["--demo", "next", "OD1", "--write", file]);
    let told = write();
    assert_eq!(told.code, 0, "{told:?}");
    assert!(told.out.contains("Written"), "{told:?}");
    let checked = kitchen.run(&["recipe", "check", file]);
    assert_eq!(checked.code, 0, "{checked:?}");
    let before = fs::read_to_string(file).expect("it is there");
    // Each demonstration is a new kitchen, in which nothing was promised yet: the file says just that already.
    let same = write();
    assert_eq!(same.code, 0, "{same:?}");
    assert_eq!(fs::read_to_string(file).expect("it is there"), before);
    let mine = before + "# Mine.\n";
    fs::write(file, &mine).expect("it can be written");
    let again = write();
    assert_eq!(again.code, 1, "{again:?}");
    assert!(again.err.contains("next.toml"), "{again:?}");
    assert_eq!(fs::read_to_string(file).expect("it is there"), mine);
}

#[test]
fn the_larder_is_shown_once_the_example_is_put_into_its_place() {
    let kitchen = Kitchen::new();
    let none = kitchen.run(&["larder"]);
    assert!(none.out.contains("larder.toml"), "{none:?}");
    let example = kitchen.run(&["larder", "--example"]);
    fs::write(kitchen.home().join("larder.toml"), &example.out).expect("the home is there");
    let there = kitchen.run(&["larder"]);
    for part in ["Pale ale malt", "2500 g", "1.90 a kilogram", "not weighed"] {
        assert!(there.out.contains(part), "{part}: {there:?}");
    }
    let json = kitchen.run(&["larder", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json.out).expect("it is JSON");
    assert_eq!(json["items"][2]["grams"], 80.0);
    assert_eq!(json["items"][2]["price_per_kg"], 45.0);
    assert_eq!(json["items"][3]["grams"], serde_json::Value::Null);
}
