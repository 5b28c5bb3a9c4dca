//! What a person can be told when something could not be done: what was tried, what was found, what to do.

use thiserror::Error;

use crate::domain::BlindingCode;
use crate::domain::Day;
use crate::domain::Invalid;
use crate::formats::EditProblem;
use crate::formats::Problem;
use crate::statistics::NoEntropy;
use crate::storage::StorageError;
use crate::workflow::BlindError;
use crate::workflow::ConversionError;
use crate::workflow::EveningKeyError;
use crate::workflow::ImportProblem;
use crate::workflow::PanelError;
use crate::workflow::PhotographRefused;
use crate::workflow::RemovalError;
use crate::workflow::known_names::known_names;
use crate::workflow::seal_words::sealed_until;
use crate::workflow::typed_word;

/// Why a verb could not be done.
#[derive(Debug, Error)]
pub enum WorkflowError {
    /// A value was refused.
    #[error(transparent)]
    Invalid(#[from] Invalid),
    /// The store could not do it.
    #[error(transparent)]
    Storage(#[from] StorageError),
    /// Something of a blind test could not be done.
    #[error(transparent)]
    Blind(#[from] BlindError),
    /// Something of a panel could not be done.
    #[error(transparent)]
    Panel(#[from] PanelError),
    /// The key of an evening is not for everybody.
    #[error(transparent)]
    EveningKey(#[from] EveningKeyError),
    /// Something of a photograph could not be done.
    #[error(transparent)]
    Photograph(#[from] PhotographRefused),
    /// A copy would have taken the place of what is there.
    #[error("nothing was brought back: {home} is not empty. {file} holds {notes} locked notes{}; to put it in the place of what is there, which is kept aside under another name, add --replace", .latest.map_or_else(String::new, |day| format!(", the latest of {day}")))]
    WouldReplace {
        /// The home.
        home: String,
        /// The copy.
        file: String,
        /// How many locked notes the copy holds.
        notes: u32,
        /// The day of the latest of its notes.
        latest: Option<Day>,
    },
    /// Something could not be removed or brought back.
    #[error(transparent)]
    Removal(#[from] RemovalError),
    /// No seed could be drawn.
    #[error(transparent)]
    NoEntropy(#[from] NoEntropy),
    /// A document has problems; nothing of it was saved.
    #[error("{}", listed(.problems))]
    Problems {
        /// All of them, by place.
        problems: Vec<Problem>,
    },
    /// Wishes for the next recipe cannot be read, or not be kept together.
    #[error("nothing was searched for, because of the wishes:\n{}", listed(.problems))]
    Wishes {
        /// All that stands against them, a sentence each.
        problems: Vec<String>,
    },
    /// A batch has none that its recipe was changed from.
    #[error("no older batch stands beside “{mark}”: its recipe names no version that was brewed before it; to test it against any other bottle, type thirdglass blind plan {} OTHER, or open Blind tests in the app", typed_word(.mark))]
    NoOldBatch {
        /// Its cap mark.
        mark: String,
    },
    /// There is no proposal with this number.
    #[error("proposal {asked} was asked for, and {}", match .there { 0 => "nothing is proposed; thirdglass next says why".to_owned(), 1 => "only one is made; take 1".to_owned(), there => format!("{there} are made; take 1 to {there}") })]
    NoProposal {
        /// Which was asked for, counted from 1.
        asked: usize,
        /// How many there are.
        there: usize,
    },
    /// A recipe of another standard cannot be taken.
    #[error(transparent)]
    Conversion(#[from] ConversionError),
    /// The document of a recipe cannot take a change.
    #[error(transparent)]
    Edit(#[from] EditProblem),
    /// A changed document reads otherwise than what was proposed.
    #[error(
        "the new version was not written: the changed file would not read as what is proposed; change the recipe by hand, and check it with thirdglass recipe check"
    )]
    NotAsProposed,
    /// A session cannot be taken in; nothing of it was saved.
    #[error("could not take in “{session}”, and nothing of it was stored:\n{}", listed(.problems))]
    Import {
        /// The name of the session's file.
        session: String,
        /// Everything that stands against it.
        problems: Vec<ImportProblem>,
    },
    /// A batch by this name is not there.
    #[error("no batch is marked “{asked}”; {}", known_names(.asked, .known, "the marks in use are", "there is no batch yet; add one under Batches in the app, or type in a terminal: thirdglass batch add RECIPE"))]
    NoBatch {
        /// What was asked for.
        asked: String,
        /// The cap marks that exist.
        known: Vec<String>,
    },
    /// A taster by this name is not there.
    #[error("no taster is called “{asked}”; {}", known_names(.asked, .known, "the tasters are", "there is none yet; a tasting asks for the name, or type in a terminal: thirdglass taster add NAME"))]
    NoTaster {
        /// What was asked for.
        asked: String,
        /// The names that exist.
        known: Vec<String>,
    },
    /// A table of ratings that is here already.
    #[error(
        "{file} was read in before, as import {number} on {day}; nothing was read in again. To take that one away, type in a terminal: thirdglass remove import {number}"
    )]
    ImportedBefore {
        /// The file.
        file: String,
        /// The number of the import.
        number: u32,
        /// The day.
        day: Day,
    },
    /// A table that repeats ratings of another one.
    #[error(
        "{file} repeats {ratings} of the ratings of import {number}, which would then count double; nothing was read in. Read in the new rows alone, or first take that import away: thirdglass remove import {number}"
    )]
    ImportOverlaps {
        /// The file.
        file: String,
        /// How many.
        ratings: u32,
        /// The number of the import.
        number: u32,
    },
    /// No import has the number.
    #[error("there is no import {number}; thirdglass taster imports lists those that there are")]
    NoImport {
        /// What was asked for.
        number: u32,
    },
    /// A line that a prediction does not have.
    #[error("no line of this prediction is called “{asked}”; {}", known_names(.asked, .known, "the lines are", "it has none"))]
    NoLine {
        /// What was asked for.
        asked: String,
        /// The lines there are.
        known: Vec<String>,
    },
    /// A course by this name is not there.
    #[error("no course is called “{asked}”; {}", known_names(.asked, .known, "the courses are", "there is none yet; the practice screen makes one, or type in a terminal: thirdglass practice course NAME --people A,B"))]
    NoCourse {
        /// What was asked for.
        asked: String,
        /// The names that exist.
        known: Vec<String>,
    },
    /// A course whose meetings were all held.
    #[error("all {meetings} meetings of “{name}” were planned; begin another course")]
    CourseOver {
        /// The course.
        name: String,
        /// How many meetings it has.
        meetings: u8,
    },
    /// A course whose next meeting was not planned yet.
    #[error("no evening of “{name}” is planned yet; plan one with: thirdglass practice evening {}", typed_word(.name))]
    NoEvening {
        /// The course.
        name: String,
    },
    /// The cap mark is taken.
    #[error("the cap mark “{mark}” is in use; bottles are told apart by it, so choose another")]
    MarkTaken {
        /// The mark.
        mark: String,
    },
    /// No recipe by this name was brewed.
    #[error("no recipe is called “{asked}”; {}", known_names(.asked, .known, "known here", "none was brewed yet; add a batch under Batches in the app, or type in a terminal: thirdglass batch add RECIPE"))]
    NoRecipeNamed {
        /// What was asked for.
        asked: String,
        /// The names that are like it, or else some of those there are.
        known: Vec<String>,
    },
    /// A recipe version is kept with other contents.
    #[error(
        "version {version} of “{name}” is kept already with other contents, and kept versions never change; give the file a new version and name this one as its parent"
    )]
    VersionTaken {
        /// The recipe.
        name: String,
        /// The version.
        version: String,
    },
    /// The name is taken.
    #[error("a taster called “{name}” is there already; choose a name that tells the two apart")]
    NameTaken {
        /// The name.
        name: String,
    },
    /// The plan is sealed.
    #[error(
        "{what} of “{mark}” is sealed until {}. To break the seal, type in a terminal: thirdglass compare {} --break-seal (this marks the open notes for ever)",
        sealed_until(.tasters, *.panel), typed_word(.mark)
    )]
    Sealed {
        /// What was asked for.
        what: &'static str,
        /// The cap mark.
        mark: String,
        /// Who is still tasting.
        tasters: Vec<String>,
        /// The number of the panel that holds it, where one does.
        panel: Option<u32>,
    },
    /// Every prediction waits while a batch is being tasted: a refusal of one recipe alone would
    /// tell what is in the glass.
    #[error(
        "predictions wait until {}, so that none of them tells what is in the glass",
        sealed_until(.tasters, *.panel)
    )]
    PredictionsWait {
        /// Who is still tasting.
        tasters: Vec<String>,
        /// The number of the panel that holds a batch, where one does.
        panel: Option<u32>,
    },
    /// Every history of a recipe waits while a batch is being tasted, for the same reason.
    #[error(
        "the histories of recipes wait until {}, so that none of them tells what is in the glass",
        sealed_until(.tasters, *.panel)
    )]
    HistoryWaits {
        /// Who is still tasting.
        tasters: Vec<String>,
        /// The number of the panel that holds a batch, where one does.
        panel: Option<u32>,
    },
    /// What was learnt of a taster waits while they taste anything: it would lead them.
    #[error(
        "what was learnt of {taster} waits until they lock the notes they have open or leave: who reads how they usually note, notes otherwise"
    )]
    LearntWaits {
        /// Whose record was asked for.
        taster: String,
    },
    /// The page of a taster waits while they taste anything: it would lead them.
    #[error(
        "the page of {taster} waits until {}: whoever knows how they usually answer may answer differently",
        sealed_until(std::slice::from_ref(.taster), *.panel)
    )]
    PageWaits {
        /// Whose page was asked for.
        taster: String,
        /// The panel that waits to be told, where it is one.
        panel: Option<u32>,
    },
    /// The taster left before the lock.
    #[error(
        "the tasting of “{mark}” was left without locking, so it takes no more answers; what was typed is kept, and a new tasting can be opened"
    )]
    Left {
        /// The cap mark.
        mark: String,
    },
    /// Nothing has been tasted yet.
    #[error(
        "nobody has locked notes on “{mark}” yet; taste it first in the app, or type in a terminal: thirdglass taste {} --taster NAME",
        typed_word(.mark)
    )]
    NothingTasted {
        /// The cap mark.
        mark: String,
    },
    /// A taster of whom nothing can be shown.
    #[error(
        "nothing on the wheel that {name} named can be shown yet: lock notes on a glass first, or wait until nobody tastes it any more"
    )]
    NothingNamed {
        /// Who.
        name: String,
    },
    /// Somebody who is not asked in a practice.
    #[error("{name} does not take part in this practice; begin one of your own")]
    NotInPractice {
        /// Who.
        name: String,
    },
    /// A practice without people or words.
    #[error("there is nothing to practise: name a taster, and words that have a jar")]
    NothingToPractise,
    /// A beer was to be compared with itself.
    #[error("“{mark}” was to be compared with itself; name another bottle")]
    SameBeer {
        /// The cap mark.
        mark: String,
    },
    /// A code that is under neither cup.
    #[error("no cup of this tasting has the code {code}; turn the left cup over and read it again")]
    NoSuchCup {
        /// What was read.
        code: BlindingCode,
    },
    /// The beer has no recipe.
    #[error(
        "“{mark}” is known by its cap mark only, so there is no plan to set beside the notes; add a batch with this mark under Batches in the app, or type in a terminal: thirdglass batch add RECIPE --mark {}",
        typed_word(.mark)
    )]
    NoRecipe {
        /// The cap mark.
        mark: String,
    },
    /// The notes are still open.
    #[error("the notes on “{mark}” are still open; lock them first, the second sniff comes after")]
    NotLocked {
        /// The cap mark.
        mark: String,
    },
    /// A glass that nobody should smell again.
    #[error(
        "something was wrong with this bottle of “{mark}”, so there is no second sniff of it; open another bottle and taste that one"
    )]
    BadBottle {
        /// The cap mark.
        mark: String,
    },
    /// No word is left for a second sniff.
    #[error(
        "no word is left for a second sniff of “{mark}”: nothing was hoped for or promised that can be smelled and does not stand in these notes already"
    )]
    NothingToSniff {
        /// The cap mark.
        mark: String,
    },
    /// A day in the log that has not come yet.
    #[error(
        "{what}: {day} is still to come, today is {today}; log it once it is done, or write the day as year-month-day"
    )]
    FutureDay {
        /// What is said to have been done.
        what: &'static str,
        /// The day that was given.
        day: Day,
        /// The day it is.
        today: Day,
    },
    /// A final gravity above the original one.
    #[error(
        "the final gravity {end:.4} lies above the original gravity {original:.4}, and gravity only falls while beer ferments; read both again, and log the wrong one first"
    )]
    GravityRises {
        /// The original gravity.
        original: f64,
        /// The final gravity.
        end: f64,
    },
    /// A final gravity at which less than nothing would be left.
    #[error(
        "the final gravity {end:.4} lies below what is left of the original gravity {original:.4} when all of it has fermented; read both again, without gas and at 20 °C"
    )]
    GravityTooLow {
        /// The original gravity.
        original: f64,
        /// The final gravity.
        end: f64,
    },
    /// A document in the store can no longer be read; it was valid when it was stored.
    #[error("the stored recipe of “{mark}” cannot be read any more: {}; the document itself is kept unchanged", listed(.problems))]
    StoredDocument {
        /// The cap mark.
        mark: String,
        /// What is wrong with it today.
        problems: Vec<Problem>,
    },
}

fn listed<P: ToString>(problems: &[P]) -> String {
    problems
        .iter()
        .map(P::to_string)
        .collect::<Vec<_>>()
        .join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sealed(tasters: &[&str]) -> String {
        WorkflowError::Sealed {
            what: "the plan",
            mark: "Green dot".to_owned(),
            tasters: tasters.iter().map(|it| (*it).to_owned()).collect(),
            panel: None,
        }
        .to_string()
    }

    #[test]
    fn the_seal_says_until_when_and_how_it_is_broken() {
        assert_eq!(
            sealed(&["Ana"]),
            "the plan of “Green dot” is sealed until Ana locks their notes or leaves. To break the \
             seal, type in a terminal: thirdglass compare \"Green dot\" --break-seal (this marks \
             the open notes for ever)"
        );
        assert!(sealed(&["Ana", "Ben"]).contains("until Ana and Ben lock their notes or leave."));
    }

    #[test]
    fn the_seal_of_a_panel_ends_when_its_glasses_are_told() {
        let told = WorkflowError::Sealed {
            what: "the plan",
            mark: "Green dot".to_owned(),
            tasters: vec!["Ana".to_owned()],
            panel: Some(2),
        };
        let told = told.to_string();
        assert!(told.starts_with(
            "the plan of “Green dot” is sealed until it is told what was in the glasses of a panel. To"
        ));
    }

    #[test]
    fn a_mark_with_a_blank_stands_in_quotes_in_every_suggested_command() {
        let mark = || "Green dot".to_owned();
        for error in [
            WorkflowError::NothingTasted { mark: mark() },
            WorkflowError::NoRecipe { mark: mark() },
        ] {
            let told = error.to_string();
            let (_, command) = told.split_once("thirdglass ").unwrap();
            assert!(command.contains("\"Green dot\""), "{told}");
        }
    }

    #[test]
    fn a_message_with_a_command_says_what_to_do_in_the_app_too() {
        let none = || Vec::<String>::new();
        let asked = || "S1".to_owned();
        for (error, app) in [
            (
                WorkflowError::NoBatch {
                    asked: asked(),
                    known: none(),
                },
                "under Batches in the app",
            ),
            (
                WorkflowError::NoTaster {
                    asked: asked(),
                    known: none(),
                },
                "a tasting asks for the name",
            ),
            (WorkflowError::NothingTasted { mark: asked() }, "in the app"),
            (
                WorkflowError::NoRecipe { mark: asked() },
                "under Batches in the app",
            ),
        ] {
            let told = error.to_string();
            assert!(told.contains(app), "{told}");
            assert!(told.contains("type in a terminal: thirdglass"), "{told}");
        }
    }
}
