//! Reports and exports over a whole history, beside the shell that reads the same rows.

use std::fs;
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

use crate::Extent;
use crate::Kitchen;
use crate::clockwork::middle;
use crate::clockwork::middle_and_longest;
use crate::clockwork::timed;
use crate::floors;
use crate::peaks::peak_of;
use crate::shell::NOTHING;
use crate::shell::pack_once;
use crate::shell::read_once;
use crate::table::Bound;
use crate::table::Table;

/// A report takes at most so many times as long as the shell takes to read what it has to read.
const MOST_RATIO: f64 = 2.0;
/// With ten times the tastings a report takes at most so many times ten times as long (judgement, on what was measured):
/// in full it was up to 1.8 times, from 10,000 to 100,000 tastings, and in the short form up to 1.4. To compare each note
/// with each takes ten times that; among a thousand notes much else hides it, and the short form is held closer for it.
const fn most_along(extent: Extent) -> f64 {
    match extent {
        Extent::Full => 3.0,
        Extent::Short => 2.0,
    }
}
/// What a search for the next recipe may take in the middle, milliseconds.
const MOST_SEARCH: f64 = 100.0;
/// Searches that are timed.
const SEARCHES: u64 = 60;
/// Cells of a line.
const CELLS: usize = 80;

/// What stands beside a report.
#[derive(Clone, Copy)]
enum Floor {
    /// The shell reads these rows.
    Read(fn() -> String),
    /// The shell reads these rows, and they are packed.
    Packed(fn() -> String),
}

impl Floor {
    fn once(self, file: &Path) {
        match self {
            Self::Read(sql) => read_once(file, &sql()),
            Self::Packed(sql) => pack_once(file, &sql()),
        }
    }
}

/// One report: its name, the work, and what stands beside it.
type Report = (&'static str, fn(&mut Home), Floor);

const REPORTS: [Report; 7] = [
    (
        "side by side",
        side_by_side,
        Floor::Read(floors::side_by_side),
    ),
    ("taster page", taster_page, Floor::Read(floors::taster_page)),
    // Its search has a budget of its own, and is most of it in a short history.
    (
        "next recipe after a batch",
        next_recipe,
        Floor::Read(floors::side_by_side),
    ),
    // To say what is ready, each recipe is read and understood, which is most of it; the shell only prints it.
    ("list of batches", batches, Floor::Read(floors::batches)),
    ("list of notes", notes, Floor::Read(floors::notes)),
    ("tables of everything", tables, Floor::Read(floors::tables)),
    ("export, packed", export, Floor::Packed(floors::everything)),
];

/// What every report is called.
pub(crate) fn names() -> Vec<&'static str> {
    REPORTS.iter().map(|it| it.0).collect()
}

/// The work of the report that is called so.
pub(crate) fn work(name: &str) -> Option<fn(&mut Home)> {
    let found = REPORTS.iter().find(|it| it.0 == name);
    found.map(|it| it.1)
}

/// One report over and over, for whoever looks at it with a profiler; each time in a home opened anew, because what was
/// concluded once is kept.
pub(crate) fn repeat(name: &str, folder: &Path, rounds: usize) {
    let work = work(name).expect("it was looked up when it was asked for");
    println!("{name}: {:.2} ms", first(rounds, folder, work, || ()));
}

/// Milliseconds of a report in a home that was just opened, in the middle of so many rounds; after each of them
/// something else may be timed, so that a machine that is busy for a while is busy for that too.
fn first(rounds: usize, folder: &Path, work: fn(&mut Home), mut between: impl FnMut()) -> f64 {
    let time = |_| {
        let mut home = opened(folder);
        let time = timed(|| work(&mut home)).0;
        between();
        time
    };
    middle_and_longest((0..rounds).map(time).collect()).0
}

/// Time and floor of a report, milliseconds.
fn first_and_floor(kitchen: &Kitchen, work: fn(&mut Home), floor: Floor) -> (f64, f64) {
    let (rounds, file) = (rounds(kitchen), kitchen.file());
    let [mut starts, mut reads] = [const { Vec::new() }; 2];
    let time = first(rounds, kitchen.folder.path(), work, || {
        starts.push(timed(|| read_once(&file, NOTHING)).0);
        reads.push(timed(|| floor.once(&file)).0);
    });
    let [start, read] = [starts, reads].map(|it| middle_and_longest(it).0);
    (time, read - start)
}

fn rounds(kitchen: &Kitchen) -> usize {
    if kitchen.extent.tastings > 10_000 {
        3
    } else {
        7
    }
}

/// Three rows a report: the time with its growth, the ratio, the memory; and beside them the time once more in the same
/// home, where what was concluded from all of a file is kept.
pub(crate) fn measure(table: &mut Table, kitchens: &[Kitchen]) {
    for (name, work, floor) in REPORTS {
        let [mut times, mut again, mut floors, mut needs] = [const { Vec::new() }; 4];
        for kitchen in kitchens {
            let folder = kitchen.folder.path();
            needs.push(peak_of(name, folder));
            let (time, floor) = first_and_floor(kitchen, work, floor);
            times.push(time);
            floors.push(floor);
            let mut home = opened(folder);
            work(&mut home);
            again.push(middle(rounds(kitchen), || work(&mut home)));
        }
        table.row(
            &format!("{name}, ms"),
            &times,
            &[Bound::Along(most_along(table.extent))],
        );
        table.row(&format!("{name} again, ms"), &again, &[Bound::Beside]);
        table.ratios(&format!("{name} / shell"), &times, &floors, MOST_RATIO);
        table.row(&format!("{name}, MiB"), &needs, &[Bound::Beside]);
    }
}

/// A home with all read that does not grow with its history.
pub(crate) fn opened(folder: &Path) -> Home {
    let home = Home::open(folder, Clock::system(), Dice::from_seed(1)).expect("a home opens");
    black_box((home.wheel(), home.catalogue()));
    home.get_ready();
    home
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

fn export(home: &mut Home) {
    let file = home.folder().expect("it has one").join("whole.archive");
    home.write_archive(&file, Sealed::Waits)
        .expect("nothing is sealed");
    fs::remove_file(&file).expect("the archive was written");
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
