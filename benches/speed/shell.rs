//! Floors from outside: the same rows through the `sqlite3` shell, exact sizes by scipy.

use std::path::Path;
use std::process::Command;
use std::process::Stdio;

use crate::clockwork::middle;

/// What the shell is asked to see how long it takes to start.
pub(crate) const NOTHING: &str = "SELECT 1";

/// Milliseconds in which the shell reads these rows, its own start taken off.
pub(crate) fn read_by_shell(file: &Path, sql: &str, rounds: usize) -> f64 {
    let start = middle(rounds, || read_once(file, NOTHING));
    middle(rounds, || read_once(file, sql)) - start
}

/// Starts the shell and reads these rows.
pub(crate) fn read_once(file: &Path, sql: &str) {
    let done = Command::new("sqlite3")
        .arg("-csv")
        .arg(file)
        .arg(sql)
        .stdout(Stdio::null())
        .status()
        .expect("the shell sqlite3 is installed");
    assert!(done.success(), "the shell refuses: {sql}");
}

/// Starts the shell, reads these rows, and lets `gzip` pack them as hard as an archive is packed.
pub(crate) fn pack_once(file: &Path, sql: &str) {
    let done = Command::new("sh")
        .arg("-c")
        .arg("sqlite3 -csv \"$0\" \"$1\" | gzip -6 >/dev/null")
        .arg(file)
        .arg(sql)
        .status()
        .expect("there is a shell");
    assert!(done.success(), "the shell refuses: {sql}");
}

/// What a program prints that python runs.
///
/// # Panics
/// Python or scipy is not there.
pub(crate) fn by_python(program: &str) -> String {
    let python = std::env::var("THIRDGLASS_BENCH_PYTHON");
    let done = Command::new(python.as_deref().unwrap_or("python3"))
        .arg("-c")
        .arg(program)
        .output()
        .expect("python3 is installed");
    assert!(
        done.status.success(),
        "python3 with scipy is needed: {}",
        String::from_utf8_lossy(&done.stderr)
    );
    String::from_utf8(done.stdout).expect("numbers are text")
}
