//! What a person can be told when a panel cannot be planned, served, tasted, told or read.

use thiserror::Error;

use crate::workflow::typed_word;

/// Why something of a panel could not be done.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum PanelError {
    /// The pouring sheet of a panel under way, and nobody says who reads it.
    #[error(
        "who reads what is poured at panel {number} knows the key, so say who: thirdglass panel sheet {number} --reader NAME. A taster of the panel may read it, and is then counted only where nobody else tastes"
    )]
    WhoReads {
        /// The panel.
        number: u32,
    },
    /// A taster of the panel who wants to read what is poured, without a yes.
    #[error(
        "nothing was shown: {name} tastes at panel {number}. Whoever reads what is poured knows the key and is marked for ever: those notes count only where nobody else tastes. Let somebody else pour, or if {name} is to read it all the same, say so with --yes"
    )]
    TastesHere {
        /// The panel.
        number: u32,
        /// Who.
        name: String,
    },
    /// A reader of the pouring sheet whose name is nearly that of a taster of the panel.
    #[error(
        "nothing was shown of panel {number}: nobody is called “{name}”; did you mean {}? Type a taster's name as it stands at the panel; somebody else of nearly the same name is made known first: thirdglass taster add {}", .near.iter().map(|it| format!("“{it}”")).collect::<Vec<_>>().join(" or "), typed_word(.name)
    )]
    NearReader {
        /// The panel.
        number: u32,
        /// Who says they read.
        name: String,
        /// Who at the panel is called nearly so, the nearest first.
        near: Vec<String>,
    },
    /// No panel has the number.
    #[error("there is no panel {asked}; {}", if .known.is_empty() { "none is planned yet: thirdglass panel plan BEER BEER --tasters \"A, B\"".to_owned() } else { format!("the panels are: {}", .known.join(", ")) })]
    NoPanel {
        /// What was asked for.
        asked: u32,
        /// The numbers there are.
        known: Vec<String>,
    },
    /// There is none at all.
    #[error(
        "no panel is planned yet; plan one under “Taste with a panel” in the app, or type in a terminal: thirdglass panel plan BEER BEER --tasters \"A, B\""
    )]
    NoneYet,
    /// Too few or too many beers.
    #[error(
        "a panel tastes from {least} to {most} beers in one sitting, and {found} are named; name others, or hold two panels on two days"
    )]
    Beers {
        /// How many were named.
        found: usize,
        /// The fewest.
        least: usize,
        /// The most.
        most: usize,
    },
    /// Too few or too many tasters.
    #[error(
        "a panel has from 1 to {most} tasters, and {found} are named; hold two panels for more"
    )]
    Tasters {
        /// How many were named.
        found: usize,
        /// The most.
        most: usize,
    },
    /// More doubled glasses than can be.
    #[error("0, 1 or 2 glasses can be poured a second time, not {found}")]
    Doubled {
        /// What was asked for.
        found: usize,
    },
    /// It was told already.
    #[error(
        "panel {number} was told what was in its glasses, so nothing can be tasted at it any more; its result: thirdglass panel result {number}"
    )]
    Told {
        /// The number.
        number: u32,
    },
    /// The result before it was told.
    #[error(
        "panel {number} was not told yet what was in its glasses; when everybody has talked: thirdglass panel tell {number}"
    )]
    NotTold {
        /// The number.
        number: u32,
    },
    /// Somebody who has no seat.
    #[error("{name} has no seat at panel {number}; its tasters are: {}", .seated.join(", "))]
    NotSeated {
        /// The number.
        number: u32,
        /// Who.
        name: String,
        /// Who has.
        seated: Vec<String>,
    },
    /// Somebody who left.
    #[error(
        "{name} has left panel {number}; what was locked before stays, and nothing more is taken"
    )]
    HasLeft {
        /// The number.
        number: u32,
        /// Who.
        name: String,
    },
    /// Something that comes after the first round.
    #[error(
        "panel {number} still waits for {}; what was found is shown when all have locked their glasses or left", .waits_for.join(", ")
    )]
    StillTasting {
        /// The number.
        number: u32,
        /// Who is not done.
        waits_for: Vec<String>,
    },
    /// Telling while somebody is not done.
    #[error(
        "not done at panel {number}: {}. Telling now ends it for them: what they locked counts, the rest stays open for ever. To tell all the same: thirdglass panel tell {number} --early", .waits_for.join(", ")
    )]
    NotDone {
        /// The number.
        number: u32,
        /// Who is not done.
        waits_for: Vec<String>,
    },
    /// A code that no glass has.
    #[error("no glass of panel {number} has the code {code}; read it on the glass again")]
    NoGlass {
        /// The number.
        number: u32,
        /// The code.
        code: String,
    },
    /// A glass without first notes, at the second round.
    #[error(
        "glass {code} has no locked notes of a first round by {name}, so nothing of it can be changed after the talk"
    )]
    NothingToChange {
        /// Who.
        name: String,
        /// The code.
        code: String,
    },
    /// A second pass over a glass of a panel.
    #[error(
        "at a panel there is no pass as the glass warms; after the talk everybody may look at their notes again"
    )]
    NoSecondPass,
}
