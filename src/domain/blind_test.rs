//! A blind test of two beers: what was planned, who sits where, and what they answered.

use crate::domain::BeerId;
use crate::domain::Millilitres;
use crate::domain::Moment;
use crate::domain::NotesSource;
use crate::domain::Risk;
use crate::domain::SampleId;
use crate::domain::SeatId;
use crate::domain::Share;
use crate::domain::SittingId;
use crate::domain::Subject;
use crate::domain::TestAnswerId;
use crate::domain::TestId;
use crate::domain::choice::choices;

choices! {
    /// What a test is to show.
    Purpose ("what a test is to show") {
        /// That the two differ.
        Difference = "difference", "whether they differ";
        /// That they differ by less than matters.
        Similarity = "similarity", "whether they are alike enough";
    }

    /// When a test stops.
    Stopping ("when a test stops") {
        /// After all its sets.
        Fixed = "fixed", "after all sets";
        /// As soon as Wald's lines are crossed.
        Sequential = "sequential", "as soon as it is settled, after every set";
        /// As soon as the evidence is strong enough; it may be watched at all times.
        Evidence = "evidence", "as soon as the evidence is strong enough";
    }

    /// Who pours, and how the codes stay hidden.
    Pouring ("who pours") {
        /// One knows the beers, another the codes, and nobody in the room both.
        Two = "two", "one person who pours and another who serves";
        /// One person, who does not taste.
        One = "one", "one person who does not taste";
        /// The taster, with the codes under shuffled cups.
        Alone = "alone", "the taster, with shuffled cups";
    }

    /// How sure a taster is of an answer.
    Sureness ("how sure an answer is") {
        /// A guess.
        Guess = "guess", "a guess";
        /// Rather sure.
        Rather = "rather", "rather sure";
        /// Sure.
        Sure = "sure", "sure";
    }

    /// What a sheet is for.
    SheetKind ("a sheet") {
        /// Which beer goes into which jug, or cup.
        Pourer = "pourer", "pourer's";
        /// Which jug goes into which cup.
        Server = "server", "server's";
        /// Codes to stick on cups.
        Labels = "labels", "labels";
        /// What tasters answer on.
        Ballots = "ballots", "ballots";
    }

    /// One of the two beers of a test.
    BeerSide ("one of two beers") {
        /// The one named first.
        A = "a", "the first";
        /// The one named second.
        B = "b", "the second";
    }
}

/// What a directed question asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Direction {
    /// Which beer is expected to have more of it; none where either may.
    pub expected: Option<BeerSide>,
    /// Of what, such as `bitter`.
    pub attribute: String,
}

/// The errors a test may make, and the difference it is to find.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Aims {
    /// The risk of seeing a difference that is not there.
    pub alpha: Risk,
    /// The risk of missing one that is.
    pub beta: Risk,
    /// The share of people who can tell the two apart that matters.
    pub pd: Share,
}

/// A test as planned.
#[derive(Debug, Clone, PartialEq)]
pub struct BlindTest {
    /// The id.
    pub id: TestId,
    /// The number by which people call it.
    pub number: u32,
    /// The sitting that holds its people and glasses.
    pub sitting: SittingId,
    /// The two beers.
    pub beers: [BeerId; 2],
    /// The id of the method.
    pub method: String,
    /// What it is to show.
    pub purpose: Purpose,
    /// Its risks.
    pub aims: Aims,
    /// What a directed question asks for.
    pub direction: Option<Direction>,
    /// When it stops.
    pub stopping: Stopping,
    /// Who pours.
    pub pouring: Pouring,
    /// Places at the table.
    pub places: u16,
    /// Sets for each place.
    pub rounds: u16,
    /// What goes into one glass.
    pub glass: Millilitres,
    /// The seed of everything drawn.
    pub seed: u64,
    /// Random letters, without which the commitment could be guessed.
    pub salt: String,
    /// The hash over plan and salt that was shown before the first answer.
    pub commitment: String,
    /// When it was planned.
    pub made_at: Moment,
    /// When it was closed; none while it is open.
    pub closed_at: Option<Moment>,
}

/// One set of glasses before one taster, in the order of tasting.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TestSet {
    /// Which place at the table, from 1.
    pub place: u16,
    /// Which of the place's sets, from 1.
    pub round: u16,
    /// What is in the glass marked as the reference, where the method has one.
    pub reference: Option<BeerSide>,
    /// The coded glasses from left to right.
    pub samples: Vec<SampleId>,
}

/// Who took which place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenPlace {
    /// The place, from 1.
    pub place: u16,
    /// The seat.
    pub seat: SeatId,
    /// When its taster left; after that no answer changes.
    pub left_at: Option<Moment>,
}

/// One answer.
#[derive(Debug, Clone, PartialEq)]
pub struct TestAnswer {
    /// The id.
    pub id: TestAnswerId,
    /// Whose.
    pub seat: SeatId,
    /// To which of their sets, from 1.
    pub round: u16,
    /// The glass chosen.
    pub chosen: SampleId,
    /// How sure.
    pub sureness: Option<Sureness>,
    /// The glass liked better, asked apart from the difference.
    pub prefers: Option<SampleId>,
    /// What differed, in words.
    pub words: Vec<Subject>,
    /// Typed by the taster, or from paper.
    pub source: NotesSource,
    /// When it was given.
    pub given_at: Moment,
    /// The answer it corrects.
    pub replaces: Option<TestAnswerId>,
}
