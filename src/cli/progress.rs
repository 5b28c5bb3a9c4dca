//! How far a long command has come, on the error output of a terminal.

use std::io;
use std::io::IsTerminal;
use std::io::Write;
use std::sync::atomic::AtomicU8;
use std::sync::atomic::Ordering;

use crate::workflow::Listener;

/// A line that counts per cent where somebody sees it, and nothing where the error output goes into a file.
#[must_use]
pub fn progress() -> Listener {
    if !io::stderr().is_terminal() {
        return Listener::default();
    }
    let shown = AtomicU8::new(0);
    Listener::new(move |share| {
        let percent = whole_percent(share);
        if percent != shown.swap(percent, Ordering::Relaxed) {
            // The line goes when all is read; where nobody can see it nothing is lost.
            let line = match percent {
                100 => "\r        \r".to_owned(),
                percent => format!("\r{percent:>3} %"),
            };
            let mut out = io::stderr().lock();
            write!(out, "{line}")
                .and_then(|()| out.flush())
                .unwrap_or_default();
        }
    })
}

fn whole_percent(share: f64) -> u8 {
    (0..=100_u8)
        .rev()
        .find(|it| 100.0 * share >= f64::from(*it))
        .unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_told_in_whole_per_cent_and_all_is_a_hundred() {
        assert_eq!(
            [0.0, 0.004, 0.5, 0.999, 1.0].map(whole_percent),
            [0, 0, 50, 99, 100]
        );
    }
}
