//! Makes a home with a large plausible history: `cargo run --release --example history -- FOLDER TASTINGS [SEED]`.

#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "an example says what it made"
)]

#[path = "mod.rs"]
mod history;

use std::env;
use std::path::Path;
use std::process::ExitCode;
use std::time::Instant;

/// The seed where none is told.
const SEED: u64 = 1;

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let asked = match arguments.as_slice() {
        [folder, tastings] => Some((folder, tastings.parse(), Ok(SEED))),
        [folder, tastings, seed] => Some((folder, tastings.parse(), seed.parse())),
        _ => None,
    };
    let Some((folder, Ok(tastings), Ok(seed))) = asked else {
        eprintln!("usage: history FOLDER TASTINGS [SEED]");
        return ExitCode::from(2);
    };
    let begun = Instant::now();
    match history::write_history(Path::new(folder), tastings, seed) {
        Ok(extent) => {
            println!("{extent:?} in {:.1} s", begun.elapsed().as_secs_f64());
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("history: {error}");
            ExitCode::FAILURE
        }
    }
}
