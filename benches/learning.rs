//! What is learnt of invented tasters, how well ranges hold, and what is claimed for nothing: the full table.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

use thirdglass::profile::trial_learning::HEAD;
use thirdglass::profile::trial_learning::planted_faults;
use thirdglass::profile::trial_learning::table;

/// Plays of each plan: a rate of 5 % comes out within a point and a half of itself (3 standard errors).
const RUNS: u32 = 2_000;

fn main() {
    println!(
        "Of {RUNS} plays each; one batch more is predicted after n were tasted once. chi2 = how unevenly notes lay\n\
         in what was predicted before learning (9 degrees of freedom; 27.9 is passed once in 1,000 where they\n\
         are independent); in80 and after = % of them in the middle 80 %, before and after; closed = % in the\n\
         closed range of digits after; E0, E1, oracle = mean absolute error on scales in digits without\n\
         learning, with it, with the truth about the taster; cut = % less error; removed = % of E0 - oracle;\n\
         the same for shelves that were named, and for the squared error of the chance to be named; claims =\n\
         % of plays that claim an improvement in digits, in naming.\n"
    );
    println!("{HEAD}");
    for row in table(RUNS, 1) {
        println!("{row}");
    }
    println!("\nWith planted faults:");
    for row in planted_faults(RUNS, 2) {
        println!("{row}");
    }
}
