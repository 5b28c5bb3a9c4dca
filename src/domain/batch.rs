//! One brew of one recipe version, with its log.

use std::fmt;

use crate::domain::Acidity;
use crate::domain::BatchEntryId;
use crate::domain::BatchId;
use crate::domain::CellDensity;
use crate::domain::Celsius;
use crate::domain::Day;
use crate::domain::Grams;
use crate::domain::Gravity;
use crate::domain::Invalid;
use crate::domain::Litres;
use crate::domain::Minutes;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::RecipeVersionId;
use crate::domain::Remark;

/// A batch as stored; its intent is the one of its recipe version, frozen at `made_at`.
#[derive(Debug, Clone, PartialEq)]
pub struct Batch {
    /// The id.
    pub id: BatchId,
    /// The recipe version that was brewed.
    pub version: RecipeVersionId,
    /// What is written on its caps.
    pub cap_mark: Name,
    /// When it was added, which dates its intent.
    pub made_at: Moment,
}

/// What an entry of the log holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EntryMeasure {
    /// A specific gravity, or degrees Plato where written so.
    Gravity,
    /// Litres.
    Volume,
    /// Degrees Celsius.
    Temperature,
    /// Minutes.
    Time,
    /// Grams.
    Mass,
    /// A pH.
    Acidity,
    /// Million cells in a millilitre.
    CellDensity,
    /// A day of the calendar.
    Date,
    /// A whole number.
    Count,
    /// Free text.
    Text,
    /// An intent written again after the batch was added.
    Intent,
}

impl EntryMeasure {
    /// How its unit may be written, first as it is shown.
    #[must_use]
    pub const fn unit_names(self) -> &'static [&'static str] {
        match self {
            Self::Volume => &["L", "l", "litres"],
            Self::Temperature => &["°C", "°c", "C", "c"],
            Self::Time => &["min", "minutes"],
            Self::Mass => &["g", "grams"],
            Self::CellDensity => &["million/mL", "million cells/mL"],
            Self::Acidity
            | Self::Gravity
            | Self::Date
            | Self::Count
            | Self::Text
            | Self::Intent => &[],
        }
    }
}

/// One kind of entry: the whole knowledge about it.
#[derive(Debug, PartialEq, Eq)]
pub struct EntryKind {
    /// The id in columns and commands.
    pub id: &'static str,
    /// The words on screen.
    pub word: &'static str,
    /// What it holds.
    pub measure: EntryMeasure,
    /// An example for help texts and messages.
    pub example: &'static str,
}

const fn kind(
    id: &'static str,
    word: &'static str,
    measure: EntryMeasure,
    example: &'static str,
) -> EntryKind {
    EntryKind {
        id,
        word,
        measure,
        example,
    }
}

/// Every kind of entry, in the order of a brew.
pub static ENTRY_KINDS: &[EntryKind] = &[
    kind("brewed", "Brewed on", EntryMeasure::Date, "2026-03-14"),
    kind(
        "mash-temperature",
        "Mash temperature",
        EntryMeasure::Temperature,
        "67",
    ),
    kind(
        "sparge-temperature",
        "Sparge temperature",
        EntryMeasure::Temperature,
        "76",
    ),
    kind("sparge-ph", "Sparge pH", EntryMeasure::Acidity, "5.6"),
    kind("boil-time", "Boil time", EntryMeasure::Time, "60"),
    kind(
        "boil-covered",
        "Boiled under a lid",
        EntryMeasure::Time,
        "10",
    ),
    kind(
        "cooling-time",
        "Cooling to 25 °C took",
        EntryMeasure::Time,
        "20",
    ),
    kind(
        "volume-fermenter",
        "Volume into the fermenter",
        EntryMeasure::Volume,
        "4.6",
    ),
    kind(
        "original-gravity",
        "Original gravity",
        EntryMeasure::Gravity,
        "1.052",
    ),
    kind(
        "pitching-temperature",
        "Pitching temperature",
        EntryMeasure::Temperature,
        "18",
    ),
    kind(
        "pitching-rate",
        "Yeast pitched",
        EntryMeasure::CellDensity,
        "9",
    ),
    kind(
        "fermentation-temperature",
        "Fermentation temperature",
        EntryMeasure::Temperature,
        "19",
    ),
    kind(
        "dry-hopped",
        "Dry hopped on",
        EntryMeasure::Date,
        "2026-03-21",
    ),
    kind(
        "splashed",
        "Splashed after pitching",
        EntryMeasure::Count,
        "1",
    ),
    kind(
        "final-gravity",
        "Final gravity",
        EntryMeasure::Gravity,
        "1.011",
    ),
    kind("packaged", "Packaged on", EntryMeasure::Date, "2026-03-28"),
    kind(
        "volume-packaged",
        "Volume packaged",
        EntryMeasure::Volume,
        "4.2",
    ),
    kind(
        "priming-sugar",
        "Priming sugar, whole batch",
        EntryMeasure::Mass,
        "25",
    ),
    kind(
        "storage-temperature",
        "Storage temperature",
        EntryMeasure::Temperature,
        "14",
    ),
    kind(
        "daylight",
        "Bottles stood in daylight",
        EntryMeasure::Time,
        "30",
    ),
    kind("bottles-left", "Bottles left", EntryMeasure::Count, "9"),
    kind(
        "note",
        "Note",
        EntryMeasure::Text,
        "slow lauter, hot sparge",
    ),
    kind(
        "intent",
        "Intent written again",
        EntryMeasure::Intent,
        "FILE",
    ),
];

impl EntryKind {
    /// The kind with this id.
    ///
    /// # Errors
    /// No kind has the id; the message names all.
    pub fn from_id(id: &str) -> Result<&'static Self, Invalid> {
        ENTRY_KINDS
            .iter()
            .find(|kind| kind.id == id)
            .ok_or_else(|| Invalid::NotAChoice {
                what: "what to log",
                found: id.chars().take(60).collect(),
                choices: ENTRY_KINDS
                    .iter()
                    .map(|kind| kind.id)
                    .collect::<Vec<_>>()
                    .join(", "),
            })
    }

    /// The number in a text, with or without its unit; a gravity of 1052 is 1.052.
    fn number_in(&self, text: &str) -> Option<f64> {
        let bare = self
            .measure
            .unit_names()
            .iter()
            .find_map(|unit| text.strip_suffix(unit))
            .unwrap_or(text);
        let number = bare.trim_end().parse::<f64>().ok()?;
        let in_points = self.measure == EntryMeasure::Gravity && number >= 900.0;
        Some(if in_points { number / 1_000.0 } else { number })
    }

    /// A value of this kind with its unit.
    #[must_use]
    pub fn words_for(&self, value: &EntryValue) -> String {
        match self.measure.unit_names() {
            [unit, ..] => format!("{value} {unit}"),
            [] => value.to_string(),
        }
    }

    /// Reads a value for this kind.
    ///
    /// # Errors
    /// The text is no such value, or an absurd one.
    pub fn read(&'static self, text: &str) -> Result<EntryValue, Invalid> {
        let text = text.trim();
        let unreadable = || Invalid::Unreadable {
            what: self.word,
            found: text.chars().take(40).collect(),
            example: self.example,
        };
        let number = || self.number_in(text).ok_or_else(unreadable);
        let value = match self.measure {
            EntryMeasure::Gravity => Gravity::new(number()?).map(EntryValue::Gravity),
            EntryMeasure::Volume => Litres::new(number()?).map(EntryValue::Volume),
            EntryMeasure::Temperature => Celsius::new(number()?).map(EntryValue::Temperature),
            EntryMeasure::Time => Minutes::new(number()?).map(EntryValue::Time),
            EntryMeasure::Mass => Grams::new(number()?).map(EntryValue::Mass),
            EntryMeasure::Acidity => Acidity::new(number()?).map(EntryValue::Acidity),
            EntryMeasure::CellDensity => CellDensity::new(number()?).map(EntryValue::CellDensity),
            EntryMeasure::Date => Day::parse(text).map(EntryValue::Date),
            EntryMeasure::Count => text
                .parse()
                .map(EntryValue::Count)
                .map_err(|_| unreadable()),
            EntryMeasure::Text => Remark::new(self.word, text).map(EntryValue::Text),
            EntryMeasure::Intent => Ok(EntryValue::Document(text.to_owned())),
        };
        value.map_err(|refused| refused.of(self.word))
    }
}

/// The value of an entry.
#[derive(Debug, Clone, PartialEq)]
pub enum EntryValue {
    /// A specific gravity.
    Gravity(Gravity),
    /// Litres.
    Volume(Litres),
    /// Degrees Celsius.
    Temperature(Celsius),
    /// Minutes.
    Time(Minutes),
    /// Grams.
    Mass(Grams),
    /// A pH.
    Acidity(Acidity),
    /// Million cells in a millilitre.
    CellDensity(CellDensity),
    /// A day.
    Date(Day),
    /// A whole number.
    Count(u16),
    /// Text.
    Text(Remark),
    /// A document as it was read, checked by whoever read it.
    Document(String),
}

impl EntryValue {
    /// The number in its unit; none for a day or a text.
    #[must_use]
    pub fn number(&self) -> Option<f64> {
        Some(match self {
            Self::Gravity(it) => it.get(),
            Self::Volume(it) => it.get(),
            Self::Temperature(it) => it.get(),
            Self::Time(it) => it.get(),
            Self::Mass(it) => it.get(),
            Self::Acidity(it) => it.get(),
            Self::CellDensity(it) => it.get(),
            Self::Count(it) => f64::from(*it),
            Self::Date(_) | Self::Text(_) | Self::Document(_) => return None,
        })
    }
}

impl fmt::Display for EntryValue {
    /// The form that [`EntryKind::read`] reads back.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Gravity(it) => write!(f, "{:.4}", it.get()),
            Self::Volume(it) => write!(f, "{}", it.get()),
            Self::Temperature(it) => write!(f, "{}", it.get()),
            Self::Time(it) => write!(f, "{}", it.get()),
            Self::Mass(it) => write!(f, "{}", it.get()),
            Self::Acidity(it) => write!(f, "{}", it.get()),
            Self::CellDensity(it) => write!(f, "{}", it.get()),
            Self::Date(it) => write!(f, "{it}"),
            Self::Count(it) => write!(f, "{it}"),
            Self::Text(it) => f.write_str(it.as_str()),
            Self::Document(it) => f.write_str(it),
        }
    }
}

/// One line of a batch's log; a later line of the same kind (but notes) counts instead of the earlier.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchEntry {
    /// The id.
    pub id: BatchEntryId,
    /// What it tells.
    pub kind: &'static EntryKind,
    /// The value.
    pub value: EntryValue,
    /// When it was written down.
    pub at: Moment,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_reads_its_own_example() {
        for kind in ENTRY_KINDS {
            let value = kind.read(kind.example).unwrap();
            assert_eq!(kind.read(&value.to_string()), Ok(value), "{}", kind.id);
        }
    }

    #[test]
    fn a_unit_may_be_written_and_a_gravity_may_stand_in_points() {
        let read = |kind: &str, text: &str| EntryKind::from_id(kind).unwrap().read(text);
        for (kind, plain, written) in [
            ("priming-sugar", "40", "40 g"),
            ("volume-packaged", "5.5", "5.5 L"),
            ("mash-temperature", "66", "66°C"),
            ("boil-time", "60", "60 min"),
            ("original-gravity", "1.052", "1052"),
        ] {
            assert_eq!(read(kind, written), read(kind, plain), "{written}");
        }
        assert!(read("priming-sugar", "40 L").is_err());
    }

    #[test]
    fn nonsense_in_the_log_is_refused() {
        let gravity = EntryKind::from_id("original-gravity").unwrap();
        for bad in ["5", "NaN", "", "heavy", "1e308", "1.052 kg"] {
            assert!(gravity.read(bad).is_err(), "{bad}");
        }
        let refused = gravity.read("5").unwrap_err().to_string();
        assert_eq!(
            refused,
            "Original gravity: found 5; it must lie between 0.98 and 1.2"
        );
    }
}
