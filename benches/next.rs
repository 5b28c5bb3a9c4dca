//! How far proposals bring invented brewers to their hopes, and how long a search for the next recipe takes.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

use std::hint::black_box;
use std::time::Instant;

use thirdglass::workflow::trial_next::Hopes;
use thirdglass::workflow::trial_next::Manner;
use thirdglass::workflow::trial_next::Outcome;
use thirdglass::workflow::trial_next::Play;
use thirdglass::workflow::trial_next::kitchen;
use thirdglass::workflow::trial_next::play;
use thirdglass::workflow::trial_next::searches;

/// Brewers of a row.
const BREWERS: u64 = 500;
/// Searches that are timed, and the longest the middle one of them may take, milliseconds.
const SEARCHES: u64 = 60;
const MOST: f64 = 100.0;

fn main() {
    let home = kitchen();
    let mut times: Vec<f64> = searches(&home, SEARCHES)
        .iter()
        .map(|search| {
            let start = Instant::now();
            black_box(search());
            1e3 * start.elapsed().as_secs_f64()
        })
        .collect();
    times.sort_by(f64::total_cmp);
    let [middle, longest] = [times[times.len() / 2], times[times.len() - 1]];
    println!(
        "search    {middle:6.1} ms in the middle of {}, {longest:.1} at most  (middle at most {MOST} ms)",
        times.len()
    );
    let brewers = std::env::args()
        .find_map(|it| it.parse().ok())
        .unwrap_or(BREWERS);
    println!("\n{brewers} brewers a row, five kinds of beer");
    println!(
        "row                              cut   > nothing  > thumb  quiet  promised/kept  quiet on noise"
    );
    for (name, manner, glasses, batches) in [
        ("one change, 3 glasses", Manner::One, 3, 3),
        ("up to three, 3 glasses", Manner::Three, 3, 3),
        ("one change, 1 glass", Manner::One, 1, 3),
        ("one change, 3 glasses, 4 brews", Manner::One, 3, 4),
        ("up to three, 3 glasses, 4 brews", Manner::Three, 3, 4),
    ] {
        let row = |hopes| {
            let asked = Play {
                brewers,
                seed: 1,
                manner,
                glasses,
                batches,
                hopes,
            };
            play(&home, asked)
        };
        print_row(name, &row(Hopes::Elsewhere), &row(Hopes::Met));
    }
    assert!(middle < MOST, "a search is too slow");
}

fn print_row(name: &str, it: &Outcome, noise: &Outcome) {
    let (chance, kept) = it.kept();
    println!(
        "{name:<32} {:.2}  {:9.3}  {:7.3}  {:5.2}  {chance:.2} / {kept:.2}    {:.3}",
        it.median_cut(),
        it.better_than_nothing(),
        it.better_than_thumb(),
        it.quiet_share(),
        noise.quiet_share()
    );
}
