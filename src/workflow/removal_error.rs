//! Why something could not be removed or brought back.

use thiserror::Error;

use crate::domain::Day;
use crate::workflow::known_names::known_names;
use crate::workflow::typed_word;

/// Why something could not be removed or brought back.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum RemovalError {
    /// Other things stand on it.
    #[error("the {kind} {name} was not removed: {} on it; remove what stands on it first{}", standing(.held), ways(.held))]
    StillHeld {
        /// What it is.
        kind: &'static str,
        /// What people call it.
        name: String,
        /// What stands on it: how many, and of what.
        held: Vec<(u32, &'static str)>,
    },
    /// A beer that is a batch of one's own.
    #[error("“{mark}” was not removed: it is a batch; type thirdglass remove batch {}", typed_word(.mark))]
    IsABatch {
        /// Its cap mark.
        mark: String,
    },
    /// There is no such version of a recipe.
    #[error("no recipe version is called “{asked}”; {}", known_names(.asked, .known, "there are", "no recipe was kept yet"))]
    NoVersion {
        /// What was asked for.
        asked: String,
        /// What there is.
        known: Vec<String>,
    },
    /// The taster has not tasted the beer.
    #[error(
        "{taster} has no tasting of “{mark}” that could be removed; thirdglass taster show {} lists those that there are",
        typed_word(.taster)
    )]
    NoTasting {
        /// The cap mark.
        mark: String,
        /// Who.
        taster: String,
    },
    /// One of two glasses that somebody is tasting side by side.
    #[error(
        "the tasting of {taster} was not removed: it is one of two glasses on the table; lock both first, or leave them"
    )]
    OneOfTwo {
        /// Who.
        taster: String,
    },
    /// The taster did not practise on the day.
    #[error("{taster} has no practice of {day}; {}", days(.known))]
    NoPractice {
        /// Who.
        taster: String,
        /// What was asked for.
        day: Day,
        /// The days there are, the latest first.
        known: Vec<String>,
    },
    /// Nothing that is kept has the number.
    #[error("nothing that was removed has the number {number}; {}", numbers(.known))]
    NothingRemoved {
        /// What was asked for.
        number: u32,
        /// What there is.
        known: Vec<String>,
    },
}

/// “2 tastings and 1 panel stand”.
fn standing(held: &[(u32, &'static str)]) -> String {
    let told: Vec<String> = held
        .iter()
        .map(|(count, it)| format!("{count} {it}"))
        .collect();
    let stand = if matches!(held, [(1, _)]) {
        "stands"
    } else {
        "stand"
    };
    format!("{} {stand}", told.join(" and "))
}

/// Where each kind of thing that stands on another is removed.
const WAYS: [(&str, &str); 6] = [
    (
        "tasting",
        "tastings with z under Notes in the app, or in a terminal: thirdglass remove tasting MARK NAME",
    ),
    (
        "blind test",
        "blind tests with z on their page in the app, or in a terminal: thirdglass remove test NUMBER",
    ),
    (
        "panel",
        "panels with z on their page in the app, or in a terminal: thirdglass remove panel NUMBER",
    ),
    (
        "batch",
        "batches with z on their page in the app, or in a terminal: thirdglass remove batch MARK",
    ),
    (
        "version",
        "versions in a terminal: thirdglass remove recipe NAME VERSION",
    ),
    (
        "course",
        "courses in a terminal: thirdglass remove course NAME",
    ),
];

/// How what stands on it is removed; nothing of what no command removes.
fn ways(held: &[(u32, &'static str)]) -> String {
    let ways = held.iter().filter_map(|(_, it)| {
        let way = WAYS.iter().find(|way| it.starts_with(way.0))?;
        Some(way.1)
    });
    let ways: Vec<&str> = ways.collect();
    if ways.is_empty() {
        return String::new();
    }
    format!(" ({})", ways.join("; "))
}

fn days(known: &[String]) -> String {
    const MOST: usize = 8;
    if known.is_empty() {
        return "there is none of any day".to_owned();
    }
    let shown = known.len().min(MOST);
    format!("the latest days are: {}", known[..shown].join(", "))
}

fn numbers(known: &[String]) -> String {
    if known.is_empty() {
        return "nothing is kept; what was removed is kept for thirty days".to_owned();
    }
    format!("there are: {}", known.join(", "))
}
