//! What becomes of a beer by how it was made and kept: age, light, air, old hops, each with what it brings.

use crate::domain::Gifts;
use crate::domain::choice::choices;

choices! {
    /// Something that happened to a beer; its amount comes from the log.
    ConditionKind ("a condition") {
        /// Weeks in the bottle, counted at 20 °C.
        Age = "age", "age in the bottle";
        /// Weeks in the bottle, counted at 20 °C, times how often it was splashed.
        Air = "air", "air after pitching";
        /// Minutes of daylight.
        Daylight = "daylight", "daylight on the bottles";
        /// Grams of hops in a litre that have lost what they held.
        OldHops = "old-hops", "old hops";
    }
}

impl ConditionKind {
    /// What its amount counts.
    #[must_use]
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Age => "weeks at 20 °C",
            Self::Air => "splashes × weeks at 20 °C",
            Self::Daylight => "min",
            Self::OldHops => "g/L of hops gone old",
        }
    }
}

/// A condition with what it brings to the shelves of the wheel.
#[derive(Debug, Clone, PartialEq)]
pub struct Condition {
    /// Which one.
    pub kind: ConditionKind,
    /// What it brings.
    pub gifts: Gifts,
}
