//! A taster asks for another name, for everything of theirs, or to be forgotten: by commands, and what is on the disk afterwards.

use std::fs;
use std::os::unix::fs::PermissionsExt;

use crate::kitchen::Kitchen;
use serde_json::Value;

/// Words that only Anouk brought into the home.
const HERS: [&str; 4] = ["Anouk", "anouk", "kelpstring", "otterglove"];

/// Lets somebody taste a bottle line by line, with a word and a remark of their own and five digits, up to
/// the lock.
fn tastes(kitchen: &Kitchen, name: &str, mark: &str, own: [&str; 2]) {
    let to_the_lock = "/next-stage\n".repeat(12);
    let [word, remark] = own;
    let lines =
        format!("\n4\n1\n{word}\n6\n/next-stage\n5\n5\n5\n5\n5\n{to_the_lock}/up\n{remark}\n\n");
    let told = kitchen.fed(&["taste", mark, "--taster", name, "--plain"], &lines);
    assert_eq!(told.code, 0, "{}", told.err);
}

/// A kitchen where Anouk and Ben have locked notes on two bottles.
fn tasted() -> Kitchen {
    let kitchen = Kitchen::new();
    for mark in ["S1", "S2"] {
        tastes(&kitchen, "Anouk", mark, ["kelpstring", "otterglove"]);
        tastes(&kitchen, "Ben", mark, ["tin lid", "wet rope"]);
    }
    kitchen
}

/// The files of the home in which one of these words stands.
fn holding(kitchen: &Kitchen, words: &[&str]) -> Vec<String> {
    let folders = [kitchen.home(), kitchen.home().join("copies")];
    let entries = folders
        .iter()
        .filter_map(|it| fs::read_dir(it).ok())
        .flatten();
    let paths = entries.map(|it| it.expect("it can be listed").path());
    let paths = paths.filter(|it| it.is_file());
    let held = |bytes: &[u8], word: &str| bytes.windows(word.len()).any(|it| it == word.as_bytes());
    paths
        .flat_map(|path| {
            let bytes = fs::read(&path).expect("it can be read");
            let found = words.iter().filter(move |word| held(&bytes, word));
            found.map(move |word| format!("{word} in {}", path.display()))
        })
        .collect()
}

fn exported(kitchen: &Kitchen, name: &str, file: &str) -> Value {
    let file = kitchen.folder().join(file);
    kitchen.done(&["taster", "export", name, &file.to_string_lossy()]);
    let text = fs::read_to_string(file).expect("it was written");
    serde_json::from_str(&text).expect("it is JSON")
}

#[test]
fn a_new_name_is_on_every_report_and_the_old_one_on_none_and_in_no_byte() {
    let kitchen = tasted();
    assert_ne!(holding(&kitchen, &["Anouk"]), Vec::<String>::new());
    let taken = kitchen.run(&["taster", "rename", "Anouk", "BEN"]);
    assert_eq!(taken.code, 1);
    assert!(taken.err.contains("a taster called “BEN” is there already"));
    let told = kitchen.done(&["taster", "rename", "anouk", "Fox"]);
    assert!(told.contains("Anouk is now Fox"), "{told}");
    let versus = kitchen.done(&["compare", "S1", "S2"]);
    assert!(
        versus.contains("Fox") && !versus.contains("Anouk"),
        "{versus}"
    );
    assert_eq!(kitchen.done(&["taster", "list"]), "Fox\nBen\n");
    assert_eq!(holding(&kitchen, &["Anouk", "anouk"]), Vec::<String>::new());
    assert_eq!(kitchen.run(&["taster", "rename", "Anouk", "Owl"]).code, 1);
    assert_eq!(kitchen.run(&["taster", "rename", "Fox", ""]).code, 1);
}

#[test]
fn an_export_holds_what_was_said_and_is_for_the_users_eyes_alone() {
    let kitchen = tasted();
    let all = exported(&kitchen, "Anouk", "anouk.json");
    assert_eq!(all["format"], 1);
    assert_eq!(all["taster"], "Anouk");
    assert_eq!(all["held_back"], Value::Array(Vec::new()));
    let notes = all["notes"].as_array().expect("a list");
    let beers: Vec<&str> = notes.iter().filter_map(|it| it["beer"].as_str()).collect();
    assert_eq!(beers, ["S1", "S2"]);
    assert_eq!(notes[0]["remark"], "otterglove");
    assert_eq!(notes[0]["words"][0]["named"], "own");
    assert_eq!(notes[0]["words"][0]["word"], "kelpstring");
    assert!(!all.to_string().contains("tin lid"), "{all}");
    let file = kitchen.folder().join("anouk.json");
    let mode = fs::metadata(&file)
        .expect("it is there")
        .permissions()
        .mode();
    assert_eq!(mode & 0o777, 0o600);
    let before = fs::read(&file).expect("it can be read");
    let again = kitchen.run(&["taster", "export", "Anouk", &file.to_string_lossy()]);
    assert_eq!(again.code, 1);
    assert!(again.err.contains("it is there already"), "{}", again.err);
    assert_eq!(fs::read(&file).expect("it can be read"), before);
    let gone = kitchen.folder().join("none/anouk.json");
    let nowhere = kitchen.run(&["taster", "export", "Anouk", &gone.to_string_lossy()]);
    assert_eq!(nowhere.code, 1);
}

#[test]
fn the_table_of_an_export_is_read_back_by_the_measure() {
    let kitchen = Kitchen::new();
    tastes(&kitchen, "=1+1", "@S1", ["kelpstring", "otterglove"]);
    let file = kitchen.folder().join("table.csv");
    let file = file.to_string_lossy();
    let told = kitchen.done(&["taster", "export", "=1+1", &file, "--csv"]);
    assert!(told.contains("thirdglass taster measure"), "{told}");
    let table = fs::read_to_string(&*file).expect("it was written");
    let head = "taster,sitting,sample,replicate,date,line,intensity,low,high";
    assert_eq!(table.lines().next(), Some(head));
    let rated = table.lines().count() - 1;
    assert!(rated >= 1, "{table}");
    for line in table.lines().skip(1) {
        assert!(
            line.starts_with("'=1+1,") && line.contains(",'@S1,"),
            "{line}"
        );
    }
    let json = kitchen.done(&["taster", "measure", &file, "--json"]);
    let json: Value = serde_json::from_str(&json).expect("it is JSON");
    assert_eq!(json["ratings"], rated, "{json}");
}

#[test]
fn open_notes_stay_out_of_an_export_and_locked_ones_are_always_in_it() {
    let kitchen = tasted();
    let open = kitchen.fed(
        &["taste", "S3", "--taster", "Anouk", "--plain"],
        "\n4\n1\nwhisperleaf\n6\n",
    );
    assert_eq!(open.code, 0, "{}", open.err);
    // Ben tastes a bottle on which Anouk has locked her notes.
    kitchen.fed(&["taste", "S1", "--taster", "Ben", "--plain"], "\n");
    let all = exported(&kitchen, "Anouk", "a.json");
    assert_eq!(all["notes"].as_array().map(Vec::len), Some(2));
    assert!(!all.to_string().contains("whisperleaf"), "{all}");
    let held = all["held_back"][0].as_str().expect("a sentence");
    assert!(held.contains("“S3”: they are still open"), "{held}");
}

#[test]
fn what_would_tell_those_who_still_taste_and_smell_is_left_out_with_its_reason() {
    // The rows of the storage tests: Ana has locked notes with a second sniff, Bo still tastes the same
    // batch, and Ana has not left her practice, her series and test 1.
    let kitchen = Kitchen::of_fixture(7);
    let all = exported(&kitchen, "Ana", "sealed.json");
    let held = all["held_back"].to_string();
    for reason in [
        "the second sniff of 2026-03-14",
        "what was practised on 2026-03-14: somebody still smells",
        "the codes chosen in test 1",
    ] {
        assert!(held.contains(reason), "{reason}\n{held}");
    }
    assert_eq!(all["notes"][0]["second_sniff"], Value::Array(Vec::new()));
    assert_eq!(all["practices"], Value::Array(Vec::new()));
    assert_eq!(all["notes"][0]["beer"], "Öse 7");
    kitchen.all_leave();
    let all = exported(&kitchen, "Ana", "told.json");
    assert_ne!(all["notes"][0]["second_sniff"], Value::Array(Vec::new()));
    assert_eq!(all["practices"].as_array().map(Vec::len), Some(2));
}

/// Everybody answers a test of seven with the first code of their set; Anouk and Somebody are among them.
fn answered_test(kitchen: &Kitchen) {
    kitchen.done(&[
        "blind",
        "plan",
        "S1",
        "S2",
        "--tasters",
        "7",
        "--seed",
        "20260314",
    ]);
    for name in ["Anouk", "Cleo", "Somebody", "Dot", "Eve", "Finn", "Gil"] {
        let asked = ["blind", "answer", "1", "--taster", name];
        let told = kitchen.done(&asked);
        let first = told.lines().next().expect("a set is told");
        let (_, codes) = first.split_once("right: ").expect("with its codes");
        let code = codes.split(' ').next().expect("there are three");
        let words = if name == "Anouk" {
            "honey, otterglove"
        } else {
            "honey"
        };
        let answer = [
            "--choose", code, "--sure", "sure", "--words", words, "--leave",
        ];
        kitchen.done(&[&asked[..], &answer].concat());
    }
}

#[test]
fn codes_and_what_was_right_in_a_blind_test_are_told_once_it_is_closed() {
    let kitchen = tasted();
    answered_test(&kitchen);
    let all = exported(&kitchen, "Anouk", "open.json");
    let answer = &all["tests"][0]["answers"][0];
    assert_eq!(answer["differences"][1], "otterglove");
    assert!(
        answer["code"].is_null() && answer["right"].is_null(),
        "{answer}"
    );
    let held = all["held_back"][0].as_str().expect("a sentence");
    assert!(
        held.contains("test 1") && held.contains("not closed yet"),
        "{held}"
    );
    kitchen.done(&["blind", "close", "1"]);
    let all = exported(&kitchen, "Anouk", "closed.json");
    let answer = &all["tests"][0]["answers"][0];
    assert!(
        answer["code"].is_u64() && answer["right"].is_boolean(),
        "{answer}"
    );
}

#[test]
fn the_result_of_a_group_stays_as_it_was_with_somebody_in_the_place_of_who_was_forgotten() {
    let kitchen = tasted();
    answered_test(&kitchen);
    kitchen.done(&["blind", "close", "1"]);
    let record = |name: &str| kitchen.done(&["blind", "record", name]);
    let of_somebody = record("Somebody");
    let result = || kitchen.done(&["blind", "result", "1", "--all", "--json"]);
    let before = result();
    kitchen.done(&["taster", "forget", "Anouk", "--yes"]);
    // A live taster is called Somebody at this test, so nobody is called somebody 2. The words that
    // were the person's own are gone, those of the wheel stay.
    let expected = before.replace("Anouk", "somebody 2");
    let without = |text: &str| -> Vec<String> {
        let lines = text.lines().filter(|it| !it.contains("otterglove"));
        lines
            .map(|it| it.trim_end_matches(',').to_owned())
            .collect()
    };
    assert_eq!(without(&result()), without(&expected));
    assert_eq!(record("Somebody"), of_somebody);
    assert_eq!(holding(&kitchen, &HERS), Vec::<String>::new());
    assert_eq!(kitchen.run(&["blind", "record", "somebody 2"]).code, 1);
}

#[test]
fn forgetting_says_first_what_would_go_and_does_it_only_when_told() {
    let kitchen = tasted();
    let file = fs::read(kitchen.file()).expect("it is there");
    let told = kitchen.done(&["taster", "forget", "Anouk"]);
    for part in [
        "2 sets of notes",
        "What would stay:",
        "Nothing was done. To do it, for good: thirdglass taster forget Anouk --yes",
    ] {
        assert!(told.contains(part), "{part}\n{told}");
    }
    assert_eq!(fs::read(kitchen.file()).expect("it is there"), file);
    let of_ben = exported(&kitchen, "Ben", "before.json")["notes"].clone();
    for word in HERS {
        assert_ne!(holding(&kitchen, &[word]), Vec::<String>::new(), "{word}");
    }
    let told = kitchen.done(&["taster", "forget", "Anouk", "--yes"]);
    assert!(told.contains("Anouk is forgotten."), "{told}");
    assert_eq!(holding(&kitchen, &HERS), Vec::<String>::new());
    assert_eq!(kitchen.done(&["taster", "list"]), "Ben\n");
    assert_eq!(exported(&kitchen, "Ben", "after.json")["notes"], of_ben);
    let again = kitchen.run(&["taster", "forget", "Anouk", "--yes"]);
    assert_eq!(again.code, 1);
    assert!(
        again.err.contains("no taster is called “Anouk”"),
        "{}",
        again.err
    );
}

#[test]
fn copies_in_the_home_are_named_and_left_as_they_are() {
    let kitchen = tasted();
    let copy = kitchen.home().join("thirdglass-before-v6-2026.db");
    fs::copy(kitchen.file(), &copy).expect("it can be copied");
    fs::write(kitchen.home().join("old.db"), "torn").expect("it can be written");
    let bytes = fs::read(&copy).expect("it can be read");
    let before = kitchen.done(&["taster", "forget", "Anouk"]);
    let after = kitchen.done(&["taster", "forget", "Anouk", "--yes"]);
    for told in [before, after] {
        let (held, rest) = told
            .split_once("could not be looked into")
            .expect("both are named");
        assert!(held.contains("thirdglass-before-v6-2026.db"), "{told}");
        assert!(rest.contains("old.db"), "{told}");
        assert!(rest.contains("cannot be known here"), "{told}");
    }
    assert_eq!(fs::read(&copy).expect("it can be read"), bytes);
    let told = kitchen.done(&["taster", "rename", "Ben", "Owl"]);
    assert!(told.contains("thirdglass-before-v6-2026.db"), "{told}");
}

#[test]
fn a_forgotten_taster_leaves_the_table_and_those_who_still_taste_are_told_nothing() {
    let kitchen = tasted();
    for name in ["Anouk", "Ben"] {
        kitchen.fed(&["taste", "S1", "--taster", name, "--plain"], "\n");
    }
    let told = kitchen.done(&["taster", "forget", "Anouk", "--yes"]);
    assert!(told.contains("1 of them is still open and ends"), "{told}");
    assert!(
        !told.contains("wet rope") && !told.contains("tin lid"),
        "{told}"
    );
    let sealed = kitchen.run(&["compare", "S1", "S2"]);
    assert_eq!(sealed.code, 1);
    assert!(sealed.err.contains("until Ben locks"), "{}", sealed.err);
}
