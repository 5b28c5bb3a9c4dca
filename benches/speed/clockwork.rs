//! Time and memory: medians over rounds, and the peak of what a piece of work needs.

use std::fs;
use std::time::Instant;

/// Milliseconds of one piece of work, and what came of it.
pub(crate) fn timed<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let start = Instant::now();
    let done = work();
    (1e3 * start.elapsed().as_secs_f64(), done)
}

/// The middle and the longest of several times.
pub(crate) fn middle_and_longest(mut times: Vec<f64>) -> (f64, f64) {
    times.sort_by(f64::total_cmp);
    (times[times.len() / 2], times[times.len() - 1])
}

/// Milliseconds in the middle of so many rounds.
pub(crate) fn middle(rounds: usize, mut work: impl FnMut()) -> f64 {
    let times = (0..rounds).map(|_| timed(&mut work).0).collect();
    middle_and_longest(times).0
}

/// What a piece of work needs beyond what is in use before it, in MiB (Linux alone; elsewhere 0).
pub(crate) fn peak(work: impl FnOnce()) -> f64 {
    fs::write("/proc/self/clear_refs", "5").ok();
    let before = memory("self", "VmRSS:");
    work();
    memory("self", "VmHWM:") - before
}

/// Memory of a process in MiB (Linux alone; elsewhere 0).
pub(crate) fn memory(process: &str, what: &str) -> f64 {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find_map(|it| it.strip_prefix(what));
    let number = line.and_then(|it| it.split_whitespace().next()?.parse::<f64>().ok());
    number.unwrap_or(0.0) / 1_024.0
}
