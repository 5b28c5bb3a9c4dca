//! Reports and exports over a whole history, beside the shell that reads the same rows.

use std::hint::black_box;
use std::io;
use std::path::Path;

use thirdglass::reports;
use thirdglass::reports::Extent as Told;
use thirdglass::reports::TableFiles;
use thirdglass::statistics::Dice;
use thirdglass::workflow::AskedWishes;
use thirdglass::workflow::ChartKind;
use thirdglass::workflow::Clock;
use thirdglass::workflow::Home;
use thirdglass::workflow::Sealed;
use thirdglass::workflow::trial_next::kitchen;
use thirdglass::workflow::trial_next::searches;

use crate::Kitchen;
use crate::clockwork::middle;
use crate::clockwork::middle_and_longest;
use crate::clockwork::peak;
use crate::clockwork::timed;
use crate::shell::packed_by_shell;
use crate::shell::read_by_shell;
use crate::table::Bound;
use crate::table::Table;

/// A report takes at most so many times as long as the shell takes to read the same rows.
const MOST_RATIO: f64 = 2.0;
/// What a search for the next recipe may take in the middle, milliseconds.
const MOST_SEARCH: f64 = 100.0;
/// Searches that are timed.
const SEARCHES: u64 = 60;
/// Cells of a line.
const CELLS: usize = 80;

/// The notes as their list has them.
const NOTES: &str = "SELECT notes.*, seat.*, sitting.*, taster.*, sample.*, beer.* FROM notes
    JOIN seat ON seat.id = notes.seat JOIN sitting ON sitting.id = seat.sitting
    JOIN taster ON taster.id = seat.taster JOIN sample ON sample.id = notes.sample
    JOIN beer ON beer.id = sample.beer
    WHERE notes.locked_at IS NOT NULL ORDER BY notes.tasted_on, notes.typed_on";

/// Every row of every table that tells of people, glasses and brews.
const EVERYTHING: &str = "SELECT * FROM taster; SELECT * FROM recipe_version; SELECT * FROM batch;
    SELECT * FROM batch_entry; SELECT * FROM beer; SELECT * FROM sitting; SELECT * FROM seat; SELECT * FROM sample;
    SELECT * FROM serving; SELECT * FROM notes; SELECT * FROM rating; SELECT * FROM mark; SELECT * FROM prediction;
    SELECT * FROM test; SELECT * FROM test_set; SELECT * FROM test_place; SELECT * FROM answer;
    SELECT * FROM practice_item; SELECT * FROM practice_option; SELECT * FROM practice_answer";

/// Every answer and every word for glasses under codes: what the noise and the naming of all tasters rest on.
const CODED: &str =
    "SELECT notes.*, seat.taster, sample.beer FROM sitting JOIN seat ON seat.sitting = sitting.id
        JOIN notes ON notes.seat = seat.id JOIN sample ON sample.id = notes.sample
        WHERE sitting.kind = 'two-glasses' ORDER BY sitting.made_at;
    SELECT rating.* FROM sitting JOIN seat ON seat.sitting = sitting.id
        JOIN notes ON notes.seat = seat.id JOIN rating ON rating.notes = notes.id
        WHERE sitting.kind = 'two-glasses' ORDER BY sitting.made_at;
    SELECT mark.* FROM sitting JOIN seat ON seat.sitting = sitting.id
        JOIN notes ON notes.seat = seat.id JOIN mark ON mark.notes = notes.id
        WHERE sitting.kind = 'two-glasses' ORDER BY sitting.made_at;";

/// Beside these, all notes of those who tasted the batch, and the recipes and logs of what they tasted: from them it is
/// learnt how far each answers from the predictions.
const SIDE_BY_SIDE: &str = "WITH who AS (SELECT DISTINCT seat.taster FROM beer JOIN sample ON sample.beer = beer.id
        JOIN notes ON notes.sample = sample.id JOIN seat ON seat.id = notes.seat WHERE beer.cap_mark = 'B2')
        SELECT notes.*, rating.* FROM who JOIN seat ON seat.taster = who.taster JOIN notes ON notes.seat = seat.id
        JOIN rating ON rating.notes = notes.id;
    WITH who AS (SELECT DISTINCT seat.taster FROM beer JOIN sample ON sample.beer = beer.id
        JOIN notes ON notes.sample = sample.id JOIN seat ON seat.id = notes.seat WHERE beer.cap_mark = 'B2')
        SELECT mark.* FROM who JOIN seat ON seat.taster = who.taster JOIN notes ON notes.seat = seat.id
        JOIN mark ON mark.notes = notes.id;
    SELECT * FROM batch JOIN recipe_version ON recipe_version.id = batch.version;
    SELECT * FROM batch_entry;";

/// What the list of batches tells of: batches with their recipes and logs, and how often each was tasted.
const BATCHES: &str = "SELECT * FROM batch JOIN recipe_version ON recipe_version.id = batch.version
        JOIN beer ON beer.batch = batch.id;
    SELECT * FROM batch_entry ORDER BY written;
    SELECT sample.beer, count(*), count(bottle_fault) FROM notes JOIN sample ON sample.id = notes.sample
        JOIN seat ON seat.id = notes.seat GROUP BY sample.beer;";

/// One report: its name, the work, what the shell reads for it, and how many times that it may take.
type Report = (
    &'static str,
    fn(&mut Home),
    &'static [&'static str],
    Option<f64>,
);

const REPORTS: [Report; 6] = [
    (
        "side by side",
        side_by_side,
        &[CODED, SIDE_BY_SIDE],
        Some(MOST_RATIO),
    ),
    ("taster page", taster_page, &[CODED], Some(MOST_RATIO)),
    // Its search has a budget of its own, and is most of it in a short history.
    (
        "next recipe after a batch",
        next_recipe,
        &[CODED, SIDE_BY_SIDE],
        None,
    ),
    ("list of batches", batches, &[BATCHES], Some(MOST_RATIO)),
    ("list of notes", notes, &[NOTES], Some(MOST_RATIO)),
    (
        "tables of everything",
        tables,
        &[EVERYTHING],
        Some(MOST_RATIO),
    ),
];

/// One report over and over, for whoever looks at it with a profiler: its name, the folder of a home, the rounds.
pub(crate) fn repeat(name: &str, folder: &Path, rounds: usize) {
    let found = REPORTS.iter().find(|it| it.0 == name);
    let (_, report, ..) = found.expect("a report is called so");
    let mut home = opened(folder);
    println!("{name}: {:.2} ms", middle(rounds, || report(&mut home)));
}

/// A row a report, with its ratio and its memory.
pub(crate) fn measure(table: &mut Table, kitchens: &[Kitchen]) {
    for (name, report, floor, most) in REPORTS {
        let [mut times, mut floors, mut needs] = [const { Vec::new() }; 3];
        for kitchen in kitchens {
            let mut home = opened(kitchen.folder.path());
            needs.push(peak(|| report(&mut home)));
            let rounds = if kitchen.extent.tastings > 10_000 {
                3
            } else {
                7
            };
            times.push(middle(rounds, || report(&mut home)));
            floors.push(read_by_shell(&kitchen.file(), &floor.concat(), rounds));
        }
        rows(table, (name, most), &times, &floors, &needs);
    }
    let [mut times, mut floors, mut needs] = [const { Vec::new() }; 3];
    for kitchen in kitchens {
        let home = opened(kitchen.folder.path());
        let file = kitchen.folder.path().join("whole.archive");
        let write = || {
            times.push(
                timed(|| {
                    home.write_archive(&file, Sealed::Waits)
                        .expect("nothing is sealed")
                })
                .0,
            );
        };
        needs.push(peak(write));
        floors.push(packed_by_shell(&kitchen.file(), EVERYTHING, 3));
        std::fs::remove_file(&file).expect("the archive was written");
    }
    rows(
        table,
        ("export, packed", Some(MOST_RATIO)),
        &times,
        &floors,
        &needs,
    );
}

fn rows(
    table: &mut Table,
    (name, most): (&str, Option<f64>),
    times: &[f64],
    floors: &[f64],
    needs: &[f64],
) {
    table.row(&format!("{name}, ms"), times, &[Bound::Beside]);
    table.ratios(&format!("{name} / shell"), times, floors, most);
    table.row(&format!("{name}, MiB"), needs, &[Bound::Beside]);
}

fn opened(folder: &Path) -> Home {
    Home::open(folder, Clock::system(), Dice::from_seed(1)).expect("a home opens")
}

fn side_by_side(home: &mut Home) {
    let both = home.compare("B2", None).expect("the batch was tasted");
    black_box(reports::comparison_lines(&both, Told::First, CELLS));
}

fn taster_page(home: &mut Home) {
    let page = home
        .taster_page("Saucer", ChartKind::WeightedMean)
        .expect("the taster is there");
    black_box(reports::taster_lines(&page, home.wheel(), CELLS));
}

fn next_recipe(home: &mut Home) {
    black_box(
        home.next_recipe("B2", &AskedWishes::default(), None)
            .expect("the batch was tasted"),
    );
}

fn batches(home: &mut Home) {
    let rows = home.batch_rows().expect("the batches are read");
    black_box(reports::batch_list_lines(&rows, CELLS));
}

fn notes(home: &mut Home) {
    black_box(home.locked_notes().expect("the notes are read"));
}

fn tables(home: &mut Home) {
    let tables = home.home_tables().expect("everything is read");
    for (_, file) in reports::table_files(&tables, TableFiles::Csv) {
        file.write(&mut io::sink())
            .expect("a sink takes everything");
    }
}

/// The search alone, in the kitchens of invented brewers.
pub(crate) fn next_recipes(table: &mut Table) {
    let home = kitchen();
    let searches = searches(&home, SEARCHES);
    let times = searches
        .iter()
        .map(|search| timed(|| black_box(search())).0);
    let (middle, longest) = middle_and_longest(times.collect());
    table.row(
        "search for the next recipe, ms",
        &[middle],
        &[Bound::Most(MOST_SEARCH)],
    );
    table.row("its slowest, ms", &[longest], &[Bound::Beside]);
}
