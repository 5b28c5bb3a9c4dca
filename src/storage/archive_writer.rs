//! Writing everything of a home into one archive, byte for byte the same for the same home.

use std::io::BufWriter;
use std::io::Seek;
use std::io::Write;
use std::path::Path;

use rusqlite::Row;
use zip::CompressionMethod;
use zip::DateTime;
use zip::ZipWriter;
use zip::result::ZipError;
use zip::write::SimpleFileOptions;

use crate::storage::ArchiveError;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::archive_form::FORMAT;
use crate::storage::archive_form::HEAD;
use crate::storage::archive_form::KIND;
use crate::storage::archive_form::LEFT_OUT;
use crate::storage::archive_form::MOST_FILES;
use crate::storage::archive_form::MOST_LINE;
use crate::storage::archive_form::MOST_OWN_IN_ALL;
use crate::storage::archive_form::MOST_TABLE;
use crate::storage::archive_form::PAGE;
use crate::storage::archive_form::page;
use crate::storage::archive_form::table_file;
use crate::storage::archive_line::add_line;
use crate::storage::archive_line::bytes_file;
use crate::storage::archive_tables::TableForm;
use crate::storage::archive_tables::tables;
use crate::storage::schema;
use crate::storage::steady_writer::FirstError;
use crate::storage::steady_writer::SteadyWriter;
use crate::storage::system_words::system_words;
use crate::storage::system_words::zip_words;
use crate::storage::user_files::new_private_file_filled;

/// What was tried, for messages.
const STEP: &str = "read everything for an archive";

/// How hard to pack; the same everywhere, so that the bytes are.
const EFFORT: i64 = 6;

/// What an archive holds, for a report.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct ArchiveContents {
    /// Tables with at least one row.
    pub tables: u32,
    /// Rows of all tables.
    pub rows: u64,
    /// Photographs.
    pub photographs: u32,
    /// Files of the user's own: words, ingredients, hints, the larder, the settings.
    pub own_files: u32,
}

/// A file of the user's own: its name in the home, and its text.
pub type OwnFile = (String, String);

impl Store {
    /// Writes everything of this file, and the user's own files, into a new archive that only the user may read.
    /// Neither a date nor a version of the program is in it, so that the same home gives the same bytes.
    ///
    /// # Errors
    /// Something of that name is there already, there is more than an archive may hold, or a disk refuses.
    pub fn write_archive(
        &self,
        file: &Path,
        own: &[OwnFile],
    ) -> Result<ArchiveContents, StorageError> {
        self.as_of_now(|| {
            let mut contents = ArchiveContents::default();
            new_private_file_filled(file, |out| {
                let mut writing = Writing::new(BufWriter::new(out), file);
                self.pack(&mut writing, own)?;
                contents = writing.contents;
                writing.finish()
            })?;
            Ok(contents)
        })
    }

    fn pack<W: Write + Seek>(
        &self,
        writing: &mut Writing<'_, W>,
        own: &[OwnFile],
    ) -> Result<(), StorageError> {
        let failed = |error| StorageError::database(self.path(), STEP, error);
        let schema = schema::MIGRATIONS.len();
        writing.whole(PAGE, page(schema).as_bytes())?;
        let head = serde_json::json!({
            "archive": KIND, "format": FORMAT, "schema": schema, "left_out": LEFT_OUT,
        });
        writing.whole(HEAD, format!("{head:#}\n").as_bytes())?;
        pack_own(own, writing)?;
        let tables = tables(self.raw()).map_err(failed)?;
        for table in &tables {
            self.pack_table(table, writing)?;
        }
        for table in tables.iter().filter(|it| it.has_bytes()) {
            self.pack_bytes(table, writing)?;
        }
        Ok(())
    }

    fn pack_table<W: Write + Seek>(
        &self,
        table: &TableForm,
        writing: &mut Writing<'_, W>,
    ) -> Result<(), StorageError> {
        let name = table_file(&table.name);
        writing.begin(&name)?;
        let (mut bytes, mut rows) = (0, 0);
        let mut line = Vec::new();
        self.each_row(table, |row| {
            line.clear();
            add_line(&mut line, table, row)
                .map_err(|found| self.unreadable(&table.name, &found))?;
            line.push(b'\n');
            let length = line.len() as u64;
            bytes += length;
            if length > MOST_LINE || bytes > MOST_TABLE {
                let most = "lines of 9 MiB and tables of 1 GiB";
                return Err(too_much(&name, "more", most));
            }
            rows += 1;
            writing.add(&line)
        })?;
        writing.contents.rows += rows;
        writing.contents.tables += u32::from(rows > 0);
        Ok(())
    }

    /// The files that stand for bytes in the rows of a table.
    fn pack_bytes<W: Write + Seek>(
        &self,
        table: &TableForm,
        writing: &mut Writing<'_, W>,
    ) -> Result<(), StorageError> {
        self.each_row(table, |row| {
            for (index, (column, _)) in table.columns.iter().enumerate() {
                let Ok(bytes) = row.get_ref(index).and_then(|it| Ok(it.as_blob()?)) else {
                    continue;
                };
                let name = bytes_file(table, row).map_err(|found| {
                    self.unreadable(&format!("{}.{column}", table.name), &found)
                })?;
                writing.whole(&name, bytes)?;
                writing.contents.photographs += 1;
            }
            Ok(())
        })
    }

    /// Looks at every row of a table, one at a time.
    fn each_row(
        &self,
        table: &TableForm,
        mut look: impl FnMut(&Row<'_>) -> Result<(), StorageError>,
    ) -> Result<(), StorageError> {
        let failed = |error| StorageError::database(self.path(), STEP, error);
        let mut statement = self.raw().prepare(&table.select()).map_err(failed)?;
        let mut rows = statement.query([]).map_err(failed)?;
        while let Some(row) = rows.next().map_err(failed)? {
            look(row)?;
        }
        Ok(())
    }

    fn unreadable(&self, place: &str, found: &str) -> StorageError {
        StorageError::Unreadable {
            file: self.path().to_owned(),
            step: STEP,
            found: format!("{place}: {found}"),
        }
    }
}

/// The user's own files, by their names.
fn pack_own<W: Write + Seek>(
    own: &[OwnFile],
    writing: &mut Writing<'_, W>,
) -> Result<(), StorageError> {
    let mut own: Vec<&OwnFile> = own.iter().collect();
    own.sort();
    let mut bytes = 0;
    for (name, text) in own {
        bytes += text.len() as u64;
        if bytes > MOST_OWN_IN_ALL {
            let most = "64 MiB of files of one's own together";
            return Err(too_much(name, "more", most));
        }
        writing.whole(name, text.as_bytes())?;
        writing.contents.own_files += 1;
    }
    Ok(())
}

fn too_much(entry: &str, found: &str, most: &'static str) -> StorageError {
    StorageError::from(ArchiveError::TooMuch {
        entry: entry.to_owned(),
        found: found.to_owned(),
        most,
    })
}

/// An archive that is being written.
struct Writing<'a, W: Write + Seek> {
    zip: ZipWriter<SteadyWriter<W>>,
    failed: FirstError,
    file: &'a Path,
    files: u64,
    contents: ArchiveContents,
}

impl<'a, W: Write + Seek> Writing<'a, W> {
    fn new(out: W, file: &'a Path) -> Self {
        let out = SteadyWriter::new(out);
        Self {
            failed: out.failed(),
            zip: ZipWriter::new(out),
            file,
            files: 0,
            contents: ArchiveContents::default(),
        }
    }

    /// Begins a file, dated as if the calendar of the form had just begun.
    fn begin(&mut self, name: &str) -> Result<(), StorageError> {
        self.files += 1;
        if self.files > MOST_FILES {
            return Err(too_much(name, "one file more", "20000 files"));
        }
        let options = SimpleFileOptions::default()
            .compression_method(CompressionMethod::Deflated)
            .compression_level(Some(EFFORT))
            .last_modified_time(DateTime::default())
            .unix_permissions(0o600);
        let begun = self.zip.start_file(name, options);
        self.unless_failed(begun)
    }

    fn add(&mut self, bytes: &[u8]) -> Result<(), StorageError> {
        let added = self.zip.write_all(bytes);
        self.unless_failed(added.map_err(ZipError::from))
    }

    fn whole(&mut self, name: &str, bytes: &[u8]) -> Result<(), StorageError> {
        self.begin(name)?;
        self.add(bytes)
    }

    fn finish(self) -> Result<(), StorageError> {
        let (failed, file) = (self.failed, self.file);
        let mut out = self
            .zip
            .finish()
            .map_err(|it| not_written(file, &zip_words(&it)))?;
        let flushed = out
            .flush()
            .map_err(|it| not_written(file, &system_words(&it)));
        told(&failed, file).and(flushed)
    }

    /// What was done, unless the disk has refused something so far.
    fn unless_failed(&self, done: Result<(), ZipError>) -> Result<(), StorageError> {
        told(&self.failed, self.file)?;
        done.map_err(|error| not_written(self.file, &zip_words(&error)))
    }
}

/// What the disk refused first.
fn told(failed: &FirstError, file: &Path) -> Result<(), StorageError> {
    match failed.borrow().as_ref() {
        Some(found) => Err(not_written(file, found)),
        None => Ok(()),
    }
}

fn not_written(file: &Path, found: &str) -> StorageError {
    StorageError::from(ArchiveError::NotWritten {
        file: file.to_owned(),
        found: found.to_owned(),
    })
}
