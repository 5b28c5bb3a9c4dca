//! A picture alone onto a file, for a notebook.

use std::path::Path;

use crate::cli::CliError;
use crate::cli::Streams;
use crate::drawing::Sheet;
use crate::drawing::framed;
use crate::drawing::stacked;
use crate::drawing::svg;
use crate::workflow::Home;

/// How wide a picture is in a notebook, mm.
pub(super) const PICTURE_WIDTH: f64 = 170.0;

/// The same of a square one, mm.
pub(super) const SQUARE_WIDTH: f64 = 110.0;

/// From one picture to the next below it, mm.
const GAP: f64 = 6.0;

/// Writes pictures under one another, with a heading, as SVG, and tells what was written.
pub(super) fn write_pictures(
    title: &str,
    pictures: &[Sheet],
    file: &Path,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    if pictures.is_empty() {
        return Err(CliError::NoPicture {
            title: title.to_owned(),
        });
    }
    let picture = svg(&framed(title, &stacked(pictures, GAP)));
    let contents = picture.into_bytes();
    let kilobytes = contents.len().div_ceil(1_000);
    home.write_documents(&[(file.to_owned(), contents)])?;
    let file = file.display();
    writeln!(
        streams.output,
        "\nWritten: {file}, {kilobytes} kB: the picture alone."
    )?;
    Ok(())
}
