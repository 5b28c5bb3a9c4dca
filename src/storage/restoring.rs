//! Bringing a copy of the file back, with what was there before kept aside.

use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::thread;
use std::time::Duration;

use rusqlite::Connection;
use rusqlite::OpenFlags;
use rusqlite::backup::Backup;
use rusqlite::backup::StepResult;

use crate::domain::Moment;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::file_problem::problems_of;
use crate::storage::home_folder;
use crate::storage::schema;
use crate::storage::store::PATIENCE;
use crate::storage::user_files::new_private_file;

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
    /// The disk refuses, another program keeps the file busy, or a newer program wrote it; what was there stays.
    pub fn put_in_place(
        &self,
        home: &Path,
        stamp: &Moment,
    ) -> Result<Option<PathBuf>, StorageError> {
        let stamp_words = stamp.to_string().replace(':', "-");
        let aside = home.join(format!("thirdglass-before-restore-{stamp_words}.db"));
        match self.put_over(home, stamp, &aside) {
            Err(
                StorageError::NotADatabase { .. }
                | StorageError::Damaged { .. }
                | StorageError::Foreign { .. },
            ) => {
                // What cannot be read cannot be copied page by page: it is kept as it is.
                self.put_instead(home, &aside)?;
                Ok(Some(aside))
            }
            done => done,
        }
    }

    /// Into a file that is sound, in one transaction, so that other windows see all of it or nothing.
    fn put_over(
        &self,
        home: &Path,
        stamp: &Moment,
        aside: &Path,
    ) -> Result<Option<PathBuf>, StorageError> {
        let mut store = Store::open(home, stamp)?;
        let kept = store.ensure_empty().is_err();
        if kept {
            store.backup_to(aside)?;
        }
        store.apart(STEP, "SELECT 1")?;
        copy_pages(&self.connection, store.raw_mut(), &self.file)?;
        Ok(kept.then(|| aside.to_owned()))
    }

    /// In the place of a damaged file, which bears a second name before it loses its first.
    fn put_instead(&self, home: &Path, aside: &Path) -> Result<(), StorageError> {
        let file = home_folder::make(home)?;
        let new = beside(&file, ".restored");
        fs::remove_file(&new).ok();
        new_private_file(&new)?;
        let failed = |error| StorageError::database(&new, STEP, error);
        let mut connection = Connection::open(&new).map_err(failed)?;
        copy_pages(&self.connection, &mut connection, &self.file)?;
        connection.close().map_err(|(_, error)| failed(error))?;
        let refused = |error: std::io::Error| {
            let remedy = "see that you may write to the home; what was there is there still";
            StorageError::file(&file, "put a copy in the place of", &error, remedy)
        };
        fs::File::open(&new)
            .and_then(|it| it.sync_all())
            .map_err(refused)?;
        for end in ["", "-wal"] {
            let (from, to) = (beside(&file, end), beside(aside, end));
            if from.exists() {
                fs::hard_link(&from, &to).map_err(refused)?;
            }
        }
        // The log of the damaged file must not be played into the new one.
        for end in ["-wal", "-shm"] {
            let old = beside(&file, end);
            if old.exists() {
                fs::remove_file(&old).map_err(refused)?;
            }
        }
        fs::rename(&new, &file).map_err(refused)
    }
}

/// Copies every page of a file into another.
fn copy_pages(from: &Connection, to: &mut Connection, file: &Path) -> Result<(), StorageError> {
    let failed = |error| StorageError::database(file, STEP, error);
    let backup = Backup::new(from, to).map_err(failed)?;
    let mut tries = PATIENCE.as_millis() / PAUSE.as_millis();
    loop {
        match backup.step(PAGES).map_err(failed)? {
            StepResult::Done => return Ok(()),
            StepResult::Busy | StepResult::Locked if tries == 0 => {
                return Err(StorageError::Busy {
                    file: file.to_owned(),
                    step: STEP,
                });
            }
            StepResult::Busy | StepResult::Locked => {
                tries -= 1;
                thread::sleep(PAUSE);
            }
            _ => {}
        }
    }
}

/// A file whose name goes on after that of another.
fn beside(file: &Path, end: &str) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(end);
    PathBuf::from(name)
}
