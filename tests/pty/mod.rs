//! A bench for programs on a terminal: a pseudo-terminal with a screen that can be looked at.
//!
//! Nothing here sleeps: every wait ends with what is waited for, or fails at [`LIMIT`] with the
//! screen as it is then.

#![allow(
    dead_code,
    reason = "each file of tests uses its own part of the bench"
)]

use std::ffi::OsStr;
use std::io::Read;
use std::io::Write;
use std::num::NonZeroU16;
use std::sync::Arc;
use std::sync::Condvar;
use std::sync::Mutex;
use std::sync::MutexGuard;
use std::sync::PoisonError;
use std::thread;
use std::thread::JoinHandle;
use std::time::Duration;
use std::time::Instant;

use portable_pty::Child;
use portable_pty::CommandBuilder;
use portable_pty::MasterPty;
use portable_pty::PtySize;
use portable_pty::native_pty_system;
use rustix::process::Pid;
use rustix::process::WaitId;
use rustix::process::WaitIdOptions;
use rustix::process::kill_process;
use rustix::process::waitid;

pub(crate) use rustix::process::Signal;

/// How long anything may take on a busy machine before it counts as never happening.
const LIMIT: Duration = Duration::from_secs(20);

/// The size of a terminal whose own size is told as zero (DEC VT100 User Guide: 80 by 24).
const USUAL: (u16, u16) = (80, 24);

/// How a program is started; begins with an environment that holds nothing of the machine's.
pub(crate) struct Launch {
    command: CommandBuilder,
    size: (u16, u16),
}

impl Launch {
    /// A program on a terminal of 80 by 24 with true colour and UTF-8.
    pub(crate) fn new(program: impl AsRef<OsStr>) -> Self {
        let mut command = CommandBuilder::new(program);
        command.env_clear();
        // The path finds a shell, the profile is where a measurement of coverage is written.
        for name in ["PATH", "LLVM_PROFILE_FILE"] {
            if let Some(value) = std::env::var_os(name) {
                command.env(name, value);
            }
        }
        command.env("TERM", "xterm-256color");
        command.env("COLORTERM", "truecolor");
        command.env("LC_ALL", "C.UTF-8");
        Self {
            command,
            size: USUAL,
        }
    }

    /// One more argument.
    #[must_use]
    pub(crate) fn arg(mut self, argument: impl AsRef<OsStr>) -> Self {
        self.command.arg(argument);
        self
    }

    /// A variable of its environment.
    #[must_use]
    pub(crate) fn env(mut self, name: &str, value: impl AsRef<OsStr>) -> Self {
        self.command.env(name, value);
        self
    }

    /// Without a variable the bench would set.
    #[must_use]
    pub(crate) fn without_env(mut self, name: &str) -> Self {
        self.command.env_remove(name);
        self
    }

    /// Where it is started.
    #[must_use]
    pub(crate) fn in_folder(mut self, folder: impl AsRef<OsStr>) -> Self {
        self.command.cwd(folder);
        self
    }

    /// Columns and rows; either may be zero, as on terminals that do not tell.
    #[must_use]
    pub(crate) fn size(mut self, columns: u16, rows: u16) -> Self {
        self.size = (columns, rows);
        self
    }

    /// The terminal is there as input and output, but does not control the program: it sends it
    /// no signals, and `/dev/tty` cannot be opened.
    #[must_use]
    pub(crate) fn uncontrolled(mut self) -> Self {
        self.command.set_controlling_tty(false);
        self
    }

    /// Starts it.
    pub(crate) fn start(self) -> Pty {
        let pair = native_pty_system()
            .openpty(pty_size(self.size))
            .expect("a pseudo-terminal opens");
        let child = pair
            .slave
            .spawn_command(self.command)
            .expect("the program starts");
        let pid = child
            .process_id()
            .and_then(|id| Pid::from_raw(id.cast_signed()))
            .expect("it has a number");
        let shared = Arc::new(Shared::new(self.size));
        let reader = pair
            .master
            .try_clone_reader()
            .expect("the terminal can be read");
        let writer = pair
            .master
            .take_writer()
            .expect("the terminal can be written");
        let reading = spawn_reading(reader, Arc::clone(&shared));
        let waiting = spawn_waiting(child, Arc::clone(&shared));
        Pty {
            ends: Some(Ends {
                master: pair.master,
                writer,
            }),
            reading: Some(reading),
            waiting: Some(waiting),
            pid,
            shared,
        }
    }
}

/// A running program and its terminal. Dropping it kills the program.
pub(crate) struct Pty {
    ends: Option<Ends>,
    reading: Option<JoinHandle<()>>,
    waiting: Option<JoinHandle<()>>,
    pid: Pid,
    shared: Arc<Shared>,
}

/// Our side of the terminal.
struct Ends {
    master: Box<dyn MasterPty + Send>,
    writer: Box<dyn Write + Send>,
}

impl Pty {
    /// Types text or sequences, as they are.
    pub(crate) fn send(&mut self, keys: impl AsRef<[u8]>) {
        let ends = self.ends.as_mut().expect("the terminal is there");
        ends.writer
            .write_all(keys.as_ref())
            .expect("the terminal takes keys");
        ends.writer.flush().expect("the terminal takes keys");
    }

    /// Waits until the text stands on the screen.
    pub(crate) fn wait_for(&self, text: &str) {
        self.wait_until(text, |screen| screen.contents().contains(text));
    }

    /// Waits until the screen is as it should be; `what` says how, for the report of a failure.
    pub(crate) fn wait_until(&self, what: &str, is_so: impl Fn(&vt100::Screen) -> bool) {
        self.wait_for_seen(what, |seen| is_so(seen.parser.screen()));
    }

    /// Waits until the output has this in it, since the start or [`Pty::forget_raw`].
    pub(crate) fn wait_for_raw(&self, bytes: &[u8]) {
        let what = String::from_utf8_lossy(bytes).into_owned();
        self.wait_for_seen(&what, |seen| occurs(&seen.raw, bytes));
    }

    /// Waits until a whole picture has come, since [`Pty::forget_raw`], with the text in it.
    pub(crate) fn wait_for_picture(&self, text: &str) {
        self.wait_for_seen(text, |seen| {
            // The end of a synchronized update (DEC private mode 2026).
            seen.raw.ends_with(b"\x1b[?2026l") && seen.parser.screen().contents().contains(text)
        });
    }

    /// The number of the program, as the system calls it.
    pub(crate) fn number(&self) -> String {
        self.pid.to_string()
    }

    /// The screen as text.
    pub(crate) fn text(&self) -> String {
        self.look(vt100::Screen::contents)
    }

    /// Looks at the screen, its cells and its modes.
    pub(crate) fn look<T>(&self, at: impl FnOnce(&vt100::Screen) -> T) -> T {
        at(self.shared.seen().parser.screen())
    }

    /// Every byte the program has written, since the start or [`Pty::forget_raw`].
    pub(crate) fn raw(&self) -> Vec<u8> {
        self.shared.seen().raw.clone()
    }

    /// Forgets the bytes so far; the screen stays.
    pub(crate) fn forget_raw(&self) {
        self.shared.seen().raw.clear();
    }

    /// Gives the terminal another size.
    pub(crate) fn resize(&mut self, columns: u16, rows: u16) {
        let size = (columns, rows);
        let (wide, high) = screen_size(size);
        self.shared.seen().parser.screen_mut().set_size(high, wide);
        let ends = self.ends.as_ref().expect("the terminal is there");
        ends.master
            .resize(pty_size(size))
            .expect("the terminal takes a size");
    }

    /// The number of the program's process.
    pub(crate) fn process(&self) -> i32 {
        self.pid.as_raw_nonzero().get()
    }

    /// Sends a signal to the program.
    pub(crate) fn signal(&self, signal: Signal) {
        kill_process(self.pid, signal).expect("the program is there");
    }

    /// Waits until the program is stopped; only then can it be woken.
    pub(crate) fn wait_until_stopped(&self) {
        let asked = WaitIdOptions::STOPPED | WaitIdOptions::NOWAIT | WaitIdOptions::NOHANG;
        let deadline = Instant::now() + LIMIT;
        while waitid(WaitId::Pid(self.pid), asked).is_ok_and(|status| status.is_none()) {
            assert!(
                Instant::now() < deadline,
                "waited in vain for the program to be stopped"
            );
            thread::yield_now();
        }
    }

    /// Forgets the bytes so far, and reads nothing more once these have come, as a connection
    /// that stalls there.
    pub(crate) fn stall_at(&self, bytes: &[u8]) {
        let mut seen = self.shared.seen();
        seen.raw.clear();
        seen.stall_at = Some(bytes.to_vec());
    }

    /// Takes the terminal away, as closing its window does.
    ///
    /// The program must answer one more key with some output, which lets the reader go.
    pub(crate) fn hang_up(&mut self, last_key: &str) {
        self.shared.seen().reading = Reading::Over;
        self.send(last_key);
        let reading = self
            .reading
            .take()
            .expect("the terminal is taken away once");
        reading.join().expect("the reader ends");
        self.ends = None;
    }

    /// Waits for the program's end and all its output; gives its exit code.
    pub(crate) fn exit_code(&self) -> u32 {
        self.wait_for_seen("the program's end", |seen| {
            seen.exit_code.is_some() && (seen.closed || seen.reading != Reading::On)
        });
        self.shared.seen().exit_code.expect("it was waited for")
    }

    fn wait_for_seen(&self, what: &str, is_so: impl Fn(&Seen) -> bool) {
        let seen = self.shared.seen();
        let (seen, result) = self
            .shared
            .news
            .wait_timeout_while(seen, LIMIT, |seen| !is_so(seen))
            .unwrap_or_else(PoisonError::into_inner);
        assert!(
            !result.timed_out(),
            "waited in vain for: {what}\nexit code: {:?}\nscreen:\n{}",
            seen.exit_code,
            seen.parser.screen().contents()
        );
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        if self.shared.seen().exit_code.is_none() {
            // It may end by itself in between, which is as good.
            kill_process(self.pid, Signal::KILL).unwrap_or_default();
        }
        if let Some(waiting) = self.waiting.take() {
            waiting.join().unwrap_or_default();
        }
    }
}

/// What the threads and the test share.
struct Shared {
    seen: Mutex<Seen>,
    news: Condvar,
}

/// What came out of the program.
struct Seen {
    parser: vt100::Parser,
    raw: Vec<u8>,
    reading: Reading,
    stall_at: Option<Vec<u8>>,
    /// Whether the terminal's other side is closed and everything was read.
    closed: bool,
    exit_code: Option<u32>,
}

/// Whether the reader takes output.
#[derive(Clone, Copy, Eq, PartialEq)]
enum Reading {
    On,
    Stalled,
    Over,
}

impl Shared {
    fn new(size: (u16, u16)) -> Self {
        let (wide, high) = screen_size(size);
        let seen = Seen {
            parser: vt100::Parser::new(high, wide, 0),
            raw: Vec::new(),
            reading: Reading::On,
            stall_at: None,
            closed: false,
            exit_code: None,
        };
        Self {
            seen: Mutex::new(seen),
            news: Condvar::new(),
        }
    }

    fn seen(&self) -> MutexGuard<'_, Seen> {
        // A check that fails while it looks at the screen must not hide its own message.
        self.seen.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn spawn_reading(mut reader: Box<dyn Read + Send>, shared: Arc<Shared>) -> JoinHandle<()> {
    thread::spawn(move || {
        let mut buffer = [0; 4096];
        loop {
            // An error is how the end of a pseudo-terminal looks on some systems.
            let count = reader.read(&mut buffer).unwrap_or(0);
            let mut seen = shared.seen();
            seen.parser.process(&buffer[..count]);
            seen.raw.extend_from_slice(&buffer[..count]);
            seen.closed = count == 0;
            if seen
                .stall_at
                .as_ref()
                .is_some_and(|bytes| occurs(&seen.raw, bytes))
            {
                seen.reading = Reading::Stalled;
            }
            let over = seen.closed || seen.reading == Reading::Over;
            shared.news.notify_all();
            if over {
                return;
            }
            let stalled = |seen: &mut Seen| seen.reading == Reading::Stalled;
            drop(
                shared
                    .news
                    .wait_while(seen, stalled)
                    .unwrap_or_else(PoisonError::into_inner),
            );
        }
    })
}

fn spawn_waiting(mut child: Box<dyn Child + Send + Sync>, shared: Arc<Shared>) -> JoinHandle<()> {
    thread::spawn(move || {
        let status = child.wait().expect("the program can be waited for");
        shared.seen().exit_code = Some(status.exit_code());
        shared.news.notify_all();
    })
}

/// Whether the part is in the bytes; it must not be empty.
fn occurs(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

fn pty_size((columns, rows): (u16, u16)) -> PtySize {
    PtySize {
        rows,
        cols: columns,
        pixel_width: 0,
        pixel_height: 0,
    }
}

/// Columns and rows of the screen that is looked at, which cannot be zero.
fn screen_size((columns, rows): (u16, u16)) -> (NonZeroU16, NonZeroU16) {
    let (columns, rows) = if columns == 0 || rows == 0 {
        USUAL
    } else {
        (columns, rows)
    };
    let told = |number| NonZeroU16::new(number).expect("zero was replaced");
    (told(columns), told(rows))
}
