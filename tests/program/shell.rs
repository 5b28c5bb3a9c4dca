//! What shells and packages ask for: completions of every command, and a man page for each.

use std::collections::BTreeSet;
use std::fs;

use crate::kitchen::Kitchen;
use clap::CommandFactory;
use thirdglass::cli::Arguments;

/// The names of all commands that are not hidden, such as `thirdglass-batch-log`.
fn commands(command: &clap::Command, name: &str, found: &mut BTreeSet<String>) {
    found.insert(name.to_owned());
    let inner = command.get_subcommands();
    for it in inner.filter(|it| !it.is_hide_set() && it.get_name() != "help") {
        commands(it, &format!("{name}-{}", it.get_name()), found);
    }
}

#[test]
fn every_shell_completes_every_command() {
    let kitchen = Kitchen::new();
    let mut all = BTreeSet::new();
    commands(&Arguments::command(), "thirdglass", &mut all);
    for shell in ["bash", "zsh", "fish", "powershell"] {
        let script = kitchen.done(&["shell", "complete", shell]);
        for name in &all {
            let last = name.rsplit('-').next().unwrap();
            assert!(script.contains(last), "{shell}: {name}");
        }
    }
    let refused = kitchen.run(&["shell", "complete", "tcsh"]);
    assert_eq!(refused.code, 2, "{refused:?}");
}

#[test]
fn every_command_has_a_man_page_with_its_examples_and_none_is_written_over() {
    let kitchen = Kitchen::new();
    let folder = kitchen.folder().join("man");
    fs::create_dir(&folder).unwrap();
    let path = folder.to_str().unwrap();
    kitchen.done(&["shell", "man", path]);
    let mut all = BTreeSet::new();
    commands(&Arguments::command(), "thirdglass", &mut all);
    let pages: BTreeSet<String> = fs::read_dir(&folder)
        .unwrap()
        .map(|it| it.unwrap().file_name().into_string().unwrap())
        .map(|it| it.strip_suffix(".1").unwrap().to_owned())
        .collect();
    assert_eq!(pages, all);
    for name in &all {
        let page = fs::read_to_string(folder.join(format!("{name}.1"))).unwrap();
        assert!(page.contains("Example"), "{name}: {page}");
    }
    assert_eq!(kitchen.run(&["shell", "man", path]).code, 1);
}

#[test]
fn settings_are_written_on_request_once_and_then_hold() {
    let kitchen = Kitchen::new();
    let told = kitchen.done(&["settings"]);
    assert!(told.contains("standard-drink  10.0 g"), "{told}");
    kitchen.done(&["settings", "--write"]);
    assert_eq!(kitchen.run(&["settings", "--write"]).code, 1);
    let file = kitchen.home().join("settings.toml");
    let text = fs::read_to_string(&file).unwrap();
    fs::write(
        &file,
        text.replace("10 g\"", "14 g\"").replace("a4\"", "letter\""),
    )
    .unwrap();
    let told = kitchen.done(&["settings"]);
    assert!(
        told.contains("14.0 g") && told.contains("US letter"),
        "{told}"
    );
    fs::write(&file, "papper = \"a4\"\ncolours = \"pink\"\n").unwrap();
    let refused = kitchen.run(&["settings"]);
    assert_eq!(refused.code, 1);
    for part in ["papper", "paper", "colours", "pink"] {
        assert!(refused.err.contains(part), "{part}: {}", refused.err);
    }
}
