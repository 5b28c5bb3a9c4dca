//! Pages onto files, with a word on what was written.

use std::path::Path;

use clap::ValueEnum;

use crate::cli::CliError;
use crate::cli::Streams;
use crate::domain::Settings;
use crate::domain::SheetSize;
use crate::drawing::Paper;
use crate::reports::Printout;
use crate::workflow::Home;

/// The sheets that can be printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PaperSize {
    /// 210 mm by 297 mm.
    A4,
    /// 8½ by 11 inches.
    Letter,
}

impl PaperSize {
    /// The one that was asked for, or else the one that was settled.
    pub(super) fn asked(asked: Option<Self>, settings: &Settings) -> Self {
        asked.unwrap_or(match settings.paper {
            SheetSize::A4 => Self::A4,
            SheetSize::Letter => Self::Letter,
        })
    }

    /// The sheet.
    pub(super) const fn paper(self) -> Paper {
        match self {
            Self::A4 => Paper::A4,
            Self::Letter => Paper::Letter,
        }
    }

    /// What it is called.
    const fn words(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "US letter",
        }
    }
}

/// Writes a printout as the name of its file says, and tells what was written.
pub(super) fn write_printout(
    printout: &Printout,
    file: &Path,
    paper: PaperSize,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let files = printout.files(file)?;
    home.write_documents(&files)?;
    let sheets = match printout.sheets.len() {
        1 => "one sheet".to_owned(),
        several => format!("{several} sheets"),
    };
    for (file, contents) in &files {
        writeln!(
            streams.output,
            "Written: {}, {} kB, {} of {}.",
            file.display(),
            contents.len().div_ceil(1_000),
            if files.len() > 1 {
                "one sheet"
            } else {
                &sheets
            },
            paper.words()
        )?;
    }
    Ok(())
}
