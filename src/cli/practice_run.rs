//! From the typed commands of practice to the app and to reports.

use crate::cli::CliError;
use crate::cli::Outcome;
use crate::cli::Streams;
use crate::cli::evening_run::course_of;
use crate::cli::evening_run::evening_of;
use crate::cli::evening_run::gained;
use crate::cli::evening_run::lead;
use crate::cli::evening_run::print_sheets;
use crate::cli::picture_run::SQUARE_WIDTH;
use crate::cli::picture_run::write_pictures;
use crate::cli::practice_command::Practice;
use crate::cli::practice_command::PracticeCommand;
use crate::cli::practice_command::Record;
use crate::cli::practice_command::Words;
use crate::cli::run::CELLS;
use crate::cli::run::line_by_line;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::domain::NotesSource;
use crate::drawing::Picture;
use crate::drawing::Sheet;
use crate::reports;
use crate::screens::App;
use crate::screens::PracticeItemScreen;
use crate::screens::PracticeScreen;
use crate::screens::Screen;
use crate::screens::StartScreen;
use crate::workflow::Home;

/// Does what the arguments ask for.
pub(super) fn practice(
    asked: Practice,
    home: Home,
    streams: &mut Streams<'_>,
) -> Result<Outcome, CliError> {
    match asked.command {
        None => {
            let app = app(home, Box::new(PracticeScreen::default()));
            if asked.plain {
                line_by_line(app, streams)?;
                return Ok(Outcome::Done(0));
            }
            Ok(Outcome::Open(Box::new(app)))
        }
        Some(PracticeCommand::Words(words)) => five_minutes(&words, home, streams),
        Some(PracticeCommand::Record(record)) => done(tell(&record, &home, streams)),
        Some(PracticeCommand::Course(course)) => done(course_of(&course, home, streams)),
        Some(PracticeCommand::Evening(evening)) => evening_of(&evening, home, streams),
        Some(PracticeCommand::Leader(leader)) => done(lead(&leader, &home, streams)),
        Some(PracticeCommand::Sheets(sheets)) => done(print_sheets(&sheets, &home, streams)),
        Some(PracticeCommand::Gain(gain)) => done(gained(&gain, &home, streams)),
    }
}

fn done(told: Result<(), CliError>) -> Result<Outcome, CliError> {
    told.map(|()| Outcome::Done(0))
}

/// The app at a screen of practice.
pub(super) fn app(home: Home, screen: Box<dyn Screen>) -> App {
    let start = Box::new(StartScreen::new(NotesSource::App));
    App::new(home, vec![start, screen])
}

fn five_minutes(
    asked: &Words,
    mut home: Home,
    streams: &mut Streams<'_>,
) -> Result<Outcome, CliError> {
    let taster = home.taster_or_new(&asked.taster)?;
    let sitting = home.practise_words(&taster)?;
    let run = home.practice_run(&sitting, &taster)?;
    let app = app(home, Box::new(PracticeItemScreen::new(run)));
    if !asked.plain {
        return Ok(Outcome::Open(Box::new(app)));
    }
    line_by_line(app, streams)?;
    Ok(Outcome::Done(0))
}

fn tell(asked: &Record, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let confidence = home.confidence(&home.taster(&asked.name)?)?;
    if asked.json {
        return print_json(&reports::confidence_json(&confidence), streams);
    }
    let extent = [reports::Extent::First, reports::Extent::All][usize::from(asked.all)];
    let lines = reports::confidence_lines(&confidence, home.wheel(), extent, CELLS);
    print(&lines, streams)?;
    if let Some(file) = &asked.svg {
        let title = format!(
            "How sure {} is, and how often right",
            confidence.taster.name
        );
        let picture = reports::certainty_picture(&confidence);
        let pictures: Vec<Sheet> = picture.iter().map(|it| it.sheet(SQUARE_WIDTH)).collect();
        write_pictures(&title, &pictures, file, home, streams)?;
    }
    Ok(())
}
