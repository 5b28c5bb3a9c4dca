//! Why the terminal could not be opened.

use std::io;

use thiserror::Error;

/// Why no full screen can be shown here.
#[derive(Debug, Error)]
pub enum TerminalError {
    /// There is no terminal to draw on, for instance in a pipeline of a scheduled job.
    #[error(
        "The full-screen app needs a terminal, and none was found ({found}). \
         Start it in a terminal window, or use a typed command: `thirdglass help` lists them."
    )]
    Absent {
        /// What the system answered.
        found: io::Error,
    },
    /// The terminal says of itself that it cannot place its cursor.
    #[error(
        "The full-screen app was asked to draw on a terminal that calls itself TERM={name}, \
         which cannot place its cursor. Use another terminal, or a typed command: \
         `thirdglass help` lists them."
    )]
    CannotPlaceCursor {
        /// The value of TERM.
        name: String,
    },
    /// The terminal or the signals were there, but the system refused to set them up.
    #[error(
        "The terminal was found but could not be prepared for the full screen ({found}). \
         Try a new terminal window, or use a typed command: `thirdglass help` lists them."
    )]
    Unprepared {
        /// What the system answered.
        found: io::Error,
    },
}

impl TerminalError {
    /// The exit code of a program that ends for this reason: 2, it was used where it cannot work.
    #[must_use]
    pub fn exit_code(&self) -> u8 {
        2
    }
}
