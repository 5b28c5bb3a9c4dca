//! Floors from outside: the same rows through the `sqlite3` shell, exact sizes by scipy.

use std::path::Path;
use std::process::Command;
use std::process::Stdio;

use crate::clockwork::middle;

/// Milliseconds in which the shell reads these rows, its own start taken off.
pub(crate) fn read_by_shell(file: &Path, sql: &str, rounds: usize) -> f64 {
    let run = |sql: &str| {
        let done = Command::new("sqlite3")
            .arg("-csv")
            .arg(file)
            .arg(sql)
            .stdout(Stdio::null())
            .status()
            .expect("the shell sqlite3 is installed");
        assert!(done.success(), "the shell refuses: {sql}");
    };
    let start = middle(rounds, || run("SELECT 1"));
    middle(rounds, || run(sql)) - start
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
