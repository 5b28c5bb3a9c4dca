//! The loop: wait without using the processor, let the screens answer, draw once.

use std::cell::Cell;
use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;

use cursive::Cursive;
use cursive::CursiveRunner;
use cursive::event::Event;

use crate::terminal::Environment;
use crate::terminal::Terminal;
use crate::terminal::TerminalError;
use crate::terminal::Wake;
use crate::tui::backend::Backend;

/// How the loop came to its end.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Ended {
    /// The screens asked for it.
    Quit,
    /// This signal came, or the terminal went away, which counts as SIGHUP.
    Signal(i32),
}

impl Ended {
    /// The exit code of a program that ends like this: 0, or 128 and the signal's number.
    #[must_use]
    pub fn exit_code(self) -> u8 {
        match self {
            Self::Quit => 0,
            Self::Signal(number) => u8::try_from(128 + number).unwrap_or(u8::MAX),
        }
    }
}

/// Shows `siv` on the terminal until it quits or a signal comes; the terminal is given back then.
///
/// Before each wait `next_tick` is asked when the screens want to be drawn again by themselves:
/// the rest of a second while a stopwatch runs, a tenth while other threads work (what they send
/// through [`Cursive::cb_sink`] is taken up then), None otherwise. Without a tick the loop sleeps
/// until a key or a signal comes. A tick reaches the views as [`Event::Refresh`].
///
/// # Errors
/// There is no terminal that can show it.
pub fn run(
    siv: &mut Cursive,
    environment: &Environment,
    next_tick: impl Fn(&Cursive) -> Option<Duration>,
) -> Result<Ended, TerminalError> {
    let terminal = Rc::new(RefCell::new(Terminal::open(environment)?));
    let whole = Rc::new(Cell::new(true));
    let backend = Backend::new(Rc::clone(&terminal), environment, Rc::clone(&whole));
    let mut runner = siv.runner(Box::new(backend));
    runner.process_events();
    while runner.is_running() {
        runner.refresh();
        let wake = terminal.borrow_mut().wait(next_tick(&runner));
        if let Wake::Ended(signal) = wake {
            return Ok(Ended::Signal(signal));
        }
        answer(wake, &mut runner, &terminal, &whole);
        // All input that has come is taken at once, so that a burst of keys costs one drawing.
        runner.process_events();
    }
    Ok(Ended::Quit)
}

/// Does what a wake asks for beside the input.
fn answer(
    wake: Wake,
    runner: &mut CursiveRunner<&mut Cursive>,
    terminal: &RefCell<Terminal>,
    whole: &Cell<bool>,
) {
    // A terminal that cannot be entered again ends the loop at the next wait.
    match wake {
        Wake::Input | Wake::Ended(_) => {}
        Wake::Tick => runner.on_event(Event::Refresh),
        Wake::Resized => {
            whole.set(true);
            runner.on_event(Event::WindowResize);
        }
        Wake::Stop => {
            terminal.borrow_mut().suspend().unwrap_or_default();
            whole.set(true);
        }
        Wake::Continued => {
            terminal.borrow_mut().resume().unwrap_or_default();
            whole.set(true);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Ended;

    #[test]
    fn a_signal_ends_with_128_and_its_number_as_shells_report_it() {
        // POSIX.1-2017, XCU 2.8.2: greater than 128; 128 + n by custom of the shells. Numbers of
        // SIGHUP, SIGINT and SIGTERM are those of POSIX kill.
        assert_eq!(Ended::Quit.exit_code(), 0);
        assert_eq!(Ended::Signal(1).exit_code(), 129);
        assert_eq!(Ended::Signal(2).exit_code(), 130);
        assert_eq!(Ended::Signal(15).exit_code(), 143);
    }
}
