//! The readable tables of a home in one list: what each is, its columns with their units, and where its rows come from.

use std::borrow::Cow;

use crate::domain::Day;
use crate::domain::Moment;
use crate::workflow::table_rows;
use crate::workflow::tables::Gathered;

/// What stands in one cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell<'a> {
    /// Not said.
    Nothing,
    /// An id, or a word of the program: no spreadsheet takes it for anything else.
    Id(&'a str),
    /// A text of a person.
    Text(Cow<'a, str>),
    /// A day.
    Day(Day),
    /// A point in time.
    Moment(Moment),
    /// A number.
    Number(f64),
    /// A whole number.
    Whole(i64),
    /// Yes or no.
    Is(bool),
}

/// The rows of a table as they are made, one after the other: a cell for every column.
pub type Rows<'a> = Box<dyn Iterator<Item = Vec<Cell<'a>>> + 'a>;

/// One column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    /// Its name in head rows and in JSON.
    pub name: &'static str,
    /// What stands in it.
    pub what: &'static str,
    /// Its unit; empty for texts and counts.
    pub unit: &'static str,
}

/// One table.
#[derive(Debug, Clone, Copy)]
pub struct TableKind {
    /// Its name, which is that of its file and of its list in JSON.
    pub name: &'static str,
    /// What one row is.
    pub what: &'static str,
    /// Its columns in their order.
    pub columns: &'static [Column],
    /// Its rows: a cell for every column.
    pub(super) rows: for<'a> fn(&'a Gathered) -> Rows<'a>,
}

const fn column(name: &'static str, what: &'static str) -> Column {
    Column {
        name,
        what,
        unit: "",
    }
}

const fn measured(name: &'static str, what: &'static str, unit: &'static str) -> Column {
    Column { name, what, unit }
}

const NOTES: Column = column("notes", "the id of the notes, as in notes");
const TASTER: Column = column("taster", "who");
const BEER: Column = column("beer", "the cap mark");
const TASTED_ON: Column = measured("tasted_on", "when it was tasted", "day");
const GIVEN_AT: Column = measured("given_at", "when it was answered", "time in UTC");
const BEGUN_AT: Column = measured("begun_at", "when the practice was begun", "time in UTC");

/// Every table, in the order in which they are told.
pub static TABLES: &[TableKind] = &[
    TableKind {
        name: "notes",
        what: "one taster with one glass",
        columns: &[
            NOTES,
            TASTER,
            BEER,
            column("code", "the code of the glass"),
            column("sitting", "the id of the sitting"),
            column("kind", "the kind of sitting"),
            column("round", "1 for the first pass"),
            column("form", "full or short"),
            column("source", "where the notes came from"),
            column("knew", "what was known beforehand"),
            column("nose", "the state of the nose"),
            TASTED_ON,
            measured("typed_at", "when typing began", "time in UTC"),
            measured("locked_at", "when they became final", "time in UTC"),
            measured(
                "left_at",
                "when the taster left without locking",
                "time in UTC",
            ),
            measured("seal_broken_at", "when the seal was broken", "time in UTC"),
            column("bottle_fault", "what was wrong with the bottle"),
            column("remark", "in the taster's own words"),
        ],
        rows: table_rows::notes,
    },
    TableKind {
        name: "ratings",
        what: "one answer on a scale",
        columns: &[
            NOTES,
            TASTER,
            BEER,
            TASTED_ON,
            column("scale", "the id of the scale"),
            column("state", "rated, skipped or cannot-tell"),
            measured("value", "the answer, if it was rated", "as in unit"),
            column(
                "unit",
                "the unit of the value; empty for digits from 0 to 9",
            ),
        ],
        rows: table_rows::ratings,
    },
    TableKind {
        name: "words",
        what: "one thing that was named",
        columns: &[
            NOTES,
            TASTER,
            BEER,
            TASTED_ON,
            column("stage", "appearance, aroma, flavour, body or finish"),
            column("named", "descriptor, shelf, place or own words"),
            column("word", "its id, or the taster's own words"),
            measured("intensity", "how strong", "0 to 9"),
            column("asked_for", "whether the word was asked for"),
        ],
        rows: table_rows::words,
    },
    TableKind {
        name: "second-sniff",
        what: "one word of a second sniff that was answered",
        columns: &[
            NOTES,
            TASTER,
            BEER,
            column("word", "the id of the word"),
            column(
                "why_asked",
                "hoped, promised or decoy; told once all are answered",
            ),
            column("answer", "there, not-there or cannot-tell"),
            GIVEN_AT,
        ],
        rows: table_rows::second_sniff,
    },
    TableKind {
        name: "tests",
        what: "one blind test as planned",
        columns: &[
            column("test", "its number"),
            column("method", "the id of the method"),
            column("purpose", "difference or similarity"),
            column("beer_a", "the cap mark of the first beer"),
            column("beer_b", "the cap mark of the second beer"),
            measured("alpha", "the risk of seeing what is not there", "0 to 1"),
            measured("beta", "the risk of missing what is there", "0 to 1"),
            measured(
                "pd",
                "the share of people who can tell that matters",
                "0 to 1",
            ),
            column("places", "how many people"),
            column("rounds", "how many sets for each"),
            measured("glass", "what is in a glass", "mL"),
            measured("made_at", "when it was planned", "time in UTC"),
            measured("closed_at", "when it was closed", "time in UTC"),
        ],
        rows: table_rows::tests,
    },
    TableKind {
        name: "test-answers",
        what: "one answer to a blind test that is closed, the last one to its set",
        columns: &[
            column("test", "the number of the test"),
            TASTER,
            column("set", "which set, from 1"),
            column("code", "the code chosen"),
            column("right", "whether it was; empty where no answer is right"),
            column("sureness", "guess, rather or sure"),
            column("prefers", "the cap mark of the beer liked better"),
            column("differences", "what differed, in words"),
            GIVEN_AT,
        ],
        rows: table_rows::test_answers,
    },
    TableKind {
        name: "practice",
        what: "one answer in practice",
        columns: &[
            TASTER,
            BEGUN_AT,
            column("kind", "words, jars or presence"),
            column("form", "how the word was asked for"),
            column("word", "the id of the word it was about"),
            column("code", "the code on the jar or glass"),
            column("reply", "place, shelf, word, presence or cannot-tell"),
            column("chosen", "what was answered"),
            measured("certainty", "how sure", "per cent"),
            GIVEN_AT,
        ],
        rows: table_rows::practice,
    },
    TableKind {
        name: "strength",
        what: "one answer to a series from weak to strong",
        columns: &[
            TASTER,
            BEGUN_AT,
            column("scale", "the id of the scale"),
            column("step", "which step the glass is, from 1"),
            column("code", "the code on the glass"),
            column("reply", "rated, or placed in the order"),
            measured(
                "value",
                "rated: how strong; placed: which step",
                "0 to 9, or 1 to 5",
            ),
            GIVEN_AT,
        ],
        rows: table_rows::strength,
    },
    TableKind {
        name: "tasters",
        what: "one person",
        columns: &[
            TASTER,
            measured("added_at", "when they were added", "time in UTC"),
        ],
        rows: table_rows::tasters,
    },
    TableKind {
        name: "recipes",
        what: "one version of a recipe",
        columns: &[
            column("recipe", "its name"),
            column("version", "its version"),
            column("parent", "the version it came from"),
            column("reason", "why it was made"),
            measured("kept_at", "when it was kept", "time in UTC"),
            column("hash", "SHA-256 of the document"),
            column("document", "the recipe file as it was read"),
        ],
        rows: table_rows::recipes,
    },
    TableKind {
        name: "batches",
        what: "one brew",
        columns: &[
            BEER,
            column(
                "recipe",
                "name and version of its recipe; empty while it is sealed",
            ),
            measured("packaged", "when it was packaged", "day"),
            column("bottles_left", "bottles left"),
            column("tasted", "how many sets of notes on it are locked"),
        ],
        rows: table_rows::batches,
    },
    TableKind {
        name: "log",
        what: "one line in the log of a batch",
        columns: &[
            BEER,
            column("kind", "what was logged"),
            column("value", "the value"),
            column("unit", "the unit of the value"),
            measured("written_at", "when it was written", "time in UTC"),
        ],
        rows: table_rows::log,
    },
    TableKind {
        name: "imported-ratings",
        what: "one rating that was kept elsewhere and read in",
        columns: &[
            TASTER,
            column("sitting", "the sitting, as it was called there"),
            column("sample", "the beer, as it was called there"),
            column("replicate", "which glass of it, from 1"),
            TASTED_ON,
            column("scale", "the line, as it was called there"),
            measured("value", "the answer", "0 to 9"),
        ],
        rows: table_rows::imported,
    },
];
