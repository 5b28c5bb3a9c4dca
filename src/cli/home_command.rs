//! The commands about a whole home: everything out of it, and in again.

use std::path::Path;
use std::path::PathBuf;

use clap::Subcommand;

use crate::cli::CliError;
use crate::cli::run::CELLS;
use crate::cli::run::Streams;
use crate::cli::run::print;
use crate::cli::shape_line::shape_line;
use crate::reports;
use crate::reports::TableFiles;
use crate::workflow::Home;
use crate::workflow::Sealed;

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
            let written = home.write_archive(file, sealed)?;
            let shown = file.display().to_string();
            print(
                &reports::archive_written_lines(&shown, &written, CELLS),
                streams,
            )
        }
        HomeCommand::Import { file } => {
            let read = home.read_archive(file)?;
            let shown = file.display().to_string();
            print(&reports::archive_read_lines(&shown, &read, CELLS), streams)
        }
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

fn tables(
    folder: &Path,
    wanted: TableFiles,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    home.ensure_free_folder(folder)?;
    let tables = home.home_tables()?;
    home.write_tables(folder, &reports::table_files(&tables, wanted))?;
    let shown = folder.display().to_string();
    print(
        &reports::tables_written_lines(&shown, &tables, CELLS),
        streams,
    )
}
