//! Hostile text, broken files and awkward surroundings: nothing moves the cursor, and every refusal is a sentence.

use std::ffi::OsStr;
use std::fmt::Write as _;
use std::fs;
use std::io::BufRead;
use std::io::BufReader;
use std::os::unix::fs::PermissionsExt;

use crate::kitchen::Kitchen;
use crate::kitchen::Told;
use thirdglass::formats::EXAMPLE;

/// Clears the screen, turns the reading, colours by the one-byte introducer, rings.
const HOSTILE: &str = "A\x1b[2J\u{202e}B\u{9b}31mC\x07";

/// The same as TOML writes it in a text.
const WRITTEN: &str = "A\\u001b[2J\\u202eB\\u009b31mC\\u0007";

/// Characters that move a cursor or turn the reading: C0 and C1 but the line break (ECMA-48), and
/// the characters of Unicode's property `Bidi_Control`.
fn is_dangerous(sign: char) -> bool {
    let bidi = matches!(sign, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    (sign.is_control() && sign != '\n') || bidi
}

fn assert_harmless(what: &str, told: &Told) {
    for text in [&told.out, &told.err] {
        assert!(!text.chars().any(is_dangerous), "{what}: {text:?}");
    }
}

/// It could not be done, and a sentence of bearable length says so.
fn assert_refused(what: &str, told: &Told) {
    assert_eq!(told.code, 1, "{what}: {told:?}");
    assert_harmless(what, told);
    assert!(told.err.starts_with("thirdglass: "), "{what}: {told:?}");
    assert!(told.err.len() < 100_000, "{what}: {} bytes", told.err.len());
}

#[test]
fn hostile_text_in_arguments_is_refused_and_repeated_without_harm() {
    let kitchen = Kitchen::new();
    let recipe = kitchen.write("r.toml", EXAMPLE);
    kitchen.done(&["batch", "add", &recipe, "--mark", "T1"]);
    let refused: [&[&str]; 13] = [
        &["taster", "add", HOSTILE],
        &["taste", HOSTILE, "--taster", "Ana", "--plain"],
        &["taste", "T1", "--taster", HOSTILE, "--plain"],
        &["batch", "add", &recipe, "--mark", HOSTILE],
        &["batch", "add", HOSTILE],
        &["batch", "show", HOSTILE],
        &["batch", "log", "T1", "note", HOSTILE],
        &["batch", "log", "T1", HOSTILE, "1"],
        &["batch", "log", "T1", "original-gravity", HOSTILE],
        &["compare", HOSTILE],
        &["recipe", "check", HOSTILE],
        &["wheel", "show", HOSTILE],
        &["--home", "/dev/null/\x1b[2J", "batch", "list"],
    ];
    for command in refused {
        assert_refused(&format!("{command:?}"), &kitchen.run(command));
    }
    for misuse in [&[HOSTILE] as &[&str], &["wheel", HOSTILE], &["--x\x1b[2J"]] {
        let told = kitchen.run(misuse);
        assert_eq!(told.code, 2, "{told:?}");
        assert_harmless(&format!("{misuse:?}"), &told);
    }
}

#[test]
fn hostile_text_in_files_is_refused_with_its_place() {
    let kitchen = Kitchen::new();
    let replaced: [(&str, &str); 6] = [
        ("\"Harbour dark\"", "name"),
        ("\"less roast\"", "reason"),
        ("\"Saaz, harvest two years ago\"", "packet"),
        ("\"orange peel\"", "word"),
        ("\"Neighbour's hop\"", "hop"),
        ("[mash]", "key"),
    ];
    for (index, (old, what)) in replaced.into_iter().enumerate() {
        assert!(EXAMPLE.contains(old), "{old}");
        let new = if old == "[mash]" {
            format!("[\"{WRITTEN}\"]\n[mash]")
        } else {
            format!("\"{WRITTEN}\"")
        };
        let file = kitchen.write(&format!("{index}.toml"), EXAMPLE.replace(old, &new));
        let told = kitchen.run(&["recipe", "check", &file]);
        assert_refused(what, &told);
        assert!(told.err.contains(&format!("{index}.toml:")), "{told:?}");
    }
    let raw = kitchen.write("raw.toml", EXAMPLE.replace("Harbour", HOSTILE));
    assert_refused("raw", &kitchen.run(&["recipe", "check", &raw]));
    let named = kitchen.write("n\x1b[2J\u{202e}.toml", "[[[");
    assert_refused("file name", &kitchen.run(&["recipe", "check", &named]));
}

#[test]
fn hostile_words_and_ingredients_of_the_user_are_refused_by_every_command() {
    let word = |text: &str| words("own", 1, 3).replace("own word 0-1", text);
    let hop = format!("[[hop]]\nid = \"own-hop\"\nname = \"{WRITTEN}\"\n");
    for (file, text) in [
        ("home/descriptors/own.toml", word(WRITTEN)),
        ("home/descriptors/own.toml", word(HOSTILE)),
        ("home/descriptors/ingredients/hops.toml", hop),
    ] {
        let kitchen = Kitchen::new();
        kitchen.write(file, text);
        for command in [&["wheel", "check"] as &[&str], &["batch", "list"]] {
            let told = kitchen.run(command);
            assert_refused(file, &told);
            assert!(told.err.contains("descriptors/"), "{told:?}");
        }
    }
}

#[test]
fn hostile_text_typed_line_by_line_appears_nowhere() {
    let kitchen = Kitchen::new();
    let lines = format!("\n4\n1\n{HOSTILE}\n6\n/next-stage\n/up\n{HOSTILE}\n");
    let told = kitchen.fed(&["taste", "T1", "--taster", "Ana", "--plain"], &lines);
    assert_eq!(told.code, 0, "{told:?}");
    assert_harmless("the tasting", &told);
    let names = format!("{HOSTILE}\n/back\n/quit\n");
    assert_harmless("names", &kitchen.fed(&["taste", "--plain"], &names));
}

#[test]
fn hostile_text_pasted_into_the_app_is_drawn_without_harm() {
    let kitchen = Kitchen::new();
    let mut pty = kitchen.launch(&["taste"]).start();
    pty.wait_for_picture("Who is tasting?");
    pty.forget_raw();
    pty.send(format!("\x1b[200~{HOSTILE}\x1b[201~"));
    pty.wait_for_picture("> A[2J");
    let raw = String::from_utf8_lossy(&pty.raw()).into_owned();
    // The program's own title of the window ends with a bell.
    let raw = raw.replace("\x1b]2;thirdglass\x07", "");
    assert!(
        !raw.contains("\x1b[2J") && !raw.contains('\u{9b}'),
        "{raw:?}"
    );
    assert!(
        !raw.contains('\u{202e}') && !raw.contains('\x07'),
        "{raw:?}"
    );
    pty.send("\r");
    pty.wait_for_picture("invisible or control character");
}

#[test]
fn names_of_a_megabyte_are_refused_in_a_short_sentence() {
    let kitchen = Kitchen::new();
    let megabyte = "a".repeat(1_000_000);
    let recipe = kitchen.write("r.toml", EXAMPLE.replace("Harbour dark", &megabyte));
    let told = kitchen.run(&["recipe", "check", &recipe]);
    assert_refused("a recipe's name", &told);
    assert!(told.err.len() < 1_000, "{} bytes", told.err.len());
    // Linux takes no argument of more than 128 KiB (MAX_ARG_STRLEN).
    let long = &megabyte[..130_000];
    for command in [
        &["taster", "add", long] as &[&str],
        &["batch", "show", long],
        &["compare", long],
        &["wheel", "show", long],
    ] {
        let told = kitchen.run(command);
        assert_refused(command[0], &told);
        assert!(told.err.len() < 10_000, "{} bytes", told.err.len());
    }
    let typed = kitchen.fed(&["taste", "--plain"], &format!("{megabyte}\n"));
    assert!(typed.out.contains("longer than 80"), "{}", typed.out.len());
}

#[test]
fn a_file_of_any_kind_that_is_no_recipe_gives_a_sentence() {
    let kitchen = Kitchen::new();
    let deep = format!("a = {}", "[".repeat(100_000));
    let files: [(&str, Vec<u8>); 9] = [
        ("empty", Vec::new()),
        ("open", b"[[[".to_vec()),
        ("zeros", vec![0; 100]),
        ("no-utf8", vec![0xff, 0xfe, 0x41]),
        ("endless", vec![b'x'; 5_000_000]),
        ("deep", deep.into_bytes()),
        ("twice", EXAMPLE.repeat(2).into_bytes()),
        ("cut", EXAMPLE.as_bytes()[..700].to_vec()),
        (
            "number",
            b"name = 1e999\nversion = -0\nvolume = nan".to_vec(),
        ),
    ];
    for (name, bytes) in files {
        let file = kitchen.write(name, bytes);
        for command in [
            &["recipe", "check", &file] as &[&str],
            &["recipe", "predict", &file],
            &["batch", "add", &file],
        ] {
            assert_refused(name, &kitchen.run(command));
        }
    }
    let folder = kitchen.home();
    let folder = folder.to_str().expect("the path is text");
    assert_refused("a folder", &kitchen.run(&["recipe", "check", folder]));
    assert_eq!(
        kitchen
            .done(&["taster", "list", "--json"])
            .matches('"')
            .count(),
        4
    );
}

#[test]
fn a_file_in_the_place_of_the_database_is_told_and_left_alone() {
    for bytes in [b"not a database at all".repeat(100), vec![0; 5_000]] {
        let kitchen = Kitchen::new();
        kitchen.write("home/thirdglass.db", &bytes);
        assert_refused("the file", &kitchen.run(&["batch", "list"]));
        assert_eq!(fs::read(kitchen.file()).unwrap(), bytes);
    }
}

#[test]
fn wrong_use_is_told_with_code_2() {
    let kitchen = Kitchen::new();
    for command in [
        &["batch"] as &[&str],
        &["batch", "show"],
        &["nothing"],
        &["--home"],
        &["compare", "T1", "--nothing"],
        &["recipe", "check"],
        &["--demo", "--home", "x", "batch", "list"],
    ] {
        let told = kitchen.run(command);
        assert_eq!(told.code, 2, "{command:?}: {told:?}");
        assert!(
            told.err.contains("Usage") || told.err.contains("--help"),
            "{told:?}"
        );
        assert!(told.out.is_empty(), "{told:?}");
    }
}

#[test]
fn a_reader_that_goes_away_is_no_error() {
    let kitchen = Kitchen::new();
    for command in [
        &["wheel", "list"] as &[&str],
        &["wheel", "list", "--json"],
        &["recipe", "check", "--example"],
    ] {
        let mut child = kitchen.command(command).spawn().unwrap();
        let mut output = BufReader::new(child.stdout.take().unwrap());
        let mut first = String::new();
        output.read_line(&mut first).unwrap();
        drop(output);
        let ended = child.wait_with_output().unwrap();
        assert_eq!(ended.status.code(), Some(0), "{command:?}");
        assert!(ended.stderr.is_empty() && !first.is_empty(), "{command:?}");
    }
}

#[test]
fn a_full_disk_under_the_output_is_told() {
    let kitchen = Kitchen::new();
    let full = fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let mut command = kitchen.command(&["wheel", "list"]);
    let ended = command.stdout(full).output().unwrap();
    assert_eq!(ended.status.code(), Some(1));
    assert!(ended.stderr.starts_with(b"thirdglass: "));
}

#[test]
fn what_goes_into_a_pipe_has_neither_colour_nor_escapes() {
    let kitchen = Kitchen::new();
    let recipe = kitchen.write("r.toml", EXAMPLE);
    kitchen.done(&["batch", "add", &recipe, "--mark", "T1"]);
    for command in [
        &["--help"] as &[&str],
        &["batch", "--help"],
        &["wheel", "list"],
        &["wheel", "show", "honey"],
        &["batch", "show", "T1"],
        &["batch", "list"],
        &["recipe", "predict", &recipe],
        &["recipe", "check", "--example"],
        &["nothing"],
    ] {
        let mut command = kitchen.command(command);
        // Whatever asks for colour: a pipe gets none.
        let ended = command.env("CLICOLOR", "1").output().unwrap();
        let said = [ended.stdout, ended.stderr].concat();
        assert!(!said.contains(&0x1b) && !said.is_empty(), "{command:?}");
    }
}

#[test]
fn a_home_that_cannot_be_used_is_told_with_what_to_do() {
    let kitchen = Kitchen::new();
    let file = kitchen.write("file", "");
    // Not even the superuser makes a folder in these two.
    for home in [file.as_str(), "/proc/thirdglass", "/dev/null/home"] {
        let told = kitchen.run(&["--home", home, "batch", "list"]);
        assert_refused(home, &told);
        assert!(told.err.contains("--home DIR"), "{told:?}");
    }
    let locked = kitchen.folder().join("locked");
    fs::create_dir(&locked).unwrap();
    fs::set_permissions(&locked, fs::Permissions::from_mode(0o500)).unwrap();
    // The superuser may write there all the same; then there is nothing to refuse.
    if fs::write(locked.join("probe"), "").is_err() {
        let home = locked.to_str().expect("the path is text");
        assert_refused(home, &kitchen.run(&["--home", home, "batch", "list"]));
    }
    let mut command = kitchen.command(&["batch", "list"]);
    let nowhere = command.env_remove("THIRDGLASS_HOME").env_remove("HOME");
    let ended = nowhere.output().unwrap();
    assert_eq!(ended.status.code(), Some(1));
    let said = String::from_utf8(ended.stderr).unwrap();
    assert!(
        said.contains("HOME") && said.contains("--home DIR"),
        "{said}"
    );
}

#[test]
fn arguments_that_are_no_text_are_wrong_use() {
    use std::os::unix::ffi::OsStrExt;
    let kitchen = Kitchen::new();
    let odd = [
        OsStr::new("batch"),
        OsStr::new("show"),
        OsStr::from_bytes(b"\xff\xfe"),
    ];
    let ended = kitchen.command(&odd).output().unwrap();
    assert_eq!(ended.status.code(), Some(2));
}

/// A place of the user's own with so many shelves of ten words.
fn words(place: &str, shelves: usize, on_each: usize) -> String {
    let mut text = format!("[place]\nid = \"{place}\"\nname = \"{place}\"\nmet = \"In a test.\"\n");
    for shelf in 0..shelves {
        write!(
            text,
            "[[shelf]]\nid = \"{place}-{shelf}\"\nname = \"Shelf {shelf} in {place}\"\nmet = \"In a test.\"\n"
        )
        .expect("a text takes more");
    }
    for (shelf, word) in (0..shelves).flat_map(|shelf| (0..on_each).map(move |word| (shelf, word)))
    {
        write!(
            text,
            "[[descriptor]]\nid = \"{place}-{shelf}-{word}\"\nshelf = \"{place}-{shelf}\"\n\
             word = \"{place} word {shelf}-{word}\"\ndefinition = \"Invented.\"\nstages = [\"aroma\"]\n\
             [[descriptor.look_alike]]\nid = \"hay\"\ntell = \"Hay is sweeter.\"\n\
             [descriptor.no_jar]\nwhy = \"It was invented.\"\ninstead = \"Think of it.\"\n"
        )
        .expect("a text takes more");
    }
    text
}

#[test]
fn ten_thousand_words_of_the_user_are_opened_checked_listed_and_found() {
    let kitchen = Kitchen::new();
    let counted = |text: &str| -> Vec<usize> {
        text.split(|sign: char| !sign.is_ascii_digit())
            .filter_map(|number| number.parse().ok())
            .collect()
    };
    let before = counted(&kitchen.done(&["wheel", "check"]));
    for place in 0..10 {
        let place = format!("own{place}");
        let file = format!("home/descriptors/{place}.toml");
        kitchen.write(&file, words(&place, 100, 10));
    }
    let after = counted(&kitchen.done(&["wheel", "check"]));
    // 10 places of 100 shelves of 10 words.
    assert_eq!(
        after,
        [before[0] + 10, before[1] + 1_000, before[2] + 10_000]
    );
    let found = kitchen.done(&["wheel", "show", "own7 word 63-4"]);
    assert!(found.starts_with("own7 word 63-4 "), "{found}");
    let listed = kitchen.done(&["wheel", "list"]);
    assert!(listed.contains("own9 word 99-9"));
    let mut pty = kitchen.launch(&["taste", "T1", "--taster", "Ana"]).start();
    pty.wait_for_picture("Ready?");
    for (key, text) in [
        ("\r", "beforehand"),
        ("1", "nose today"),
        ("1", "quick sniff"),
    ] {
        pty.send(key);
        pty.wait_for_picture(text);
    }
    pty.send("own");
    pty.wait_for_picture("own0 word 0-0");
}
