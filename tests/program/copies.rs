//! Copies of the whole file: made by themselves and by command, and put back only on purpose.

use std::fs;
use std::path::Path;

use crate::kitchen::Kitchen;

/// A kitchen with one batch, on a recipe file of its own.
fn brewed() -> Kitchen {
    let kitchen = Kitchen::new();
    let recipe = kitchen.write("pale.toml", thirdglass::formats::EXAMPLE);
    kitchen.done(&["batch", "add", &recipe, "--mark", "T1"]);
    kitchen
}

fn names_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> = entries
        .map(|it| it.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    names
}

#[test]
fn a_copy_is_brought_back_only_on_purpose_and_what_was_there_is_kept() {
    let kitchen = brewed();
    let copy = kitchen.folder().join("copy.db");
    let copy = copy.to_str().unwrap();
    let told = kitchen.done(&["home", "backup", copy]);
    assert!(told.contains("To bring it back"), "{told}");
    let again = kitchen.run(&["home", "backup", copy]);
    assert!(
        again.code == 1 && again.err.contains("it is there already"),
        "{again:?}"
    );
    kitchen.done(&["remove", "batch", "T1"]);
    let refused = kitchen.run(&["home", "restore", copy]);
    assert!(
        refused.code == 1 && refused.err.contains("add --replace"),
        "{refused:?}"
    );
    assert!(kitchen.done(&["removed"]).contains("batch T1"));
    kitchen.done(&["home", "restore", copy, "--replace"]);
    assert!(kitchen.done(&["batch", "list"]).contains("T1"));
    assert!(kitchen.done(&["removed"]).contains("Nothing was removed"));
    let aside: Vec<String> = names_in(&kitchen.home());
    let aside = aside
        .iter()
        .find(|it| it.starts_with("thirdglass-before-restore-"))
        .unwrap();
    // What was there before comes back in the same way.
    let aside = kitchen.home().join(aside);
    kitchen.done(&["home", "restore", aside.to_str().unwrap(), "--replace"]);
    assert!(kitchen.done(&["removed"]).contains("batch T1"));
}

#[test]
fn a_copy_is_brought_back_where_the_file_is_damaged_and_a_damaged_copy_is_refused() {
    let kitchen = brewed();
    let copy = kitchen.folder().join("copy.db");
    kitchen.done(&["home", "backup", copy.to_str().unwrap()]);
    let mut bytes = fs::read(kitchen.file()).unwrap();
    bytes[..16].copy_from_slice(b"no file of ours!");
    fs::write(kitchen.file(), &bytes).unwrap();
    let refused = kitchen.run(&["batch", "list"]);
    assert_eq!(refused.code, 1, "{refused:?}");
    kitchen.done(&["home", "restore", copy.to_str().unwrap(), "--replace"]);
    assert!(kitchen.done(&["batch", "list"]).contains("T1"));
    assert!(
        kitchen
            .done(&["home", "check"])
            .contains("All of it is sound.")
    );
    // A page in the middle: the file opens, but cannot be read through.
    let mut bytes = fs::read(kitchen.file()).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle..middle + 40_000].fill(0xa5);
    fs::write(kitchen.file(), &bytes).unwrap();
    let found = kitchen.run(&["home", "check"]);
    assert!(
        found.code == 1 && found.out.contains("the file is damaged"),
        "{found:?}"
    );
    kitchen.done(&["home", "restore", copy.to_str().unwrap(), "--replace"]);
    assert!(
        kitchen
            .done(&["home", "check"])
            .contains("All of it is sound.")
    );
    let mut broken = fs::read(&copy).unwrap();
    let middle = broken.len() / 2;
    broken[middle..middle + 3_000].fill(0xa5);
    let damaged = kitchen.write("damaged.db", &broken);
    let refused = kitchen.run(&["home", "restore", &damaged, "--replace"]);
    assert!(
        refused.code == 1 && refused.err.contains("nothing was changed"),
        "{refused:?}"
    );
    assert!(kitchen.done(&["batch", "list"]).contains("T1"));
}

#[test]
fn the_first_work_of_a_day_leaves_a_copy_and_looking_leaves_none() {
    let kitchen = brewed();
    let copies = kitchen.home().join("copies");
    let names = names_in(&copies);
    assert!(
        names.len() == 1 && names[0].starts_with("thirdglass-2"),
        "{names:?}"
    );
    fs::remove_file(copies.join(&names[0])).unwrap();
    kitchen.done(&["batch", "list"]);
    assert_eq!(names_in(&copies), Vec::<String>::new());
    let sound = kitchen.done(&["home", "check"]);
    assert!(
        sound.contains("All of it is sound.") && sound.contains("home backup FILE"),
        "{sound}"
    );
}
