//! What is asked of a printout beside its kind, and why one could not be made.

use thiserror::Error;

use crate::drawing::Paper;
use crate::reports::NoWord;
use crate::workflow::TasterReads;
use crate::workflow::WorkflowError;
use crate::workflow::typed_word;

/// What is to be printed, and how.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintAsked {
    /// Of what: the number of a test, a cap mark, names, words.
    pub of: Vec<String>,
    /// Of this taster only.
    pub taster: Option<String>,
    /// Who reads what is in the glasses.
    pub reader: Option<String>,
    /// Whether a taster reads it all the same.
    pub taster_reads: TasterReads,
    /// The sheet of labels, by its name in the catalogue.
    pub labels: Option<String>,
    /// The first label that is still free, from 1.
    pub first: Option<u16>,
    /// The paper.
    pub paper: Paper,
}

/// An option that some printouts take.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PrintOption {
    /// Of one taster only.
    Taster,
    /// Who reads it.
    Reader,
    /// That a taster reads it all the same.
    TasterReads,
    /// Which sheet of labels.
    Labels,
    /// Where on it to begin.
    First,
}

/// Why a printout could not be made.
#[derive(Debug, Error)]
pub enum PrintRefused {
    /// The verb could not be done.
    #[error(transparent)]
    Workflow(#[from] WorkflowError),
    /// Nothing of this name can be printed.
    #[error("“{asked}” cannot be printed; what can is: {known}")]
    Unknown {
        /// What was asked for.
        asked: String,
        /// What there is.
        known: String,
    },
    /// It was not said of what, or too much was.
    #[error("{id} is printed of {of}; for example: {example}")]
    Of {
        /// The kind.
        id: &'static str,
        /// What it is printed of.
        of: &'static str,
        /// The command as it may be typed.
        example: String,
    },
    /// The last word is no file.
    #[error(
        "the file to write is missing: “{last}” ends with neither .pdf nor .svg; for example: {example}"
    )]
    NoFile {
        /// What stands last.
        last: String,
        /// The command as it may be typed.
        example: String,
    },
    /// An option means nothing here.
    #[error("nothing was printed, because {id} has no use for --{option}; leave it out")]
    NoUse {
        /// The kind.
        id: &'static str,
        /// The option.
        option: &'static str,
    },
    /// Something else than a number.
    #[error(
        "“{asked}” is not the number of a test or a panel; thirdglass blind list and thirdglass panel list show them"
    )]
    Number {
        /// What was asked for.
        asked: String,
    },
    /// No such sheet of labels.
    #[error("there is no sheet of labels “{asked}”; known are: {known}")]
    NoLabels {
        /// What was asked for.
        asked: String,
        /// What there is, by measures.
        known: String,
    },
    /// The first free label is beyond the sheet.
    #[error("a sheet of {labels} has labels 1 to {most}, so none has the number {first}")]
    NoSuchLabel {
        /// The sheet.
        labels: &'static str,
        /// What was asked for.
        first: u16,
        /// How many it has.
        most: usize,
    },
    /// What stands on a label has no room on it.
    #[error(
        "nothing was printed: what must stand on the label “{label}” has no room on one of {labels}, and nothing of it may be left out; take larger labels with --labels: {others}"
    )]
    NoRoom {
        /// What stands large on it.
        label: String,
        /// The sheet.
        labels: &'static str,
        /// The sheets there are.
        others: String,
    },
    /// A wheel of a beer and of a taster at once.
    #[error(
        "a wheel shows what was named in one beer or by one taster, not in {beer} by {taster}; print one of them: thirdglass print wheel {} wheel.pdf, or: thirdglass print wheel --taster {} wheel.pdf", typed_word(.beer), typed_word(.taster)
    )]
    TwoWheels {
        /// The beer.
        beer: String,
        /// The taster.
        taster: String,
    },
    /// No word of the wheel fits.
    #[error(transparent)]
    NoWord(#[from] NoWord),
    /// No word was named at all.
    #[error("nothing was printed, because no word was named; thirdglass wheel list shows all")]
    NoWords,
}

impl PrintAsked {
    /// A printout of this on this paper, with nothing special.
    #[must_use]
    pub const fn of(of: Vec<String>, paper: Paper) -> Self {
        Self {
            of,
            taster: None,
            reader: None,
            taster_reads: TasterReads::NotYet,
            labels: None,
            first: None,
            paper,
        }
    }

    /// All that was said of it, as one name.
    #[must_use]
    pub fn name(&self) -> String {
        self.of.join(" ")
    }

    /// The options that were given, each with its name.
    pub(super) fn options(&self) -> Vec<(PrintOption, &'static str)> {
        let given = [
            (self.taster.is_some(), PrintOption::Taster, "taster"),
            (self.reader.is_some(), PrintOption::Reader, "reader"),
            (
                self.taster_reads == TasterReads::Yes,
                PrintOption::TasterReads,
                "yes",
            ),
            (self.labels.is_some(), PrintOption::Labels, "labels"),
            (self.first.is_some(), PrintOption::First, "first"),
        ];
        let given = given.into_iter().filter(|it| it.0);
        given.map(|(_, option, name)| (option, name)).collect()
    }
}
