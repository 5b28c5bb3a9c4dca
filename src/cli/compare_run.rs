//! From the typed comparison to its verb, its report and its picture.

use crate::cli::CliError;
use crate::cli::Compare;
use crate::cli::Streams;
use crate::cli::picture_run::PICTURE_WIDTH;
use crate::cli::picture_run::write_pictures;
use crate::cli::run::CELLS;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::drawing::Picture;
use crate::drawing::Sheet;
use crate::reports;
use crate::workflow::Home;

/// Sets the plan beside the notes, or one beer beside another.
pub(super) fn compare(
    command: &Compare,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    if let Some(other) = &command.other {
        return versus(command, other, home, streams);
    }
    if command.break_seal {
        break_seal(command, home, streams)?;
    }
    let both = home.compare(&command.batch, command.taster.as_deref())?;
    if command.document.json {
        return print_json(&reports::comparison_json(&both, home.wheel()), streams);
    }
    if command.document.markdown {
        write!(streams.output, "{}", reports::comparison_markdown(&both))?;
        return Ok(());
    }
    let extent = [reports::Extent::First, reports::Extent::All][usize::from(command.all)];
    print(&reports::comparison_lines(&both, extent, CELLS), streams)?;
    let title = format!("{} · {}", both.cap_mark, both.recipe);
    let dumbbells = reports::comparison_picture(&both).sheet(PICTURE_WIDTH);
    let colours = reports::colour_picture(&both).map(|it| it.sheet(PICTURE_WIDTH));
    let pictures: Vec<Sheet> = std::iter::once(dumbbells).chain(colours).collect();
    picture(&title, &pictures, command, home, streams)
}

/// Two beers beside each other.
fn versus(
    command: &Compare,
    other: &str,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let both = home.versus(&command.batch, other)?;
    if command.document.json {
        return print_json(&reports::versus_json(&both), streams);
    }
    print(&reports::versus_lines(&both, CELLS), streams)?;
    let [one, other] = &both.cap_marks;
    let title = format!("{one} against {other}");
    let pictures = [reports::versus_picture(&both).sheet(PICTURE_WIDTH)];
    picture(&title, &pictures, command, home, streams)
}

fn break_seal(
    command: &Compare,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let marked = home.break_seal(&command.batch)?;
    if !marked.is_empty() {
        writeln!(
            streams.output,
            "The seal is broken. The open notes of {} carry that mark for ever.\n",
            marked.join(", ")
        )?;
    }
    Ok(())
}

/// Writes the picture of a comparison where a file is named for it.
fn picture(
    title: &str,
    pictures: &[Sheet],
    command: &Compare,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    match &command.svg {
        Some(file) => write_pictures(title, pictures, file, home, streams),
        None => Ok(()),
    }
}
