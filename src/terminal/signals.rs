//! Signals from outside, turned into something the loop can wait for together with the keys.

use std::collections::BTreeSet;
use std::io;
use std::os::unix::net::UnixStream;
use std::sync::Arc;
use std::sync::LazyLock;
use std::sync::atomic::AtomicBool;
use std::sync::atomic::Ordering;
use std::sync::mpsc;
use std::sync::mpsc::RecvTimeoutError;
use std::thread;
use std::time::Duration;

use signal_hook::consts::SIGCONT;
use signal_hook::consts::SIGHUP;
use signal_hook::consts::SIGINT;
use signal_hook::consts::SIGQUIT;
use signal_hook::consts::SIGTERM;
use signal_hook::consts::SIGTSTP;
use signal_hook::consts::SIGWINCH;
use signal_hook::flag;
use signal_hook::iterator::Handle;
use signal_hook::iterator::Signals as Endings;
use signal_hook::iterator::backend::SignalDelivery;
use signal_hook::iterator::exfiltrator::SignalOnly;
use signal_hook::low_level;

use crate::terminal::restore::leave;

/// Signals that end the program.
const ENDING: [i32; 4] = [SIGHUP, SIGINT, SIGQUIT, SIGTERM];

/// Those that end the program the usual way once nobody listens here any more. Not SIGHUP: a
/// terminal that goes away is noticed before its signal comes, which would cut the good end short.
const HEARD_LATER: [i32; 3] = [SIGINT, SIGQUIT, SIGTERM];

/// Signals after which the program goes on.
const PASSING: [i32; 3] = [SIGCONT, SIGTSTP, SIGWINCH];

/// How long the loop may take to end in good order after a signal. Judgement: a store closes in
/// milliseconds, and who asked for the end should not wait.
const GRACE: Duration = Duration::from_secs(1);

/// Whether nobody listens here any more; handlers once set stay with the process, and so does this.
static UNHEARD: LazyLock<Arc<AtomicBool>> = LazyLock::new(|| Arc::new(AtomicBool::new(false)));

/// The signals that came and were not dealt with yet.
pub(super) struct Signals {
    delivery: SignalDelivery<UnixStream, SignalOnly>,
    waiting: BTreeSet<i32>,
    watch: Watch,
}

impl Signals {
    /// Listens from now on.
    ///
    /// # Errors
    /// The system refuses a pipe, a handler or a thread.
    pub(super) fn listen() -> io::Result<Self> {
        let (read, write) = UnixStream::pair()?;
        let all = ENDING.iter().chain(&PASSING);
        let delivery = SignalDelivery::with_pipe(read, write, SignalOnly, all)?;
        UNHEARD.store(false, Ordering::SeqCst);
        for signal in HEARD_LATER {
            flag::register_conditional_default(signal, Arc::clone(&UNHEARD))?;
        }
        Ok(Self {
            delivery,
            waiting: BTreeSet::new(),
            watch: Watch::begin()?,
        })
    }

    /// What to poll for news.
    pub(super) fn pipe(&self) -> &UnixStream {
        self.delivery.get_read()
    }

    /// Takes over what came; never waits.
    pub(super) fn collect(&mut self) {
        self.waiting.extend(self.delivery.pending());
    }

    /// Whether this signal came; it is dealt with by asking.
    pub(super) fn take(&mut self, signal: i32) -> bool {
        self.waiting.remove(&signal)
    }

    /// The signal that ends the program, if one came.
    pub(super) fn ending(&self) -> Option<i32> {
        ENDING
            .into_iter()
            .find(|signal| self.waiting.contains(signal))
    }
}

impl Drop for Signals {
    fn drop(&mut self) {
        UNHEARD.store(true, Ordering::SeqCst);
        self.watch.handle.close();
    }
}

/// A thread that ends the program if the loop does not do so soon after a signal.
struct Watch {
    handle: Handle,
    /// Dropped when the loop has ended, which calls the thread off.
    _called_off: mpsc::Sender<()>,
}

impl Watch {
    fn begin() -> io::Result<Self> {
        let mut endings = Endings::new(ENDING)?;
        let handle = endings.handle();
        let (called_off, news) = mpsc::channel::<()>();
        thread::Builder::new()
            .name("watch".to_owned())
            .spawn(move || {
                let first = endings.forever().next();
                if let Some(signal) = first
                    && news.recv_timeout(GRACE) == Err(RecvTimeoutError::Timeout)
                {
                    leave();
                    low_level::exit(128 + signal);
                }
            })?;
        Ok(Self {
            handle,
            _called_off: called_off,
        })
    }
}
