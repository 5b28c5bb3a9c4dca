//! The command about the settings of a kitchen.

use clap::Args;

use crate::cli::CliError;
use crate::cli::run::Streams;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::formats::SETTINGS_EXAMPLE;
use crate::reports;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What to do with the settings.
#[derive(Debug, Args)]
#[group(multiple = false)]
pub struct SettingsAsked {
    /// Write a file with every key, its default and a comment into the home; it must not be there yet.
    #[arg(long)]
    pub write: bool,
    /// Print such a file instead.
    #[arg(long)]
    pub example: bool,
    /// As JSON.
    #[arg(long)]
    pub json: bool,
}

/// Shows the settings, or writes a file of them.
pub(super) fn settings(
    asked: &SettingsAsked,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    if asked.example {
        return Ok(write!(streams.output, "{SETTINGS_EXAMPLE}")?);
    }
    let file = home.settings_file();
    if asked.write {
        home.write_settings()?;
        writeln!(
            streams.output,
            "Written: {file}. Change it with any editor."
        )?;
        return Ok(());
    }
    // Here, where they are asked for, nothing passes for a setting that was not read.
    let problems = home.unread_settings().to_vec();
    if !problems.is_empty() {
        return Err(WorkflowError::Problems { problems }.into());
    }
    if asked.json {
        return print_json(&reports::settings_json(home.settings(), &file), streams);
    }
    print(&reports::settings_lines(home.settings()), streams)
}
