//! The commands that remove something, and those that bring it back.

use clap::Args;
use clap::Subcommand;

use crate::cli::CliError;
use crate::cli::run::CELLS;
use crate::cli::run::Streams;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::domain::Day;
use crate::reports;
use crate::workflow::Home;
use crate::workflow::Removable;

/// What to remove.
#[derive(Debug, Subcommand)]
pub enum RemoveCommand {
    /// A batch with its log, its intent, its predictions and its photographs; not while anything was tasted of it.
    #[command(after_help = "Example:\n  thirdglass remove batch S1")]
    Batch {
        /// The cap mark.
        mark: String,
    },
    /// A bottle of a free name, with its photographs; not while anything was tasted of it.
    #[command(after_help = "Example:\n  thirdglass remove beer \"the guest bottle\"")]
    Beer {
        /// What is written on it.
        mark: String,
    },
    /// A kept version of a recipe from which nothing was brewed; files are not touched.
    #[command(after_help = "Example:\n  thirdglass remove recipe \"Evening pale\" 2")]
    Recipe {
        /// The name of the recipe.
        name: String,
        /// The name of the version.
        version: String,
    },
    /// The latest tasting of a beer by a taster, locked or not.
    #[command(after_help = "Example:\n  thirdglass remove tasting S1 Ana")]
    Tasting {
        /// The cap mark.
        mark: String,
        /// Whose notes.
        taster: String,
    },
    /// A blind test with its plan and all its answers.
    #[command(after_help = "Example:\n  thirdglass remove test 2")]
    Test {
        /// Its number.
        number: u32,
    },
    /// A panel with its plan and all its notes.
    #[command(after_help = "Example:\n  thirdglass remove panel 1")]
    Panel {
        /// Its number.
        number: u32,
    },
    /// The latest practice of a taster on a day, with the answers of everybody at that table.
    #[command(after_help = "Example:\n  thirdglass remove practice Ana 2026-03-14")]
    Practice {
        /// Who practised.
        taster: String,
        /// The day, such as 2026-03-14.
        #[arg(value_parser = Day::parse)]
        day: Day,
    },
    /// A course with its evenings; what was practised in them stays.
    #[command(after_help = "Example:\n  thirdglass remove course \"Thursday class\"")]
    Course {
        /// Its name.
        name: String,
    },
    /// A table of ratings that was read in; tasters stay.
    #[command(after_help = "Example:\n  thirdglass remove import 2")]
    Import {
        /// Its number, as thirdglass taster imports lists it.
        number: u32,
    },
    /// A photograph; the numbers of the others stay.
    #[command(after_help = "Example:\n  thirdglass remove photo S1 1")]
    Photo {
        /// The cap mark.
        mark: String,
        /// Which, as listed.
        number: u32,
    },
}

impl From<RemoveCommand> for Removable {
    fn from(command: RemoveCommand) -> Self {
        match command {
            RemoveCommand::Batch { mark } => Self::Batch(mark),
            RemoveCommand::Beer { mark } => Self::Beer(mark),
            RemoveCommand::Recipe { name, version } => Self::Recipe { name, version },
            RemoveCommand::Tasting { mark, taster } => Self::Tasting { mark, taster },
            RemoveCommand::Test { number } => Self::Test(number),
            RemoveCommand::Panel { number } => Self::Panel(number),
            RemoveCommand::Practice { taster, day } => Self::Practice { taster, day },
            RemoveCommand::Course { name } => Self::Course(name),
            RemoveCommand::Import { number } => Self::Import(number),
            RemoveCommand::Photo { mark, number } => Self::Photograph { mark, number },
        }
    }
}

/// What to do with what was removed.
#[derive(Debug, Args)]
#[group(multiple = false)]
pub struct RemovedAsked {
    /// Put this one back as it was.
    #[arg(long, value_name = "NUMBER")]
    pub bring_back: Option<u32>,
    /// Throw this one out now; nothing brings it back after that.
    #[arg(long, value_name = "NUMBER")]
    pub for_good: Option<u32>,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// Removes something.
pub(super) fn remove(
    command: RemoveCommand,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let row = home.remove(&command.into())?;
    print(&reports::remove_lines(&row, CELLS), streams)
}

/// Lists what was removed, brings it back or throws it out.
pub(super) fn removed(
    asked: &RemovedAsked,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    if let Some(number) = asked.bring_back {
        let row = home.bring_back(number)?;
        return print(&reports::brought_back_lines(&row, CELLS), streams);
    }
    if let Some(number) = asked.for_good {
        let thrown = home.throw_out(number)?;
        return print(&reports::thrown_out_lines(&thrown, CELLS), streams);
    }
    let rows = home.removed()?;
    if asked.json {
        return print_json(&reports::removed_json(&rows), streams);
    }
    print(&reports::removed_lines(&rows, CELLS), streams)
}
