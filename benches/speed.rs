//! How fast the program is, against floors measured beside it and against the growth of a history: one table.

#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a bench prints what it measured, and what it refuses"
)]

#[path = "speed/alone.rs"]
mod alone;
#[path = "speed/app.rs"]
mod app;
#[path = "speed/asked.rs"]
mod asked;
#[path = "speed/clockwork.rs"]
mod clockwork;
#[path = "speed/floors.rs"]
mod floors;
mod history;
#[path = "speed/peaks.rs"]
mod peaks;
#[path = "../tests/pty/mod.rs"]
mod pty;
#[path = "speed/ratings.rs"]
mod ratings;
#[path = "speed/reports.rs"]
mod reports;
#[path = "speed/search.rs"]
mod search;
#[path = "speed/shell.rs"]
mod shell;
#[path = "speed/sizes.rs"]
mod sizes;
#[path = "speed/table.rs"]
mod table;
#[path = "speed/words.rs"]
mod words;

use std::env;
use std::fs;
use std::path::Path;
use std::path::PathBuf;
use std::process::ExitCode;

use asked::Asked;
use asked::Part;
use history::write_history;
use table::Table;

/// Names a folder in which histories are kept from one run to the next: the largest takes minutes to write.
const KEPT: &str = "THIRDGLASS_BENCH_HOMES";

/// How much is measured.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Extent {
    /// Everything, with an optimised program.
    Full,
    /// In minutes, with a program that is not optimised: how first frames, keys and reports grow is held to its bounds;
    /// times and ratios to floors are printed and held to nothing.
    Short,
}

impl Extent {
    /// Tastings of the histories, the smallest first.
    fn histories(self) -> &'static [u32] {
        match self {
            Self::Full => &[100, 1_000, 10_000, 100_000],
            Self::Short => &[100, 1_000],
        }
    }

    /// Rounds of a measurement that takes this many in full.
    pub(crate) fn rounds(self, full: usize) -> usize {
        match self {
            Self::Full => full,
            Self::Short => full.div_ceil(3),
        }
    }
}

/// One generated home.
pub(crate) struct Kitchen {
    pub(crate) folder: tempfile::TempDir,
    pub(crate) extent: history::Extent,
}

impl Kitchen {
    fn with(tastings: u32) -> Self {
        let folder = tempfile::tempdir().expect("there is room for a home");
        let extent = match env::var_os(KEPT) {
            Some(kept) => {
                let kept = kept_history(Path::new(&kept), tastings);
                let file = "thirdglass.db";
                fs::copy(kept.join(file), folder.path().join(file)).expect("a history is copied");
                history::Extent::of(tastings)
            }
            None => write_history(folder.path(), tastings, 1).expect("a history is written"),
        };
        Self { folder, extent }
    }

    /// Its file.
    pub(crate) fn file(&self) -> PathBuf {
        self.folder.path().join("thirdglass.db")
    }
}

/// The folder of a history that is kept; written beside its name and renamed, so that what bears the name is whole.
fn kept_history(kept: &Path, tastings: u32) -> PathBuf {
    let whole = kept.join(tastings.to_string());
    if !whole.exists() {
        fs::create_dir_all(kept).expect("there is room for histories");
        let unfinished = tempfile::Builder::new()
            .prefix("unfinished-")
            .tempdir_in(kept)
            .expect("there is room for a history");
        write_history(unfinished.path(), tastings, 1).expect("a history is written");
        fs::rename(unfinished.keep(), &whole).expect("a history is renamed");
    }
    whole
}

fn main() -> ExitCode {
    match asked::asked(env::args().skip(1)) {
        Ok(Asked::Table(extent, parts)) => measure(extent, &parts),
        Ok(Asked::Report(name, home, rounds)) => {
            reports::repeat(&name, &home, rounds);
            ExitCode::SUCCESS
        }
        Ok(Asked::EmptyApp) => alone::empty_app(),
        Ok(Asked::Peak(report, home)) => peaks::tell_peak(&report, &home),
        Err(refused) => {
            eprintln!("speed: {refused}");
            ExitCode::from(2)
        }
    }
}

fn measure(extent: Extent, parts: &[Part]) -> ExitCode {
    let wants = |part: Part| parts.contains(&part);
    let histories = if wants(Part::App) || wants(Part::Reports) {
        extent.histories()
    } else {
        &[]
    };
    let kitchens: Vec<Kitchen> = histories.iter().map(|it| Kitchen::with(*it)).collect();
    let mut table = Table::new(extent, &kitchens);
    if wants(Part::App) {
        app::first_frames(&mut table, &kitchens);
        app::keys(&mut table, &kitchens);
        app::leaves(&mut table, &kitchens);
    }
    if wants(Part::Reports) {
        reports::measure(&mut table, &kitchens);
    }
    if wants(Part::App) {
        app::keys_of_a_tasting(&mut table, &kitchens);
    }
    drop(kitchens);
    if wants(Part::Search) {
        search::measure(&mut table);
    }
    if wants(Part::Sizes) {
        sizes::measure(&mut table);
    }
    if wants(Part::Next) {
        reports::next_recipes(&mut table);
    }
    if wants(Part::Ratings) {
        ratings::measure(&mut table);
    }
    table.conclude()
}
