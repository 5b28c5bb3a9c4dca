//! The door: arguments in, exit code out.

use std::env;
use std::io;
use std::io::Write;
use std::process::ExitCode;

use clap::Parser;

use thirdglass::cli::Arguments;
use thirdglass::cli::CliError;
use thirdglass::cli::Command;
use thirdglass::cli::HomeCommand;
use thirdglass::cli::Outcome;
use thirdglass::cli::Streams;
use thirdglass::cli::progress;
use thirdglass::cli::restore_home;
use thirdglass::cli::run;
use thirdglass::cli::shell;
use thirdglass::domain::Colours;
use thirdglass::domain::Settings;
use thirdglass::domain::Signs;
use thirdglass::drawing::safe_text;
use thirdglass::statistics::Dice;
use thirdglass::terminal::Charset;
use thirdglass::terminal::ColourDepth;
use thirdglass::terminal::Environment;
use thirdglass::tui::show;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;
use thirdglass::workflow::home_folder;

/// Cells of a line of a message: room for a long path, not for a megabyte.
const WIDEST_MESSAGE: usize = 2_000;

fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(refused) => return answer(&refused),
    };
    match carry_out(arguments) {
        Ok(code) => ExitCode::from(code),
        Err(error) if error.is_broken_pipe() => ExitCode::SUCCESS,
        Err(error) => complain(&error.to_string(), 1),
    }
}

fn carry_out(arguments: Arguments) -> Result<u8, CliError> {
    if let Some(Command::Shell(command)) = &arguments.command {
        // Whoever packages the program has no kitchen.
        let (input, output) = (&mut io::empty(), &mut io::stdout().lock());
        shell(command, &mut Streams { input, output })?;
        output.flush()?;
        return Ok(0);
    }
    let (clock, dice) = (Clock::system(), Dice::from_system()?);
    // The throw-away folder goes when this is dropped, after the home in it.
    let mut throw_away = None;
    let home = if arguments.demo {
        let (home, folder) = Home::demo(clock, dice)?;
        throw_away = Some(folder);
        home
    } else {
        let folder = home_folder(arguments.home, |name| env::var_os(name))?;
        if let Some(Command::Home(HomeCommand::Restore(asked))) = &arguments.command {
            // What stands there may not even open.
            let (input, output) = (&mut io::empty(), &mut io::stdout().lock());
            restore_home(asked, &folder, &mut Streams { input, output })?;
            return Ok(0);
        }
        Home::open(&folder, clock, dice)?
    };
    // The app has the screen to itself.
    let home = match arguments.command {
        Some(_) => home.heard_by(progress()),
        None => home,
    };
    let done = serve(arguments.command, home);
    drop(throw_away);
    done
}

fn serve(command: Option<Command>, home: Home) -> Result<u8, CliError> {
    let mut streams = Streams {
        input: &mut io::stdin().lock(),
        output: &mut io::stdout().lock(),
    };
    let settings = *home.settings();
    match run(command, home, &mut streams)? {
        Outcome::Done(code) => {
            streams.output.flush()?;
            Ok(code)
        }
        Outcome::Open(app) => Ok(match show(*app, &environment(settings)) {
            Ok(ended) => ended.exit_code(),
            Err(error) => {
                complain(&error.to_string(), 1);
                error.exit_code()
            }
        }),
    }
}

/// The terminal as it is, with what the kitchen settled.
fn environment(settings: Settings) -> Environment {
    let mut environment = Environment::from_process();
    if settings.colours == Colours::None {
        environment.depth = ColourDepth::Mono;
    }
    if settings.signs == Signs::Ascii {
        environment.charset = Charset::Ascii;
    }
    environment
}

/// Prints the help that was asked for, or what is wrong with the arguments.
fn answer(refused: &clap::Error) -> ExitCode {
    if refused.use_stderr() {
        tell(&refused.render().to_string());
    } else {
        // Whoever closed the pipe has read enough of the help.
        refused.print().unwrap_or_default();
    }
    ExitCode::from(u8::try_from(refused.exit_code()).unwrap_or(2))
}

fn complain(message: &str, code: u8) -> ExitCode {
    tell(&format!("thirdglass: {message}"));
    ExitCode::from(code)
}

/// Writes to the error output, made harmless: messages repeat what was typed and what files say.
fn tell(message: &str) {
    let lines: Vec<_> = message
        .lines()
        .map(|line| safe_text(line, WIDEST_MESSAGE))
        .collect();
    // There is nowhere left to say that this failed.
    writeln!(io::stderr(), "{}", lines.join("\n")).unwrap_or_default();
}
