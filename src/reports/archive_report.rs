//! What an archive of a home holds, and what to mind with it.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::comparison_report::wrapped;
use crate::workflow::ArchiveContents;
use crate::workflow::ArchiveWritten;
use crate::workflow::Unsealed;

fn counted(number: u64, one: &str, many: &str) -> String {
    match number {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    }
}

/// How much is in an archive, in words.
#[must_use]
fn contents_words(it: &ArchiveContents) -> String {
    format!(
        "{} in {}, {}, {} of your own",
        counted(it.rows, "row", "rows"),
        counted(it.tables.into(), "table", "tables"),
        counted(it.photographs.into(), "photograph", "photographs"),
        counted(it.own_files.into(), "file", "files")
    )
}

/// What was written, and what to mind.
#[must_use]
pub fn archive_written_lines(file: &str, it: &ArchiveWritten, cells: usize) -> Vec<Line> {
    let written = format!(
        "Written: {file}, for your eyes alone. It holds everything of this home: {}.",
        contents_words(&it.contents)
    );
    let mut lines = wrapped(Ink::Plain, &written, cells);
    if it.unsealed == Unsealed::WhatIsSealed {
        let mind = "Something is still sealed here, and the archive holds it unsealed: whoever opens it by hand breaks the seal.";
        lines.extend(wrapped(Ink::Alert, mind, cells));
    }
    lines
}

/// What was read.
#[must_use]
pub fn archive_read_lines(file: &str, it: &ArchiveContents, cells: usize) -> Vec<Line> {
    let read = format!(
        "Read in from {file}, to the last answer: {}.",
        contents_words(it)
    );
    wrapped(Ink::Plain, &read, cells)
}
