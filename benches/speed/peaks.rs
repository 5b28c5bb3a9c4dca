//! What a report needs at its peak, in a process of its own.

use std::env;
use std::path::Path;
use std::process::Command;
use std::process::ExitCode;

use crate::clockwork::peak;
use crate::ratings;
use crate::reports;

/// What this program is called with to be that process: then the report and the folder of a home.
pub(crate) const WORD: &str = "--peak";

/// What a report needs beyond what is in use once the home is open, in MiB (Linux alone; elsewhere 0). Memory that was
/// used once is not given back at once: after other work in the same process nothing would be seen to grow.
pub(crate) fn peak_of(report: &str, home: &Path) -> f64 {
    let own = env::current_exe().expect("a program knows its file");
    let told = Command::new(own)
        .args([WORD, report])
        .arg(home)
        .output()
        .expect("this program can be started once more");
    let told = String::from_utf8_lossy(&told.stdout).into_owned();
    told.trim()
        .parse()
        .unwrap_or_else(|_| panic!("{report} told no peak: {told}"))
}

/// Tells it, as that process.
pub(crate) fn tell_peak(report: &str, home: &Path) -> ExitCode {
    let work = match report {
        ratings::PAGE => ratings::page,
        _ => reports::work(report).expect("a report is called so"),
    };
    let mut home = reports::opened(home);
    println!("{}", peak(|| work(&mut home)));
    ExitCode::SUCCESS
}
