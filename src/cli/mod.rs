//! Typed commands into verbs, reports onto stdout.

mod command;
mod outcome;
mod run;

pub use command::{
    Arguments, BatchCommand, Command, Compare, RecipeCommand, Taste, TasterCommand, WheelCommand,
};
pub use outcome::{CliError, Outcome};
pub use run::{Streams, run};
