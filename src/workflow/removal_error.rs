//! Why something could not be removed or brought back.

use thiserror::Error;

use crate::domain::Day;
use crate::storage::Held;
use crate::storage::Holder;
use crate::workflow::known_names::known_names;
use crate::workflow::typed_word;

/// Why something could not be removed or brought back.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum RemovalError {
    /// Other things stand on it.
    #[error("the {kind} {name} was not removed: {} on it; remove what stands on it first ({})", standing(.held), ways(.held))]
    StillHeld {
        /// What it is.
        kind: &'static str,
        /// What people call it.
        name: String,
        /// What stands on it.
        held: Vec<Held>,
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
fn standing(held: &[Held]) -> String {
    let told: Vec<String> = held
        .iter()
        .map(|it| format!("{} {}", it.count, it.words))
        .collect();
    let stand = if matches!(held, [Held { count: 1, .. }]) {
        "stands"
    } else {
        "stand"
    };
    format!("{} {stand}", told.join(" and "))
}

/// How things that stand on another are removed.
const fn way(holder: Holder) -> &'static str {
    match holder {
        Holder::Tasting => {
            "tastings with z under Notes in the app, or in a terminal: thirdglass remove tasting MARK NAME"
        }
        Holder::Test => {
            "blind tests with z on their page in the app, or in a terminal: thirdglass remove test NUMBER"
        }
        Holder::Panel => {
            "panels with z on their page in the app, or in a terminal: thirdglass remove panel NUMBER"
        }
        Holder::Batch => {
            "batches with z on their page in the app, or in a terminal: thirdglass remove batch MARK"
        }
        Holder::Version => "versions in a terminal: thirdglass remove recipe NAME VERSION",
        Holder::Proposal => "proposals go by themselves with the batch for which they were made",
        Holder::Course => "courses in a terminal: thirdglass remove course NAME",
    }
}

/// How what stands on it is removed.
fn ways(held: &[Held]) -> String {
    let ways: Vec<&str> = held.iter().map(|it| way(it.holder)).collect();
    ways.join("; ")
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_may_not_remove_a_recipe_is_told_how_each_thing_goes_that_stands_on_it() {
        let held = |holder, count, words| Held {
            holder,
            count,
            words,
        };
        let refused = RemovalError::StillHeld {
            kind: "recipe",
            name: "Harbour dark 1".to_owned(),
            held: vec![
                held(Holder::Batch, 1, "batch brewed from it"),
                held(Holder::Proposal, 2, "proposals made from it"),
            ],
        };
        let told = refused.to_string();
        for part in [
            "1 batch brewed from it and 2 proposals made from it stand on it",
            "thirdglass remove batch MARK",
            "proposals go by themselves with the batch",
        ] {
            assert!(told.contains(part), "{told}");
        }
    }
}
