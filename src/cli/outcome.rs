//! What a command leads to, and why it could not be done.

use std::io;

use thiserror::Error;

use crate::reports::NoWord;
use crate::reports::PrintError;
use crate::reports::PrintRefused;
use crate::screens::App;
use crate::statistics::NoEntropy;
use crate::terminal::said_by_system;
use crate::workflow::WorkflowError;

/// What a command leads to.
pub enum Outcome {
    /// It is done, with this exit code.
    Done(u8),
    /// The app is to be opened.
    Open(Box<App>),
}

/// Why a command could not be done.
#[derive(Debug, Error)]
pub enum CliError {
    /// The verb could not be done.
    #[error(transparent)]
    Workflow(#[from] WorkflowError),
    /// The pages could not be made.
    #[error(transparent)]
    Print(#[from] PrintError),
    /// It cannot be printed.
    #[error(transparent)]
    Refused(#[from] PrintRefused),
    /// No seed could be drawn.
    #[error(transparent)]
    NoEntropy(#[from] NoEntropy),
    /// No word of the wheel fits.
    #[error(transparent)]
    NoWord(#[from] NoWord),
    /// The JSON of no command is called that.
    #[error("no JSON is called “{asked}”; thirdglass shell schema lists all names")]
    NoShape {
        /// What was asked for.
        asked: String,
    },
    /// Ingredients of another standard were only guessed.
    #[error(
        "nothing was written, because these were only guessed: {names}. Take the guesses with --yes, name others with --take \"NAME=NAME\", or keep one as its own with --own NAME"
    )]
    Guesses {
        /// Which.
        names: String,
    },
    /// A look through a home found something.
    #[error("{}", match .problems { 1 => "1 problem was found; it says what to do".to_owned(), n => format!("{n} problems were found; each says what to do") })]
    NotSound {
        /// How many things are wrong.
        problems: usize,
    },
    /// There are no figures for a picture yet.
    #[error(
        "no picture was written: there is nothing to draw yet of “{title}”; the text says what it takes"
    )]
    NoPicture {
        /// What it was to show.
        title: String,
    },
    /// Output or input failed.
    #[error("reading or writing the terminal failed: {}; nothing that was stored is lost", said_by_system(.0))]
    Terminal(#[from] io::Error),
}

impl CliError {
    /// True when the reader of a pipe went away, which is no error of ours.
    #[must_use]
    pub fn is_broken_pipe(&self) -> bool {
        matches!(self, Self::Terminal(error) if error.kind() == io::ErrorKind::BrokenPipe)
    }
}
