//! The terminal's file: opened once, read and written without ever blocking.

use std::io;
use std::os::fd::AsFd;
use std::os::fd::BorrowedFd;
use std::os::fd::OwnedFd;
use std::time::Duration;
use std::time::Instant;

use rustix::event::PollFd;
use rustix::event::PollFlags;
use rustix::event::Timespec;
use rustix::event::poll;
use rustix::fs::Mode;
use rustix::fs::OFlags;
use rustix::fs::open;
use rustix::io::Errno;
use rustix::termios::OptionalActions;
use rustix::termios::Termios;
use rustix::termios::isatty;
use rustix::termios::tcgetattr;
use rustix::termios::tcgetwinsize;
use rustix::termios::tcsetattr;

/// Columns and rows.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct Size {
    /// How many cells stand side by side.
    pub columns: u16,
    /// How many lie one below the other.
    pub rows: u16,
}

impl Size {
    /// The size of a VT100, for terminals that do not tell theirs.
    const USUAL: Self = Self {
        columns: 80,
        rows: 24,
    };

    /// The size told, or the usual one if either side is zero.
    fn told(columns: u16, rows: u16) -> Self {
        if columns == 0 || rows == 0 {
            Self::USUAL
        } else {
            Self { columns, rows }
        }
    }
}

/// An open terminal.
#[derive(Debug)]
pub(super) struct Tty(OwnedFd);

impl Tty {
    /// Opens the terminal that controls this process, or else the one behind its input.
    ///
    /// Opened anew either way: switching off blocking on the descriptor of the shell would switch
    /// it off for the shell as well.
    pub(super) fn open() -> io::Result<Self> {
        let flags = OFlags::RDWR | OFlags::NONBLOCK | OFlags::NOCTTY | OFlags::CLOEXEC;
        let opened = open("/dev/tty", flags, Mode::empty());
        let fd = match opened {
            Ok(fd) => fd,
            Err(_) if isatty(io::stdin()) => open("/dev/stdin", flags, Mode::empty())?,
            Err(error) => return Err(error.into()),
        };
        tcgetattr(&fd)?;
        Ok(Self(fd))
    }

    /// The modes as they are.
    pub(super) fn modes(&self) -> io::Result<Termios> {
        Ok(tcgetattr(&self.0)?)
    }

    /// Sets modes at once, without waiting for output to drain.
    pub(super) fn set_modes(&self, modes: &Termios) -> io::Result<()> {
        Ok(tcsetattr(&self.0, OptionalActions::Now, modes)?)
    }

    /// The size now.
    pub(super) fn size(&self) -> Size {
        tcgetwinsize(&self.0).map_or(Size::USUAL, |size| Size::told(size.ws_col, size.ws_row))
    }

    /// Reads what is there: None if nothing is, 0 bytes if the terminal is gone.
    pub(super) fn read(&self, buffer: &mut [u8]) -> Option<usize> {
        match rustix::io::read(&self.0, buffer) {
            Ok(count) => Some(count),
            Err(Errno::AGAIN | Errno::INTR) => None,
            Err(_) => Some(0),
        }
    }

    /// Writes as much as goes without waiting.
    ///
    /// # Errors
    /// The terminal is gone.
    pub(super) fn write(&self, bytes: &[u8]) -> io::Result<usize> {
        match rustix::io::write(&self.0, bytes) {
            Ok(count) => Ok(count),
            Err(Errno::AGAIN | Errno::INTR) => Ok(0),
            Err(error) => Err(error.into()),
        }
    }

    /// Writes everything, or as much as the terminal takes within `limit`.
    pub(super) fn write_within(&self, mut bytes: &[u8], limit: Duration) {
        let deadline = Instant::now() + limit;
        while !bytes.is_empty() {
            let Ok(count) = self.write(bytes) else {
                return;
            };
            bytes = &bytes[count..];
            let left = deadline.saturating_duration_since(Instant::now());
            if left.is_zero() {
                return;
            }
            if count == 0 {
                let mut fds = [PollFd::new(&self.0, PollFlags::OUT)];
                if poll_for(&mut fds, Some(left)).is_err() || fds[0].revents().intersects(gone()) {
                    return;
                }
            }
        }
    }
}

impl AsFd for Tty {
    fn as_fd(&self) -> BorrowedFd<'_> {
        self.0.as_fd()
    }
}

/// What a poll says of a terminal that is no more.
pub(super) fn gone() -> PollFlags {
    PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL
}

/// How a poll ended.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub(super) enum Polled {
    /// At least one descriptor has news.
    Ready,
    /// The time is over.
    TimeOver,
    /// A signal came.
    Interrupted,
}

/// Waits until one of the descriptors is ready, a signal comes, or the time is over.
pub(super) fn poll_for(fds: &mut [PollFd<'_>], limit: Option<Duration>) -> io::Result<Polled> {
    let limit = limit.and_then(|limit| Timespec::try_from(limit).ok());
    match poll(fds, limit.as_ref()) {
        Ok(0) => Ok(Polled::TimeOver),
        Ok(_) => Ok(Polled::Ready),
        Err(Errno::INTR) => Ok(Polled::Interrupted),
        Err(error) => Err(error.into()),
    }
}

#[cfg(test)]
mod tests {
    use super::Size;

    #[test]
    fn a_terminal_that_does_not_tell_its_size_has_that_of_a_vt100() {
        // DEC VT100 User Guide, 1979: 24 lines of 80 characters.
        let usual = Size {
            columns: 80,
            rows: 24,
        };
        assert_eq!(Size::told(0, 0), usual);
        assert_eq!(Size::told(0, 50), usual);
        assert_eq!(Size::told(132, 0), usual);
        assert_eq!(
            Size::told(1, 1),
            Size {
                columns: 1,
                rows: 1
            }
        );
    }
}
