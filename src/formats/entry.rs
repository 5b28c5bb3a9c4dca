//! One value of a text with its place, read as what it should be; what it is not is marked.

use toml::de::DeValue;

use crate::domain::Invalid;
use crate::domain::Name;
use crate::domain::Remark;
use crate::domain::Spread;
use crate::domain::hides;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::shown;
use crate::formats::proof::Proof;
use crate::formats::quantity_text::Measured;
use crate::formats::quantity_text::read_number;
use crate::formats::section::Section;
use crate::formats::section::type_word;

/// A value and what a message calls it.
#[derive(Clone, Copy)]
pub(crate) struct Entry<'a> {
    proof: &'a Proof<'a>,
    what: &'static str,
    value: &'a DeValue<'a>,
    at: usize,
    key_at: usize,
}

impl<'a> Entry<'a> {
    /// A value whose key stands at the byte `key_at`.
    pub(crate) fn new(
        proof: &'a Proof<'a>,
        what: &'static str,
        value: &'a toml::Spanned<DeValue<'a>>,
        key_at: usize,
    ) -> Self {
        let at = value.span().start;
        let value = value.get_ref();
        Self {
            proof,
            what,
            value,
            at,
            key_at,
        }
    }

    /// Marks a problem at the value.
    pub(crate) fn mark(&self, kind: impl Into<ProblemKind>) {
        self.proof.mark(self.at, kind);
    }

    /// Marks a problem at the key.
    pub(crate) fn mark_key(&self, kind: impl Into<ProblemKind>) {
        self.proof.mark(self.key_at, kind);
    }

    /// The value of a result, or its problem marked.
    pub(crate) fn settle<T>(&self, result: Result<T, impl Into<ProblemKind>>) -> Option<T> {
        result.map_err(|problem| self.mark(problem)).ok()
    }

    /// Marks that the value has another type than the one wanted.
    pub(crate) fn wrong_type(&self, wanted: &'static str) {
        self.mark(ProblemKind::WrongType {
            what: self.what,
            found: type_word(self.value),
            wanted,
        });
    }

    /// The text, whatever its length.
    pub(crate) fn text(&self) -> Option<&'a str> {
        let text = self.value.as_str();
        if text.is_none() {
            self.wrong_type("a text in quotes");
        }
        text
    }

    /// A name of at most 80 characters.
    pub(crate) fn name(&self) -> Option<Name> {
        self.settle(Name::new(self.what, self.text()?))
    }

    /// A free text of several lines.
    pub(crate) fn remark(&self) -> Option<Remark> {
        self.settle(Remark::new(self.what, self.text()?))
    }

    /// One visible line of at most `most` characters, trimmed.
    pub(crate) fn line(&self, most: usize) -> Option<String> {
        let text = self.text()?.trim();
        let what = self.what;
        let result = if text.is_empty() {
            Err(Invalid::Empty { what })
        } else if text.chars().nth(most).is_some() {
            Err(Invalid::TooLong { what, most })
        } else if let Some(index) = text.chars().position(hides) {
            let at = index + 1;
            Err(Invalid::ControlCharacter { what, at })
        } else {
            Ok(text.to_owned())
        };
        self.settle(result)
    }

    /// A text read by a function of the domain, such as one of its closed lists.
    pub(crate) fn read<T>(&self, read: impl Fn(&str) -> Result<T, Invalid>) -> Option<T> {
        self.settle(read(self.text()?.trim()))
    }

    /// A finite number.
    pub(crate) fn number(&self) -> Option<f64> {
        let Some(literal) = self.plain_number() else {
            self.wrong_type("a number");
            return None;
        };
        self.settle(read_number(self.what, literal))
    }

    /// The letters of a number, if the value is one.
    pub(crate) fn plain_number(&self) -> Option<&'a str> {
        match self.value {
            DeValue::Integer(it) if it.radix() == 10 => Some(it.as_str()),
            DeValue::Float(it) => Some(it.as_str()),
            _ => None,
        }
    }

    /// True or false.
    pub(crate) fn truth(&self) -> Option<bool> {
        let truth = self.value.as_bool();
        if truth.is_none() {
            self.wrong_type("true or false");
        }
        truth
    }

    /// The letters of a text, a number, or a date, for values that are read from letters.
    pub(crate) fn letters(&self) -> Option<String> {
        match (self.value, self.plain_number()) {
            (DeValue::Datetime(it), _) => Some(it.to_string()),
            (_, Some(number)) => Some(number.to_owned()),
            _ => self.text().map(str::to_owned),
        }
    }

    /// An amount with its unit.
    pub(crate) fn quantity<Q>(
        &self,
        measured: &Measured,
        make: impl Fn(f64) -> Result<Q, Invalid>,
    ) -> Option<Q> {
        let number = self.amount(measured)?;
        self.settle(make(number))
    }

    /// An amount in the base unit of what is measured.
    pub(crate) fn amount(&self, measured: &Measured) -> Option<f64> {
        let result = match self.plain_number() {
            Some(number) => measured.read_plain(number),
            None => measured.read(self.text()?),
        };
        self.settle(result)
    }

    /// A list `[low, usual, high]` of three numbers.
    pub(crate) fn spread(&self, least: f64, most: f64) -> Option<Spread> {
        let items = self.items();
        let numbers: Vec<f64> = items.iter().filter_map(Self::number).collect();
        match (items.len(), <[f64; 3]>::try_from(numbers)) {
            (3, Ok(three)) => self.settle(Spread::new(self.what, three, least, most)),
            // A list is marked only when its items were fit: each unfit one is marked by itself.
            (3, Err(_)) => None,
            (count, _) => {
                if self.value.is_array() {
                    self.mark(Invalid::Unreadable {
                        what: self.what,
                        found: format!("a list of {count}"),
                        example: "[low, usual, high]",
                    });
                }
                None
            }
        }
    }

    /// The items of a list; none, and marked, if the value is no list.
    pub(crate) fn items(&self) -> Vec<Entry<'a>> {
        let Some(list) = self.value.as_array() else {
            self.wrong_type("a list, or [[…]] above each");
            return Vec::new();
        };
        list.iter()
            .map(|value| Entry::new(self.proof, self.what, value, value.span().start))
            .collect()
    }

    /// A list of members of a closed list, each once.
    pub(crate) fn choices<T: PartialEq + Copy>(
        &self,
        from_id: impl Fn(&str) -> Result<T, Invalid>,
    ) -> Vec<T> {
        let mut found = Vec::new();
        for item in self.items() {
            let Some(choice) = item.read(&from_id) else {
                continue;
            };
            if found.contains(&choice) {
                let again = shown(item.text().unwrap_or_default());
                item.mark(ProblemKind::Twice {
                    what: self.what,
                    found: again,
                });
            } else {
                found.push(choice);
            }
        }
        found
    }

    /// A list of lines.
    pub(crate) fn lines(&self, most: usize) -> Vec<String> {
        self.items().iter().filter_map(|it| it.line(most)).collect()
    }

    /// The table.
    pub(crate) fn section(&self) -> Option<Section<'a>> {
        let Some(table) = self.value.as_table() else {
            self.wrong_type("a table of keys and values");
            return None;
        };
        Some(Section::new(self.proof, table, self.at))
    }

    /// True when the value is a table.
    pub(crate) fn is_table(&self) -> bool {
        self.value.is_table()
    }
}
