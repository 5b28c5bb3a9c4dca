//! The commands about photographs.

use std::path::PathBuf;

use clap::Subcommand;

use crate::cli::CliError;
use crate::cli::run::CELLS;
use crate::cli::run::Streams;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::domain::Photograph;
use crate::domain::PhotographKind;
use crate::reports;
use crate::workflow::Home;

/// What to do with photographs.
#[derive(Debug, Subcommand)]
pub enum PhotoCommand {
    /// Copy a picture in: upright, at most 1600 pixels long, without place, time and camera.
    #[command(
        after_help = "Examples:\n  thirdglass photo add S1 glass.jpg --of glass\n  thirdglass photo add S1 sheet.png --of sheet --taster Ana\n\nJPEG and PNG pictures are read, up to 48 MiB and 52 million pixels. The picture is written anew as JPEG: where and\nwhen it was taken, and by which camera, is dropped; so is everything beyond 1600 pixels. The file itself is not touched."
    )]
    Add {
        /// The cap mark.
        batch: String,
        /// The picture.
        file: PathBuf,
        /// What it is of: glass, label or sheet.
        #[arg(long, value_name = "KIND", value_parser = PhotographKind::from_id)]
        of: PhotographKind,
        /// Whose latest notes on this beer it belongs to; it goes when they are forgotten.
        #[arg(long, value_name = "NAME")]
        taster: Option<String>,
    },
    /// List the photographs of a beer; sealed while somebody tastes it.
    #[command(
        after_help = "Example:\n  thirdglass photo list S1\n\nIn JSON: format, and photographs, a list with number, of, taster, media_type, width, height, bytes, sha256, added_at."
    )]
    List {
        /// The cap mark.
        batch: String,
        /// As JSON.
        #[arg(long)]
        json: bool,
    },
    /// Write a photograph into a new file that only you can read.
    #[command(after_help = "Example:\n  thirdglass photo show S1 1 glass-of-s1.jpg")]
    Show {
        /// The cap mark.
        batch: String,
        /// Which, as listed.
        number: u32,
        /// The file to write; it must not exist yet.
        file: PathBuf,
    },
}

/// Does what the arguments ask for.
pub(super) fn photo(
    command: PhotoCommand,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    match command {
        PhotoCommand::Add {
            batch,
            file,
            of,
            taster,
        } => {
            let added = home.add_photograph(&batch, &file, of, taster.as_deref())?;
            tell_added(&batch, &added, streams)
        }
        PhotoCommand::List { batch, json } => {
            let rows = home.photographs(&batch)?;
            if json {
                return print_json(&reports::photographs_json(&rows), streams);
            }
            print(&reports::photographs_lines(&rows, CELLS), streams)
        }
        PhotoCommand::Show {
            batch,
            number,
            file,
        } => {
            home.write_photograph(&batch, number, &file)?;
            let shown = file.display();
            Ok(writeln!(
                streams.output,
                "Written: {shown}, for your eyes alone."
            )?)
        }
    }
}

fn tell_added(batch: &str, added: &Photograph, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let (kind, width, height) = (added.kind.word(), added.width, added.height);
    Ok(writeln!(
        streams.output,
        "Copied in as photograph {} of {batch}: {kind}, {width} × {height} pixels, without place, time and camera.",
        added.number
    )?)
}
