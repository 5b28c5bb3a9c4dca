//! The commands about a whole home: everything out of it, and in again.

use std::path::Path;
use std::path::PathBuf;

use clap::Args;
use clap::Subcommand;

use crate::cli::CliError;
use crate::cli::run::CELLS;
use crate::cli::run::Streams;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::cli::shape_line::shape_line;
use crate::reports;
use crate::reports::TableFiles;
use crate::workflow::Clock;
use crate::workflow::Home;
use crate::workflow::Replacing;
use crate::workflow::Sealed;
use crate::workflow::restore;

/// What to do with a whole home.
#[derive(Debug, Subcommand)]
pub enum HomeCommand {
    /// Write everything of this home into one file, which another copy reads back to the last answer.
    #[command(
        after_help = "Examples:\n  thirdglass home export kitchen.zip\n  thirdglass home export kitchen.zip --sealed-too\n\nThe file is a ZIP archive: README.txt says in plain words what is in it and how to read it without this program.\nRows are JSON, photographs are pictures, your own words and ingredients are as you wrote them. The same home gives the\nsame bytes. Nothing in it is sealed: whoever opens it by hand while somebody tastes breaks the seal. So\nnothing is written while a tasting, a panel, a practice or a blind test is open, unless --sealed-too asks for it. An\narchive holds at most 20000 files and 4 GiB unpacked."
    )]
    Export {
        /// The file to write; it must not exist yet.
        file: PathBuf,
        /// Write what is still sealed too, for whoever opens the file by hand to read.
        #[arg(long)]
        sealed_too: bool,
    },
    /// Read such a file into an empty home: everything of it, or nothing.
    #[command(
        after_help = "Example:\n  thirdglass --home second-kitchen home import kitchen.zip\n\nThe home must be empty; --home names a new folder. An archive of an older version is brought up to date, one of a\nnewer version is refused. Everything wrong in a damaged archive is told with its file and line."
    )]
    Import {
        /// The archive.
        file: PathBuf,
    },
    /// Write a whole copy of this home's file, while the app may stay open.
    #[command(
        after_help = "Example:\n  thirdglass home backup /media/stick/thirdglass-copy.db\n\nThe program makes a copy of each day by itself, at the end of the first work of the day, in the folder copies of the\nhome: the newest three are kept, and one of each of the last four weeks. A copy on another disk survives more.\nNothing in a copy is sealed."
    )]
    Backup {
        /// The file to write; it must not exist yet.
        file: PathBuf,
    },
    /// Look through everything: the file, what the trade allows, sums, photographs. Nothing is changed.
    #[command(
        after_help = "Examples:\n  thirdglass home check\n  thirdglass home check --json\n\nThe exit code is 1 when something is wrong; each problem says what to do about it."
    )]
    Check {
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Bring a copy back. What is there is never lost: it is kept under another name.
    #[command(
        after_help = "Examples:\n  thirdglass home restore /media/stick/thirdglass-copy.db\n  thirdglass home restore /media/stick/thirdglass-copy.db --replace\n\nThe copy is looked through first. A home with anything in it needs --replace. It works as well when the home's own\nfile is damaged. Words and ingredients of your own stay as they are."
    )]
    Restore(RestoreAsked),
    /// Write notes, tests, practice, tasters and recipes as tables, for spreadsheets and scripts.
    #[command(after_help = TABLES_EXAMPLES, after_long_help = tables_help())]
    Tables {
        /// The folder to write; it must not exist yet, or be empty.
        folder: PathBuf,
        /// Only tables with commas, one file each.
        #[arg(long, conflicts_with = "json")]
        csv: bool,
        /// Only one JSON with all tables.
        #[arg(long)]
        json: bool,
    },
}

/// Which copy to bring back.
#[derive(Debug, Args)]
pub struct RestoreAsked {
    /// The copy.
    file: PathBuf,
    /// Put it in the place of what is there, which is kept under another name.
    #[arg(long)]
    replace: bool,
}

/// How tables are asked for.
const TABLES_EXAMPLES: &str = "Examples:
  thirdglass home tables kitchen-tables
  thirdglass home tables kitchen-tables --csv

A text that a spreadsheet would take for a formula (it begins with = + - @, a tab or a line break) gets an apostrophe
before it, and so does such a sign behind a semicolon, a tab or a line break; numbers stay numbers. What is sealed is
left out, and told in a sentence each.";

/// The long help of the tables: examples, then every column.
fn tables_help() -> String {
    let keys = shape_line(&["home-tables"]);
    format!("{TABLES_EXAMPLES}\n\n{}\n\n{keys}", reports::tables_help())
}

/// Does what the arguments ask for.
pub(super) fn home(
    command: &HomeCommand,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    match command {
        HomeCommand::Export { file, sealed_too } => {
            let sealed = if *sealed_too {
                Sealed::Too
            } else {
                Sealed::Waits
            };
            export(file, sealed, home, streams)
        }
        HomeCommand::Import { file } => import(file, home, streams),
        HomeCommand::Backup { file } => {
            home.write_copy(file)?;
            print(
                &reports::copied_lines(&file.display().to_string(), CELLS),
                streams,
            )
        }
        HomeCommand::Check { json } => check(*json, home, streams),
        HomeCommand::Restore(asked) => match home.folder() {
            Some(folder) => restore_home(asked, folder, streams),
            None => Ok(()),
        },
        HomeCommand::Tables { folder, csv, json } => {
            let wanted = match (csv, json) {
                (true, _) => TableFiles::Csv,
                (_, true) => TableFiles::Json,
                _ => TableFiles::Both,
            };
            tables(folder, wanted, home, streams)
        }
    }
}

fn export(
    file: &Path,
    sealed: Sealed,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let written = home.write_archive(file, sealed)?;
    let shown = file.display().to_string();
    print(
        &reports::archive_written_lines(&shown, &written, CELLS),
        streams,
    )
}

fn import(file: &Path, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let read = home.read_archive(file)?;
    let shown = file.display().to_string();
    print(&reports::archive_read_lines(&shown, &read, CELLS), streams)
}

/// Brings a copy back into a home that need not open: its file may be the one that is damaged.
///
/// # Errors
/// The copy is not sound, something is there and was not to be replaced, or the disk refuses.
pub fn restore_home(
    asked: &RestoreAsked,
    folder: &Path,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let replacing = if asked.replace {
        Replacing::WhatIsThere
    } else {
        Replacing::Nothing
    };
    let restored = restore(folder, &asked.file, replacing, Clock::system())?;
    let shown = asked.file.display().to_string();
    print(&reports::restored_lines(&shown, &restored, CELLS), streams)
}

/// Looks through a home; what is wrong makes an exit code of 1, after the report.
fn check(json: bool, home: &mut Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let found = home.check()?;
    if json {
        print_json(&reports::home_check_json(&found), streams)?;
    } else {
        print(&reports::home_check_lines(&found, CELLS), streams)?;
    }
    match found.problems.len() {
        0 => Ok(()),
        problems => Err(CliError::NotSound { problems }),
    }
}

fn tables(
    folder: &Path,
    wanted: TableFiles,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    home.ensure_free_folder(folder)?;
    let tables = home.home_tables()?;
    home.write_tables(folder, &reports::table_files(&tables, wanted), |it, out| {
        it.write(out)
    })?;
    let shown = folder.display().to_string();
    print(
        &reports::tables_written_lines(&shown, &tables, CELLS),
        streams,
    )
}
