//! How much the practice rule teaches beside plain rotation, on invented learners: the full table.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

use thirdglass::training::trial_practice::Choosing;
use thirdglass::training::trial_practice::short_table;
use thirdglass::training::trial_practice::table;

/// Learners of each row, each taught both ways.
const RUNS: u32 = 10;

/// Heads of the columns.
const HEADS: &str =
    "forgets by         beforehand   words weeks asked rotation    gain  error   saved";

fn main() {
    println!(
        "Of {RUNS} learners each: recall in % four weeks after the last of three sittings a week with 12\n\
         answers, under rotation; points gained by the rule, with their standard error; and the answers\n\
         that it saves for the same recall, in %.\n\n{HEADS}"
    );
    let rows = table(RUNS, 1);
    for row in &rows {
        println!("{row}");
    }
    let gains: f64 = rows.iter().map(|it| it.gain).sum();
    println!("mean gain {:+.2}", gains / rows.len() as f64);
    println!("\nWith a planted fault, the words known best first:\n\n{HEADS}");
    for row in short_table(Choosing::BestKnown, RUNS, 1) {
        println!("{row}");
    }
}
