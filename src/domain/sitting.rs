//! One occasion of tasting: its seats, its samples, and who got what in which order.

use crate::domain::BeerId;
use crate::domain::BlindingCode;
use crate::domain::Moment;
use crate::domain::SampleId;
use crate::domain::SeatId;
use crate::domain::SittingId;
use crate::domain::TasterId;
use crate::domain::choice::choices;

choices! {
    /// What kind of occasion.
    SittingKind ("a kind of sitting") {
        /// One beer, one or more tasters, each their own notes.
        Tasting = "tasting", "tasting";
        /// Two beers side by side under codes, stage by stage.
        TwoGlasses = "two-glasses", "two glasses";
        /// A blind test of two beers.
        Test = "test", "blind test";
        /// Several beers and tasters, each beer under a code.
        Panel = "panel", "panel";
        /// Practice with words, jars or spiked glasses.
        Practice = "practice", "practice";
    }

    /// What a person does in a sitting.
    SeatRole ("a role in a sitting") {
        /// Tastes.
        Taster = "taster", "taster";
        /// Poured alone, shuffled the cups, and tastes without knowing which is which.
        PouringTaster = "pouring-taster", "taster who poured";
        /// Fills the cups of a blind test and does not taste.
        Pourer = "pourer", "who pours";
        /// Sets the cups of a blind test before people and does not taste.
        Server = "server", "who serves";
    }
}

/// A sitting as stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sitting {
    /// The id.
    pub id: SittingId,
    /// What kind.
    pub kind: SittingKind,
    /// The seed of everything drawn in it.
    pub seed: u64,
    /// When it was opened.
    pub made_at: Moment,
    /// When the last one locked or left; none while it is open.
    pub closed_at: Option<Moment>,
}

/// One taster's place in a sitting.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seat {
    /// The id.
    pub id: SeatId,
    /// The sitting.
    pub sitting: SittingId,
    /// The taster.
    pub taster: TasterId,
    /// What they do in it.
    pub role: SeatRole,
    /// When they left without locking, if they did.
    pub left_at: Option<Moment>,
}

/// One glass of a sitting.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sample {
    /// The id.
    pub id: SampleId,
    /// The sitting.
    pub sitting: SittingId,
    /// Its three-digit code.
    pub code: BlindingCode,
    /// What is in it.
    pub beer: BeerId,
    /// The glass of which this one is a hidden duplicate, if it is one.
    pub duplicate_of: Option<SampleId>,
}
