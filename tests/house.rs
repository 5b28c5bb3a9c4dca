//! The walls of the house: which room may name which, which crate belongs where, and how long a page may be.

mod rooms;
mod source;

use std::fs;
use std::path::Path;
use std::path::PathBuf;

use rooms::ROOMS;
use rooms::Room;
use source::Import;
use source::Source;
use source::words_of_name;

/// The crate that `main.rs`, the door, names beside every room.
const DOOR_CRATES: &[&str] = &["clap"];

/// Crates any room may name: the form of its errors, and what a letter is.
const EVERYWHERE: &[&str] = &["thiserror", "unicode_segmentation", "unicode_width"];

/// Crates that only tests name.
const IN_TESTS: &[&str] = &[
    "criterion",
    "jsonschema",
    "portable_pty",
    "proptest",
    "tempfile",
    "vt100",
];

/// Most lines of a file, its tests not counted.
const FILE_LINES: usize = 400;

/// Longer files, each with the reason; a test takes away a licence that is no longer needed.
const LONG_FILES: &[(&str, &str)] = &[
    ("src/domain/scales.rs", "one flat catalogue of the scales"),
    ("src/screens/key.rs", "one flat catalogue of the keys"),
];

/// A function stays below this many lines.
const FUNCTION_LINES: usize = 40;

/// Longer functions, each with the reason; a test takes away a licence that is no longer needed.
const LONG_FUNCTIONS: &[(&str, &str, &str)] = &[(
    "src/screens/tasting_screen.rs",
    "do_action",
    "one flat match of the actions",
)];

/// Names that say nothing, in the singular.
const EMPTY_NAMES: &[&str] = &[
    "util", "helper", "manager", "common", "misc", "data", "info",
];

/// What stands at the top, beside what builds leave and names that begin with a dot.
const AT_THE_TOP: &[&str] = &[
    "CHANGELOG.md",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE",
    "README.md",
    "benches",
    "demo-sessions",
    "descriptors",
    "src",
    "target",
    "tests",
];

/// The only file that asks what time it is.
const CLOCK: &str = "src/workflow/clock.rs";

/// How a statement to the store begins, as strings hold it.
const SQL_WORDS: &[&str] = &[
    "SELECT ", "INSERT ", "UPDATE ", "DELETE ", "CREATE ", "ALTER ", "DROP ", "PRAGMA ", "BEGIN ",
];

/// How a program reaches a network with the standard library.
const NETWORK: &[&str] = &["std::net", "TcpStream", "TcpListener", "UdpSocket"];

fn top() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every Rust file below a folder of the project.
fn files(folder: &str) -> Vec<Source> {
    let mut found = Vec::new();
    let mut open = vec![top().join(folder)];
    while let Some(folder) = open.pop() {
        let entries = fs::read_dir(&folder).expect("a folder of the project can be read");
        for entry in entries {
            let path: PathBuf = entry.expect("an entry of it can be read").path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|it| it == "rs") {
                let text = fs::read_to_string(&path).expect("source is UTF-8");
                let from_top = path.strip_prefix(top()).expect("it lies below the top");
                found.push(Source::new(&from_top.to_string_lossy(), &text));
            }
        }
    }
    assert!(!found.is_empty(), "no Rust file below {folder}");
    found.sort_by(|one, other| one.path.cmp(&other.path));
    mark_test_modules(&mut found);
    found
}

/// A file that a `mod.rs` names for tests only is a test from its first line to its last.
fn mark_test_modules(files: &mut [Source]) {
    let mut named = Vec::new();
    for file in files.iter() {
        let folder = file.path.trim_end_matches("mod.rs");
        named.extend(
            file.test_modules()
                .iter()
                .map(|it| format!("{folder}{it}.rs")),
        );
    }
    for file in files.iter_mut().filter(|it| named.contains(&it.path)) {
        file.tested.fill(true);
    }
}

/// The room a file stands in; None for `main.rs` and `lib.rs`.
fn room_of(path: &str) -> Option<&'static Room> {
    let (folder, _) = path.strip_prefix("src/")?.split_once('/')?;
    let room = ROOMS.iter().find(|it| it.name == folder);
    Some(room.unwrap_or_else(|| panic!("{path}: {folder} is no room of the table")))
}

/// Paths that break a wall: an arrow up or sideways, or a crate outside its room.
fn broken_walls(file: &Source) -> Vec<String> {
    let room = room_of(&file.path);
    let mut broken = Vec::new();
    for path in file.paths() {
        let first = path.segments[0].as_str();
        let complaint = if matches!(first, "crate" | "thirdglass") {
            wrong_arrow(room, &path.segments[1])
        } else {
            wrong_crate(room, first, file.tested[path.line - 1])
        };
        if let Some(complaint) = complaint {
            let named = path.segments.join("::");
            broken.push(format!("{}:{}: {named}: {complaint}", file.path, path.line));
        }
    }
    broken
}

fn wrong_arrow(from: Option<&Room>, to: &str) -> Option<String> {
    let from = from?;
    let allowed = to == from.name || from.may_name.contains(&to);
    (!allowed).then(|| format!("{} may not name {to}", from.name))
}

fn wrong_crate(room: Option<&Room>, name: &str, tested: bool) -> Option<String> {
    let owned = ROOMS.iter().any(|it| it.crates.contains(&name));
    if IN_TESTS.contains(&name) {
        return (!tested).then(|| format!("{name} belongs to tests"));
    }
    let here = room.map_or(DOOR_CRATES, |it| it.crates);
    let wrong = owned && !here.contains(&name);
    wrong.then(|| format!("{name} belongs to another room"))
}

/// Imports that are not one name a line.
///
/// A file names what it uses as `use room::Name;`, its own room too; only a `mod.rs` lists several
/// names, of one of its files, to show them, and only a function with one flat match opens the
/// variants of its enum. Tests may begin with all their file sees.
fn broken_imports(file: &Source) -> Vec<String> {
    let mut broken = Vec::new();
    for import in file.imports() {
        let tested = file.tested[import.line - 1];
        let shown = file.path.ends_with("mod.rs") && import.text.starts_with("pub ");
        let complaint = if import.text.contains('{') && !shown && !opens_enum(&import.text) {
            "several names in one import"
        } else if import.text.contains('*') && !tested {
            "a star hides what is used"
        } else if import.text.contains("super::") && !(tested && one_up(&import.text)) {
            "name the room: super hides where a name comes from"
        } else if inside_another_room(&file.path, &import.text) {
            "another room is named as crate::room::Name"
        } else {
            continue;
        };
        let Import { line, text } = import;
        broken.push(format!("{}:{line}: {text}: {complaint}", file.path));
    }
    broken
}

fn opens_enum(import: &str) -> bool {
    import
        .strip_prefix("use ")
        .is_some_and(|it| it.starts_with(char::is_uppercase))
}

fn one_up(import: &str) -> bool {
    import.matches("super").count() == 1
}

fn inside_another_room(path: &str, import: &str) -> bool {
    let Some((_, named)) = import.split_once("use crate::") else {
        return false;
    };
    let room = named.split("::").next().expect("a split has a first part");
    named.matches("::").count() > 1 && !path.starts_with(&format!("src/{room}/"))
}

fn planted(path: &str, text: &str) -> Source {
    Source::new(path, text)
}

#[test]
fn a_planted_arrow_up_or_sideways_is_found_with_its_line() {
    let up = planted("src/domain/a.rs", "\nuse crate::workflow::Home;");
    assert_eq!(
        broken_walls(&up),
        ["src/domain/a.rs:2: crate::workflow::Home: domain may not name workflow"]
    );
    let sideways = planted(
        "src/storage/a.rs",
        "fn a() { crate::formats::read_recipe() }",
    );
    assert_eq!(broken_walls(&sideways).len(), 1);
    let strangers = planted("src/tui/a.rs", "use crate::cli::Outcome;");
    assert_eq!(broken_walls(&strangers).len(), 1);
    let down = planted("src/workflow/a.rs", "use crate::domain::Wheel;");
    assert_eq!(broken_walls(&down).len(), 0);
}

#[test]
fn a_planted_crate_outside_its_room_is_found() {
    for (path, text) in [
        ("src/screens/a.rs", "use cursive::View;"),
        (
            "src/workflow/a.rs",
            "fn a() -> rusqlite::Result<()> { b() }",
        ),
        ("src/domain/a.rs", "#[derive(serde::Deserialize)] struct A;"),
        ("src/brewing/a.rs", "use proptest::prelude::*;"),
        ("src/main.rs", "use rusqlite::Connection;"),
    ] {
        assert_eq!(
            broken_walls(&planted(path, text)).len(),
            1,
            "{path}: {text}"
        );
    }
    let tested = "#[cfg(test)]\nmod tests {\n    use proptest::prelude::*;\n}";
    assert_eq!(broken_walls(&planted("src/brewing/a.rs", tested)).len(), 0);
}

#[test]
fn a_planted_import_of_more_than_one_name_is_found() {
    for text in [
        "use std::{fs, io};",
        "use crate::domain::*;",
        "use super::Wheel;",
        "use crate::brewing::gravity::Plato;",
        "pub use crate::domain::{Wheel, Shelf};",
    ] {
        let file = planted("src/workflow/a.rs", text);
        assert_eq!(broken_imports(&file).len(), 1, "{text}");
    }
    let shown = planted(
        "src/workflow/mod.rs",
        "pub use batches::{BatchPage, BatchRow};",
    );
    assert_eq!(broken_imports(&shown).len(), 0);
}

#[test]
fn planted_sql_and_sockets_are_found_but_not_in_comments() {
    let sql = planted("src/cli/a.rs", "// SELECT 1\nlet a = \"SELECT 1\";");
    assert_eq!(lines_with(&sql, &sql.strings, SQL_WORDS).len(), 1);
    let socket = planted("src/cli/a.rs", "use std::net::IpAddr;");
    assert_eq!(lines_with(&socket, &socket.code, NETWORK).len(), 1);
    assert!(says_nothing("utils") && says_nothing("data") && !says_nothing("date"));
}

fn none(broken: &[String]) {
    assert!(broken.is_empty(), "\n{}\n", broken.join("\n"));
}

fn in_all(files: &[Source], broken: impl Fn(&Source) -> Vec<String>) {
    none(&files.iter().flat_map(broken).collect::<Vec<String>>());
}

#[test]
fn arrows_point_down_and_crates_stay_in_their_room() {
    in_all(&files("src"), broken_walls);
}

#[test]
fn an_import_names_one_thing() {
    in_all(&files("src"), broken_imports);
}

#[test]
fn the_table_itself_points_down_and_has_a_row_for_every_folder() {
    for room in ROOMS {
        for named in room.may_name {
            let named = ROOMS.iter().find(|it| it.name == *named);
            let named = named.expect("the table only names its own rooms");
            assert!(
                named.floor < room.floor,
                "{} names {}, which is not below it",
                room.name,
                named.name
            );
        }
    }
    for file in files("src") {
        room_of(&file.path);
    }
}

#[test]
fn a_crate_is_on_the_list_of_its_room_and_used_there() {
    let manifest = fs::read_to_string(top().join("Cargo.toml")).expect("the manifest is there");
    let rust = files("src");
    let mut broken = Vec::new();
    for name in dependencies(&manifest, "[dependencies]") {
        let placed = EVERYWHERE.contains(&name.as_str())
            || ROOMS.iter().any(|it| it.crates.contains(&name.as_str()));
        let used = rust
            .iter()
            .any(|file| file.paths().iter().any(|it| it.segments[0] == name));
        if !placed || !used {
            broken.push(format!("{name}: has a room: {placed}, is used: {used}"));
        }
    }
    for name in dependencies(&manifest, "[dev-dependencies]") {
        if !IN_TESTS.contains(&name.as_str()) {
            broken.push(format!("{name}: not on the list of crates for tests"));
        }
    }
    none(&broken);
}

/// The crates of one table of the manifest, as Rust names them.
fn dependencies(manifest: &str, table: &str) -> Vec<String> {
    let lines = manifest.lines().skip_while(|it| *it != table).skip(1);
    lines
        .take_while(|it| !it.starts_with('['))
        .filter_map(|it| it.split_once(" = "))
        .map(|(name, _)| name.replace('-', "_"))
        .collect()
}

#[test]
fn every_file_opens_with_a_sentence() {
    for folder in ["src", "tests"] {
        in_all(&files(folder), |file| {
            let opening: Vec<&str> = file
                .lines
                .iter()
                .map_while(|it| it.strip_prefix("//! "))
                .collect();
            let told = opening.last().is_some_and(|it| it.ends_with(['.', '?']));
            let complaint = format!("{}:1: no //! sentence", file.path);
            if told { vec![] } else { vec![complaint] }
        });
    }
}

#[test]
fn every_room_opens_with_its_sentence() {
    in_all(&files("src"), |file| {
        let Some(room) = room_of(&file.path).filter(|_| file.path.ends_with("/mod.rs")) else {
            return vec![];
        };
        if file.lines[0] == format!("//! {}", room.sentence) {
            return vec![];
        }
        vec![format!(
            "{}:1: opens not with: {}",
            file.path, room.sentence
        )]
    });
}

#[test]
fn a_file_is_short_enough_to_be_read() {
    in_all(&files("src"), |file| {
        let licensed = LONG_FILES.iter().any(|(path, _)| *path == file.path);
        if file.length() <= FILE_LINES || licensed {
            return vec![];
        }
        vec![format!("{}: {} lines", file.path, file.length())]
    });
}

#[test]
fn a_function_is_short_enough_to_be_seen() {
    in_all(&files("src"), |file| {
        file.functions()
            .iter()
            .filter(|it| it.length >= FUNCTION_LINES && !long_function(file, &it.name))
            .map(|it| {
                format!(
                    "{}:{}: {}: {} lines",
                    file.path, it.line, it.name, it.length
                )
            })
            .collect()
    });
}

fn long_function(file: &Source, name: &str) -> bool {
    LONG_FUNCTIONS
        .iter()
        .any(|(path, function, _)| *path == file.path && *function == name)
}

#[test]
fn no_licence_is_older_than_its_need() {
    let rust = files("src");
    for (path, _) in LONG_FILES {
        let long = |it: &&Source| it.path == *path && it.length() > FILE_LINES;
        assert!(rust.iter().any(|it| long(&it)), "{path} is short by now");
    }
    for (path, name, _) in LONG_FUNCTIONS {
        let long = rust.iter().filter(|it| it.path == *path).any(|file| {
            file.functions()
                .iter()
                .any(|it| it.name == *name && it.length >= FUNCTION_LINES)
        });
        assert!(long, "{name} in {path} is short by now");
    }
}

#[test]
fn no_name_says_nothing() {
    for folder in ["src", "tests"] {
        in_all(&files(folder), |file| {
            let empty = |(_, name): &&(usize, String)| {
                words_of_name(name).iter().any(|it| says_nothing(it))
            };
            file.declared()
                .iter()
                .filter(empty)
                .map(|(line, name)| format!("{}:{line}: {name}", file.path))
                .collect()
        });
    }
}

fn says_nothing(word: &str) -> bool {
    EMPTY_NAMES.contains(&word.strip_suffix('s').unwrap_or(word)) || EMPTY_NAMES.contains(&word)
}

/// Lines of a file outside tests that hold one of `marks`.
fn lines_with(file: &Source, lines: &[String], marks: &[&str]) -> Vec<String> {
    let mut found = Vec::new();
    for (index, line) in lines.iter().enumerate() {
        if !file.tested[index] && marks.iter().any(|it| line.contains(it)) {
            found.push(format!("{}:{}: {}", file.path, index + 1, line.trim()));
        }
    }
    found
}

#[test]
fn nothing_was_left_lying_at_the_top() {
    let entries = fs::read_dir(top()).expect("the top can be listed");
    let names = entries.map(|it| it.expect("it can be listed").file_name());
    let names = names.map(|it| it.to_string_lossy().into_owned());
    let strange = names.filter(|it| !it.starts_with('.') && !AT_THE_TOP.contains(&it.as_str()));
    none(&strange.collect::<Vec<_>>());
}

#[test]
fn only_the_clock_knows_what_time_it_is() {
    let asks = ["Utc::now", "Local::now", "SystemTime::now"];
    in_all(&files("src"), |file| {
        if file.path == CLOCK {
            return vec![];
        }
        lines_with(file, &file.code, &asks)
    });
}

#[test]
fn only_storage_speaks_sql() {
    in_all(&files("src"), |file| {
        if room_of(&file.path).is_some_and(|it| it.name == "storage") {
            return vec![];
        }
        lines_with(file, &file.strings, SQL_WORDS)
    });
}

#[test]
fn no_room_speaks_to_a_network() {
    in_all(&files("src"), |file| lines_with(file, &file.code, NETWORK));
}
