//! The verbs of the job; they hold the clock, the dice and the store.

mod batch_log;
mod batch_rows;
mod batches;
mod brew_run;
mod clock;
mod demo;
mod error;
mod figures;
mod found;
mod gas;
mod glass;
mod home;
mod noted;
mod predictions;
mod recipes;
mod seal;
mod second_sniff;
mod session_import;
mod session_rows;
mod side_by_side;
mod sniff_words;
mod tasters;
mod tasting;
#[cfg(test)]
mod trial_home;
mod typed_word;

pub use batch_log::BatchLog;
pub use batch_rows::{BatchPage, BatchRow, Readiness};
pub use batches::DatedIntent;
pub use clock::{Clock, local_day};
pub use error::WorkflowError;
pub use figures::{Figure, Figures, Origin, figures};
pub use found::{Found, mark_words, stage_words, subject_word};
pub use glass::{haze_words, seen_through};
pub use home::{Home, home_folder};
pub use noted::Noted;
pub use predictions::source_words;
pub use recipes::ReadRecipe;
pub use session_import::{ImportProblem, Imported};
pub use side_by_side::{FigureLine, HopedLine, PromisedLine, SideBySide, UnplannedWord};
pub use tasting::Tasting;
pub use typed_word::typed_word;

pub use crate::storage::NotesRow;
pub use crate::storage::TempFolder;
