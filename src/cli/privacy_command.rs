//! The commands with which a person asks for another name, for everything of theirs, or to be forgotten.

use std::path::PathBuf;

use clap::Args;

use crate::cli::CliError;
use crate::cli::json_keys::EXPORT_EXAMPLES;
use crate::cli::json_keys::export_help;
use crate::cli::run::CELLS;
use crate::cli::run::Streams;
use crate::cli::run::print;
use crate::reports;
use crate::reports::ExportKind;
use crate::workflow::Home;
use crate::workflow::typed_word;

/// Another name for a taster.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  thirdglass taster rename Ana Fox\n  thirdglass taster rename \"Ana of the choir\" Ana"
)]
pub struct RenameTaster {
    /// The name so far.
    name: String,
    /// The new one; it need not be a real one.
    new: String,
}

/// Everything of a taster, to take away.
#[derive(Debug, Args)]
#[command(after_help = EXPORT_EXAMPLES, after_long_help = export_help())]
pub struct ExportTaster {
    /// Whose.
    name: String,
    /// The file to write; it must not exist yet.
    file: PathBuf,
    /// Their rated answers as a table with commas, which taster measure reads.
    #[arg(long)]
    csv: bool,
}

impl ExportTaster {
    fn kind(&self) -> ExportKind {
        let named_so = self
            .file
            .extension()
            .is_some_and(|it| it.eq_ignore_ascii_case("csv"));
        if self.csv || named_so {
            ExportKind::Table
        } else {
            ExportKind::Everything
        }
    }
}

/// A taster who is to be forgotten.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  thirdglass taster forget Ana\n  thirdglass taster forget Ana --yes\n\nWithout --yes nothing is done. Exporting first keeps a copy for the person: taster export."
)]
pub struct ForgetTaster {
    /// Who.
    name: String,
    /// Do it, now and for good.
    #[arg(long)]
    yes: bool,
}

/// Calls a taster by another name.
pub(super) fn rename(
    asked: &RenameTaster,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let old = home.taster(&asked.name)?.name;
    let renamed = home.rename_taster(&asked.name, &asked.new)?;
    print(
        &reports::renamed_lines(&renamed, old.as_str(), CELLS),
        streams,
    )
}

/// Writes everything of a taster into a file.
pub(super) fn export(
    asked: &ExportTaster,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    home.ensure_free(&asked.file)?;
    let export = home.taster_export(&asked.name)?;
    let written = reports::written_export(&export, asked.kind());
    home.write_export(&asked.file, &written.text)?;
    let shown = asked.file.display().to_string();
    writeln!(
        streams.output,
        "Written: {shown}, for your eyes alone. {}",
        written.holds
    )?;
    if asked.csv {
        let typed = typed_word(&shown);
        writeln!(
            streams.output,
            "To measure it: thirdglass taster measure {typed}"
        )?;
    }
    print(&reports::held_back_lines(&export, CELLS), streams)
}

/// Says what would go, or forgets.
pub(super) fn forget(
    asked: &ForgetTaster,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    if asked.yes {
        let done = home.forget(&asked.name)?;
        return print(&reports::forgetting_lines(&done, CELLS), streams);
    }
    let before = home.forgetting(&asked.name)?;
    print(&reports::forgetting_lines(&before, CELLS), streams)?;
    writeln!(
        streams.output,
        "\nNothing was done. To do it, for good: thirdglass taster forget {} --yes",
        typed_word(before.taster.name.as_str())
    )?;
    Ok(())
}
