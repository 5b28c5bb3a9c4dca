//! A proposal for the next recipe as it was made and written: what was to change, and what was promised of it.

use crate::domain::BatchId;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::ProposalId;
use crate::domain::RecipeVersionId;

/// What a proposal promises of one line, in digits; what is believed may lie a little beyond 0 and 9.
#[derive(Debug, Clone, PartialEq)]
pub struct PromisedChange {
    /// The key, as in a comparison, such as `bitter` or `aroma:shelf:toasted`.
    pub id: String,
    /// The words on screen.
    pub label: String,
    /// What is in the glass now, as far as notes tell.
    pub now: f64,
    /// What was hoped for; none of a line that only follows along.
    pub hoped: Option<f64>,
    /// A tenth lies below, after the change.
    pub low: f64,
    /// What is expected after the change.
    pub expected: f64,
    /// A tenth lies above, after the change.
    pub high: f64,
}

/// A line that was to move less than this was not promised to move, in digits (judgement).
const LEAST_MOVE: f64 = 0.25;

impl PromisedChange {
    /// True for a line that was promised to move.
    #[must_use]
    pub fn is_to_move(&self) -> bool {
        (self.expected - self.now).abs() >= LEAST_MOVE
    }

    /// The same as it is shown: nothing leaves the digits, though what is believed may lie beyond their ends.
    #[must_use]
    pub fn in_digits(&self) -> Self {
        let shown = |it: f64| it.clamp(0.0, 9.0);
        Self {
            now: shown(self.now),
            low: shown(self.low),
            expected: shown(self.expected),
            high: shown(self.high),
            ..self.clone()
        }
    }
}

/// A blind test that would show the change.
#[derive(Debug, Clone, PartialEq)]
pub struct ProposedTest {
    /// The id of the method.
    pub method: String,
    /// The distance d′ that is expected.
    pub distance: f64,
    /// How many answers it takes.
    pub answers: u32,
}

/// What a proposal said, for its document.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposed {
    /// Each change in words.
    pub changes: Vec<String>,
    /// What is expected of the lines that move.
    pub lines: Vec<PromisedChange>,
    /// The chance that the gap to the hopes really shrinks, 0 to 1.
    pub chance: f64,
    /// The blind test that would show it, where one can be had.
    pub test: Option<ProposedTest>,
}

/// One proposal as stored; what the app once said is never changed.
#[derive(Debug, Clone, PartialEq)]
pub struct KeptProposal {
    /// The id.
    pub id: ProposalId,
    /// The batch whose notes it follows from.
    pub batch: BatchId,
    /// The recipe version that was brewed.
    pub parent: RecipeVersionId,
    /// The name of the recipe that was written.
    pub name: Name,
    /// Its version.
    pub version: Name,
    /// SHA-256 of the document that was written, in hex.
    pub hash: String,
    /// What was said.
    pub proposed: Proposed,
    /// When it was made.
    pub made_at: Moment,
}
