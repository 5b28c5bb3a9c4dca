//! The one file that remembers: opening it safely, and writing all or nothing.

use std::path::Path;
use std::path::PathBuf;
use std::thread;
use std::time::Duration;

use rusqlite::Connection;
use rusqlite::ErrorCode;
use rusqlite::OpenFlags;
use rusqlite::OptionalExtension;
use rusqlite::Params;
use rusqlite::Row;
use rusqlite::config::DbConfig;

use crate::domain::Moment;
use crate::storage::StorageError;
use crate::storage::archive_tables;
use crate::storage::home_folder;
use crate::storage::schema;

/// How long a program waits for another one that writes.
pub(super) const PATIENCE: Duration = Duration::from_secs(5);

/// How long between two tries where `SQLite` itself does not wait; 250 of them are our patience.
const PAUSE: Duration = Duration::from_millis(20);

/// Statements kept ready; more than all methods together use.
const STATEMENTS_KEPT: usize = 128;

/// The store: one `SQLite` file in a home folder.
#[derive(Debug)]
pub struct Store {
    connection: Connection,
    file: PathBuf,
    /// How many [`Store::in_one_go`] are running, one in the other.
    depth: u32,
    /// Rows that had been changed when it was ready, by bringing it up to date.
    changes_at_first: u64,
}

/// A state of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StoreStamp {
    /// Changes with every commit of another connection.
    by_others: Option<i64>,
    /// Rows that were changed through this one.
    by_itself: u64,
}

impl StoreStamp {
    /// This state once the own writes up to `later` are counted; what others wrote meanwhile is not.
    #[must_use]
    pub const fn after_own_writes(self, later: Self) -> Self {
        Self {
            by_others: self.by_others,
            by_itself: later.by_itself,
        }
    }
}

impl Store {
    /// Opens the file `thirdglass.db` in the folder `home`; makes both where they are missing, for
    /// the user alone. An older file is brought up to date after a copy, dated `stamp`, was made.
    ///
    /// # Errors
    /// The folder or file cannot be made or opened, is no thirdglass file, is newer, or is busy.
    pub fn open(home: &Path, stamp: &Moment) -> Result<Self, StorageError> {
        let file = home_folder::make(home)?;
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let connection = Connection::open_with_flags(&file, flags)
            .map_err(|error| StorageError::database(&file, "open the file", error))?;
        guard(&connection).map_err(|error| StorageError::database(&file, "open it", error))?;
        // Whose file it is comes before anything that would write to it.
        schema::version(&connection, &file, schema::MIGRATIONS.len())?;
        write_ahead(&connection, &file)?;
        schema::copy_before(&connection, &file, stamp, schema::MIGRATIONS)?;
        Self::up_to_date(connection, file)
    }

    /// A store that forgets everything when it is dropped.
    ///
    /// # Errors
    /// There is no memory for it.
    pub fn in_memory() -> Result<Self, StorageError> {
        let file = PathBuf::from("memory");
        let failed = |error| StorageError::database(Path::new("memory"), "open it", error);
        let connection = Connection::open_in_memory().map_err(failed)?;
        guard(&connection).map_err(failed)?;
        Self::up_to_date(connection, file)
    }

    /// A throw-away store over a file without a name.
    pub(super) fn staged(connection: Connection, file: PathBuf) -> Result<Self, StorageError> {
        guard(&connection).map_err(|error| StorageError::database(&file, "open it", error))?;
        Self::up_to_date(connection, file)
    }

    fn up_to_date(mut connection: Connection, file: PathBuf) -> Result<Self, StorageError> {
        schema::migrate(&mut connection, &file, schema::MIGRATIONS)?;
        connection.set_prepared_statement_cache_capacity(STATEMENTS_KEPT);
        let store = Self {
            changes_at_first: connection.total_changes(),
            connection,
            file,
            depth: 0,
        };
        store.rub_out_what_was_left();
        Ok(store)
    }

    /// Does `work` in one transaction: everything of it is stored, or nothing. May stand inside
    /// another `in_one_go`, whose end then decides.
    ///
    /// # Errors
    /// What `work` returned, or that the transaction could not begin or end.
    pub fn in_one_go<T, E: From<StorageError>>(
        &mut self,
        work: impl FnOnce(&mut Self) -> Result<T, E>,
    ) -> Result<T, E> {
        self.begin()?;
        let mut going = OneGo {
            depth: self.depth,
            store: self,
            kept: false,
        };
        going.store.depth += 1;
        let value = work(going.store)?;
        going.keep()?;
        Ok(value)
    }

    fn begin(&self) -> Result<(), StorageError> {
        let begin = if self.depth == 0 {
            "BEGIN IMMEDIATE"
        } else {
            self.still_going()?;
            "SAVEPOINT step"
        };
        self.tell(begin)
    }

    fn tell(&self, sql: &str) -> Result<(), StorageError> {
        self.connection
            .execute_batch(sql)
            .map_err(|error| StorageError::database(&self.file, "store", error))
    }

    /// `SQLite` ends a transaction by itself when the disk fails; nothing more may be stored then.
    fn still_going(&self) -> Result<(), StorageError> {
        if self.connection.is_autocommit() {
            return Err(StorageError::Database {
                file: self.file.clone(),
                step: "store",
                found: "an earlier step had failed".to_owned(),
                remedy: "nothing was stored; try again",
            });
        }
        Ok(())
    }

    /// The connection itself, for statements that are made from the tables as they are declared.
    pub(super) const fn raw(&self) -> &Connection {
        &self.connection
    }

    /// The connection itself, to be written over.
    pub(super) const fn raw_mut(&mut self) -> &mut Connection {
        &mut self.connection
    }

    /// The state of the file as it is seen from here: another one as soon as anybody has written.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn stamp(&self) -> Result<StoreStamp, StorageError> {
        let by_others = self.first(
            "look whether the file changed",
            "PRAGMA data_version",
            [],
            |row| row.get(0),
        )?;
        Ok(StoreStamp {
            by_others,
            by_itself: self.connection.total_changes(),
        })
    }

    /// True once anything was changed through this store since it was opened.
    #[must_use]
    pub fn was_written_to(&self) -> bool {
        self.connection.total_changes() > self.changes_at_first
    }

    /// How many rows there are, and in how many tables, apart from what is computed and what was removed.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn rows_in_tables(&self) -> Result<(u64, u32), StorageError> {
        let failed = |error| StorageError::database(&self.file, "count the rows", error);
        let (mut rows, mut tables) = (0, 0);
        for table in archive_tables::tables(&self.connection).map_err(failed)? {
            let found: u32 = self
                .connection
                .query_row(&table.count(), [], |row| row.get(0))
                .map_err(failed)?;
            rows += u64::from(found);
            tables += 1;
        }
        Ok((rows, tables))
    }

    /// Which file.
    pub(super) fn path(&self) -> &Path {
        &self.file
    }

    /// True for a store that is no file.
    pub(super) fn is_in_memory(&self) -> bool {
        self.connection.path().is_none_or(str::is_empty)
    }

    /// Does what cannot be prepared, outside of every transaction.
    pub(super) fn apart(&self, step: &'static str, sql: &str) -> Result<(), StorageError> {
        // Statements kept ready would keep the file from being written anew.
        self.connection.flush_prepared_statement_cache();
        self.connection
            .execute_batch(sql)
            .map_err(|error| StorageError::database(&self.file, step, error))
    }

    /// Tells the connection how to work.
    pub(super) fn pragma(
        &self,
        step: &'static str,
        name: &str,
        value: &str,
    ) -> Result<(), StorageError> {
        self.connection
            .pragma_update_and_check(None, name, value, |_| Ok(()))
            .map_err(|error| StorageError::database(&self.file, step, error))
    }

    /// Changes rows; returns how many.
    pub(super) fn run(
        &self,
        step: &'static str,
        sql: &str,
        values: impl Params,
    ) -> Result<usize, StorageError> {
        self.connection
            .prepare_cached(sql)
            .and_then(|mut statement| statement.execute(values))
            .map_err(|error| StorageError::database(&self.file, step, error))
    }

    /// Reads every row of a query.
    pub(super) fn all<T>(
        &self,
        step: &'static str,
        sql: &str,
        values: impl Params,
        read: impl FnMut(&Row<'_>) -> rusqlite::Result<T>,
    ) -> Result<Vec<T>, StorageError> {
        self.connection
            .prepare_cached(sql)
            .and_then(|mut statement| statement.query_map(values, read)?.collect())
            .map_err(|error| StorageError::database(&self.file, step, error))
    }

    /// Reads the first row of a query, if there is one.
    pub(super) fn first<T>(
        &self,
        step: &'static str,
        sql: &str,
        values: impl Params,
        read: impl FnOnce(&Row<'_>) -> rusqlite::Result<T>,
    ) -> Result<Option<T>, StorageError> {
        self.connection
            .prepare_cached(sql)
            .and_then(|mut statement| statement.query_row(values, read).optional())
            .map_err(|error| StorageError::database(&self.file, step, error))
    }

    /// Reads several queries as of one moment, whatever others write meanwhile.
    pub(super) fn as_of_now<T>(
        &self,
        read: impl FnOnce() -> Result<T, StorageError>,
    ) -> Result<T, StorageError> {
        let step = "read as of one moment";
        self.run(step, "SAVEPOINT look", [])?;
        let found = read();
        self.run(step, "RELEASE look", [])?;
        found
    }

    /// Writes a whole copy of the store to a new file that only the user may read.
    ///
    /// # Errors
    /// The file exists already, or the disk refuses; no half copy stays.
    pub fn backup_to(&self, path: &Path) -> Result<(), StorageError> {
        schema::copy(&self.connection, &self.file, path)
    }
}

/// A running [`Store::in_one_go`]; what is dropped without being kept is undone, in a panic too.
struct OneGo<'store> {
    store: &'store mut Store,
    depth: u32,
    kept: bool,
}

impl OneGo<'_> {
    fn keep(&mut self) -> Result<(), StorageError> {
        self.store.still_going()?;
        let end = if self.depth == 0 {
            "COMMIT"
        } else {
            "RELEASE step"
        };
        self.store.tell(end)?;
        self.kept = true;
        Ok(())
    }
}

impl Drop for OneGo<'_> {
    fn drop(&mut self) {
        self.store.depth = self.depth;
        if self.kept || self.store.connection.is_autocommit() {
            return;
        }
        let undo = if self.depth == 0 {
            "ROLLBACK"
        } else {
            "ROLLBACK TO step; RELEASE step"
        };
        // The reason for undoing is on its way to the caller; a second error would hide it.
        self.store.tell(undo).ok();
    }
}

/// Pages of the file that are kept in memory, in KiB and negative, as the pragma has it: with the 2 MB that are usual,
/// a report over ten thousand tastings reads most pages again and again. That it is eight times as much is a judgement:
/// it holds the whole file of some four thousand tastings (a thousand invented ones take 3.8 MB), and a small machine
/// still has room for several windows.
const PAGES_KEPT: i32 = -16_384;

/// What every connection is told before anything else.
fn guard(connection: &Connection) -> rusqlite::Result<()> {
    connection.busy_timeout(PATIENCE)?;
    connection.pragma_update(None, "cache_size", PAGES_KEPT)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DQS_DML, false)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DQS_DDL, false)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_FKEY, true)?;
    // Without this a statement that is kept ready is planned anew for other values of its parameters.
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_ENABLE_QPSG, true)?;
    Ok(())
}

/// Turns on write-ahead logging, and waits for the disk at every commit.
fn write_ahead(connection: &Connection, file: &Path) -> Result<(), StorageError> {
    let failed = |error| StorageError::database(file, "open it", error);
    let found = journal_mode(connection).map_err(failed)?;
    if found != "wal" {
        return Err(StorageError::NoWal {
            file: file.to_owned(),
            found,
        });
    }
    connection
        .pragma_update(None, "synchronous", "full")
        .map_err(failed)
}

/// Asks for write-ahead logging; returns the mode there is. Where two programs start at once on a
/// new file, `SQLite` answers one of them "busy" without waiting, so the waiting is done here.
fn journal_mode(connection: &Connection) -> rusqlite::Result<String> {
    connection.busy_timeout(Duration::ZERO)?;
    let mut tries = PATIENCE.as_millis() / PAUSE.as_millis();
    let found = loop {
        let found =
            connection.pragma_update_and_check(None, "journal_mode", "wal", |row| row.get(0));
        let busy = matches!(&found, Err(error) if error.sqlite_error_code() == Some(ErrorCode::DatabaseBusy));
        if !busy || tries == 0 {
            break found;
        }
        tries -= 1;
        thread::sleep(PAUSE);
    };
    connection.busy_timeout(PATIENCE)?;
    found
}
