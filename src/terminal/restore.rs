//! Entering the full screen and leaving it again, from wherever the program ends.

use std::io;
use std::panic;
use std::sync::Arc;
use std::sync::Mutex;
use std::sync::MutexGuard;
use std::sync::PoisonError;
use std::time::Duration;

use rustix::termios::Termios;

use crate::terminal::tty::Tty;

/// Other screen, no cursor, no wrapping at the edge, the window's title put aside, clicks and drags
/// with exact places (not every movement), pastes told from typing.
const ENTER: &str =
    "\x1b[?1049h\x1b[?25l\x1b[?7l\x1b[22;2t\x1b[?1000h\x1b[?1002h\x1b[?1006h\x1b[?2004h";

/// The same backwards. The other screen is wiped while still shown, since some multiplexers carry
/// rows of it over after a change of size; the user's own screen is not touched.
const LEAVE: &str = "\x1b[?2026l\x1b[0m\x1b[H\x1b[2J\x1b[?2004l\x1b[?1006l\x1b[?1002l\x1b[?1000l\
                     \x1b[23;2t\x1b[?7h\x1b[?25h\x1b[?1049l";

/// How long leaving may wait for a terminal that takes no output, as behind a stalled connection.
const LEAVE_LIMIT: Duration = Duration::from_millis(200);

/// What has to be put back.
struct Entered {
    tty: Arc<Tty>,
    modes: Termios,
}

/// The screen that is entered now. A static, because a panic and a signal have to find it.
static ENTERED: Mutex<Option<Entered>> = Mutex::new(None);

fn entered() -> MutexGuard<'static, Option<Entered>> {
    ENTERED.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Shows the full screen; entering twice sends everything again but keeps the modes to go back to.
///
/// # Errors
/// The terminal refuses its modes.
pub(super) fn enter(tty: &Arc<Tty>) -> io::Result<()> {
    let mut entered = entered();
    let current = tty.modes()?;
    let modes = entered
        .take()
        .map_or_else(|| current.clone(), |earlier| earlier.modes);
    let mut raw = current;
    raw.make_raw();
    tty.set_modes(&raw)?;
    *entered = Some(Entered {
        tty: Arc::clone(tty),
        modes,
    });
    tty.write_within(ENTER.as_bytes(), LEAVE_LIMIT);
    Ok(())
}

/// Gives the terminal back as it was; does nothing if it has been given back already.
pub(super) fn leave() {
    if let Some(Entered { tty, modes }) = entered().take() {
        tty.write_within(LEAVE.as_bytes(), LEAVE_LIMIT);
        // Nothing can be done about a terminal that is gone.
        tty.set_modes(&modes).unwrap_or_default();
    }
}

/// Makes a panic give the terminal back before its message is printed, so that it can be read.
///
/// To be called once, before the terminal is opened; the earlier hook stays in force.
pub fn install_panic_hook() {
    let earlier = panic::take_hook();
    panic::set_hook(Box::new(move |facts| {
        leave();
        earlier(facts);
    }));
}
