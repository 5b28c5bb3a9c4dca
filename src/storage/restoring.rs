//! Bringing a copy of the file back, with what was there before kept aside.

use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::time::Duration;

use rusqlite::Connection;
use rusqlite::OpenFlags;
use rusqlite::backup::Backup;

use crate::domain::Moment;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::file_problem::problems_of;
use crate::storage::home_folder;
use crate::storage::schema;

/// What was tried, for messages.
const STEP: &str = "bring back a copy";

/// Pages that are copied at once.
const PAGES: i32 = 4_096;

/// How long to wait where another program writes.
const PAUSE: Duration = Duration::from_millis(20);

/// A copy of the file, looked through.
#[derive(Debug)]
pub struct SoundCopy {
    file: PathBuf,
    connection: Connection,
    /// When anything in it was made last; none where it holds nothing.
    pub latest: Option<Moment>,
    /// How many locked notes it holds.
    pub notes: u32,
}

impl SoundCopy {
    /// Opens a copy and looks it through; it is not changed.
    ///
    /// # Errors
    /// It cannot be read, is no thirdglass file, is newer than this program, or is damaged.
    pub fn open(file: &Path) -> Result<Self, StorageError> {
        // SQLite would tell of a missing file that it cannot open it, and nothing more.
        drop(crate::storage::user_files::open_file(file)?);
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let failed = |error| StorageError::database(file, STEP, error);
        let connection = Connection::open_with_flags(file, flags).map_err(failed)?;
        if schema::version(&connection, file, schema::MIGRATIONS.len())? == 0 {
            let file = file.to_owned();
            return Err(StorageError::NotADatabase { file });
        }
        let damaged = |found: String| StorageError::DamagedCopy {
            file: file.to_owned(),
            found,
        };
        let problems = problems_of(&connection).map_err(|error| damaged(error.to_string()))?;
        if let Some(problem) = problems.first() {
            return Err(damaged(problem.to_string()));
        }
        let (latest, notes) = connection
            .query_row(
                "SELECT max(typed_on), count(locked_at) FROM notes",
                [],
                |row| Ok((row.get::<_, Option<String>>(0)?, row.get(1)?)),
            )
            .map_err(failed)?;
        Ok(Self {
            file: file.to_owned(),
            connection,
            latest: latest.and_then(|it| Moment::parse(&it).ok()),
            notes,
        })
    }

    /// True where a copy would take the place of nothing: there is no file, or one without a row.
    #[must_use]
    pub fn is_free(home: &Path, stamp: &Moment) -> bool {
        if !home_folder::file_in(home).exists() {
            return true;
        }
        Store::open(home, stamp).is_ok_and(|store| store.ensure_empty().is_ok())
    }

    /// Puts this copy in the place of the home's file. What was there is kept beside it under a name with `stamp`,
    /// which is returned; none where there was nothing.
    ///
    /// # Errors
    /// The disk refuses or another program keeps the file busy; the home is then as it was.
    pub fn put_in_place(
        &self,
        home: &Path,
        stamp: &Moment,
    ) -> Result<Option<PathBuf>, StorageError> {
        let stamp_words = stamp.to_string().replace(':', "-");
        let aside = home.join(format!("thirdglass-before-restore-{stamp_words}.db"));
        match Store::open(home, stamp) {
            Ok(mut store) => {
                let kept = store.ensure_empty().is_err();
                if kept {
                    store.backup_to(&aside)?;
                }
                store.overwrite_with(&self.connection, &self.file)?;
                Ok(kept.then_some(aside))
            }
            Err(StorageError::Busy { file, step }) => Err(StorageError::Busy { file, step }),
            // What cannot be opened cannot be copied either: it is moved aside as it is.
            Err(_) => {
                let file = home_folder::make(home)?;
                let names = move_aside(&file, &aside)?;
                let put = Store::open(home, stamp)
                    .and_then(|mut store| store.overwrite_with(&self.connection, &self.file));
                if put.is_err() {
                    for (from, to) in names {
                        fs::rename(to, from).ok();
                    }
                }
                put.map(|()| Some(aside))
            }
        }
    }
}

impl Store {
    /// Copies every page of another file into this one, in one transaction.
    fn overwrite_with(&mut self, from: &Connection, file: &Path) -> Result<(), StorageError> {
        let failed = |error| StorageError::database(file, STEP, error);
        self.apart(STEP, "SELECT 1")?;
        let backup = Backup::new(from, self.raw_mut()).map_err(failed)?;
        backup.run_to_completion(PAGES, PAUSE, None).map_err(failed)
    }
}

/// Moves a file and what `SQLite` keeps beside it to another name; returns both names of each.
fn move_aside(file: &Path, aside: &Path) -> Result<Vec<(PathBuf, PathBuf)>, StorageError> {
    let beside = |file: &Path, end: &str| {
        let mut name = file.as_os_str().to_owned();
        name.push(end);
        PathBuf::from(name)
    };
    let mut moved = Vec::new();
    for end in ["", "-wal", "-shm"] {
        let (from, to) = (beside(file, end), beside(aside, end));
        if from.exists() {
            fs::rename(&from, &to).map_err(|error| {
                StorageError::file(
                    &from,
                    "move aside",
                    &error,
                    "see that you may write to the home",
                )
            })?;
            moved.push((from, to));
        }
    }
    Ok(moved)
}
