//! How fast the program is, against floors measured beside it and against the growth of a history: one table.

#![allow(clippy::print_stdout, reason = "a bench prints what it measured")]

#[path = "speed/alone.rs"]
mod alone;
#[path = "speed/app.rs"]
mod app;
#[path = "speed/clockwork.rs"]
mod clockwork;
mod history;
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

use history::write_history;
use table::Table;

/// Names a folder in which histories are kept from one run to the next: the largest takes minutes to write.
const KEPT: &str = "THIRDGLASS_BENCH_HOMES";

/// How much is measured.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Extent {
    /// Everything, with an optimised program.
    Full,
    /// In a minute, with a program that is not optimised: growth and ratios alone.
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
                let kept = PathBuf::from(kept).join(tastings.to_string());
                if !kept.exists() {
                    write_history(&kept, tastings, 1).expect("a history is written");
                }
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

fn main() -> ExitCode {
    let arguments: Vec<String> = env::args().collect();
    let asked = |word: &str| arguments.iter().any(|it| it == word);
    if asked(alone::WORD) {
        return alone::empty_app();
    }
    if let Some(at) = arguments.iter().position(|it| it == "report") {
        let [name, folder, rounds] = &arguments[at + 1..at + 4] else {
            unreachable!("three words follow");
        };
        reports::repeat(name, Path::new(folder), rounds.parse().expect("a number"));
        return ExitCode::SUCCESS;
    }
    let extent = if asked("short") {
        Extent::Short
    } else {
        Extent::Full
    };
    let only = arguments.iter().position(|it| it == "only");
    let only = only.and_then(|at| arguments.get(at + 1));
    let wants = |part: &str| only.is_none_or(|it| it == part);
    let histories = if wants("app") || wants("reports") {
        extent.histories()
    } else {
        &[]
    };
    let kitchens: Vec<Kitchen> = histories.iter().map(|it| Kitchen::with(*it)).collect();
    let mut table = Table::new(extent, &kitchens);
    if wants("app") {
        app::first_frames(&mut table, &kitchens);
        app::keys(&mut table, &kitchens);
    }
    if wants("reports") {
        reports::measure(&mut table, &kitchens);
    }
    if wants("app") {
        app::keys_of_a_tasting(&mut table, &kitchens);
    }
    drop(kitchens);
    if wants("search") {
        search::measure(&mut table);
    }
    if extent == Extent::Full && wants("sizes") {
        sizes::measure(&mut table);
    }
    if extent == Extent::Full && wants("next") {
        reports::next_recipes(&mut table);
    }
    if extent == Extent::Full && wants("ratings") {
        ratings::measure(&mut table);
    }
    table.conclude()
}
