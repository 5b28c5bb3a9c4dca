//! What the brewer hopes for and what a packet promises.

use crate::domain::DescriptorId;
use crate::domain::Name;
use crate::domain::Scale;
use crate::domain::ShelfId;
use crate::domain::Stage;
use crate::domain::choice::choices;

choices! {
    /// How much a hope matters, 0 to 3.
    Matters ("how much it matters") {
        /// Mentioned, no more.
        Little = "0", "hardly matters";
        /// Would be nice.
        Some = "1", "would be nice";
        /// Matters.
        Much = "2", "matters";
        /// The point of the beer.
        Most = "3", "is the point of it";
    }
}

/// One line of a profile.
#[derive(Debug, Clone, PartialEq)]
pub enum Line {
    /// A scale.
    Scale(&'static Scale),
    /// A word at a stage.
    Word {
        /// The word.
        descriptor: DescriptorId,
        /// Aroma or flavour.
        stage: Stage,
    },
    /// A whole shelf at a stage.
    Shelf {
        /// The shelf.
        shelf: ShelfId,
        /// Aroma or flavour.
        stage: Stage,
    },
}

/// One hope: a line, how strong, and how much it matters.
#[derive(Debug, Clone, PartialEq)]
pub struct Target {
    /// The line.
    pub line: Line,
    /// How strong, in the unit of the line: intensities 0 to 9.
    pub value: f64,
    /// How much it matters.
    pub matters: Matters,
}

/// The profile that the brewer hopes for; a line that is not named has no target.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Intent {
    /// The hopes, in the order of the file.
    pub targets: Vec<Target>,
}

/// What one packet promises.
#[derive(Debug, Clone, PartialEq)]
pub struct Promise {
    /// Which packet.
    pub packet: Name,
    /// The words on it.
    pub words: Vec<DescriptorId>,
}
