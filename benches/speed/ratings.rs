//! A million ratings that were kept elsewhere: read in, counted, and a taster's page over them.

use std::fmt::Write as _;
use std::fs;
use std::hint::black_box;

use thirdglass::reports::taster_lines;
use thirdglass::statistics::Dice;
use thirdglass::workflow::ChartKind;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;

use crate::clockwork::middle;
use crate::clockwork::timed;
use crate::floors::page_over_ratings;
use crate::peaks::peak_of;
use crate::shell::read_by_shell;
use crate::table::Bound;
use crate::table::Table;

/// What a report over a million ratings may take, milliseconds and MiB.
const MOST_TIME: f64 = 1_000.0;
const MOST_MEMORY: f64 = 64.0;
/// With ten times the ratings a page takes at most so many times as long.
const MOST_GROWTH: f64 = 2.0;
/// A report takes at most so many times as long as the shell takes to read what it has to read.
const MOST_RATIO: f64 = 2.0;

/// What that report is called where its memory is measured.
pub(crate) const PAGE: &str = "taster page over ratings";

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

/// Measures a tenth and all of a million.
pub(crate) fn measure(table: &mut Table) {
    println!("{:<40}{:>9}{:>9}", "ratings read in", 100_000, 1_000_000);
    let [mut read, mut pages, mut recounts, mut needs, mut floors] = [const { Vec::new() }; 5];
    for ratings in [100_000, 1_000_000] {
        let folder = tempfile::tempdir().expect("there is room for a home");
        let file = folder.path().join("panel.csv");
        fs::write(&file, panel(ratings)).expect("there is room for a table");
        let mut home =
            Home::open(folder.path(), Clock::system(), Dice::from_seed(1)).expect("a home opens");
        read.push(timed(|| home.import_ratings(&file).expect("the table is sound")).0);
        drop(home);
        let mut home =
            Home::open(folder.path(), Clock::system(), Dice::from_seed(2)).expect("a home opens");
        needs.push(peak_of(PAGE, folder.path()));
        let time = middle(9, || page(&mut home));
        let floor = read_by_shell(
            &folder.path().join("thirdglass.db"),
            &page_over_ratings(),
            5,
        );
        pages.push(time);
        floors.push(floor);
        recounts.push(timed(|| home.recount_imports().expect("sums can be computed")).0);
    }
    table.row("import, ms", &read, &[Bound::Beside]);
    table.row(
        "taster page, ms",
        &pages,
        &[Bound::Most(MOST_TIME), Bound::Growth(MOST_GROWTH)],
    );
    table.ratios("taster page / shell", &pages, &floors, MOST_RATIO);
    table.row("taster page, MiB", &needs, &[Bound::Most(MOST_MEMORY)]);
    table.row("every sum counted again, ms", &recounts, &[Bound::Beside]);
}

/// The page of one of those who rated.
pub(crate) fn page(home: &mut Home) {
    let page = home
        .taster_page("T3", ChartKind::WeightedMean)
        .expect("the page can be told");
    black_box(taster_lines(&page, home.wheel(), 80));
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
