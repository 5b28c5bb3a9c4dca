//! Why the terminal could not be opened.

use std::io;

use thiserror::Error;

/// Why no full screen can be shown here.
#[derive(Debug, Error)]
pub enum TerminalError {
    /// There is no terminal to draw on, for instance in a pipeline of a scheduled job.
    #[error(
        "The full-screen app needs a terminal, and none was found ({}). \
         Start it in a terminal window, or use a typed command: `thirdglass help` lists them.",
        said_by_system(.found)
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
        "The terminal was found but could not be prepared for the full screen ({}). \
         Try a new terminal window, or use a typed command: `thirdglass help` lists them.",
        said_by_system(.found)
    )]
    Unprepared {
        /// What the system answered.
        found: io::Error,
    },
}

/// What the system says of a terminal or a pipe, without the number at its end, which helps nobody. The same stands in
/// the storage room, for files: this room may name no other, and storage may not name this one.
#[must_use]
pub fn said_by_system(error: &io::Error) -> String {
    let said = error.to_string();
    let words = said.split_once(" (os error ").map(|it| it.0.to_owned());
    words.unwrap_or(said)
}

impl TerminalError {
    /// The exit code of a program that ends for this reason: 2, it was used where it cannot work.
    #[must_use]
    pub fn exit_code(&self) -> u8 {
        2
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_the_system_says_is_told_without_its_number() {
        // ENXIO and ENOTTY of POSIX: there is no terminal, and this is none.
        for number in [6, 25] {
            let found = || io::Error::from_raw_os_error(number);
            let absent = TerminalError::Absent { found: found() };
            let unprepared = TerminalError::Unprepared { found: found() };
            for told in [absent.to_string(), unprepared.to_string()] {
                assert!(!told.contains("os error"), "{told}");
            }
        }
    }
}
