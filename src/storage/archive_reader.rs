//! Reading an archive of a home into a file of its own, which is thrown away if anything in it is wrong.

use std::collections::BTreeSet;
use std::io::BufRead;
use std::io::BufReader;
use std::io::Read;
use std::io::Seek;
use std::path::Path;
use std::path::PathBuf;

use rusqlite::Connection;
use rusqlite::OptionalExtension;
use rusqlite::params_from_iter;
use serde_json::Value;

use crate::storage::ArchiveContents;
use crate::storage::ArchiveError;
use crate::storage::ArchiveProblem;
use crate::storage::OwnFile;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::archive_container::Container;
use crate::storage::archive_container::Part;
use crate::storage::archive_container::TOO_MUCH_OWN;
use crate::storage::archive_form::FORMAT;
use crate::storage::archive_form::HEAD;
use crate::storage::archive_form::KIND;
use crate::storage::archive_form::MOST_LINE;
use crate::storage::archive_form::MOST_OWN_IN_ALL;
use crate::storage::archive_form::MOST_PROBLEMS;
use crate::storage::archive_form::table_file;
use crate::storage::archive_form::table_of;
use crate::storage::archive_line::cells_of;
use crate::storage::archive_tables::TableForm;
use crate::storage::archive_tables::tables;
use crate::storage::archive_tables::without_triggers;
use crate::storage::schema;
use crate::storage::system_words::system_words;
use crate::storage::user_files::open_file;

/// What was tried, for messages.
const STEP: &str = "read the archive";

/// Holds the pictures until the rows that name them are read.
const HELD: &str = "CREATE TEMP TABLE held (name TEXT PRIMARY KEY, bytes BLOB NOT NULL) STRICT";

/// An archive that was read whole.
#[derive(Debug)]
pub struct OpenedArchive {
    /// Its rows, in a throw-away file that is up to date.
    pub store: Store,
    /// The user's own files in it.
    pub own: Vec<OwnFile>,
    /// How much there is.
    pub contents: ArchiveContents,
}

impl OpenedArchive {
    /// Reads an archive whole and looks it through: every file, every row, what hangs together.
    ///
    /// # Errors
    /// The file cannot be read, a newer program wrote it, or there are problems; all of them are told.
    pub fn read(path: &Path) -> Result<Self, StorageError> {
        Self::read_from(BufReader::new(open_file(path)?), path)
    }

    fn read_from(reader: impl Read + Seek, file: &Path) -> Result<Self, StorageError> {
        let told = |problems| {
            StorageError::from(ArchiveError::Problems {
                file: file.to_owned(),
                problems,
            })
        };
        let mut container = Container::open(reader).map_err(told)?;
        let schema = head(&mut container, file)?;
        let failed = |error| StorageError::database(file, STEP, error);
        let connection = staging(file, schema)?;
        let mut reading = Reading {
            container,
            connection: &connection,
            problems: Vec::new(),
            contents: ArchiveContents::default(),
        };
        reading.rows().map_err(failed)?;
        let own = reading.own_files();
        let (problems, contents) = (reading.problems, reading.contents);
        if !problems.is_empty() {
            return Err(told(problems));
        }
        let store = Store::staged(connection, PathBuf::from(file))?;
        let found = hangs_together(&store)?;
        if !found.is_empty() {
            return Err(told(found));
        }
        Ok(Self {
            store,
            own,
            contents,
        })
    }
}

/// An empty file of a schema, thrown away by `SQLite` itself; only the user can read it meanwhile.
fn staging(file: &Path, schema: usize) -> Result<Connection, StorageError> {
    let failed = |error| StorageError::database(file, STEP, error);
    let mut connection = Connection::open("").map_err(failed)?;
    // What a row points at may come later; all of it is checked at the end. Nothing of this file need outlive a crash.
    connection
        .execute_batch(
            "PRAGMA foreign_keys = off; PRAGMA synchronous = off; PRAGMA journal_mode = memory",
        )
        .map_err(failed)?;
    schema::migrate(&mut connection, file, &schema::MIGRATIONS[..schema])?;
    Ok(connection)
}

/// What does not hang together in what was read.
fn hangs_together(store: &Store) -> Result<Vec<ArchiveProblem>, StorageError> {
    let found = store.check()?.into_iter().take(MOST_PROBLEMS);
    Ok(found
        .map(|it| ArchiveProblem::of("", it.to_string()))
        .collect())
}

/// The schema of the tables in an archive.
fn head<R: Read + Seek>(container: &mut Container<R>, file: &Path) -> Result<usize, StorageError> {
    let told = |problem| {
        StorageError::from(ArchiveError::Problems {
            file: file.to_owned(),
            problems: vec![problem],
        })
    };
    let bytes = container.bytes(HEAD, Part::Head).map_err(told)?;
    let odd = |found: &str| told(ArchiveProblem::of(HEAD, found));
    let head: Value =
        serde_json::from_slice(&bytes).map_err(|error| odd(&format!("it is no JSON: {error}")))?;
    if head["archive"] != KIND {
        return Err(odd("it is no archive of a home"));
    }
    let number = |key: &str, supported: u64| match head[key].as_u64() {
        Some(found) if found > supported => Err(StorageError::from(ArchiveError::Newer {
            file: file.to_owned(),
            what: if key == "format" { "form" } else { "schema" },
            found,
            supported,
        })),
        Some(found) if found > 0 => Ok(found),
        _ => Err(odd(&format!("{key} is no version"))),
    };
    number("format", FORMAT)?;
    let newest = schema::MIGRATIONS.len();
    let found = number("schema", newest as u64)?;
    Ok(usize::try_from(found).unwrap_or(newest))
}

/// An archive whose rows are being read.
struct Reading<'a, R> {
    container: Container<R>,
    connection: &'a Connection,
    problems: Vec<ArchiveProblem>,
    contents: ArchiveContents,
}

impl<R: Read + Seek> Reading<'_, R> {
    /// Reads the pictures and the rows of all tables in one transaction.
    fn rows(&mut self) -> rusqlite::Result<()> {
        let connection = self.connection;
        connection.execute_batch(HELD)?;
        connection.execute_batch("BEGIN")?;
        self.hold_pictures()?;
        let tables = tables(connection)?;
        self.find_strange_tables(&tables);
        without_triggers(connection, || {
            for table in &tables {
                self.table(table)?;
            }
            Ok(())
        })?;
        self.find_pictures_left_over()?;
        connection.execute_batch("COMMIT; DROP TABLE held")
    }

    fn is_full(&self) -> bool {
        self.problems.len() >= MOST_PROBLEMS
    }

    fn hold_pictures(&mut self) -> rusqlite::Result<()> {
        let files = self.container.files.clone();
        for (name, _) in files.iter().filter(|it| it.1 == Part::Photograph) {
            if self.is_full() {
                break;
            }
            match self.container.bytes(name, Part::Photograph) {
                Ok(bytes) => {
                    let sql = "INSERT INTO held VALUES (?1, ?2)";
                    self.connection
                        .execute(sql, rusqlite::params![name, bytes])?;
                    self.contents.photographs += 1;
                }
                Err(problem) => self.problems.push(problem),
            }
        }
        Ok(())
    }

    /// Files of tables that this schema does not have, and tables without a file.
    fn find_strange_tables(&mut self, tables: &[TableForm]) {
        let there: BTreeSet<&str> = self
            .container
            .files
            .iter()
            .filter_map(|it| table_of(&it.0))
            .collect();
        let known: BTreeSet<&str> = tables.iter().map(|it| it.name.as_str()).collect();
        let strange = there.difference(&known);
        let strange = strange.map(|it| (it, "this schema has no such table"));
        let missing = known.difference(&there);
        let missing = missing.map(|it| (it, "the rows of this table are missing"));
        let found = strange.chain(missing);
        let problems = found.map(|(name, found)| ArchiveProblem::of(&table_file(name), found));
        self.problems.extend(problems);
    }

    fn table(&mut self, table: &TableForm) -> rusqlite::Result<()> {
        let name = table_file(&table.name);
        if self.is_full() || !self.container.files.iter().any(|it| it.0 == name) {
            return Ok(());
        }
        let mut insert = self.connection.prepare(&table.insert())?;
        let mut file = match self.container.file(&name) {
            Ok(file) => BufReader::new(file.take(Part::Table.most() + 1)),
            Err(problem) => {
                self.problems.push(problem);
                return Ok(());
            }
        };
        let (rows, damaged) = rows_of(&mut file, |number, line| {
            let added = add_row(self.connection, table, line, &mut insert);
            let problems = added.err().into_iter().flatten();
            self.problems
                .extend(problems.map(|it| at(&name, number, it)));
            self.problems.len() < MOST_PROBLEMS
        });
        self.problems
            .extend(damaged.map(|it| at(&name, rows + 1, it)));
        if file.into_inner().limit() == 0 {
            let found = "it unpacks to more than it says";
            self.problems.push(ArchiveProblem::of(&name, found));
        }
        self.contents.rows += rows;
        self.contents.tables += u32::from(rows > 0);
        Ok(())
    }

    fn find_pictures_left_over(&mut self) -> rusqlite::Result<()> {
        let mut statement = self.connection.prepare("SELECT name FROM held LIMIT 40")?;
        let names = statement.query_map([], |row| row.get::<_, String>(0))?;
        for name in names {
            let found = "no row names this photograph";
            self.problems.push(ArchiveProblem::of(&name?, found));
        }
        Ok(())
    }

    /// Reads the files of the user's own; what they say of their size is not believed.
    fn own_files(&mut self) -> Vec<OwnFile> {
        let files = self.container.files.clone();
        let (mut own, mut bytes) = (Vec::new(), 0_u64);
        for (name, _) in files.into_iter().filter(|it| it.1 == Part::Own) {
            let text = self.container.bytes(&name, Part::Own).and_then(|bytes| {
                String::from_utf8(bytes).map_err(|_| ArchiveProblem::of(&name, "it is not UTF-8"))
            });
            match text {
                Ok(text) => {
                    bytes += text.len() as u64;
                    own.push((name, text));
                    if bytes > MOST_OWN_IN_ALL {
                        self.problems.push(ArchiveProblem::of("", TOO_MUCH_OWN));
                        break;
                    }
                }
                Err(problem) => self.problems.push(problem),
            }
        }
        self.contents.own_files = u32::try_from(own.len()).unwrap_or(u32::MAX);
        own
    }
}

fn at(entry: &str, line: u64, found: String) -> ArchiveProblem {
    ArchiveProblem {
        entry: entry.to_owned(),
        line: Some(line),
        found,
    }
}

/// Gives every line of a table with its number to `add`, until that has enough; tells how many there were, and what
/// is damaged behind the last of them.
fn rows_of(
    file: &mut impl BufRead,
    mut add: impl FnMut(u64, &str) -> bool,
) -> (u64, Option<String>) {
    let mut number = 0;
    loop {
        match next_line(file) {
            Ok(None) => return (number, None),
            Err(found) => return (number, Some(found)),
            Ok(Some(line)) => {
                number += 1;
                if !add(number, &line) {
                    return (number, None);
                }
            }
        }
    }
}

/// The next line of a table; none at its end.
fn next_line(file: &mut impl BufRead) -> Result<Option<String>, String> {
    let mut line = Vec::new();
    file.take(MOST_LINE + 1)
        .read_until(b'\n', &mut line)
        .map_err(|error| format!("it is damaged from here: {}", system_words(&error)))?;
    if line.is_empty() {
        return Ok(None);
    }
    if line.len() as u64 > MOST_LINE {
        return Err("the line is longer than 9 MiB".to_owned());
    }
    if line.last() == Some(&b'\n') {
        line.pop();
    }
    String::from_utf8(line)
        .map(Some)
        .map_err(|_| "the line is not UTF-8".to_owned())
}

/// Adds the row of one line.
fn add_row(
    connection: &Connection,
    table: &TableForm,
    line: &str,
    insert: &mut rusqlite::Statement<'_>,
) -> Result<(), Vec<String>> {
    let cells = cells_of(table, line, |file| {
        let sql = "DELETE FROM held WHERE name = ?1 RETURNING bytes";
        let found = connection
            .prepare_cached(sql)
            .and_then(|mut held| held.query_row([file], |row| row.get(0)).optional())
            .map_err(|error| error.to_string())?;
        found.ok_or_else(|| "the photograph that it names is not in the archive".to_owned())
    })?;
    insert
        .execute(params_from_iter(cells))
        .map(drop)
        .map_err(|error| vec![error.to_string()])
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::io::Cursor;
    use std::io::Write;

    use zip::ZipWriter;
    use zip::write::SimpleFileOptions;

    use super::*;

    /// Makes every file of one's own say that it unpacks to one byte (APPNOTE 6.3.10, section 4.3.12: the size stands
    /// 24 bytes after the mark of an entry of the list, the name 46).
    fn say_one_byte(archive: &mut [u8]) {
        for at in 0..archive.len() - 46 {
            if archive[at..].starts_with(b"PK\x01\x02")
                && archive[at + 46..].starts_with(b"descriptors/")
            {
                archive[at + 24..at + 28].copy_from_slice(&1_u32.to_le_bytes());
            }
        }
    }

    #[test]
    fn files_that_unpack_to_more_than_they_say_are_limited_together_all_the_same() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("all.zip");
        let store = Store::in_memory().unwrap();
        store.write_archive(&file, &[]).unwrap();
        let plain = Cursor::new(fs::read(&file).unwrap());
        let mut zip = ZipWriter::new_append(plain).unwrap();
        let text = vec![b'#'; 4 << 20];
        for number in 0..17 {
            let name = format!("descriptors/{number}.toml");
            zip.start_file(name, SimpleFileOptions::default()).unwrap();
            zip.write_all(&text).unwrap();
        }
        let mut archive = zip.finish().unwrap().into_inner();
        say_one_byte(&mut archive);
        let refused = OpenedArchive::read_from(Cursor::new(archive), &file).unwrap_err();
        // The library stops at the size that a file says it has.
        let told = refused.to_string();
        assert!(told.contains("larger than its declared"), "{told}");
    }

    #[test]
    fn no_archive_is_written_that_holds_too_much_to_be_read() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("all.zip");
        let own = |it| (format!("descriptors/{it}.toml"), "#".repeat(4 << 20));
        let own: Vec<OwnFile> = (0..17).map(own).collect();
        let store = Store::in_memory().unwrap();
        let refused = store.write_archive(&file, &own).unwrap_err();
        assert!(refused.to_string().contains("64 MiB"), "{refused}");
        assert!(!file.exists());
    }
}
