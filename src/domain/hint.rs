//! What a batch log hints at: conditions on what was logged, and what they may cause.

use crate::domain::DescriptorId;
use crate::domain::EntryKind;
use crate::domain::choice::choices;

choices! {
    /// How often what is logged leads to what it may cause (judgement).
    HintOdds ("how often") {
        /// In few brews.
        Seldom = "seldom", "seldom";
        /// In some.
        Sometimes = "sometimes", "sometimes";
        /// In most.
        Often = "often", "often";
    }
}

/// What a condition looks at.
#[derive(Debug, Clone, PartialEq)]
pub enum HintMeasure {
    /// A number in the log, in the unit of its kind.
    Logged(&'static EntryKind),
    /// Days from one logged date to another; to today where none is named.
    Days {
        /// From which date.
        from: &'static EntryKind,
        /// To which one.
        to: Option<&'static EntryKind>,
    },
    /// A figure of the batch.
    Figure(String),
    /// How far the measured final gravity lies above the expected one.
    GravityLeft,
}

/// On which side of a number it hints at something.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Beyond {
    /// Above it.
    Above(f64),
    /// Below it.
    Below(f64),
}

impl Beyond {
    /// Whether a value lies beyond.
    #[must_use]
    pub fn holds(self, value: f64) -> bool {
        match self {
            Self::Above(bound) => value > bound,
            Self::Below(bound) => value < bound,
        }
    }
}

/// One condition.
#[derive(Debug, Clone, PartialEq)]
pub struct HintCondition {
    /// What it looks at.
    pub measure: HintMeasure,
    /// Where it begins to hint.
    pub beyond: Beyond,
}

/// One hint; it is given where all its conditions hold.
#[derive(Debug, Clone, PartialEq)]
pub struct Hint {
    /// Its id.
    pub id: String,
    /// The conditions.
    pub when: Vec<HintCondition>,
    /// What was found, and what it does.
    pub says: String,
    /// The words that it may cause.
    pub words: Vec<DescriptorId>,
    /// How often.
    pub odds: HintOdds,
    /// What to look at to tell causes apart.
    pub look: String,
    /// What to do the next time.
    pub remedy: String,
    /// Where that is known from.
    pub source: String,
}
