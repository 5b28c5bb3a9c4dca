//! Why a changed recipe could not be written.

use thiserror::Error;

/// Why the next version of a document could not be written; the message says what was tried, what was found and
/// what to do.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum EditProblem {
    /// The old document is no recipe.
    #[error("the recipe cannot be changed: {found}; check the old version first")]
    NotRead {
        /// What was found in it.
        found: String,
    },
    /// The old document is written in a form in which this change cannot be made.
    #[error("the recipe cannot be changed: {found}; {advice}")]
    Form {
        /// What stands there.
        found: String,
        /// What to write instead.
        advice: &'static str,
    },
    /// A number that no recipe may hold.
    #[error(
        "the change cannot be written: “{text}” is no amount that a recipe can hold; choose another"
    )]
    Unwritable {
        /// As it would stand there.
        text: String,
    },
    /// An ingredient of the catalogue all of whose names the document has given to another.
    #[error(
        "the change cannot be written: this recipe declares another “{name}”; give that one a name of its own first"
    )]
    Hidden {
        /// Its name.
        name: String,
    },
    /// An ingredient that another recipe declares.
    #[error(
        "the change cannot be written: “{name}” is not declared in this recipe; copy its table under [declare] first"
    )]
    Undeclared {
        /// Its name.
        name: String,
    },
}
