//! How often blind tests call a difference that is none, and how often limits hold: the full table.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

use thirdglass::discrimination::trial_tables::coverage;
use thirdglass::discrimination::trial_tables::planted_faults;
use thirdglass::discrimination::trial_tables::table;

/// Runs of each row: a rate of 5 % comes out within half a point of itself (3 standard errors).
const RUNS: u32 = 20_000;

/// Runs of each row of the limits, which take longer: 95 % within 1.5 points.
const COVERAGE_RUNS: u32 = 2_000;

fn main() {
    println!("Differences called where there is none, in % of {RUNS} runs; 5 is claimed.\n");
    for row in table(RUNS, 1) {
        println!("{row}");
    }
    println!("\nWith planted faults:");
    for row in planted_faults(RUNS, 2) {
        println!("{row}");
    }
    println!(
        "\nHow often limits of 95 % hold the true proportion of discriminators, in % of {COVERAGE_RUNS}\n\
         runs: exact ones of the sum (a fault), those of the beta-binomial, and its upper bound.\n"
    );
    println!("tasters replicates   pooled population   bound");
    for row in coverage(COVERAGE_RUNS, 3) {
        println!("{row}");
    }
}
