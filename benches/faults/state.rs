//! What a kitchen holds: the rows of all tables without ids and times, and the files beside them.

use std::collections::BTreeMap;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use rusqlite::Connection;
use rusqlite::types::ValueRef;

use crate::kitchen::Kitchen;
use crate::kitchen::PASSING;

/// How many letters a drawn id has (`Home::ID_LETTERS`), and of which kind.
const ID_LETTERS: usize = 20;

/// Where the copies of days stand. They are made after everything that is acknowledged, and nobody is promised one, so
/// that they need not be there; those that are there must be sound.
const COPIES: &str = "home/copies";

/// What stands in the tables, by their names.
pub(crate) type Rows = BTreeMap<String, Vec<String>>;

/// What stands beside the home and in it.
pub(crate) type Files = BTreeMap<String, Vec<u8>>;

/// What a kitchen holds.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct State {
    pub(crate) rows: Rows,
    pub(crate) files: Files,
}

impl State {
    /// Looks at a kitchen; what is wrong with its file is the error. The file itself is not touched.
    pub(crate) fn of(kitchen: &Kitchen) -> Result<Self, String> {
        let mut files = Files::new();
        list(&kitchen.folder, &kitchen.folder, &mut files);
        copies_are_sound(&kitchen.folder.join(COPIES)).map_err(|error| error.to_string())?;
        let rows = if kitchen.file().exists() {
            let apart = tempfile::tempdir().expect("a folder can be made");
            rows_of(kitchen, apart.path()).map_err(|error| error.to_string())??
        } else {
            Rows::new()
        };
        Ok(Self { rows, files })
    }

    /// How many rows there are in each table.
    pub(crate) fn counts(&self) -> BTreeMap<&str, usize> {
        let tables = self.rows.iter();
        tables
            .map(|(name, rows)| (name.as_str(), rows.len()))
            .collect()
    }

    /// The first table in which two differ, for a report.
    pub(crate) fn differs(&self, other: &Self) -> String {
        let names: BTreeSet<&String> = self.rows.keys().chain(other.rows.keys()).collect();
        let differing = names
            .into_iter()
            .find(|it| self.rows.get(*it) != other.rows.get(*it));
        let Some(name) = differing else {
            return "no table".to_owned();
        };
        let (one, two) = (self.rows.get(name), other.rows.get(name));
        let only = |here: Option<&Vec<String>>, there: Option<&Vec<String>>| {
            let rows = here.into_iter().flatten();
            let mut only = rows.filter(|it| !there.is_some_and(|there| there.contains(it)));
            only.next().cloned().unwrap_or_default()
        };
        format!(
            "{name}: found {} | expected {}",
            only(one, two),
            only(two, one)
        )
    }
}

/// That every copy which bears its name is whole.
fn copies_are_sound(folder: &Path) -> rusqlite::Result<()> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    for path in entries.map(|it| it.path()) {
        if path.extension().is_some_and(|it| it == "db") {
            let copy = Connection::open(&path)?;
            let found: String = copy.query_row("PRAGMA integrity_check", [], |row| row.get(0))?;
            let rows: u32 =
                copy.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
            assert!(found == "ok" && rows > 0, "{}: {found}", path.display());
        }
    }
    Ok(())
}

/// Every file but those of the store, by its path without times.
fn list(top: &Path, folder: &Path, files: &mut Files) {
    for entry in fs::read_dir(folder).expect("the folder can be listed") {
        let path = entry.expect("it can be listed").path();
        let name = path
            .strip_prefix(top)
            .expect("it lies below")
            .to_string_lossy()
            .into_owned();
        if name == PASSING || name.starts_with("home/thirdglass.db") || name == COPIES {
            continue;
        }
        if path.is_dir() {
            files.insert(name + "/", Vec::new());
            list(top, &path, files);
        } else {
            files.insert(
                timeless(&name),
                fs::read(&path).expect("a file can be read"),
            );
        }
    }
}

/// The rows of a copy of the file and its log, once it was found sound.
fn rows_of(kitchen: &Kitchen, apart: &Path) -> rusqlite::Result<Result<Rows, String>> {
    let copy = apart.join("thirdglass.db");
    for end in ["", "-wal"] {
        let mut from = kitchen.file().into_os_string();
        from.push(end);
        let mut to = copy.clone().into_os_string();
        to.push(end);
        if Path::new(&from).exists() {
            fs::copy(from, to).expect("a file can be copied");
        }
    }
    let file = Connection::open(&copy)?;
    let integrity: String = file.query_row("PRAGMA integrity_check", [], |row| row.get(0))?;
    if integrity != "ok" {
        return Ok(Err(format!("integrity_check says {integrity}")));
    }
    let broken = "SELECT count(*) FROM pragma_foreign_key_check";
    let broken: i64 = file.query_row(broken, [], |row| row.get(0))?;
    if broken != 0 {
        return Ok(Err(format!("{broken} references lead nowhere")));
    }
    tables(&file).map(Ok)
}

fn tables(file: &Connection) -> rusqlite::Result<Rows> {
    let mut rows = Rows::new();
    let mut names = file.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'")?;
    let names = names.query_map([], |row| row.get::<_, String>(0))?;
    for name in names {
        let name = name?;
        let mut select = file.prepare(&format!("SELECT * FROM \"{name}\""))?;
        let columns = select.column_count();
        let found = select.query_map([], |row| {
            let cells = (0..columns).map(|at| row.get_ref(at).map(cell));
            cells.collect::<rusqlite::Result<Vec<String>>>()
        })?;
        let mut found = found
            .map(|row| row.map(|cells| cells.join("|")))
            .collect::<rusqlite::Result<Vec<String>>>()?;
        found.sort();
        rows.insert(name, found);
    }
    // Sums are computed again by whoever reads them.
    rows.remove("summary");
    if rows.values().all(Vec::is_empty) {
        // Tables in which nobody wrote anything yet are as good as none.
        return Ok(Rows::new());
    }
    let version: i64 = file.query_row("PRAGMA user_version", [], |row| row.get(0))?;
    rows.insert("user_version".to_owned(), vec![version.to_string()]);
    Ok(rows)
}

fn cell(value: ValueRef<'_>) -> String {
    match value {
        ValueRef::Null => "NULL".to_owned(),
        ValueRef::Integer(number) => number.to_string(),
        ValueRef::Real(number) => number.to_string(),
        ValueRef::Text(text) => timeless(&without_ids(&String::from_utf8_lossy(text))),
        ValueRef::Blob(bytes) => {
            format!("{} bytes {:?}", bytes.len(), &bytes[..bytes.len().min(64)])
        }
    }
}

/// A text in which each drawn id is a sign.
fn without_ids(text: &str) -> String {
    let parts = text.split_inclusive(|it: char| !it.is_ascii_alphanumeric());
    let plain = |part: &str| {
        let word = part.trim_end_matches(|it: char| !it.is_ascii_alphanumeric());
        let drawn = word.len() == ID_LETTERS && !word.contains(['a', 'e', 'i', 'o', 'u']);
        if drawn {
            format!("#{}", &part[word.len()..])
        } else {
            part.to_owned()
        }
    };
    parts.map(plain).collect()
}

/// A text in which each moment, such as 2026-03-14T12:00:00.001Z, is the letter T; in names of files it has no colons.
fn timeless(text: &str) -> String {
    const LIKE: &[u8] = b"0000-00-00T00:00:00.000Z";
    let bytes = text.as_bytes();
    let fits = |from: usize| {
        let part = bytes.get(from..from + LIKE.len());
        part.is_some_and(|part| {
            part.iter().zip(LIKE).all(|(is, like)| match like {
                b'0' => is.is_ascii_digit(),
                b':' => matches!(is, b':' | b'-'),
                _ => is == like,
            })
        })
    };
    let (mut out, mut at, mut kept) = (String::new(), 0, 0);
    while at < bytes.len() {
        if fits(at) {
            out += &text[kept..at];
            out.push('T');
            at += LIKE.len();
            kept = at;
        } else {
            at += 1;
        }
    }
    out + &text[kept..]
}
