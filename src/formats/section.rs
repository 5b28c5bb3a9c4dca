//! One table of a text: its keys, the ones that were asked for, and the ones that mean nothing.

use std::cell::RefCell;

use toml::de::DeTable;
use toml::de::DeValue;

use crate::domain::nearest_names;
use crate::formats::entry::Entry;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::did_you_mean;
use crate::formats::problem::shown;
use crate::formats::proof::Proof;

/// A table under reading; every key that is asked for becomes a known one.
pub(crate) struct Section<'a> {
    pub(crate) proof: &'a Proof<'a>,
    table: &'a DeTable<'a>,
    /// Where the table begins, in bytes.
    pub(crate) at: usize,
    known: RefCell<Vec<&'static str>>,
}

impl<'a> Section<'a> {
    /// The table of the whole text, or one inside it that begins at a byte.
    pub(crate) fn new(proof: &'a Proof<'a>, table: &'a DeTable<'a>, at: usize) -> Self {
        Self {
            proof,
            table,
            at,
            known: RefCell::default(),
        }
    }

    /// The entry of a key, if it is there.
    pub(crate) fn entry(&self, key: &'static str) -> Option<Entry<'a>> {
        self.known.borrow_mut().push(key);
        let (key_place, value) = self
            .table
            .iter()
            .find(|(it, _)| it.get_ref().as_ref() == key)?;
        Some(Entry::new(self.proof, key, value, key_place.span().start))
    }

    /// The entry of a key that must be there; marked when it is not.
    pub(crate) fn required(&self, key: &'static str, example: &'static str) -> Option<Entry<'a>> {
        let entry = self.entry(key);
        if entry.is_none() {
            self.mark(ProblemKind::Missing { key, example });
        }
        entry
    }

    /// The table under a key, if it is there.
    pub(crate) fn section(&self, key: &'static str) -> Option<Section<'a>> {
        self.entry(key)?.section()
    }

    /// The list of tables under a key; empty if it is not there.
    pub(crate) fn sections(&self, key: &'static str) -> Vec<Section<'a>> {
        self.entry(key)
            .map(|entry| entry.items())
            .unwrap_or_default()
            .into_iter()
            .filter_map(|item| item.section())
            .collect()
    }

    /// Every key with its entry, in the order of the text, for tables whose keys are names.
    pub(crate) fn named_entries(&self, what: &'static str) -> Vec<(&'a str, Entry<'a>)> {
        let mut all: Vec<(usize, &'a str, Entry<'a>)> = self
            .table
            .iter()
            .map(|(key, value)| {
                let at = key.span().start;
                let entry = Entry::new(self.proof, what, value, at);
                (at, key.get_ref().as_ref(), entry)
            })
            .collect();
        all.sort_by_key(|it| it.0);
        all.into_iter()
            .map(|(_, key, entry)| (key, entry))
            .collect()
    }

    /// Marks a problem of the table as a whole.
    pub(crate) fn mark(&self, kind: impl Into<ProblemKind>) {
        self.proof.mark(self.at, kind);
    }

    /// Marks every key that nobody asked for.
    pub(crate) fn close(self) {
        let known = self.known.borrow();
        for (key, _) in self.table {
            let name = key.get_ref().as_ref();
            if !known.contains(&name) {
                let near = if self.proof.is_full() {
                    Vec::new()
                } else {
                    nearest_names(name, known.iter().copied(), 1)
                };
                let all = format!("known here: {}", known.join(", "));
                let key_shown = shown(name);
                let unknown = ProblemKind::UnknownKey {
                    key: key_shown,
                    advice: did_you_mean(&near, &all),
                };
                self.proof.mark(key.span().start, unknown);
            }
        }
    }
}

/// The type of a TOML value in plain words.
pub(crate) fn type_word(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "true or false",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
