//! A tasting as a list of steps, played as keys or as lines, and what it leaves in the file.

use std::collections::BTreeMap;
use std::path::Path;

use rusqlite::Connection;
use rusqlite::OpenFlags;

/// One thing a taster does.
pub(crate) enum Step {
    /// Types a text and accepts it.
    Line(&'static str),
    /// Types the first letters of a word, and its strength.
    Word(&'static str, u8),
    /// Answers with a digit.
    Digit(u8),
    /// Goes on.
    Go,
    /// Passes a question over.
    Skip,
    /// Says that it cannot be told.
    CannotTell,
    /// Starts or stops the watch.
    Watch,
    /// Takes the short glass.
    ShortGlass,
}

impl Step {
    /// The keys of the step; each sign is one key.
    pub(crate) fn keys(&self) -> String {
        match self {
            Self::Line(text) => format!("{text}\r"),
            Self::Word(letters, strength) => format!("{letters}{strength}"),
            Self::Digit(digit) => digit.to_string(),
            Self::Go => "\r".to_owned(),
            Self::Skip => " ".to_owned(),
            Self::CannotTell => "-".to_owned(),
            Self::Watch => ".".to_owned(),
            Self::ShortGlass => "s".to_owned(),
        }
    }

    /// The same step in the line-by-line mode.
    pub(crate) fn lines(&self) -> String {
        match self {
            Self::Line(text) => format!("{text}\n"),
            Self::Word(letters, strength) => format!("{letters}\n{strength}\n"),
            Self::Digit(digit) => format!("{digit}\n"),
            Self::Go => "\n".to_owned(),
            Self::Skip => "/skip\n".to_owned(),
            Self::CannotTell => "/cannot-tell\n".to_owned(),
            Self::Watch => "/watch\n".to_owned(),
            Self::ShortGlass => "/short\n".to_owned(),
        }
    }
}

/// A word as stored: stage, descriptor, strength, prompting.
pub(crate) type Named = (String, String, Option<i64>, String);

/// An answer as stored: state and value, by scale.
pub(crate) type Answers = BTreeMap<String, (String, Option<f64>)>;

/// One set of notes as stored, without ids and times.
#[derive(Debug, PartialEq)]
pub(crate) struct Kept {
    pub(crate) taster: String,
    pub(crate) form: String,
    pub(crate) knew: Option<String>,
    pub(crate) nose: Option<String>,
    pub(crate) field: String,
    pub(crate) locked: bool,
    pub(crate) answers: Answers,
    pub(crate) marks: Vec<Named>,
    /// Seconds between start and stop of each stopped watch, by scale.
    pub(crate) watched: BTreeMap<String, f64>,
}

impl Kept {
    /// Takes out the answers that the watches gave, each of which is checked to be the seconds
    /// between start and stop, rounded.
    pub(crate) fn without_watched(mut self) -> Self {
        for (scale, seconds) in std::mem::take(&mut self.watched) {
            let (state, value) = self.answers.remove(&scale).expect("a stopped watch rates");
            let value = value.expect("a watch gives seconds");
            assert_eq!(state, "rated");
            // Half a second of rounding, and a millisecond for the texts of the times.
            assert!((value - seconds).abs() <= 0.501, "{scale} {value}");
        }
        self
    }
}

/// Every set of notes in the file of a home, oldest first.
pub(crate) fn kept(home: &Path) -> Vec<Kept> {
    let file = home.join("thirdglass.db");
    let file = Connection::open_with_flags(file, OpenFlags::SQLITE_OPEN_READ_ONLY)
        .expect("the file of the home opens");
    let mut notes = file
        .prepare(
            "SELECT notes.id, taster.name, form, knew, nose, current_field, locked_at IS NOT NULL
             FROM notes JOIN seat ON seat.id = seat JOIN taster ON taster.id = taster
             ORDER BY typed_on",
        )
        .expect("the tables are there");
    notes
        .query_map((), |row| {
            let id: String = row.get(0)?;
            Ok(Kept {
                taster: row.get(1)?,
                form: row.get(2)?,
                knew: row.get(3)?,
                nose: row.get(4)?,
                field: row.get(5)?,
                locked: row.get(6)?,
                answers: answers(&file, &id),
                marks: marks(&file, &id),
                watched: watched(&file, &id),
            })
        })
        .expect("the rows can be asked for")
        .map(|row| row.expect("the row reads"))
        .collect()
}

fn answers(file: &Connection, notes: &str) -> Answers {
    let mut rows = file
        .prepare("SELECT scale, state, value FROM rating WHERE notes = ?1")
        .expect("the tables are there");
    rows.query_map([notes], |row| Ok((row.get(0)?, (row.get(1)?, row.get(2)?))))
        .expect("the rows can be asked for")
        .map(|row| row.expect("the row reads"))
        .collect()
}

fn marks(file: &Connection, notes: &str) -> Vec<Named> {
    let mut rows = file
        .prepare(
            "SELECT stage, descriptor, intensity, prompting FROM mark
             WHERE notes = ?1 ORDER BY position",
        )
        .expect("the tables are there");
    rows.query_map([notes], |row| {
        Ok((row.get(0)?, row.get(1)?, row.get(2)?, row.get(3)?))
    })
    .expect("the rows can be asked for")
    .map(|row| row.expect("the row reads"))
    .collect()
}

fn watched(file: &Connection, notes: &str) -> BTreeMap<String, f64> {
    let mut rows = file
        .prepare(
            "SELECT scale, (julianday(stopped_at) - julianday(started_at)) * 86400.0
             FROM stopwatch WHERE notes = ?1 AND stopped_at IS NOT NULL",
        )
        .expect("the tables are there");
    rows.query_map([notes], |row| Ok((row.get(0)?, row.get(1)?)))
        .expect("the rows can be asked for")
        .map(|row| row.expect("the row reads"))
        .collect()
}
