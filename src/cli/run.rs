//! From typed commands to verbs, and from their reports to the terminal.

use std::io;
use std::io::BufRead;
use std::io::Write;
use std::path::Path;

use serde_json::Value;

use crate::cli::BatchCommand;
use crate::cli::CliError;
use crate::cli::Command;
use crate::cli::Document;
use crate::cli::Outcome;
use crate::cli::RecipeCommand;
use crate::cli::Taste;
use crate::cli::WeeksOf;
use crate::cli::blind_run::blind;
use crate::cli::compare_run::compare;
use crate::cli::convert_command::convert;
use crate::cli::home_command;
use crate::cli::next_command::next;
use crate::cli::panel_run::panel;
use crate::cli::photo_command::photo;
use crate::cli::practice_run::practice;
use crate::cli::print_run::print_out;
use crate::cli::remove_command::remove;
use crate::cli::remove_command::removed;
use crate::cli::settings_command::settings;
use crate::cli::shell_command::shell;
use crate::cli::taster_run::taster;
use crate::cli::wheel_run::wheel;
use crate::domain::NotesSource;
use crate::drawing::Line;
use crate::drawing::safe_text;
use crate::formats::EXAMPLE;
use crate::formats::LARDER_EXAMPLE;
use crate::formats::NEW_RECIPE_QUESTIONS;
use crate::formats::NotKept;
use crate::formats::RecipeAnswers;
use crate::reports;
use crate::screens::App;
use crate::screens::MarkScreen;
use crate::screens::PourerScreen;
use crate::screens::Running;
use crate::screens::Screen;
use crate::screens::StartScreen;
use crate::screens::TasterScreen;
use crate::screens::TastingScreen;
use crate::screens::WelcomeScreen;
use crate::screens::press_line;
use crate::screens::told;
use crate::workflow::Home;
use crate::workflow::typed_word;

/// Cells of a line of text on a terminal of unknown width.
pub(super) const CELLS: usize = 100;

/// The streams a command works on.
pub struct Streams<'a> {
    /// What is read.
    pub input: &'a mut dyn BufRead,
    /// Where reports go.
    pub output: &'a mut dyn Write,
}

/// Does what the arguments ask for.
///
/// # Errors
/// It could not be done; the message says what was tried, what was found, what to do.
pub fn run(
    command: Option<Command>,
    mut home: Home,
    streams: &mut Streams<'_>,
) -> Result<Outcome, CliError> {
    if !matches!(command, None | Some(Command::Settings(_))) {
        tell_unread(&home)?;
    }
    match command {
        None => return Ok(Outcome::Open(Box::new(opening(home, NotesSource::App)?))),
        Some(Command::Taste(taste)) => return tasting(&taste, home, streams),
        Some(Command::Panel(asked)) => return panel(asked, home, streams),
        Some(Command::Practice(asked)) => return practice(asked, home, streams),
        Some(Command::Recipe(command)) => recipe(command, &mut home, streams)?,
        Some(Command::Batch(command)) => batch(command, &mut home, streams)?,
        Some(Command::Compare(command)) => compare(&command, &mut home, streams)?,
        Some(Command::Next(asked)) => next(&asked, &mut home, streams)?,
        Some(Command::Larder { example: true, .. }) => write!(streams.output, "{LARDER_EXAMPLE}")?,
        Some(Command::Larder { json: true, .. }) => {
            print_json(&reports::larder_json(&home.at_home()?), streams)?;
        }
        Some(Command::Larder { .. }) => {
            print(&reports::larder_lines(&home.at_home()?, CELLS), streams)?;
        }
        Some(Command::Settings(asked)) => settings(&asked, &home, streams)?,
        Some(Command::Shell(command)) => shell(&command, streams)?,
        Some(Command::Blind(command)) => blind(command, &mut home, streams)?,
        Some(Command::Print(asked)) => print_out(&asked, &mut home, streams)?,
        Some(Command::Home(command)) => home_command::home(&command, &mut home, streams)?,
        Some(Command::Photo(command)) => photo(command, &mut home, streams)?,
        Some(Command::Remove(command)) => remove(command, &mut home, streams)?,
        Some(Command::Removed(asked)) => removed(&asked, &mut home, streams)?,
        Some(Command::Taster(command)) => taster(command, &mut home, streams)?,
        Some(Command::Wheel(command)) => wheel(command, &home, streams)?,
    }
    home.end_the_day();
    Ok(Outcome::Done(0))
}

/// Says beside what a command prints that not all settings could be read.
fn tell_unread(home: &Home) -> Result<(), io::Error> {
    reports::unread_settings(home).map_or(Ok(()), |it| {
        writeln!(io::stderr(), "{}", safe_text(&it, usize::MAX))
    })
}

/// The app at its first screen, or at its very first question.
fn opening(home: Home, source: NotesSource) -> Result<App, CliError> {
    let mut screens: Vec<Box<dyn Screen>> = vec![Box::new(StartScreen::new(source))];
    if home.is_new()? {
        screens.push(Box::new(WelcomeScreen::new(source)));
    }
    Ok(App::new(home, screens))
}

fn tasting(taste: &Taste, mut home: Home, streams: &mut Streams<'_>) -> Result<Outcome, CliError> {
    let source = if taste.plain {
        NotesSource::Plain
    } else {
        NotesSource::App
    };
    let first = first_question(taste, source, &mut home)?;
    let screens: Vec<Box<dyn Screen>> = vec![Box::new(StartScreen::new(source)), first];
    let app = App::new(home, screens);
    if !taste.plain {
        return Ok(Outcome::Open(Box::new(app)));
    }
    line_by_line(app, streams)?;
    Ok(Outcome::Done(0))
}

/// The question at which a tasting begins, by what was said already.
fn first_question(
    taste: &Taste,
    source: NotesSource,
    home: &mut Home,
) -> Result<Box<dyn Screen>, CliError> {
    let marks = taste.batch.clone().zip(taste.other.clone());
    if let Some((one, other)) = marks {
        let marks = [one, other];
        return Ok(match &taste.taster {
            Some(name) => {
                let taster = home.taster_or_new(name)?;
                PourerScreen::new(source, taster, marks).screen(home)?
            }
            None => Box::new(TasterScreen::for_marks(source, marks, home)?),
        });
    }
    Ok(match (&taste.batch, &taste.taster) {
        (Some(mark), Some(name)) => {
            let taster = home.taster_or_new(name)?;
            let tasting = home.start_tasting(&taster, mark, source)?;
            Box::new(TastingScreen::new(tasting, home)?)
        }
        (Some(mark), None) => Box::new(TasterScreen::for_mark(source, mark, home)?),
        (None, Some(name)) => {
            let taster = home.taster_or_new(name)?;
            Box::new(MarkScreen::new(source, taster, home)?)
        }
        (None, None) => Box::new(TasterScreen::new(source, home)?),
    })
}

/// Tells each page and reads one line for it, until the app or the input ends.
pub(super) fn line_by_line(mut app: App, streams: &mut Streams<'_>) -> Result<(), CliError> {
    loop {
        write!(streams.output, "{}", told(&mut app))?;
        streams.output.flush()?;
        let mut line = String::new();
        if streams.input.read_line(&mut line)? == 0 {
            return Ok(());
        }
        if press_line(&mut app, &line) == Running::Ended {
            return Ok(());
        }
        writeln!(streams.output)?;
    }
}

fn recipe(
    command: RecipeCommand,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    match command {
        RecipeCommand::New { file } => new_recipe(&file, home, streams),
        RecipeCommand::Check { file: None, .. } => Ok(write!(streams.output, "{EXAMPLE}")?),
        RecipeCommand::Check {
            file: Some(file), ..
        } => check(&file, home, streams),
        RecipeCommand::Predict {
            file,
            why,
            weeks,
            taster,
            json,
        } => {
            let predicted = home.predict_for(&file, weeks, taster.as_deref())?;
            if let Some(asked) = why {
                let why = home.why(&predicted, &asked)?;
                if json {
                    return print_json(&reports::why_json(&why), streams);
                }
                return print(&reports::why_lines(&why, CELLS), streams);
            }
            if json {
                return print_json(&reports::prediction_json(&predicted), streams);
            }
            print(&reports::prediction_lines(&predicted, CELLS), streams)
        }
        RecipeCommand::Convert(asked) => convert(&asked, home, streams),
        RecipeCommand::History { name, document } => {
            history(&name.join(" "), &document, home, streams)
        }
    }
}

fn check(file: &Path, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let recipe = home.read_recipe(file)?.recipe;
    let (name, version) = (recipe.name, recipe.version);
    writeln!(
        streams.output,
        "{name}, version {version}: no problem found."
    )?;
    Ok(())
}

fn history(
    name: &str,
    document: &Document,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    let history = home.recipe_history(name)?;
    if document.json {
        return print_json(&reports::history_json(&history), streams);
    }
    if document.markdown {
        write!(streams.output, "{}", reports::history_markdown(&history))?;
        return Ok(());
    }
    print(&reports::history_lines(&history, CELLS), streams)
}

fn new_recipe(file: &Path, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    home.ensure_free(file)?;
    writeln!(
        streams.output,
        "Ten questions. Enter alone or ? means that you don't know; that blocks nothing.\n"
    )?;
    let mut answers = RecipeAnswers::default();
    for (index, question) in NEW_RECIPE_QUESTIONS.iter().enumerate() {
        writeln!(
            streams.output,
            "{} of {}. {}",
            index + 1,
            NEW_RECIPE_QUESTIONS.len(),
            question.ask
        )?;
        write!(streams.output, "   such as: {}\n> ", question.example)?;
        streams.output.flush()?;
        let mut line = String::new();
        streams.input.read_line(&mut line)?;
        answers = answers.answered(question, &line);
    }
    let not_kept = home.new_recipe(&answers, file)?;
    tell_written(file, &not_kept, home, streams)
}

/// What of the answers is not in the new file, and what is still to mend in it.
fn tell_written(
    file: &Path,
    not_kept: &[NotKept],
    home: &Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    if !not_kept.is_empty() {
        writeln!(streams.output, "\nNot kept of the answers:")?;
    }
    for part in not_kept {
        writeln!(streams.output, "  {part}")?;
    }
    let shown = file.display().to_string();
    let typed = typed_word(&shown);
    match home.read_recipe(file) {
        Ok(_) => writeln!(
            streams.output,
            "\nWritten: {shown}. No problem found; when it is brewed: thirdglass batch add {typed}"
        )?,
        Err(problems) => writeln!(
            streams.output,
            "\nWritten: {shown}. To mend in it:\n{problems}\nThen: thirdglass recipe check {typed}"
        )?,
    }
    Ok(())
}

fn batch(
    command: BatchCommand,
    home: &mut Home,
    streams: &mut Streams<'_>,
) -> Result<(), CliError> {
    match command {
        BatchCommand::Add { recipe, mark } => {
            let batch = home.add_batch(&recipe, mark.as_deref())?;
            writeln!(
                streams.output,
                "Added. Write {} on the caps; what the recipe hopes for is frozen from today.",
                batch.cap_mark
            )?;
            Ok(())
        }
        BatchCommand::List { json } => {
            let rows = home.batch_rows()?;
            if json {
                return print_json(&reports::batch_list_json(&rows), streams);
            }
            print(&reports::batch_list_lines(&rows, CELLS), streams)
        }
        BatchCommand::Show { batch, json } => {
            let page = home.batch_page(&batch)?;
            if json {
                return print_json(&reports::batch_page_json(&page), streams);
            }
            print(&reports::batch_page_lines(&page, CELLS), streams)
        }
        BatchCommand::Weeks(asked) => weeks(&asked, home, streams),
        BatchCommand::Log { batch, kind, value } => {
            let entry = home.log_entry(&batch, &kind, &value.join(" "))?;
            let (kind, value) = (entry.kind.word, reports::entry_words(&entry));
            writeln!(streams.output, "Logged for {batch}: {kind} {value}.")?;
            Ok(())
        }
    }
}

fn weeks(asked: &WeeksOf, home: &Home, streams: &mut Streams<'_>) -> Result<(), CliError> {
    let weeks = home.batch_weeks(&asked.batch, asked.taster.as_deref())?;
    if asked.json {
        return print_json(&reports::weeks_json(&weeks), streams);
    }
    print(&reports::weeks_lines(&weeks, CELLS), streams)
}

pub(super) fn print(lines: &[Line], streams: &mut Streams<'_>) -> Result<(), CliError> {
    for line in lines {
        writeln!(streams.output, "{}", safe_text(&line.text(), usize::MAX))?;
    }
    Ok(())
}

pub(super) fn print_json(value: &Value, streams: &mut Streams<'_>) -> Result<(), CliError> {
    writeln!(streams.output, "{value:#}")?;
    Ok(())
}
