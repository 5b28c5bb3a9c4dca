//! Typed commands into verbs, reports onto stdout.

mod blind_answer;
mod blind_command;
mod blind_run;
mod command;
mod compare_run;
mod convert_command;
mod evening_run;
mod home_command;
mod json_keys;
mod next_command;
mod outcome;
mod panel_command;
mod panel_run;
mod photo_command;
mod picture_run;
mod practice_command;
mod practice_run;
mod print_command;
mod print_run;
mod privacy_command;
mod progress;
mod remove_command;
mod run;
mod settings_command;
mod shape_line;
mod shell_command;
mod taster_command;
mod taster_run;
mod wheel_run;

pub use blind_command::BlindCommand;
pub use command::{
    Arguments, BatchCommand, Command, Compare, Document, Draw, RecipeCommand, Taste, WeeksOf,
    WheelCommand,
};
pub use home_command::{HomeCommand, RestoreAsked, restore_home};
pub use outcome::{CliError, Outcome};
pub use panel_command::PanelCommand;
pub use photo_command::PhotoCommand;
pub use print_command::PrintCommand;
pub use progress::progress;
pub use remove_command::{RemoveCommand, RemovedAsked};
pub use run::{Streams, run};
pub use settings_command::SettingsAsked;
pub use shell_command::{ShellCommand, shell};
pub use taster_command::TasterCommand;
