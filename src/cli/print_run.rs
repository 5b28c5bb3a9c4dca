//! Pages onto files, with a word on what was written.

use std::io;
use std::io::Write;
use std::path::Path;

use clap::builder::PossibleValuesParser;
use clap::builder::TypedValueParser;

use crate::cli::CliError;
use crate::cli::PrintCommand;
use crate::cli::Streams;
use crate::domain::SheetSize;
use crate::drawing::safe_text;
use crate::reports::PrintAsked;
use crate::reports::PrintRefused;
use crate::reports::Printable;
use crate::reports::Printout;
use crate::reports::paper_of;
use crate::workflow::Home;
use crate::workflow::TasterReads;

/// Reads the name of a sheet; shells are told which there are.
pub(super) fn sheet_parser() -> impl TypedValueParser<Value = SheetSize> {
    let ids = SheetSize::ALL.iter().map(|it| it.id());
    PossibleValuesParser::new(ids).try_map(|it| SheetSize::from_id(&it))
}

/// What a yes on the command line says of a taster who reads.
pub(super) const fn taster_reads(yes: bool) -> TasterReads {
    if yes {
        TasterReads::Yes
    } else {
        TasterReads::NotYet
    }
}

/// Prints what the arguments ask for.
pub(super) fn print_out(
    asked: &PrintCommand,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let printable = Printable::find(&asked.what)?;
    let (of, file) = asked.parts();
    if file.extension().is_none() {
        return Err(PrintRefused::NoFile {
            last: asked.rest.last().cloned().unwrap_or_default(),
            example: printable.typed(),
        }
        .into());
    }
    Printout::ensure_kind(&file)?;
    // Before anything is made: who reads a key is marked while it is made, and a refusal after that comes too late.
    let places = Printout::places(&file);
    places.iter().try_for_each(|it| home.ensure_free(it))?;
    let wanted = PrintAsked {
        of,
        taster: asked.taster.clone(),
        reader: asked.reader.clone(),
        taster_reads: taster_reads(asked.yes),
        labels: asked.labels.clone(),
        first: asked.first,
        paper: paper_of(asked.paper.unwrap_or(home.settings().paper)),
    };
    let printout = printable.printed(home, &wanted)?;
    write_printout(&printout, &file, home, streams)
}

/// Writes a printout as the name of its file says, and tells what was written.
pub(super) fn write_printout(
    printout: &Printout,
    file: &Path,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let files = printout.files(file)?;
    home.write_documents(&files)?;
    for (index, (file, contents)) in files.iter().enumerate() {
        let holds = if files.len() > 1 {
            Printout::one(printout.sheets[index].clone()).sheets_words()
        } else {
            printout.sheets_words()
        };
        let size = contents.len().div_ceil(1_000);
        let file = file.display();
        writeln!(streams.output, "Written: {file}, {size} kB, {holds}.")?;
    }
    if let Some(boxes) = printout.boxes_sentence() {
        writeln!(io::stderr(), "{}", safe_text(&boxes, usize::MAX))?;
    }
    Ok(())
}
