//! The log of a batch as one record: what was measured, each thing once.

use crate::domain::BatchEntry;
use crate::domain::Day;
use crate::domain::EntryValue;

/// What the log says today; a later entry of a kind counts instead of an earlier one.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BatchLog {
    entries: Vec<BatchEntry>,
}

impl BatchLog {
    /// The log made of its current entries.
    #[must_use]
    pub const fn new(entries: Vec<BatchEntry>) -> Self {
        Self { entries }
    }

    /// All entries, in the order of writing.
    #[must_use]
    pub fn entries(&self) -> &[BatchEntry] {
        &self.entries
    }

    fn latest(&self, kind: &str) -> Option<&EntryValue> {
        self.entries
            .iter()
            .rev()
            .find(|entry| entry.kind.id == kind)
            .map(|entry| &entry.value)
    }

    /// The number logged under a kind, in its unit.
    #[must_use]
    pub fn number(&self, kind: &str) -> Option<f64> {
        Some(match self.latest(kind)? {
            EntryValue::Gravity(it) => it.get(),
            EntryValue::Volume(it) => it.get(),
            EntryValue::Temperature(it) => it.get(),
            EntryValue::Time(it) => it.get(),
            EntryValue::Mass(it) => it.get(),
            EntryValue::Count(it) => f64::from(*it),
            EntryValue::Date(_) | EntryValue::Text(_) | EntryValue::Document(_) => return None,
        })
    }

    /// The day logged under a kind.
    #[must_use]
    pub fn day(&self, kind: &str) -> Option<Day> {
        match self.latest(kind)? {
            EntryValue::Date(day) => Some(*day),
            _ => None,
        }
    }

    /// The latest document logged under a kind, with the entry it stands in.
    #[must_use]
    pub fn document(&self, kind: &str) -> Option<(&BatchEntry, &str)> {
        self.entries
            .iter()
            .rev()
            .find_map(|entry| match &entry.value {
                EntryValue::Document(text) if entry.kind.id == kind => Some((entry, text.as_str())),
                _ => None,
            })
    }
}
