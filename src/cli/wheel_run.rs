//! From the typed commands of the wheel to its words, its scales and its poster.

use crate::cli::CliError;
use crate::cli::Draw;
use crate::cli::Streams;
use crate::cli::WheelCommand;
use crate::cli::print_run::write_printout;
use crate::cli::run::CELLS;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::reports;
use crate::reports::NoWord;
use crate::reports::Printout;
use crate::reports::paper_of;
use crate::workflow::Home;
use crate::workflow::MarksOf;

/// Does what the arguments ask for.
pub(super) fn wheel(
    command: WheelCommand,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let wheel = home.wheel();
    match command {
        WheelCommand::List { json: true } => print_json(&reports::wheel_json(wheel), streams),
        WheelCommand::List { json: false } => print(&reports::wheel_lines(wheel, CELLS), streams),
        WheelCommand::Show { word, json } => {
            let asked = word.join(" ");
            let it = wheel.meant(&asked);
            let it = it.map_err(|near| NoWord::new(&asked, &near))?;
            if json {
                return print_json(&reports::word_json(wheel, it), streams);
            }
            print(&reports::word_lines(wheel, it, CELLS), streams)
        }
        WheelCommand::Scales { json: true } => print_json(&reports::scales_json(), streams),
        WheelCommand::Scales { json: false } => print(&reports::scales_lines(CELLS), streams),
        WheelCommand::Draw(asked) => draw(&asked, home, streams),
        WheelCommand::Check => {
            // Opening the home has read and checked every file, and would have listed all problems.
            writeln!(
                streams.output,
                "No problem found: {} places, {} shelves, {} words.",
                wheel.places().len(),
                wheel.shelves().len(),
                wheel.descriptors().len()
            )?;
            Ok(())
        }
    }
}

/// Writes the poster and says what it is.
fn draw(asked: &Draw, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let of = match (&asked.batch, &asked.taster) {
        (Some(mark), _) => Some(MarksOf::Notes(home.beer(mark)?.cap_mark)),
        (None, Some(name)) => Some(MarksOf::Taster(home.taster(name)?)),
        (None, None) => None,
    };
    let marks = of.map(|it| home.word_marks_to_print(&it)).transpose()?;
    let paper = paper_of(asked.paper.unwrap_or(home.settings().paper));
    let poster = reports::wheel_poster(home.wheel(), marks.as_ref(), paper);
    let file = asked.svg.as_ref().or(asked.pdf.as_ref());
    if let Some(file) = file {
        write_printout(&Printout::one(poster), file, home, streams)?;
    }
    if let Some(marks) = &marks {
        writeln!(
            streams.output,
            "What is dark: {}.",
            reports::marks_words(&marks.of)
        )?;
    }
    Ok(())
}
