//! How well pairs of glasses tell the noise of invented tasters: bias, coverage and squared error, the full table.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

use thirdglass::statistics::trial_noise::Table;
use thirdglass::statistics::trial_noise::planted_faults;
use thirdglass::statistics::trial_noise::table;

/// Plays of each row.
const RUNS: u32 = 1_000;

fn main() {
    println!("{RUNS} plays a row.\n");
    print(&table(RUNS, 1));
    println!("\nWith planted faults, which must be seen:\n");
    print(&planted_faults(RUNS, 2));
}

fn print(all: &Table) {
    println!("S/nu over sigma² + 1/12 of pairs with a mean from 2 to 7:");
    println!(
        "{:<14} {:>5} {:>11} {:>8} {:>14}",
        "made", "sigma", "places", "pairs", "ratio"
    );
    for row in &all.scatter {
        let (from, to) = row.places;
        let made = format!("{:?}", row.making);
        println!(
            "{made:<14} {:>5.1} {from:>5.1}-{to:<5.1} {:>8} {:>7.3} ±{:.3}",
            row.sd, row.pairs, row.ratio.value, row.ratio.error
        );
    }
    println!(
        "\nShare in % of 95 % intervals that hold sigma on a line, and over lines; of estimates within a factor of\n\
         1.3 from own pairs alone and pooled; mean squared errors of ln sigma, raw and pooled:"
    );
    println!(
        "{:<14} {:>6} {:>5} {:<10} {:>6} {:>6} {:>6} {:>6} {:>7} {:>7}",
        "made", "raters", "pairs", "whose", "held", "rater", "raw", "pooled", "raw", "pooled"
    );
    for row in &all.panels {
        let made = format!("{:?}", row.making);
        let whose = format!("{:?}", row.panel.whose);
        println!(
            "{made:<14} {:>6} {:>5} {whose:<10} {:>6.1} {:>6.1} {:>6.1} {:>6.1} {:>7.3} {:>7.3}",
            row.panel.raters,
            row.panel.pairs,
            100.0 * row.held.value,
            100.0 * row.rater_held.value,
            100.0 * row.raw_good.value,
            100.0 * row.pooled_good.value,
            row.raw_loss.value,
            row.pooled_loss.value
        );
    }
}
