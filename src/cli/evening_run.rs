//! From the typed commands of courses and evenings to their verbs and reports.

use crate::cli::CliError;
use crate::cli::Outcome;
use crate::cli::Streams;
use crate::cli::practice_command::CourseOf;
use crate::cli::practice_command::EveningOf;
use crate::cli::practice_command::GainOf;
use crate::cli::practice_command::Leader;
use crate::cli::practice_command::Sheets;
use crate::cli::practice_run::app;
use crate::cli::run::CELLS;
use crate::cli::run::line_by_line;
use crate::cli::run::print;
use crate::cli::run::print_json;
use crate::domain::Course;
use crate::domain::MeetingCount;
use crate::domain::Minutes;
use crate::domain::Taster;
use crate::reports;
use crate::screens::EveningScreen;
use crate::workflow::Evening;
use crate::workflow::EveningWish;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// Lists the courses, shows one, or adds one.
pub(super) fn course_of(
    asked: &CourseOf,
    mut home: Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let courses = match &asked.name {
        None => home.courses()?,
        Some(name) if asked.people.is_empty() => vec![home.course(name)?],
        Some(name) => {
            let count = MeetingCount::new(asked.meetings).map_err(WorkflowError::from)?;
            let people = people(&asked.people, &mut home)?;
            vec![home.add_course(name, &people, count)?]
        }
    };
    let rows: Result<Vec<_>, _> = courses.into_iter().map(|it| home.course_row(it)).collect();
    let rows = rows?;
    if asked.json {
        return print_json(&reports::courses_json(&rows), streams);
    }
    print(&reports::courses_lines(&rows, CELLS), streams)
}

fn people(names: &[String], home: &mut Home) -> Result<Vec<Taster>, CliError> {
    let names = names.iter().map(|it| it.trim()).filter(|it| !it.is_empty());
    let people: Result<Vec<Taster>, WorkflowError> =
        names.map(|name| home.taster_or_new(name)).collect();
    Ok(people?)
}

/// Opens the evening of a course; plans the next one where none is open.
pub(super) fn evening_of(
    asked: &EveningOf,
    mut home: Home,
    streams: &mut Streams<'_>,
) -> Result<Outcome, CliError> {
    let course = home.course(&asked.course)?;
    let evening = match home.open_evening(&course)? {
        Some(evening) => evening,
        None => planned(asked, &course, &mut home)?,
    };
    let app = app(home, Box::new(EveningScreen::new(evening)));
    if !asked.plain {
        return Ok(Outcome::Open(Box::new(app)));
    }
    line_by_line(app, streams)?;
    Ok(Outcome::Done(0))
}

fn planned(asked: &EveningOf, course: &Course, home: &mut Home) -> Result<Evening, CliError> {
    let present = if asked.present.is_empty() {
        home.people_of(course)?
    } else {
        people(&asked.present, home)?
    };
    let wish = EveningWish {
        present,
        length: Minutes::new(asked.minutes).map_err(WorkflowError::from)?,
        jars: usize::from(asked.jars),
    };
    Ok(home.plan_evening(course, &wish)?)
}

/// Prints the page of the one who leads.
pub(super) fn lead(asked: &Leader, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let course = home.course(&asked.course)?;
    let evening = home.read_evening(&course, asked.reader.as_deref())?;
    if asked.json {
        return print_json(&reports::evening_json(&evening), streams);
    }
    print(&reports::evening_lines(&evening, CELLS), streams)
}

/// Prints the sheets of an evening, a form feed between two.
pub(super) fn print_sheets(
    asked: &Sheets,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let evening = home.latest_evening(&home.course(&asked.course)?)?;
    let people = match &asked.taster {
        Some(name) => vec![home.taster(name)?],
        None => evening.present.clone(),
    };
    for (at, taster) in people.iter().enumerate() {
        if at > 0 {
            write!(streams.output, "\u{c}")?;
        }
        let rows = home.paper_rows(&evening, taster)?;
        let lines =
            reports::paper_lines(&evening, taster.name.as_str(), &rows, home.wheel(), CELLS);
        print(&lines, streams)?;
    }
    Ok(())
}

/// Tells what one learner gained.
pub(super) fn gained(
    asked: &GainOf,
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let course = home.course(&asked.course)?;
    let gain = home.course_gain(&course, &home.taster(&asked.taster)?)?;
    if asked.json {
        return print_json(&reports::gain_json(&gain), streams);
    }
    print(&reports::gain_lines(&gain, CELLS), streams)
}
