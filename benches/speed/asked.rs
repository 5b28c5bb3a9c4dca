//! What is asked on the command line: everything, a part of it, or one report over and over; anything else is refused.

use std::path::PathBuf;

use crate::Extent;
use crate::alone;
use crate::peaks;
use crate::reports;

/// One of the parts that can be measured by themselves.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Part {
    /// The program on a terminal.
    App,
    /// Reports over whole histories.
    Reports,
    /// Words looked for.
    Search,
    /// Exact sizes of blind tests, and analyses.
    Sizes,
    /// The search for the next recipe.
    Next,
    /// A million ratings read in.
    Ratings,
}

impl Part {
    /// Every part with its word, and the extents that have it.
    const ALL: [(Self, &'static str, &'static [Extent]); 6] = [
        (Self::App, "app", &[Extent::Full, Extent::Short]),
        (Self::Reports, "reports", &[Extent::Full, Extent::Short]),
        (Self::Search, "search", &[Extent::Full, Extent::Short]),
        (Self::Sizes, "sizes", &[Extent::Full]),
        (Self::Next, "next", &[Extent::Full]),
        (Self::Ratings, "ratings", &[Extent::Full]),
    ];

    /// Those that an extent has, with their words.
    fn of(extent: Extent) -> impl Iterator<Item = (Self, &'static str)> {
        let of = Self::ALL.iter().filter(move |it| it.2.contains(&extent));
        of.map(|it| (it.0, it.1))
    }
}

/// What is to be done.
pub(crate) enum Asked {
    /// A table of these parts.
    Table(Extent, Vec<Part>),
    /// One report over and over: its name, the folder of a home, the rounds.
    Report(String, PathBuf, usize),
    /// The app with nothing in it.
    EmptyApp,
    /// What one report needs in a process of its own: its name and the folder of a home.
    Peak(String, PathBuf),
}

/// How it is called, for whoever called it otherwise.
const USAGE: &str = "It is called as: cargo bench --bench speed -- [short] [only PART], or -- report NAME HOME ROUNDS";

/// Reads the words after the name of the program.
///
/// # Errors
/// A sentence that says which word is not known or missing, and what there is.
pub(crate) fn asked(words: impl Iterator<Item = String>) -> Result<Asked, String> {
    // Cargo adds this word of its own to every bench.
    let words: Vec<String> = words.filter(|it| it != "--bench").collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let (extent, rest) = match words.as_slice() {
        [alone::WORD] => return Ok(Asked::EmptyApp),
        [peaks::WORD, name, home] => return Ok(Asked::Peak((*name).to_owned(), home.into())),
        ["report", rest @ ..] => return report(rest),
        ["short", rest @ ..] => (Extent::Short, rest),
        rest => (Extent::Full, rest),
    };
    match rest {
        [] => Ok(Asked::Table(
            extent,
            Part::of(extent).map(|it| it.0).collect(),
        )),
        ["only", word] => Ok(Asked::Table(extent, vec![part(extent, word)?])),
        ["only"] => Err(format!("After “only” a part is missing. {}", parts(extent))),
        ["only", _, word, ..] | [word, ..] => Err(format!("“{word}” is not known here. {USAGE}.")),
    }
}

fn part(extent: Extent, word: &str) -> Result<Part, String> {
    let found = Part::of(extent).find(|it| it.1 == word);
    let unknown = || format!("There is no part “{word}”. {}", parts(extent));
    found.map(|it| it.0).ok_or_else(unknown)
}

fn parts(extent: Extent) -> String {
    let words: Vec<&str> = Part::of(extent).map(|it| it.1).collect();
    let form = match extent {
        Extent::Full => "full",
        Extent::Short => "short",
    };
    format!("The parts of the {form} form are: {}.", words.join(", "))
}

fn report(words: &[&str]) -> Result<Asked, String> {
    let [name, home, rounds] = words else {
        return Err(format!(
            "After “report” three words are needed, not {}. {USAGE}.",
            words.len()
        ));
    };
    if reports::work(name).is_none() {
        return Err(format!(
            "There is no report “{name}”. There are: “{}”.",
            reports::names().join("”, “")
        ));
    }
    let home = PathBuf::from(home);
    // A home that is not there would be made, and told of as if there were something in it.
    if !home.join("thirdglass.db").is_file() {
        return Err(format!("There is no home in {}.", home.display()));
    }
    let number = rounds.parse().ok().filter(|it| *it > 0);
    let rounds = number.ok_or_else(|| format!("“{rounds}” is no number of rounds from 1 on."))?;
    Ok(Asked::Report((*name).to_owned(), home, rounds))
}
