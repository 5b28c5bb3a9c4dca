//! Practice: what was asked of whom in which order, and what they answered.

use crate::domain::BlindingCode;
use crate::domain::DescriptorId;
use crate::domain::Invalid;
use crate::domain::Moment;
use crate::domain::PlaceId;
use crate::domain::PracticeAnswerId;
use crate::domain::SeatId;
use crate::domain::ShelfId;
use crate::domain::SittingId;
use crate::domain::choice::choices;

choices! {
    /// What is practised.
    PracticeKind ("a kind of practice") {
        /// Words and what they mean; no glass is needed.
        Words = "words", "words";
        /// Jars under codes.
        Jars = "jars", "jars";
        /// Spiked against plain.
        Presence = "presence", "present or not";
        /// A series from weak to strong.
        Strength = "strength", "strength";
    }

    /// When it is told what was right.
    Reveal ("when the answers are told") {
        /// After each answer.
        Each = "each", "after each answer";
        /// At the end.
        End = "end", "at the end";
        /// After the last meeting of a course: until then it is asked again.
        Course = "course", "at the end of the course";
    }

    /// How a word is asked for.
    ItemForm ("how a word is asked for") {
        /// Its definition is shown; the word is chosen among neighbours.
        Definition = "definition", "which word is it?";
        /// The word is shown; its place is chosen.
        Place = "place", "where does it stand?";
        /// A definition is shown; one of two look-alikes is chosen.
        Pair = "pair", "which of the two is it?";
        /// A jar is smelled: place, shelf, word.
        Jar = "jar", "what is in the jar?";
        /// A glass is tasted: is it in there?
        Presence = "presence", "is it in there?";
    }

    /// Whether something was put into a glass.
    Spiked ("whether a glass is spiked") {
        /// It was.
        Spiked = "spiked", "spiked";
        /// It was not.
        Plain = "plain", "plain";
    }
}

/// How sure, in per cent.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Certainty(u8);

impl Certainty {
    /// Makes a certainty.
    ///
    /// # Errors
    /// The number is above 100.
    pub fn new(percent: u8) -> Result<Self, Invalid> {
        if percent <= 100 {
            Ok(Self(percent))
        } else {
            Err(Invalid::OutOfRange {
                what: "how sure, in per cent",
                found: f64::from(percent),
                low: 0.0,
                high: 100.0,
                unit: " %",
            })
        }
    }

    /// The per cent.
    #[must_use]
    pub const fn percent(self) -> u8 {
        self.0
    }
}

/// One practice: a sitting of one or more people.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Practice {
    /// Its sitting.
    pub sitting: SittingId,
    /// What is practised.
    pub kind: PracticeKind,
    /// When it is told what was right.
    pub reveal: Reveal,
}

/// One thing that is asked, as drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PracticeItem {
    /// Who is asked.
    pub seat: SeatId,
    /// Where it stands in their order, from 1.
    pub position: u16,
    /// How it is asked.
    pub form: ItemForm,
    /// The word that it is about.
    pub descriptor: DescriptorId,
    /// What can be chosen, in the order shown; empty where the whole wheel is open.
    pub options: Vec<DescriptorId>,
    /// The code on the jar or glass.
    pub code: Option<BlindingCode>,
    /// Whether the glass is spiked.
    pub spiked: Option<Spiked>,
}

/// What was answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PracticeReply {
    /// A place.
    Place(PlaceId),
    /// A shelf.
    Shelf(ShelfId),
    /// A word.
    Word(DescriptorId),
    /// It is in there, or it is not.
    Presence(Spiked),
    /// Tried, and cannot tell.
    CannotTell,
}

impl PracticeReply {
    /// The id of what kind of reply it is, in files and columns, and what was chosen; nothing where one could not tell.
    #[must_use]
    pub fn parts(&self) -> (&'static str, Option<&str>) {
        match self {
            Self::Place(id) => ("place", Some(id.as_str())),
            Self::Shelf(id) => ("shelf", Some(id.as_str())),
            Self::Word(id) => ("word", Some(id.as_str())),
            Self::Presence(spiked) => ("presence", Some(spiked.id())),
            Self::CannotTell => ("cannot-tell", None),
        }
    }
}

/// One answer; none is changed afterwards, a later one of the same kind corrects it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PracticeAnswer {
    /// The id.
    pub id: PracticeAnswerId,
    /// Who.
    pub seat: SeatId,
    /// To which item.
    pub position: u16,
    /// What.
    pub reply: PracticeReply,
    /// How sure.
    pub certainty: Option<Certainty>,
    /// When.
    pub given_at: Moment,
}
