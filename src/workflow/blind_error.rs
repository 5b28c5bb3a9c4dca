//! What a person can be told when a blind test cannot be planned, served, answered, closed or read.

use thiserror::Error;

use crate::workflow::known_names::known_names;

use crate::discrimination::Refused;
use crate::domain::BlindingCode;

/// Why something of a blind test could not be done.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum BlindError {
    /// A figure cannot be.
    #[error(transparent)]
    Refused(#[from] Refused),
    /// No test has the number.
    #[error("there is no test {number}; {}", if .known.is_empty() { "none is planned yet: thirdglass blind plan BEER BEER".to_owned() } else { format!("the tests are: {}", .known.join(", ")) })]
    NoTest {
        /// What was asked for.
        number: u32,
        /// The numbers there are.
        known: Vec<String>,
    },
    /// No method has the name.
    #[error("no method is called “{asked}”; {}", known_names(.asked, .known, "the methods are", "there is none"))]
    NoMethod {
        /// What was asked for.
        asked: String,
        /// The names there are.
        known: Vec<String>,
    },
    /// The question needs a word that was not given, or has one too many.
    #[error("{method} asks which glass has more of something; name it, such as --more bitter")]
    NoAttribute {
        /// The method.
        method: &'static str,
    },
    /// A word for a question that has none.
    #[error("{method} asks for any difference, so it takes no word for what there is more of")]
    NeedlessAttribute {
        /// The method.
        method: &'static str,
    },
    /// A directed question without the beer that is expected to have more.
    #[error(
        "{method} asks for the one expected to have more; say which of the two that is, with --expect, or take 2-afc-either"
    )]
    NoExpectation {
        /// The method.
        method: &'static str,
    },
    /// A bottle that is none of the two.
    #[error("“{asked}” is none of the two bottles of this test; name one of them")]
    NotOfTheTwo {
        /// What was given.
        asked: String,
    },
    /// All right answers would still prove nothing.
    #[error(
        "{answers} answers can never show a difference at a risk of {alpha}, even if all are right; {}",
        .least.map_or_else(|| "ask for a larger risk".to_owned(), |it| format!("it takes {it} or more"))
    )]
    NeverSignificant {
        /// The answers planned.
        answers: u32,
        /// The risk.
        alpha: f64,
        /// The fewest answers that can be.
        least: Option<u32>,
    },
    /// So few answers cannot show that two beers are alike.
    #[error(
        "{answers} answers are too few to show that two beers are alike enough: people who only guess would already be right too often; {}",
        .least.map_or_else(|| "ask for a larger difference".to_owned(), |it| format!("plan {it} tasters, or allow a larger difference"))
    )]
    NeverAlike {
        /// The answers planned.
        answers: u32,
        /// How many would do.
        least: Option<u32>,
    },
    /// Several answers of one taster, where they are no independent ones.
    #[error(
        "likeness is shown by many people who answer once each: one taster's second answer says nothing about the others; plan one round and more tasters"
    )]
    AlikeOnceEach,
    /// A stop rule that does not go with the question.
    #[error(
        "a test that may stop early asks for a difference; one of likeness is planned with a fixed number of answers"
    )]
    StopsEarly,
    /// Watched evidence needs a direction.
    #[error(
        "{method} fixes no direction, so it cannot stop early; plan it with a fixed number of answers"
    )]
    NoEarlyStop {
        /// The method.
        method: &'static str,
    },
    /// Nobody sits down at a closed test.
    #[error(
        "test {number} is closed; its answers stand as they are, and a new test can be planned"
    )]
    Closed {
        /// The number.
        number: u32,
    },
    /// The result of an open test.
    #[error(
        "test {number} is still open: looking now would bias who still tastes; close it first with thirdglass blind close {number}"
    )]
    Open {
        /// The number.
        number: u32,
    },
    /// The stop rule is met.
    #[error(
        "test {number} has all the answers it needs; close it with thirdglass blind close {number}"
    )]
    Settled {
        /// The number.
        number: u32,
    },
    /// Every place is taken.
    #[error("all {places} places of test {number} are taken; plan another test for more people")]
    Full {
        /// The number.
        number: u32,
        /// How many places.
        places: u16,
    },
    /// A place that another taster has, or that there is none of.
    #[error("place {place} of test {number} is not free; free are: {}", .free.join(", "))]
    NotFree {
        /// The number.
        number: u32,
        /// The place asked for.
        place: u16,
        /// The places there are.
        free: Vec<String>,
    },
    /// A code that no cup of the test has.
    #[error("no cup of test {number} is called {code}; read the code on the cup again")]
    NoSuchCup {
        /// The number.
        number: u32,
        /// What was typed.
        code: BlindingCode,
    },
    /// A taster who sits at another place.
    #[error(
        "{name} sits at place {place} of test {number}, and these cups stand before another one; answer with the codes of place {place}"
    )]
    SitsElsewhere {
        /// The number.
        number: u32,
        /// Who.
        name: String,
        /// Where.
        place: u16,
    },
    /// How sure without a choice.
    #[error(
        "{name} has not chosen a glass of set {set} yet; give --choose CODE with the rest of the answer"
    )]
    NoChoice {
        /// Who.
        name: String,
        /// The set.
        set: u16,
    },
    /// Leaving with sets unanswered.
    #[error(
        "{name} has not answered set {set} yet; answer it with --choose CODE before leaving with --leave"
    )]
    StillOpen {
        /// Who.
        name: String,
        /// The first set without an answer.
        set: u16,
    },
    /// Somebody who knows the key.
    #[error(
        "{name} has seen what is in the cups of test {number}, so {name} cannot answer it; somebody else can take the place"
    )]
    SawTheKey {
        /// The number.
        number: u32,
        /// Who.
        name: String,
    },
    /// Somebody who tastes asked for the key.
    #[error(
        "{name} tastes in test {number}, so {name} cannot see what is in the cups; somebody who does not taste must"
    )]
    TastesHere {
        /// The number.
        number: u32,
        /// Who.
        name: String,
    },
    /// One hand for both halves of the key.
    #[error(
        "{name} has seen the other half of the key of test {number}; with two people, one pours and the other serves"
    )]
    BothHalves {
        /// The number.
        number: u32,
        /// Who.
        name: String,
    },
    /// A sheet that this way of pouring does not have.
    #[error("test {number} is poured by {pouring}, so it has no {sheet} sheet; what it has: thirdglass blind sheet {number} --for {}", .sheets.join("|"))]
    NoSuchSheet {
        /// The number.
        number: u32,
        /// How it is poured.
        pouring: &'static str,
        /// What was asked for.
        sheet: &'static str,
        /// What there is.
        sheets: Vec<String>,
    },
    /// The same taster again.
    #[error(
        "{name} has answered every set of test {number} and left; an answer that was left stays as it is"
    )]
    Answered {
        /// The number.
        number: u32,
        /// Who.
        name: String,
    },
    /// A code that is not in the set.
    #[error("{code} is none of the glasses to choose from in this set; they are: {}", .codes.join(", "))]
    NotInTheSet {
        /// What was typed.
        code: String,
        /// The codes there are.
        codes: Vec<String>,
    },
    /// A sheet with the key for nobody.
    #[error(
        "the {sheet} sheet tells what is in the cups; say who is looking, who then cannot taste in this test: --as NAME, or where it is printed --reader NAME"
    )]
    NobodyLooks {
        /// Which sheet.
        sheet: &'static str,
    },
    /// Nobody answered at all.
    #[error(
        "test {number} has no answer, so there is nothing to close or read; taste it first, or leave it open"
    )]
    NoAnswers {
        /// The number.
        number: u32,
    },
    /// Sets without an answer.
    #[error(
        "test {number} still waits for {missing} of its {planned} answers; closing it now would let the count decide when to stop. Who must close it all the same says so with --early, and the result says it too"
    )]
    BallotsOpen {
        /// The number.
        number: u32,
        /// How many answers are missing.
        missing: usize,
        /// How many were planned.
        planned: usize,
    },
}
