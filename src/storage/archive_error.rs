//! What stands against writing or reading an archive of a whole home.

use std::fmt;
use std::path::PathBuf;

use thiserror::Error;

/// One thing wrong in an archive.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ArchiveProblem {
    /// The file in the archive; empty for the archive as a whole.
    pub entry: String,
    /// The line in it, from 1; none for the file as a whole.
    pub line: Option<u64>,
    /// What is wrong.
    pub found: String,
}

impl ArchiveProblem {
    /// A problem of a whole file in the archive.
    pub(super) fn of(entry: &str, found: impl Into<String>) -> Self {
        Self {
            entry: entry.to_owned(),
            line: None,
            found: found.into(),
        }
    }
}

impl fmt::Display for ArchiveProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // What a stranger wrote into an archive must not work on the terminal.
        let entry = self.entry.escape_debug();
        match (self.entry.as_str(), self.line) {
            ("", _) => f.write_str(&self.found),
            (_, Some(line)) => write!(f, "{entry}, line {line}: {}", self.found),
            (_, None) => write!(f, "{entry}: {}", self.found),
        }
    }
}

/// Why an archive could not be written or read.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ArchiveError {
    /// Something in it is not as an archive of a home must be.
    #[error("{} cannot be read as an archive of a home, and nothing was taken in:\n{}", file.display(), problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Problems {
        /// The archive.
        file: PathBuf,
        /// Everything that was found.
        problems: Vec<ArchiveProblem>,
    },
    /// A newer program wrote it.
    #[error(
        "{} was written by a newer thirdglass (its {what} is {found}, this program reads up to {supported}), and nothing was taken in; install the newer program",
        file.display()
    )]
    Newer {
        /// The archive.
        file: PathBuf,
        /// Which of its versions.
        what: &'static str,
        /// The version found.
        found: u64,
        /// The newest that is read.
        supported: u64,
    },
    /// Something in the home is sealed, and it was not asked for on purpose.
    #[error(
        "the archive was not written: something here is still sealed (a tasting, a panel, a practice or a blind test is open), and an archive holds everything unsealed, for whoever opens it by hand to read. Lock, tell or close what is open first; to write it all the same, ask for it on purpose: thirdglass home export ARCHIVE --sealed-too"
    )]
    StillSealed,
    /// The home holds something.
    #[error(
        "an archive is read into an empty home only, and here {there}; nothing was taken in. Name a new folder for it, such as: thirdglass --home NEW-FOLDER home import ARCHIVE"
    )]
    NotEmpty {
        /// What is there, as a half sentence.
        there: String,
    },
    /// There is more in the home than an archive may hold.
    #[error(
        "the archive was not written: {entry} would hold {found}, and an archive may hold {most}; copy the file of the home instead"
    )]
    TooMuch {
        /// The file in the archive.
        entry: String,
        /// How much, in words.
        found: String,
        /// How much it may, in words.
        most: &'static str,
    },
    /// The packing failed.
    #[error("could not write {}: {found}; see that there is room and that you may write there, and try again", file.display())]
    NotWritten {
        /// The archive.
        file: PathBuf,
        /// What was found.
        found: String,
    },
}
