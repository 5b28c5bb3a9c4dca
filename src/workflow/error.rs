//! What a person can be told when something could not be done: what was tried, what was found, what to do.

use thiserror::Error;

use crate::domain::Invalid;
use crate::formats::Problem;
use crate::statistics::NoEntropy;
use crate::storage::StorageError;
use crate::workflow::ImportProblem;

/// Why a verb could not be done.
#[derive(Debug, Error)]
pub enum WorkflowError {
    /// A value was refused.
    #[error(transparent)]
    Invalid(#[from] Invalid),
    /// The store could not do it.
    #[error(transparent)]
    Storage(#[from] StorageError),
    /// No seed could be drawn.
    #[error(transparent)]
    NoEntropy(#[from] NoEntropy),
    /// A document has problems; nothing of it was saved.
    #[error("{}", listed(.problems))]
    Problems {
        /// All of them, by place.
        problems: Vec<Problem>,
    },
    /// A session cannot be taken in; nothing of it was saved.
    #[error("could not take in “{session}”, and nothing of it was stored:\n{}", listed(.problems))]
    Import {
        /// The name of the session's file.
        session: String,
        /// Everything that stands against it.
        problems: Vec<ImportProblem>,
    },
    /// A batch by this name is not there.
    #[error("no batch is marked “{asked}”; {}", or_none(.known, "the marks in use are", "there is no batch yet: thirdglass batch add RECIPE"))]
    NoBatch {
        /// What was asked for.
        asked: String,
        /// The cap marks that exist.
        known: Vec<String>,
    },
    /// A taster by this name is not there.
    #[error("no taster is called “{asked}”; {}", or_none(.known, "the tasters are", "there is none yet: thirdglass taster add NAME"))]
    NoTaster {
        /// What was asked for.
        asked: String,
        /// The names that exist.
        known: Vec<String>,
    },
    /// The cap mark is taken.
    #[error("the cap mark “{mark}” is in use; bottles are told apart by it, so choose another")]
    MarkTaken {
        /// The mark.
        mark: String,
    },
    /// A recipe version is kept with other contents.
    #[error(
        "version {version} of “{name}” is kept already with other contents, and kept versions never change; give the file a new version and name this one as its parent"
    )]
    VersionTaken {
        /// The recipe.
        name: String,
        /// The version.
        version: String,
    },
    /// The name is taken.
    #[error("a taster called “{name}” is there already; choose a name that tells the two apart")]
    NameTaken {
        /// The name.
        name: String,
    },
    /// The plan is sealed.
    #[error(
        "{what} of “{mark}” stays sealed while {} not locked their notes; lock or leave first, or break the seal on purpose, which marks the notes for ever",
        have(.tasters)
    )]
    Sealed {
        /// What was asked for.
        what: &'static str,
        /// The cap mark.
        mark: String,
        /// Who is still tasting.
        tasters: Vec<String>,
    },
    /// Every prediction waits while a batch is being tasted: a refusal of one recipe alone would
    /// tell what is in the glass.
    #[error(
        "predictions wait while {} not locked their notes, so that none of them tells what is in the glass; lock or leave first",
        have(.tasters)
    )]
    PredictionsWait {
        /// Who is still tasting.
        tasters: Vec<String>,
    },
    /// The taster left before the lock.
    #[error(
        "the tasting of “{mark}” was left without locking, so it takes no more answers; what was typed is kept, and a new tasting can be opened"
    )]
    Left {
        /// The cap mark.
        mark: String,
    },
    /// Nothing has been tasted yet.
    #[error(
        "nobody has locked notes on “{mark}” yet; taste it first: thirdglass taste {mark} --taster NAME"
    )]
    NothingTasted {
        /// The cap mark.
        mark: String,
    },
    /// The beer has no recipe.
    #[error(
        "“{mark}” is known by its cap mark only, so there is no plan to set beside the notes; attach a recipe: thirdglass batch add RECIPE --mark {mark}"
    )]
    NoRecipe {
        /// The cap mark.
        mark: String,
    },
    /// A document in the store can no longer be read; it was valid when it was stored.
    #[error("the stored recipe of “{mark}” cannot be read any more: {}; the document itself is kept unchanged", listed(.problems))]
    StoredDocument {
        /// The cap mark.
        mark: String,
        /// What is wrong with it today.
        problems: Vec<Problem>,
    },
}

fn listed<P: ToString>(problems: &[P]) -> String {
    problems
        .iter()
        .map(P::to_string)
        .collect::<Vec<_>>()
        .join("\n")
}

fn or_none(names: &[String], some: &str, none: &str) -> String {
    if names.is_empty() {
        none.to_owned()
    } else {
        format!("{some}: {}", names.join(", "))
    }
}

fn have(tasters: &[String]) -> String {
    match tasters {
        [one] => format!("{one} has"),
        many => format!("{} have", many.join(" and ")),
    }
}
