//! What was removed is in no archive, and back in it once it is brought back.

use std::fs;
use std::path::Path;

use crate::homes::exported;
use crate::homes::files_of;
use crate::homes::full_home;
use crate::homes::open;
use crate::homes::picture;
use rusqlite::Connection;
use thirdglass::domain::Moment;
use thirdglass::domain::NotesId;
use thirdglass::domain::PhotographKind;
use thirdglass::domain::RemovedKind;
use thirdglass::workflow::Removable;
use thirdglass::workflow::local_day;

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
