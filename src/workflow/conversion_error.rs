//! Why a recipe of another standard cannot be taken.

use std::path::Path;
use std::path::PathBuf;

use thiserror::Error;

use crate::formats::ForeignError;
use crate::workflow::typed_word;

/// What stands against it.
#[derive(Debug, Error)]
pub enum ConversionError {
    /// The file cannot be read.
    #[error("{} cannot be read as a recipe: {error}; recipes come in as BeerXML 1.0 or BeerJSON", file.display())]
    NotRead {
        /// The file.
        file: PathBuf,
        /// Why.
        error: ForeignError,
    },
    /// A recipe of another standard stands where one of ours is wanted.
    #[error("{} is a recipe of another standard; make a recipe file of it first: thirdglass recipe convert {} {}", file.display(), typed(file), typed(&file.with_extension("toml")))]
    OfAnother {
        /// The file.
        file: PathBuf,
    },
    /// It does not begin as any recipe does.
    #[error("{} is no recipe file: those of thirdglass end in .toml and are written by answering ten questions (thirdglass recipe new FILE), and others come in as BeerXML 1.0 or BeerJSON", file.display())]
    NoRecipeFile {
        /// The file.
        file: PathBuf,
    },
    /// It has no recipe of this number.
    #[error("recipe {asked} was asked for, and {} has {there}; take 1 to {there}", file.display())]
    NoRecipe {
        /// The file.
        file: PathBuf,
        /// Which was asked for, counted from 1.
        asked: usize,
        /// How many there are.
        there: usize,
    },
    /// A recipe of ours is already one.
    #[error("{} is a recipe of thirdglass already; to write it as BeerJSON end the new name with .json", file.display())]
    OursAlready {
        /// The file.
        file: PathBuf,
    },
    /// What was said of ingredients does not fit.
    #[error("the ingredients cannot be taken so: {}", problems.join("; "))]
    NotTaken {
        /// Every problem.
        problems: Vec<String>,
    },
}

/// A file as it is typed in a command.
fn typed(file: &Path) -> String {
    typed_word(&file.display().to_string()).into_owned()
}
