//! How often verdicts on invented tastings are false, and how often they come: the full table.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

use thirdglass::profile::trial_world::planted_faults;
use thirdglass::profile::trial_world::table;

/// Plays of each plan: a rate of 5 % comes out within half a point of itself (3 standard errors).
const RUNS: u32 = 20_000;

fn main() {
    println!(
        "Of {RUNS} plays each, in %: any = at least one false more or less; fdr = mean share of false\n\
         ones among them; power = true differences of 2 digits called; same = equal lines called as\n\
         meant; miss = differing lines called as meant. m lines of which off differ; t tasters with g\n\
         glasses each, one a day; df = mean degrees of freedom.\n"
    );
    println!(
        "{:<16} {:>4} {:>4} {:>4} {:>4} {:>7} {:>7} {:>7} {:>7} {:>7} {:>7}",
        "world", "m", "off", "t", "g", "df", "any", "fdr", "power", "same", "miss"
    );
    for row in table(RUNS, 1) {
        println!("{row}");
    }
    println!("\nMeasured tasters, and words (the last), with planted faults:");
    for row in planted_faults(RUNS, 2) {
        println!("{row}");
    }
}
