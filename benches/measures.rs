//! How long a taster's page takes over 10⁵ and 10⁶ ratings that were read in, with sums and without, and the memory.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

use std::fmt::Write as _;
use std::fs;
use std::time::Instant;

use thirdglass::statistics::Dice;
use thirdglass::workflow::ChartKind;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;

/// The longest a page may take over a million ratings, in seconds.
const MOST_SECONDS: f64 = 1.0;

/// The most memory a page may need beyond that of an empty home, in MiB.
const MOST_MEMORY: f64 = 64.0;

/// With ten times the history a page takes at most so many times as long.
const MOST_GROWTH: f64 = 2.0;

/// Pages that are timed; the middle one counts.
const PAGES: usize = 9;

/// Lines of a sitting of the invented panel; the first dozen are scales.
const LINES: [&str; 17] = [
    "bitter",
    "sweet",
    "sour",
    "salty",
    "fullness",
    "carbonation",
    "smoothness",
    "astringency",
    "alcohol-warmth",
    "dryness",
    "lingering-bitterness",
    "haze",
    "one",
    "two",
    "three",
    "four",
    "five",
];

fn main() {
    println!(
        "{:>9} {:>10} {:>10} {:>12} {:>9}",
        "ratings", "read in s", "page ms", "recount ms", "page MiB"
    );
    let mut pages = Vec::new();
    for ratings in [100_000, 1_000_000] {
        let folder = tempfile::tempdir().expect("there is room for a home");
        let file = folder.path().join("panel.csv");
        fs::write(&file, panel(ratings)).expect("there is room for a table");
        let dice = Dice::from_seed(1);
        let mut home = Home::open(folder.path(), Clock::system(), dice).expect("a home opens");
        let read_in = seconds(|| {
            home.import_ratings(&file).expect("the table is sound");
        });
        drop(home);
        let dice = Dice::from_seed(2);
        let mut home = Home::open(folder.path(), Clock::system(), dice).expect("a home opens");
        forget_peak();
        let before = memory("VmRSS:");
        let mut times: Vec<f64> = (0..PAGES)
            .map(|_| {
                seconds(|| {
                    let page = home.taster_page("T3", ChartKind::WeightedMean);
                    page.expect("the page can be told");
                })
            })
            .collect();
        times.sort_by(f64::total_cmp);
        let page = times[PAGES / 2];
        let needed = memory("VmHWM:") - before;
        let recount = seconds(|| {
            home.recount_imports().expect("sums can be computed");
        });
        println!(
            "{ratings:>9} {read_in:>10.2} {:>10.1} {:>12.1} {needed:>9.1}",
            1e3 * page,
            1e3 * recount
        );
        assert!(page < MOST_SECONDS, "a page takes too long");
        assert!(needed < MOST_MEMORY, "a page needs too much memory");
        pages.push(page);
    }
    let growth = pages[1] / pages[0];
    println!("ten times the history: {growth:.2} times as long (at most {MOST_GROWTH})");
    assert!(growth < MOST_GROWTH, "a page grows with the history");
}

fn seconds(work: impl FnOnce()) -> f64 {
    let start = Instant::now();
    work();
    start.elapsed().as_secs_f64()
}

/// The peak of memory so far is forgotten, so that the next one counts from here (Linux alone; elsewhere the
/// column is 0).
fn forget_peak() {
    fs::write("/proc/self/clear_refs", "5").ok();
}

/// Memory of this process in MiB.
fn memory(what: &str) -> f64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|it| it.strip_prefix(what));
    let number = line.and_then(|it| it.split_whitespace().next()?.parse::<f64>().ok());
    number.unwrap_or(0.0) / 1_024.0
}

/// Ratings of eight invented tasters on six beers a sitting, one of them twice.
fn panel(ratings: usize) -> String {
    let mut dice = Dice::from_seed(7);
    let mut table = "taster,sitting,sample,replicate,date,line,intensity,low,high\n".to_owned();
    let mut written = 0;
    for sitting in 0.. {
        let (year, month, day) = (
            2_000 + sitting / 168,
            sitting / 14 % 12 + 1,
            sitting % 14 * 2 + 1,
        );
        for (place, line) in LINES.iter().enumerate() {
            for (beer, replicate) in [(0, 1), (0, 2), (1, 1), (2, 1), (3, 1), (4, 1), (5, 1)] {
                let sample = (sitting * 3 + beer) % 40;
                let level = 2.0 + ((sample * 7 + place) % 6) as f64;
                for taster in 0..8 {
                    let answer = level + 0.2 * f64::from(taster) + 0.9 * dice.normal();
                    let digit = answer.round().clamp(0.0, 9.0);
                    writeln!(
                        table,
                        "T{taster},s{sitting},b{sample},{replicate},{year}-{month:02}-{day:02},{line},{digit},0,9"
                    )
                    .expect("a text takes what is written");
                    written += 1;
                    if written == ratings {
                        return table;
                    }
                }
            }
        }
    }
    table
}
