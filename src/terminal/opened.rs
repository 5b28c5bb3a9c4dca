//! The terminal as the app uses it: wait, read, draw, and be put back at the end.

use std::io;
use std::sync::Arc;
use std::time::Duration;
use std::time::Instant;

use rustix::event::PollFd;
use rustix::event::PollFlags;
use rustix::process::Signal;
use rustix::process::getpid;
use rustix::process::getsid;
use rustix::process::kill_process;
use signal_hook::consts::SIGCONT;
use signal_hook::consts::SIGHUP;
use signal_hook::consts::SIGTSTP;
use signal_hook::consts::SIGWINCH;

use crate::terminal::Environment;
use crate::terminal::Input;
use crate::terminal::Size;
use crate::terminal::TerminalError;
use crate::terminal::decoder::Decoder;
use crate::terminal::restore::enter;
use crate::terminal::restore::leave;
use crate::terminal::signals::Signals;
use crate::terminal::tty::Polled;
use crate::terminal::tty::Tty;
use crate::terminal::tty::gone;
use crate::terminal::tty::poll_for;

/// Why a wait ended.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Wake {
    /// [`Terminal::next_input`] has something.
    Input,
    /// The time is over.
    Tick,
    /// The terminal changed its size.
    Resized,
    /// Somebody asked the program to stop for a while: [`Terminal::suspend`] does it.
    Stop,
    /// The program went on after having been stopped; nothing on the screen can be relied on.
    Continued,
    /// The program has to end because of this signal, or because the terminal is gone (as SIGHUP).
    Ended(i32),
}

/// An entered full screen; dropping it gives the terminal back.
pub struct Terminal {
    tty: Arc<Tty>,
    signals: Signals,
    decoder: Decoder,
    gone: bool,
}

impl Terminal {
    /// Opens the terminal of this process and shows the full screen.
    ///
    /// # Errors
    /// There is no terminal, it cannot place its cursor, or the system refuses to set it up.
    pub fn open(environment: &Environment) -> Result<Self, TerminalError> {
        if !environment.can_place_cursor() {
            return Err(TerminalError::CannotPlaceCursor {
                name: environment.term.clone(),
            });
        }
        let tty = Tty::open().map_err(|found| TerminalError::Absent { found })?;
        let unprepared = |found| TerminalError::Unprepared { found };
        let tty = Arc::new(tty);
        // Listening first: no signal may find a changed terminal and nobody to put it back.
        let signals = Signals::listen().map_err(unprepared)?;
        enter(&tty).map_err(unprepared)?;
        Ok(Self {
            tty,
            signals,
            decoder: Decoder::default(),
            gone: false,
        })
    }

    /// The size now; 80 by 24 if the terminal does not tell.
    #[must_use]
    pub fn size(&self) -> Size {
        self.tty.size()
    }

    /// Waits for something to happen, at most `limit` long, or for ever.
    pub fn wait(&mut self, limit: Option<Duration>) -> Wake {
        let deadline = limit.map(|limit| Instant::now() + limit);
        loop {
            self.signals.collect();
            if let Some(wake) = self.pending_wake() {
                return wake;
            }
            let left = deadline.map(|deadline| deadline.saturating_duration_since(Instant::now()));
            let patience = self.decoder.patience();
            let readiness = self.poll(shorter(left, patience));
            if readiness == Readiness::Readable {
                self.fill();
            } else if readiness == Readiness::TimeOver {
                if patience.is_some_and(|patience| left.is_none_or(|left| patience <= left)) {
                    self.decoder.settle();
                } else {
                    return Wake::Tick;
                }
            }
        }
    }

    /// The next key, mouse report or paste that has come; never waits.
    pub fn next_input(&mut self) -> Option<Input> {
        if !self.decoder.has_input() {
            self.fill();
        }
        self.decoder.next()
    }

    /// Sends a frame; gives up if the program has to end meanwhile or the terminal is gone.
    pub fn draw(&mut self, frame: &[u8]) {
        let mut rest = frame;
        while !rest.is_empty() && !self.gone && self.signals.ending().is_none() {
            match self.tty.write(rest) {
                Ok(0) => self.await_room(),
                Ok(count) => rest = &rest[count..],
                Err(_) => self.gone = true,
            }
        }
    }

    /// Gives the terminal back, stops this process, and enters again when it is told to go on.
    ///
    /// # Errors
    /// The terminal cannot be entered any more.
    pub fn suspend(&mut self) -> io::Result<()> {
        leave();
        // The stop signal that cannot be caught: the catchable one does nothing when no shell
        // of the same session could wake the process again.
        kill_process(getpid(), Signal::STOP)?;
        while !self.signals.take(SIGCONT) {
            poll_for(&mut [PollFd::new(self.signals.pipe(), PollFlags::IN)], None)?;
            self.signals.collect();
        }
        self.signals.take(SIGTSTP);
        self.resume()
    }

    /// Enters again after the process was stopped by others.
    ///
    /// # Errors
    /// The terminal cannot be entered any more.
    pub fn resume(&mut self) -> io::Result<()> {
        self.decoder = Decoder::default();
        let entered = enter(&self.tty);
        self.gone |= entered.is_err();
        entered
    }

    /// Whether a shell is there to wake this process if a key stops it; a program that is all
    /// there is in its window would sleep for ever.
    #[must_use]
    pub fn can_be_woken(&self) -> bool {
        getsid(None).is_ok_and(|session| session != getpid())
    }

    /// What needs no waiting for, the most pressing first.
    fn pending_wake(&mut self) -> Option<Wake> {
        if let Some(signal) = self.signals.ending() {
            return Some(Wake::Ended(signal));
        }
        if self.gone {
            return Some(Wake::Ended(SIGHUP));
        }
        if self.signals.take(SIGTSTP) {
            return Some(Wake::Stop);
        }
        if self.signals.take(SIGCONT) {
            return Some(Wake::Continued);
        }
        if self.signals.take(SIGWINCH) {
            return Some(Wake::Resized);
        }
        self.decoder.has_input().then_some(Wake::Input)
    }

    /// Waits for bytes or signals, and notices the terminal's end.
    fn poll(&mut self, limit: Option<Duration>) -> Readiness {
        let mut fds = [
            PollFd::new(&*self.tty, PollFlags::IN),
            PollFd::new(self.signals.pipe(), PollFlags::IN),
        ];
        let Ok(polled) = poll_for(&mut fds, limit) else {
            self.gone = true;
            return Readiness::Signalled;
        };
        let tty = fds[0].revents();
        if tty.intersects(gone()) {
            self.gone = true;
        }
        match polled {
            Polled::TimeOver => Readiness::TimeOver,
            Polled::Ready if tty.contains(PollFlags::IN) && !self.gone => Readiness::Readable,
            Polled::Ready | Polled::Interrupted => Readiness::Signalled,
        }
    }

    /// Hands all bytes that have come to the decoder.
    fn fill(&mut self) {
        let mut buffer = [0; 4096];
        while let Some(count) = self.tty.read(&mut buffer) {
            if count == 0 {
                self.gone = true;
                return;
            }
            self.decoder.advance(&buffer[..count]);
            if count < buffer.len() {
                return;
            }
        }
    }

    /// Waits until the terminal takes more output, or a signal comes.
    fn await_room(&mut self) {
        let mut fds = [
            PollFd::new(&*self.tty, PollFlags::OUT),
            PollFd::new(self.signals.pipe(), PollFlags::IN),
        ];
        let polled = poll_for(&mut fds, None);
        self.gone |= polled.is_err() || fds[0].revents().intersects(gone());
        self.signals.collect();
    }
}

impl Drop for Terminal {
    fn drop(&mut self) {
        leave();
    }
}

/// What a poll found.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
enum Readiness {
    Readable,
    Signalled,
    TimeOver,
}

/// The shorter of two times, of which either may be endless.
fn shorter(one: Option<Duration>, other: Option<Duration>) -> Option<Duration> {
    match (one, other) {
        (Some(one), Some(other)) => Some(one.min(other)),
        (one, other) => one.or(other),
    }
}
