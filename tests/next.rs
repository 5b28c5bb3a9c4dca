//! From locked notes to the next recipe, through the program itself: by keys on a terminal, and by commands.

mod kitchen;
mod pty;

use kitchen::Kitchen;
use kitchen::PROGRAM;
use pty::Launch;

const DOWN: &str = "\x1b[B";
const ESC: &str = "\x1b";

#[test]
fn from_locked_notes_to_a_new_version_a_planned_triangle_and_the_history() {
    let folder = tempfile::tempdir().expect("a folder can be made");
    let file = folder.path().join("oven-door-3.toml");
    let file = file.to_str().expect("the path is text");
    let mut app = Launch::new(PROGRAM).arg("--demo").start();
    app.wait_for("Taste");
    app.send("4");
    app.wait_for("OD1");
    open_batch(&mut app, "OD1");
    app.send("b");
    app.wait_for("What to brew next");
    app.wait_for("Worth changing");
    app.send("\r");
    app.wait_for("The new version");
    app.wait_for("version 3 from 1");
    app.send("\r");
    app.wait_for("Into which file");
    app.send(file);
    app.send("\r");
    app.wait_for("Written:");
    let written = std::fs::read_to_string(file).expect("it was written");
    assert!(written.contains("version = \"3\"") && written.contains("# expected:"));
    // Brewed, and added from its file.
    app.send("\r");
    app.wait_for("What to brew next");
    app.send(ESC);
    app.wait_for("Batch OD1");
    app.send(ESC);
    app.wait_for("Batches");
    app.send("a");
    app.wait_for("Which recipe file");
    app.send(file);
    app.send("\r");
    app.wait_for("What is written on the caps");
    app.send("OD3\r");
    app.wait_for("Batch OD3");
    // The blind test of old against new.
    app.send("c");
    app.wait_for("How many");
    app.send("6\r");
    app.wait_for("set");
    app.send("\r");
    app.wait_for("method");
    app.send("triangle\r");
    plan_the_rest(&mut app);
    // The history says what was promised.
    app.send(ESC);
    app.wait_for("Batch OD3");
    app.send("g");
    app.wait_for("version 3");
    app.wait_for("promised");
}

/// Walks down the list to a batch and opens it.
fn open_batch(app: &mut pty::Pty, mark: &str) {
    let chosen = format!("▸ {mark}");
    while !app.text().contains(&chosen) {
        let before = app.text();
        app.send(DOWN);
        app.wait_until("another row is chosen", |it| it.contents() != before);
    }
    app.send("\r");
    app.wait_for(&format!("Batch {mark}"));
}

fn plan_the_rest(app: &mut pty::Pty) {
    for asked in ["show", "risk", "pour"] {
        app.wait_for(asked);
        app.send("\r");
    }
}

#[test]
fn a_version_is_written_by_a_command_passes_the_check_and_overwrites_nothing() {
    let kitchen = Kitchen::new();
    let file = kitchen.folder().join("next.toml");
    let file = file.to_str().expect("the path is text");
    let told = kitchen.run(&["--demo", "next", "OD1", "--write", file]);
    assert_eq!(told.code, 0, "{told:?}");
    assert!(told.out.contains("Written"), "{told:?}");
    let checked = kitchen.run(&["recipe", "check", file]);
    assert_eq!(checked.code, 0, "{checked:?}");
    let again = kitchen.run(&["--demo", "next", "OD1", "--write", file]);
    assert_eq!(again.code, 1, "{again:?}");
}
