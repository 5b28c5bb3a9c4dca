//! A whole home in one file: the same home gives the same bytes, comes back to the last answer, and no archive does harm.

// A test stops at the first surprise.
#![allow(clippy::unwrap_used)]

#[path = "../kitchen/mod.rs"]
mod kitchen;
#[path = "../pty/mod.rs"]
mod pty;

use std::collections::BTreeMap;
use std::fs;
use std::io::Cursor;
use std::io::Read;
use std::io::Write;
use std::path::Path;
use std::path::PathBuf;
use std::sync::OnceLock;

use kitchen::Kitchen;
use proptest::prelude::*;
use rusqlite::Connection;
use serde_json::Value;
use thirdglass::domain::Moment;
use thirdglass::domain::NotesId;
use thirdglass::domain::PhotographKind;
use thirdglass::domain::RemovedKind;
use thirdglass::statistics::Dice;
use thirdglass::storage::OpenedArchive;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;
use thirdglass::workflow::Removable;
use thirdglass::workflow::Sealed;
use thirdglass::workflow::local_day;
use zip::CompressionMethod;
use zip::DateTime;
use zip::ZipArchive;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// The files of an archive in their order.
type Files = Vec<(String, Vec<u8>)>;

fn open(folder: &Path) -> Home {
    Home::open(folder, Clock::system(), Dice::from_seed(5)).unwrap()
}

/// A home with the rows of the storage tests.
fn home_of_fixture(schema: u32) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let fixture = format!(
        "{}/tests/fixtures/schema-{schema}.db",
        env!("CARGO_MANIFEST_DIR")
    );
    fs::copy(fixture, folder.path().join("thirdglass.db")).unwrap();
    folder
}

/// A JPEG of one colour.
fn picture(folder: &Path) -> PathBuf {
    let file = folder.join("picture.png");
    let image = image::RgbImage::from_pixel(40, 30, image::Rgb([180, 90, 20]));
    image.save(&file).unwrap();
    file
}

/// A home with the rows of the storage tests, words and a larder of its own, and true pictures.
fn full_home() -> tempfile::TempDir {
    let folder = home_of_fixture(7);
    let words = folder.path().join("descriptors");
    fs::create_dir(&words).unwrap();
    fs::write(words.join("own words.toml"), own_words()).unwrap();
    fs::write(folder.path().join("larder.toml"), "# Nothing yet.\n").unwrap();
    let file = picture(folder.path());
    let mut home = open(folder.path());
    home.add_photograph("Öse 7", &file, PhotographKind::Label, None)
        .unwrap();
    home.add_photograph("Öse 7", &file, PhotographKind::Sheet, Some("Ana"))
        .unwrap();
    folder
}

/// A place with three shelves of three words each that are on no wheel but this one.
fn own_words() -> String {
    let place = "[place]\nid = \"trial-yard\"\nname = \"Trial yard\"\nmet = \"In a test.\"\n";
    let shelves = ["lamps", "gates", "tiles"];
    let shelf = |it: &&str| {
        format!("[[shelf]]\nid = \"trial-{it}\"\nname = \"Trial {it}\"\nmet = \"In a test.\"\n")
    };
    let word = |(shelf, word): (&&str, u8)| {
        format!(
            "[[descriptor]]\nid = \"trial-{shelf}-{word}\"\nshelf = \"trial-{shelf}\"\n\
             word = \"trial {shelf} {word}\"\ndefinition = \"Invented.\"\nstages = [\"aroma\"]\n\
             [[descriptor.look_alike]]\nid = \"hay\"\ntell = \"Hay is sweeter.\"\n\
             [descriptor.no_jar]\nwhy = \"It was invented.\"\ninstead = \"Think of it.\"\n"
        )
    };
    let words = shelves.iter().flat_map(|it| (1..=3).map(move |n| (it, n)));
    let parts = shelves.iter().map(shelf).chain(words.map(word));
    std::iter::once(place.to_owned()).chain(parts).collect()
}

fn exported(home: &Path) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("all.zip");
    open(home).write_archive(&file, Sealed::Too).unwrap();
    fs::read(file).unwrap()
}

fn files_of(archive: &[u8]) -> Files {
    let mut zip = ZipArchive::new(Cursor::new(archive)).unwrap();
    let mut files = Vec::new();
    for index in 0..zip.len() {
        let mut file = zip.by_index(index).unwrap();
        let mut bytes = Vec::new();
        file.read_to_end(&mut bytes).unwrap();
        files.push((file.name().unwrap().into_owned(), bytes));
    }
    files
}

fn packed(files: &Files) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            .last_modified_time(DateTime::default());
        zip.start_file(name.as_str(), options).unwrap();
        zip.write_all(bytes).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

/// Reads an archive into a new home; gives the home or the refusal.
fn imported(archive: &[u8]) -> Result<tempfile::TempDir, String> {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("all.zip");
    fs::write(&file, archive).unwrap();
    let home = tempfile::tempdir().unwrap();
    let read = open(home.path()).read_archive(&file);
    if let Err(refused) = read {
        // Nothing half: neither a row nor a file is there, and it can be tried again.
        assert_eq!(exported(home.path()), of_nothing());
        return Err(refused.to_string());
    }
    Ok(home)
}

/// The archive of a home in which nothing was done.
fn of_nothing() -> &'static [u8] {
    static NOTHING: OnceLock<Vec<u8>> = OnceLock::new();
    NOTHING.get_or_init(|| exported(tempfile::tempdir().unwrap().path()))
}

fn schema_of(home: &Path) -> Vec<(String, Option<String>)> {
    let file = Connection::open(home.join("thirdglass.db")).unwrap();
    let sql = "SELECT name, sql FROM sqlite_schema ORDER BY name";
    let mut schema = file.prepare(sql).unwrap();
    let rows = schema.query_map([], |row| Ok((row.get(0)?, row.get(1)?)));
    rows.unwrap().collect::<Result<_, _>>().unwrap()
}

#[test]
fn a_home_of_rows_of_every_kind_comes_back_byte_for_byte() {
    let first = full_home();
    let archive = exported(first.path());
    assert_eq!(archive, exported(first.path()));
    let second = imported(&archive).unwrap();
    let again = exported(second.path());
    for (one, other) in files_of(&archive).iter().zip(files_of(&again)) {
        assert_eq!(
            String::from_utf8_lossy(&one.1),
            String::from_utf8_lossy(&other.1),
            "{}",
            one.0
        );
    }
    assert_eq!(archive, again);
    // What keeps locked notes as they are is there again.
    assert_eq!(schema_of(first.path()), schema_of(second.path()));
    let file = Connection::open(second.path().join("thirdglass.db")).unwrap();
    let change = "UPDATE rating SET value = 9 WHERE notes = 'notes-1'";
    assert!(file.execute(change, []).is_err());
    assert!(
        open(second.path())
            .wheel()
            .descriptors()
            .iter()
            .any(|it| it.id.as_str() == "trial-lamps-1")
    );
    let photographs = open(second.path()).photographs_of("Öse 7");
    // Bo still tastes that beer.
    assert!(photographs.is_err());
}

/// Everything in a home that can be removed.
fn removables(home: &Path) -> Vec<Removable> {
    let file = Connection::open(home.join("thirdglass.db")).unwrap();
    let texts = |sql: &str| -> Vec<[String; 2]> {
        let mut statement = file.prepare(sql).unwrap();
        let rows = statement.query_map([], |row| Ok([row.get(0)?, row.get(1)?]));
        rows.unwrap().collect::<Result<_, _>>().unwrap()
    };
    let number = |it: &[String; 2]| it[0].parse().unwrap();
    let day = |it: &str| local_day(Moment::parse(it).unwrap());
    let mut all = Vec::new();
    let mut add = |sql: &str, make: &dyn Fn(&[String; 2]) -> Removable| {
        all.extend(texts(sql).iter().map(make));
    };
    add("SELECT cap_mark, '' FROM batch", &|it| {
        Removable::Batch(it[0].clone())
    });
    add("SELECT cap_mark, '' FROM beer WHERE batch IS NULL", &|it| {
        Removable::Beer(it[0].clone())
    });
    add("SELECT name, version FROM recipe_version", &|it| {
        Removable::Recipe {
            name: it[0].clone(),
            version: it[1].clone(),
        }
    });
    add("SELECT id, '' FROM notes", &|it| {
        Removable::Notes(NotesId::new(it[0].clone()))
    });
    add("SELECT CAST(number AS TEXT), '' FROM test", &|it| {
        Removable::Test(number(it))
    });
    add("SELECT CAST(number AS TEXT), '' FROM panel", &|it| {
        Removable::Panel(number(it))
    });
    add(
        "SELECT taster.name, practice.made_at FROM practice JOIN seat ON seat.sitting = practice.sitting
         JOIN taster ON taster.id = seat.taster",
        &|it| Removable::Practice { taster: it[0].clone(), day: day(&it[1]) },
    );
    add("SELECT name, '' FROM course", &|it| {
        Removable::Course(it[0].clone())
    });
    add("SELECT CAST(number AS TEXT), '' FROM import", &|it| {
        Removable::Import(number(it))
    });
    add(
        "SELECT CAST(number AS TEXT), cap_mark FROM photograph JOIN beer ON beer.id = photograph.beer
         WHERE photograph.removed_at IS NULL",
        &|it| Removable::Photograph { mark: it[1].clone(), number: number(it) },
    );
    all
}

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

#[test]
fn a_look_through_finds_what_is_damaged_orphaned_or_not_what_was_kept() {
    let home = full_home();
    let damage = |sql: &str| {
        let file = Connection::open(home.path().join("thirdglass.db")).unwrap();
        file.execute_batch(
            "PRAGMA foreign_keys = OFF; DROP TRIGGER IF EXISTS removed_photograph_stays;",
        )
        .unwrap_or_default();
        file.execute_batch(sql).unwrap();
    };
    let problems = || open(home.path()).check().unwrap().problems;
    // The fixture's own photographs and documents are no true ones.
    let before = problems();
    damage("UPDATE batch_entry SET batch = 'gone' WHERE written = 1");
    let found = problems();
    let orphans: Vec<&String> = found.iter().filter(|it| !before.contains(it)).collect();
    assert!(
        orphans[0].contains("a row of batch_entry points at a row of batch that is not there"),
        "{found:?}"
    );
    assert!(
        orphans[0].contains("thirdglass home restore FILE"),
        "{found:?}"
    );
    damage("UPDATE batch_entry SET batch = 'batch-1' WHERE written = 1");
    assert_eq!(problems(), before);
    damage("UPDATE photograph SET bytes = x'00' WHERE number = 1");
    let found = problems();
    let pictures: Vec<&String> = found.iter().filter(|it| !before.contains(it)).collect();
    assert!(
        pictures[0].contains("its bytes are not those that were kept"),
        "{found:?}"
    );
    let sums = before
        .iter()
        .find(|it| it.contains("sums over imports"))
        .unwrap();
    assert!(
        sums.contains("thirdglass taster imports --recount"),
        "{sums}"
    );
    open(home.path()).recount_imports().unwrap();
    assert!(!problems().contains(sums));
}

/// Adds a batch, a beer and a recipe that nothing stands on, and a photograph of that batch.
fn add_spare_things(home: &Path) {
    let recipe = home.join("spare.toml");
    fs::write(&recipe, thirdglass::formats::EXAMPLE).unwrap();
    let mut opened = open(home);
    opened.add_batch(&recipe, Some("Spare")).unwrap();
    let file = picture(home);
    let added = opened.add_photograph("Spare", &file, PhotographKind::Glass, None);
    added.unwrap();
    let file = Connection::open(home.join("thirdglass.db")).unwrap();
    file.execute_batch(
        "INSERT INTO beer VALUES ('spare-beer', 'A gift', 'a gift', NULL, NULL, NULL);
         INSERT INTO recipe_version VALUES ('spare-recipe', NULL, NULL, 'Spare', '1', 'text', 'hash',
             '2026-03-14T18:20:00.000Z', NULL);",
    )
    .unwrap();
}

/// Where the mark of a broken seal stands.
const SEALS: [(&str, &str); 2] = [("notes", "seal_broken_at"), ("seat", "key_seen_at")];

/// The marks of broken seals, by table and row.
fn seals(home: &Path) -> Vec<(usize, String, Option<String>)> {
    let file = Connection::open(home.join("thirdglass.db")).unwrap();
    let mut all = Vec::new();
    for (place, (table, column)) in SEALS.iter().enumerate() {
        let sql = format!("SELECT id, {column} FROM {table}");
        let mut statement = file.prepare(&sql).unwrap();
        let rows = statement.query_map([], |row| Ok((place, row.get(0)?, row.get(1)?)));
        all.extend(rows.unwrap().map(Result::unwrap));
    }
    all
}

/// Puts marks of broken seals back as they were, where they are others now.
fn put_seals(home: &Path, seals: &[(usize, String, Option<String>)]) {
    let file = Connection::open(home.join("thirdglass.db")).unwrap();
    for (place, id, mark) in seals {
        let (table, column) = SEALS[*place];
        let sql = format!("UPDATE {table} SET {column} = ?2 WHERE id = ?1 AND {column} IS NOT ?2");
        file.execute(&sql, (id, mark)).unwrap();
    }
}

#[test]
fn whatever_is_removed_is_out_of_the_archive_and_comes_back_byte_for_byte() {
    let home = full_home();
    add_spare_things(home.path());
    let before = exported(home.path());
    let seals = seals(home.path());
    let mut gone: Vec<RemovedKind> = Vec::new();
    for what in removables(home.path()) {
        let removed = match open(home.path()).remove(&what) {
            Ok(removed) => removed,
            Err(held) => {
                let held = held.to_string();
                let known = ["remove what stands on it first", "is sealed until"];
                assert!(known.iter().any(|it| held.contains(it)), "{what:?}: {held}");
                continue;
            }
        };
        let without = files_of(&exported(home.path()));
        assert_ne!(without, files_of(&before), "{what:?}");
        let list = open(home.path()).removed().unwrap();
        assert_eq!(list.len(), 1, "{what:?}");
        let back = open(home.path()).bring_back(removed.removal.number);
        if !back.unwrap().marked.is_empty() {
            // Nothing was sealed meanwhile: that alone is another than before.
            assert_ne!(files_of(&exported(home.path())), files_of(&before));
            put_seals(home.path(), &seals);
        }
        assert_eq!(
            files_of(&exported(home.path())),
            files_of(&before),
            "{what:?}"
        );
        gone.push(what.kind());
    }
    // What is part of a course stays while the course does.
    let course = Removable::Course("Winter".to_owned());
    let course = open(home.path()).remove(&course).unwrap();
    let mut practices = removables(home.path()).into_iter();
    let practice = practices
        .rfind(|it| it.kind() == RemovedKind::Practice)
        .unwrap();
    let removed = open(home.path()).remove(&practice).unwrap();
    for number in [removed.removal.number, course.removal.number] {
        open(home.path()).bring_back(number).unwrap();
    }
    assert_eq!(files_of(&exported(home.path())), files_of(&before));
    gone.push(RemovedKind::Practice);
    for kind in RemovedKind::ALL {
        assert!(
            gone.contains(kind),
            "nothing was removed of the kind {}",
            kind.word()
        );
    }
}

#[test]
fn the_demonstration_comes_back_and_every_report_says_the_same() {
    let (home, folder) = Home::demo(Clock::system(), Dice::from_seed(3)).unwrap();
    let marks = home.marks().unwrap();
    let tasters: Vec<String> = home
        .tasters()
        .unwrap()
        .iter()
        .map(|it| it.name.to_string())
        .collect();
    drop(home);
    let archive = exported(folder.path());
    let second = imported(&archive).unwrap();
    assert_eq!(archive, exported(second.path()));
    let kitchen = Kitchen::new();
    let told = |home: &Path, arguments: &[&str]| {
        let home = home.to_str().unwrap();
        let told = kitchen.run(&[&["--home", home], arguments].concat());
        let mut json: Value = serde_json::from_str(&told.out).unwrap_or_default();
        if let Some(page) = json.as_object_mut() {
            // What to practise next is drawn anew at each look.
            page.remove("to_practise");
        }
        (told.code, json, told.err)
    };
    let mut done = 0;
    let mut same = |arguments: &[&str]| {
        let one = told(folder.path(), arguments);
        assert_eq!(one, told(second.path(), arguments), "{arguments:?}");
        done += usize::from(one.0 == 0);
    };
    same(&["batch", "list", "--json"]);
    same(&["taster", "list", "--json"]);
    same(&["taster", "measure", "--json"]);
    same(&["blind", "list", "--json"]);
    for number in ["1", "2", "3"] {
        same(&["blind", "result", number, "--json"]);
    }
    for mark in &marks {
        same(&["batch", "show", mark, "--json"]);
        same(&["compare", mark, "--json"]);
        same(&["batch", "weeks", mark, "--json"]);
    }
    for name in &tasters {
        same(&["taster", "show", name, "--json"]);
        same(&["taster", "learnt", name, "--json"]);
        same(&["practice", "record", name, "--json"]);
    }
    // Three reports of the home, and at least one of each batch and each taster.
    assert!(done >= 3 + marks.len() + tasters.len(), "{done} reports");
}

#[test]
fn every_table_of_the_file_is_in_the_archive_but_what_is_counted_again_or_was_removed() {
    let home = full_home();
    let archive = exported(home.path());
    let mut there: Vec<String> = files_of(&archive)
        .iter()
        .filter_map(|it| it.0.strip_prefix("tables/")?.strip_suffix(".jsonl"))
        .map(str::to_owned)
        .collect();
    there.extend(["removal", "removed_cell", "summary"].map(str::to_owned));
    there.sort();
    let file = Connection::open(home.path().join("thirdglass.db")).unwrap();
    let sql = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name <> 'sqlite_sequence' ORDER BY name";
    let mut statement = file.prepare(sql).unwrap();
    let names = statement.query_map([], |row| row.get(0)).unwrap();
    let names: Vec<String> = names.map(Result::unwrap).collect();
    assert_eq!(there, names);
    // And every row of each: one line a row.
    let files: BTreeMap<String, Vec<u8>> = files_of(&archive).into_iter().collect();
    let left_out = ["removal", "removed_cell", "summary"];
    for name in names.iter().filter(|it| !left_out.contains(&it.as_str())) {
        let count = format!("SELECT count(*) FROM {name}");
        let rows: u32 = file.query_row(&count, [], |row| row.get(0)).unwrap();
        let text = String::from_utf8(files[&format!("tables/{name}.jsonl")].clone()).unwrap();
        assert_eq!(text.lines().count(), rows as usize, "{name}");
    }
}

#[test]
fn an_archive_of_every_older_schema_is_brought_up_to_date() {
    for schema in 1..=7 {
        let older = home_of_fixture(schema);
        let before: Vec<String> = schema_of(older.path())
            .into_iter()
            .map(|it| format!("tables/{}.jsonl", it.0))
            .collect();
        let whole = exported(older.path());
        let mut files = files_of(&whole);
        files.retain(|it| !it.0.starts_with("tables/") || before.contains(&it.0));
        let head = files.iter_mut().find(|it| it.0 == "archive.json").unwrap();
        let text = String::from_utf8(head.1.clone()).unwrap();
        assert!(text.contains("\"schema\": 9"), "{text}");
        head.1 = text
            .replace("\"schema\": 9", &format!("\"schema\": {schema}"))
            .into_bytes();
        let home = imported(&packed(&files)).unwrap();
        assert_eq!(whole, exported(home.path()), "schema {schema}");
        assert_eq!(schema_of(home.path()), schema_of(older.path()));
    }
}

#[test]
fn a_home_that_holds_anything_takes_no_archive_in() {
    let archive = exported(home_of_fixture(7).path());
    let kitchen = Kitchen::new();
    let file = kitchen.write("all.zip", &archive);
    kitchen.done(&["taster", "add", "Ana"]);
    let refused = kitchen.run(&["home", "import", &file]);
    assert_eq!(refused.code, 1);
    assert!(
        refused.err.contains("empty home only") && refused.err.contains("--home"),
        "{refused:?}"
    );
    let other = kitchen.folder().join("other");
    let read = kitchen.done(&["--home", other.to_str().unwrap(), "home", "import", &file]);
    assert!(read.contains("to the last answer"), "{read}");
    assert_eq!(kitchen.done(&["taster", "list"]), "Ana\n");
}

#[test]
fn an_archive_says_when_it_holds_what_is_sealed_and_tells_nothing_of_it() {
    let kitchen = Kitchen::new();
    fs::create_dir(kitchen.home()).unwrap();
    let fixture = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/fixtures/schema-7.db");
    fs::copy(fixture, kitchen.file()).unwrap();
    let out = kitchen.folder().join("all.zip");
    let refused = kitchen.run(&["home", "export", out.to_str().unwrap()]);
    assert_eq!((refused.code, out.exists()), (1, false), "{refused:?}");
    assert!(
        refused.err.contains("still sealed") && refused.err.contains("--sealed-too"),
        "{refused:?}"
    );
    let told = kitchen.done(&["home", "export", out.to_str().unwrap(), "--sealed-too"]);
    let words: Vec<&str> = told.split_whitespace().collect();
    let told = words.join(" ");
    assert!(
        told.contains("breaks the seal") && !told.contains("Öse"),
        "{told}"
    );
    let again = kitchen.run(&["home", "export", out.to_str().unwrap()]);
    assert!(again.err.contains("it is there already"), "{again:?}");
    let quiet = Kitchen::new();
    let out = quiet.folder().join("all.zip");
    let told = quiet.done(&["home", "export", out.to_str().unwrap()]);
    assert!(!told.contains("seal"), "{told}");
}

/// The files of a full home, and a way to change one of them.
fn changed(change: impl FnOnce(&mut Files)) -> String {
    let mut files = files_of(&exported(full_home().path()));
    change(&mut files);
    imported(&packed(&files)).unwrap_err()
}

fn text_of(files: &mut Files, name: &str, change: impl FnOnce(String) -> String) {
    let file = files.iter_mut().find(|it| it.0 == name).unwrap();
    let text = String::from_utf8(file.1.clone()).unwrap();
    let new = change(text.clone());
    assert_ne!(text, new, "{name} is changed");
    file.1 = new.into_bytes();
}

#[test]
fn whatever_is_wrong_in_a_table_is_told_with_its_file_and_line() {
    let slip = |table: &str, from: &str, to: &str| {
        let name = format!("tables/{table}.jsonl");
        changed(|files| text_of(files, &name, |text| text.replacen(from, to, 1)))
    };
    for (table, from, to, told) in [
        (
            "taster",
            "\"name\"",
            "\"nose\"",
            "tables/taster.jsonl, line 1: the column name is missing",
        ),
        (
            "taster",
            "\"name\":\"",
            "\"name\":1,\"x\":\"",
            "line 1: name: a text is needed",
        ),
        (
            "rating",
            "\"value\":",
            "\"value\":NaN,\"x\":",
            "line 1: it is no JSON",
        ),
        (
            "rating",
            "\"value\":",
            "\"value\":1e999,\"x\":",
            "line 1: it is no JSON",
        ),
        (
            "rating",
            "\"position\":",
            "\"position\":1.5,\"x\":",
            "no whole number",
        ),
        (
            "rating",
            "\"state\":\"",
            "\"state\":\"un",
            "CHECK constraint failed",
        ),
        (
            "notes",
            "\"seat\":\"",
            "\"seat\":\"un",
            "points at a row of seat",
        ),
        (
            "notes",
            "\"tasted_on\":\"",
            "\"tasted_on\":\"un",
            "un2026-03-14",
        ),
        ("sitting", "\"kind\":\"", "\"kind\":\"un", "un"),
        (
            "photograph",
            "photographs/",
            "photographs/x",
            "is not in the archive",
        ),
    ] {
        let refused = slip(table, from, to);
        assert!(refused.contains(told), "{table} {to}: {refused}");
        assert!(refused.contains("nothing was taken in"), "{refused}");
    }
}

#[test]
fn what_is_missing_too_much_or_of_a_newer_program_is_told() {
    let gone = changed(|files| files.retain(|it| it.0 != "tables/notes.jsonl"));
    assert!(
        gone.contains("tables/notes.jsonl: the rows of this table are missing"),
        "{gone}"
    );
    let strange = changed(|files| files.push(("tables/secrets.jsonl".into(), b"{}\n".to_vec())));
    assert!(strange.contains("no such table"), "{strange}");
    let other = changed(|files| files.push(("thirdglass.db".into(), b"x".to_vec())));
    assert!(
        other.contains("no archive of a home holds such a file"),
        "{other}"
    );
    let picture = changed(|files| files.push(("photographs/x.jpg".into(), b"x".to_vec())));
    assert!(
        picture.contains("no row names this photograph"),
        "{picture}"
    );
    let swapped = changed(|files| {
        let it = files
            .iter_mut()
            .find(|it| it.0.starts_with("photographs/"))
            .unwrap();
        it.1 = b"not a picture".to_vec();
    });
    assert!(swapped.contains("not those that were kept"), "{swapped}");
    let latin = changed(|files| files.push(("descriptors/x.toml".into(), b"\xe9".to_vec())));
    assert!(
        latin.contains("descriptors/x.toml: it is not UTF-8"),
        "{latin}"
    );
    let odd = changed(|files| files.push(("descriptors/x.toml".into(), b"nonsense".to_vec())));
    assert!(odd.contains("x.toml"), "{odd}");
    for (key, from, to) in [
        ("form", "\"format\": 1", "\"format\": 2"),
        ("schema", "\"schema\": 9", "\"schema\": 10"),
    ] {
        let newer = changed(|files| text_of(files, "archive.json", |text| text.replace(from, to)));
        assert!(
            newer.contains("newer thirdglass") && newer.contains(key),
            "{newer}"
        );
    }
    let nothing = changed(|files| text_of(files, "archive.json", |_| "{}".to_owned()));
    assert!(
        nothing.contains("archive.json: it is no archive of a home"),
        "{nothing}"
    );
    let bytes = changed(|files| {
        let it = files
            .iter_mut()
            .find(|it| it.0 == "tables/taster.jsonl")
            .unwrap();
        it.1.extend(b"\xff\xfe\n");
    });
    assert!(bytes.contains("the line is not UTF-8"), "{bytes}");
}

#[test]
fn no_name_leads_out_of_an_archive() {
    for name in [
        "../up.toml",
        "/etc/up.toml",
        "descriptors/../../up.toml",
        "descriptors\\up.toml",
        "c:up.toml",
        "descriptors/./up.toml",
        "descriptors//up.toml",
        "descriptors/a\0up.toml",
        "descriptors/\u{1b}up.toml",
        "//host/share/up.toml",
        "\\\\?\\c.toml",
    ] {
        let mut archive = packed(&vec![("x".repeat(name.len()), b"x".to_vec())]);
        // The writer mends names itself, so that they are put in as bytes.
        put(&mut archive, &"x".repeat(name.len()), name);
        let refused = imported(&archive).unwrap_err();
        assert!(
            refused.contains("leads out of the archive"),
            "{name}: {refused}"
        );
    }
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    zip.add_symlink("larder.toml", "/etc/passwd", SimpleFileOptions::default())
        .unwrap();
    let refused = imported(&zip.finish().unwrap().into_inner()).unwrap_err();
    assert!(refused.contains("a link to another file"), "{refused}");
    // A folder that is a link, through which the next file would go.
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    zip.add_symlink("descriptors", "/tmp", SimpleFileOptions::default())
        .unwrap();
    zip.start_file("descriptors/up.toml", SimpleFileOptions::default())
        .unwrap();
    let refused = imported(&zip.finish().unwrap().into_inner()).unwrap_err();
    assert!(refused.contains("a link to another file"), "{refused}");
}

/// Names that mean a device, a stream or the same file elsewhere are files like any other here, inside the home.
#[test]
fn names_of_devices_and_twins_in_capitals_stay_in_the_home() {
    let mut files = files_of(&exported(tempfile::tempdir().unwrap().path()));
    for name in [
        "con", "NUL", "aux.txt", "lpt1", "Twin", "twin", "~root", "-rf",
    ] {
        let name = format!("descriptors/hints/{name}.toml");
        files.push((name, b"# Nothing.\n".to_vec()));
    }
    let home = imported(&packed(&files)).unwrap();
    let mut found: Vec<String> = fs::read_dir(home.path().join("descriptors/hints"))
        .unwrap()
        .map(|it| it.unwrap().file_name().into_string().unwrap())
        .collect();
    found.sort();
    let expected = [
        "-rf.toml",
        "NUL.toml",
        "Twin.toml",
        "aux.txt.toml",
        "con.toml",
        "lpt1.toml",
        "twin.toml",
        "~root.toml",
    ];
    assert_eq!(found, expected);
}

/// Writes another name of the same length wherever one stands.
fn put(archive: &mut [u8], old: &str, new: &str) {
    let (old, new) = (old.as_bytes(), new.as_bytes());
    assert_eq!(old.len(), new.len());
    let places: Vec<usize> = (0..=archive.len() - old.len())
        .filter(|at| archive[*at..*at + old.len()] == *old)
        .collect();
    assert!(places.len() >= 2);
    for at in places {
        archive[at..at + new.len()].copy_from_slice(new);
    }
}

#[test]
fn a_name_that_stands_twice_and_a_bomb_are_refused_before_anything_is_unpacked() {
    let two = vec![
        ("larder.toml".to_owned(), b"one".to_vec()),
        ("larder.tomk".to_owned(), b"two".to_vec()),
    ];
    let mut archive = packed(&two);
    put(&mut archive, "larder.tomk", "larder.toml");
    let refused = imported(&archive).unwrap_err();
    assert!(refused.contains("a name stands in it twice"), "{refused}");
    // Deflate packs a run of one letter about 1000 to 1 (RFC 1951: 258 letters in two bits at best).
    let bomb = vec![("tables/taster.jsonl".to_owned(), vec![b' '; 64 << 20])];
    let archive = packed(&bomb);
    assert!(archive.len() < 100_000, "{}", archive.len());
    let refused = imported(&archive).unwrap_err();
    assert!(refused.contains("400 times"), "{refused}");
    // The same that says it is small.
    let mut small = packed(&bomb);
    let size = (64_u32 << 20).to_le_bytes();
    let claimed = 1_000_u32.to_le_bytes();
    for at in 0..small.len() - 4 {
        if small[at..at + 4] == size {
            small[at..at + 4].copy_from_slice(&claimed);
        }
    }
    assert!(imported(&small).is_err());
    let mut picture = files_of(&exported(full_home().path()));
    picture.push(("photographs/big.jpg".to_owned(), vec![7; 17 << 20]));
    let refused = imported(&packed(&picture)).unwrap_err();
    assert!(
        refused.contains("more than such a file may hold"),
        "{refused}"
    );
}

#[test]
fn an_archive_that_was_cut_off_anywhere_is_refused() {
    let archive = exported(full_home().path());
    for part in 0..40 {
        let cut = archive.len() * part / 40;
        let refused = imported(&archive[..cut]).unwrap_err();
        assert!(
            refused.contains("cannot be read as an archive"),
            "{refused}"
        );
    }
    let longer = [&archive[..], b"x"].concat();
    assert!(imported(&longer).is_err());
}

/// Peak memory of this process in bytes, from the kernel.
fn peak() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap();
    let line = status.lines().find(|it| it.starts_with("VmHWM:")).unwrap();
    let kilobytes: u64 = line.split_whitespace().nth(1).unwrap().parse().unwrap();
    kilobytes * 1_024
}

/// What this whole file of tests may take at its peak, the bombs above among it: 768 MiB.
const MOST_MEMORY: u64 = 768 << 20;

/// Reads bytes as an archive; whatever is wrong with them is told.
fn read_or_told(bytes: &[u8]) -> Result<(), TestCaseError> {
    let mut file = tempfile::NamedTempFile::new().unwrap();
    file.write_all(bytes).unwrap();
    if let Err(refused) = OpenedArchive::read(file.path()) {
        prop_assert!(!refused.to_string().is_empty());
    }
    prop_assert!(peak() < MOST_MEMORY);
    Ok(())
}

/// One archive for all slips, made once.
fn sound() -> &'static (Vec<u8>, Files) {
    static SOUND: OnceLock<(Vec<u8>, Files)> = OnceLock::new();
    SOUND.get_or_init(|| {
        let archive = exported(full_home().path());
        let files = files_of(&archive);
        (archive, files)
    })
}

proptest! {
    // With the two below 2,000 archives.
    #![proptest_config(ProptestConfig::with_cases(900))]

    #[test]
    fn no_slip_in_the_bytes_of_an_archive_breaks_the_reader(
        slips in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..8),
        from_end in any::<bool>(),
    ) {
        let mut bytes = sound().0.clone();
        let length = bytes.len();
        for (at, byte) in slips {
            // The list of files stands at the end.
            let at = if from_end { length - 1 - at.index(length.min(4_000)) } else { at.index(length) };
            bytes[at] = byte;
        }
        read_or_told(&bytes)?;
    }

    #[test]
    fn no_slip_in_the_text_of_an_archive_breaks_the_reader(
        slips in proptest::collection::vec(
            (any::<prop::sample::Index>(), any::<prop::sample::Index>(), "[\\[\\]{}\":,0-9a-zé\\\\\\n]{0,3}"),
            1..4,
        ),
    ) {
        let mut files = sound().1.clone();
        for (file, at, new) in slips {
            let index = file.index(files.len());
            let bytes = &mut files[index].1;
            let at = at.index(bytes.len().max(1)).min(bytes.len());
            let end = (at + new.len()).min(bytes.len());
            bytes.splice(at..end, new.bytes());
        }
        read_or_told(&packed(&files))?;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn arbitrary_bytes_are_no_archive(mut bytes in proptest::collection::vec(any::<u8>(), 0..400), end in any::<bool>()) {
        if end {
            // As if it were an archive: the record at the end of one (APPNOTE 6.3.10, 4.3.16).
            bytes.extend(b"PK\x05\x06\0\0\0\0\x01\0\x01\0");
            bytes.extend(100_u32.to_le_bytes());
            bytes.extend(10_u32.to_le_bytes());
            bytes.extend([0, 0]);
        }
        read_or_told(&bytes)?;
    }
}
