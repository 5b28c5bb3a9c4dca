//! What went wrong while remembering: which file, which step, and what to do.

use std::path::Path;
use std::path::PathBuf;

use rusqlite::ErrorCode;
use thiserror::Error;

use crate::domain::BatchId;
use crate::domain::BeerId;
use crate::domain::NotesId;
use crate::domain::RemovedKind;
use crate::storage::ArchiveError;
use crate::storage::system_words::system_words;

/// Why something could not be stored or read.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum StorageError {
    /// A file or folder that the system would not give.
    #[error("could not {step} {}: {found}; {remedy}", file.display())]
    File {
        /// Which file or folder.
        file: PathBuf,
        /// What was tried.
        step: &'static str,
        /// What the system said.
        found: String,
        /// What to do.
        remedy: &'static str,
    },
    /// A folder where a file is needed.
    #[error("could not read {}: it is a folder; name a file in it", file.display())]
    IsFolder {
        /// The folder.
        file: PathBuf,
    },
    /// A file longer than what is read.
    #[error("could not read {}: it is longer than {most} bytes; is it the right file?", file.display())]
    TooLong {
        /// The file.
        file: PathBuf,
        /// The most bytes read.
        most: u64,
    },
    /// A text file that is no text.
    #[error(
        "could not read {}: byte {at} is not UTF-8 text; save the file as UTF-8 and try again",
        file.display()
    )]
    NotText {
        /// The file.
        file: PathBuf,
        /// The first byte that does not fit, counted from 1.
        at: usize,
    },
    /// A file that would have been overwritten.
    #[error("could not write {}: it is there already; choose another name or move it away", file.display())]
    Exists {
        /// The file.
        file: PathBuf,
    },
    /// No variable tells where data lives.
    #[error(
        "could not find a folder for the data: neither THIRDGLASS_HOME nor XDG_DATA_HOME nor HOME names one; use --home DIR"
    )]
    NoHome,
    /// A file that is no database at all.
    #[error(
        "could not open {}: it is not a thirdglass file and was left as it is; move it away, or use another home with --home DIR",
        file.display()
    )]
    NotADatabase {
        /// The file.
        file: PathBuf,
    },
    /// A database that another program made.
    #[error(
        "could not open {}: it belongs to another program (application id {application}) and was left as it is; move it away, or use another home with --home DIR",
        file.display()
    )]
    Foreign {
        /// The file.
        file: PathBuf,
        /// The application id found in it.
        application: i32,
    },
    /// A file that a newer thirdglass made.
    #[error(
        "could not open {}: it was written by a newer thirdglass (its version is {found}, this program reads up to {supported}) and was left as it is; install the newer program",
        file.display()
    )]
    Newer {
        /// The file.
        file: PathBuf,
        /// Its version.
        found: i64,
        /// The newest version that this program reads.
        supported: usize,
    },
    /// The folder does not allow the safe way of writing.
    #[error(
        "could not open {}: the disk gave the journal mode “{found}” where “wal” is needed; use a home on a local disk with --home DIR",
        file.display()
    )]
    NoWal {
        /// The file.
        file: PathBuf,
        /// The journal mode found.
        found: String,
    },
    /// Another program holds the file.
    #[error(
        "could not {step} in {}: another program kept the file busy for 5 seconds; close it and try again",
        file.display()
    )]
    Busy {
        /// The file.
        file: PathBuf,
        /// What was tried.
        step: &'static str,
    },
    /// The database refused.
    #[error("could not {step} in {}: {found}; {remedy}", file.display())]
    Database {
        /// The file.
        file: PathBuf,
        /// What was tried.
        step: &'static str,
        /// What the database said.
        found: String,
        /// What to do.
        remedy: &'static str,
    },
    /// A file with damaged pages.
    #[error(
        "could not {step} in {}: {found}; the file is damaged: keep a copy of it, then bring back a copy of an earlier day with thirdglass home restore FILE",
        file.display()
    )]
    Damaged {
        /// The file.
        file: PathBuf,
        /// What was tried.
        step: &'static str,
        /// What the database said.
        found: String,
    },
    /// A stored value that the trade does not allow.
    #[error(
        "could not {step} from {}: {found}; keep a copy of the file, then bring back a copy: thirdglass home restore FILE",
        file.display()
    )]
    Unreadable {
        /// The file.
        file: PathBuf,
        /// What was tried.
        step: &'static str,
        /// The column and what is wrong in it.
        found: String,
    },
    /// A name that must be unique and is used.
    #[error("{what} “{found}” is taken; choose another")]
    Taken {
        /// What it names.
        what: &'static str,
        /// The name.
        found: String,
    },
    /// A copy that is not sound.
    #[error("{} was not brought back, and nothing was changed: {found}; take another copy", file.display())]
    DamagedCopy {
        /// The copy.
        file: PathBuf,
        /// What is wrong with it.
        found: String,
    },
    /// What was removed cannot come back, because something has its place.
    #[error(
        "could not bring back the {} {name}: something of the same name or number is there now; remove or rename that one first, then bring this one back",
        kind.word()
    )]
    PlaceTaken {
        /// What people call it.
        name: String,
        /// What it is.
        kind: RemovedKind,
    },
    /// What was removed cannot come back, because what it stood on is gone.
    #[error(
        "could not bring back the {} {name}: what it belongs to ({missing}) was removed as well; bring that back first, thirdglass removed lists it",
        kind.word()
    )]
    StoodOn {
        /// What people call it.
        name: String,
        /// What it is.
        kind: RemovedKind,
        /// The table in which something is missing.
        missing: String,
    },
    /// A row that is not there. Its id says nothing to a person and is not told.
    #[error(
        "could not {step}: {what} is not there any more, perhaps removed in another window; look it up again"
    )]
    Missing {
        /// What was tried.
        step: &'static str,
        /// What was looked for.
        what: &'static str,
        /// Its id.
        id: String,
    },
    /// A beer that belongs to another batch already.
    #[error(
        "the beer {beer} belongs to the batch {batch} already; it cannot belong to a second one"
    )]
    HasBatch {
        /// The beer.
        beer: BeerId,
        /// The batch it belongs to.
        batch: BatchId,
    },
    /// Something of an archive of a whole home.
    #[error(transparent)]
    Archive(#[from] ArchiveError),
    /// Notes that are final.
    #[error("the notes {notes} are locked and stay as they are; begin a second round instead")]
    Locked {
        /// The notes.
        notes: NotesId,
    },
}

impl StorageError {
    /// The error for what the system said of a file.
    pub(super) fn file(
        file: &Path,
        step: &'static str,
        found: &std::io::Error,
        remedy: &'static str,
    ) -> Self {
        Self::File {
            file: file.to_owned(),
            step,
            found: system_words(found),
            remedy,
        }
    }

    /// The error for what the database said.
    pub(super) fn database(file: &Path, step: &'static str, error: rusqlite::Error) -> Self {
        let file = file.to_owned();
        let (code, found) = match error {
            rusqlite::Error::FromSqlConversionFailure(_, _, found) => {
                let found = found.to_string();
                return Self::Unreadable { file, step, found };
            }
            rusqlite::Error::SqliteFailure(failure, found) => {
                (failure.code, found.unwrap_or_else(|| failure.to_string()))
            }
            other => (ErrorCode::Unknown, other.to_string()),
        };
        match code {
            ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked => Self::Busy { file, step },
            ErrorCode::NotADatabase => Self::NotADatabase { file },
            ErrorCode::DatabaseCorrupt => Self::Damaged { file, step, found },
            _ => Self::Database {
                file,
                step,
                found,
                remedy: remedy(code),
            },
        }
    }
}

/// What to do about an answer of the database.
const fn remedy(code: ErrorCode) -> &'static str {
    match code {
        ErrorCode::DiskFull => "make room on the disk and try again",
        ErrorCode::ReadOnly | ErrorCode::PermissionDenied | ErrorCode::CannotOpen => {
            "see who may write to the file and its folder"
        }
        ErrorCode::ConstraintViolation => "nothing was stored; correct the value and try again",
        _ => "nothing was stored; try again, and see whether disk and folder are sound if it stays",
    }
}
