//! The reading of one text: its TOML, and every problem found in it, placed by line and column.

use std::cell::Cell;
use std::cell::RefCell;

use toml::de::DeTable;
use toml::de::DeValue;

use crate::domain::hides;
use crate::formats::problem::Problem;
use crate::formats::problem::ProblemKind;
use crate::formats::problem::shown;

/// The longest text that is read, in bytes.
pub(crate) const MOST_BYTES: usize = 1 << 20;
/// The deepest nesting of tables and lists that is read.
pub(crate) const MOST_DEPTH: usize = 32;
/// The most problems listed of one file; what follows is counted.
pub(crate) const MOST_LISTED: usize = 200;

/// The most problems kept while a text is read; those beyond are only counted, however many a megabyte can hold. A
/// judgement: many times what is listed, so that echoes are told from faults, and a few hundred kilobytes at most.
const MOST_KEPT: usize = 20 * MOST_LISTED;

struct Finding {
    at: usize,
    kind: ProblemKind,
}

/// One text under the pencil.
pub(crate) struct Proof<'a> {
    file: &'a str,
    text: &'a str,
    findings: RefCell<Vec<Finding>>,
    /// Problems that were only counted.
    beyond: Cell<usize>,
}

impl<'a> Proof<'a> {
    /// Takes up a text; a byte order mark at its very beginning is no part of it.
    pub(crate) fn new(file: &'a str, text: &'a str) -> Self {
        Self {
            file,
            text: text.strip_prefix('\u{feff}').unwrap_or(text),
            findings: RefCell::default(),
            beyond: Cell::new(0),
        }
    }

    /// The TOML of the text as far as it can be read; what cannot is marked.
    pub(crate) fn parse(&self) -> DeTable<'a> {
        if self.text.len() > MOST_BYTES {
            self.mark(
                0,
                ProblemKind::TooLong {
                    bytes: self.text.len(),
                    most: MOST_BYTES,
                },
            );
            return DeTable::new();
        }
        self.mark_hidden();
        if self.beyond.get() > 0 {
            // No hand wrote this: what its TOML would be amiss in only echoes the signs that do not belong.
            return DeTable::new();
        }
        let (table, errors) = DeTable::parse_recoverable(self.text);
        for error in errors {
            let span = error.span().unwrap_or(0..0);
            let piece = self.text.get(span.clone()).unwrap_or_default();
            self.mark(span.start, syntax(error.message(), piece));
        }
        let table = table.into_inner();
        match too_deep(table.iter().map(|(_, it)| it), MOST_DEPTH) {
            Some(at) => {
                self.mark(at, ProblemKind::TooDeep { most: MOST_DEPTH });
                DeTable::new()
            }
            None => table,
        }
    }

    /// Writes a problem down at a byte of the text.
    pub(crate) fn mark(&self, at: usize, kind: impl Into<ProblemKind>) {
        let mut findings = self.findings.borrow_mut();
        if findings.len() == MOST_KEPT {
            self.beyond.set(self.beyond.get() + 1);
            return;
        }
        findings.push(Finding {
            at,
            kind: kind.into(),
        });
    }

    /// True while nothing is marked.
    pub(crate) fn is_clean(&self) -> bool {
        self.findings.borrow().is_empty()
    }

    /// True when so much is marked that advice on further problems would never be read.
    pub(crate) fn is_full(&self) -> bool {
        self.findings.borrow().len() > MOST_LISTED
    }

    /// The value if nothing was found, else every problem by place.
    pub(crate) fn conclude<T>(self, value: Option<T>) -> Result<T, Vec<Problem>> {
        let problems = self.problems();
        match value {
            Some(value) if problems.is_empty() => Ok(value),
            _ => Err(problems),
        }
    }

    /// Every problem by place.
    pub(crate) fn problems(self) -> Vec<Problem> {
        if self.is_clean() {
            return Vec::new();
        }
        let lines = Lines::of(self.text);
        let mut findings = without_echoes(self.findings.into_inner(), &lines);
        findings.sort_by_key(|it| it.at);
        let count = findings.len().saturating_sub(MOST_LISTED) + self.beyond.get();
        findings.truncate(MOST_LISTED + 1);
        let last = findings.last().map_or(0, |it| it.at);
        findings.truncate(MOST_LISTED);
        if count > 0 {
            findings.push(Finding {
                at: last,
                kind: ProblemKind::More { count },
            });
        }
        let mut problems: Vec<Problem> = findings
            .into_iter()
            .map(|Finding { at, kind }| {
                let (line, column) = lines.place(at);
                let file = self.file.to_owned();
                Problem {
                    file,
                    line,
                    column,
                    kind,
                }
            })
            .collect();
        problems.dedup();
        problems
    }

    fn mark_hidden(&self) {
        let is_plain = |byte: &u8| matches!(byte, b' '..=b'~' | b'\n' | b'\t');
        let mut from = 0;
        while let Some(step) = self.text.as_bytes()[from..]
            .iter()
            .position(|it| !is_plain(it))
        {
            let at = from + step;
            let rest = &self.text[at..];
            let Some(c) = rest.chars().next() else { return };
            if hides(c) && !rest.starts_with("\r\n") {
                self.mark(at, ProblemKind::Hidden { code: u32::from(c) });
            }
            from = at + c.len_utf8();
        }
    }
}

fn syntax(message: &str, piece: &str) -> ProblemKind {
    match message {
        "duplicate key" => ProblemKind::DoubleKey { key: shown(piece) },
        "recursion limit" | "cannot recurse further; max recursion depth met" => {
            ProblemKind::TooDeep { most: MOST_DEPTH }
        }
        other => ProblemKind::Syntax {
            found: shown_message(other),
        },
    }
}

/// The TOML reader's own words; they may be longer than a value, and are still bounded.
fn shown_message(message: &str) -> String {
    message.chars().take(160).collect()
}

/// Drops what only repeats a broken line: once a line cannot be read, its meaning cannot be judged,
/// and a key that seems missing may stand on it.
fn without_echoes(findings: Vec<Finding>, lines: &Lines<'_>) -> Vec<Finding> {
    let lines_of = |wanted: &dyn Fn(&ProblemKind) -> bool| -> std::collections::HashSet<usize> {
        findings
            .iter()
            .filter(|it| wanted(&it.kind))
            .map(|it| lines.line(it.at))
            .collect()
    };
    let hidden = lines_of(&|it| matches!(it, ProblemKind::Hidden { .. }));
    let broken = lines_of(&breaks);
    findings
        .into_iter()
        .filter(|it| match &it.kind {
            ProblemKind::Hidden { .. } | ProblemKind::DoubleKey { .. } => true,
            ProblemKind::Missing { .. } | ProblemKind::ExactlyOne { .. } => broken.is_empty(),
            kind if breaks(kind) => !hidden.contains(&lines.line(it.at)),
            _ => !broken.contains(&lines.line(it.at)),
        })
        .collect()
}

fn breaks(kind: &ProblemKind) -> bool {
    matches!(
        kind,
        ProblemKind::Syntax { .. }
            | ProblemKind::Hidden { .. }
            | ProblemKind::TooLong { .. }
            | ProblemKind::TooDeep { .. }
    )
}

fn too_deep<'v, 'i: 'v>(
    values: impl Iterator<Item = &'v toml::Spanned<DeValue<'i>>>,
    left: usize,
) -> Option<usize> {
    for value in values {
        let deeper = match value.get_ref() {
            DeValue::Array(_) | DeValue::Table(_) if left == 0 => Some(value.span().start),
            DeValue::Array(list) => too_deep(list.iter(), left - 1),
            DeValue::Table(table) => {
                // A boxed iterator keeps the recursion to one type.
                let values: Box<dyn Iterator<Item = _>> = Box::new(table.iter().map(|(_, it)| it));
                too_deep(values, left - 1)
            }
            _ => None,
        };
        if deeper.is_some() {
            return deeper;
        }
    }
    None
}

/// Where the lines of a text begin.
struct Lines<'a> {
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    fn of(text: &'a str) -> Self {
        let starts = std::iter::once(0)
            .chain(text.match_indices('\n').map(|(at, _)| at + 1))
            .collect();
        Self { text, starts }
    }

    /// The line of a byte, counted from 1.
    fn line(&self, at: usize) -> usize {
        self.starts.partition_point(|start| *start <= at)
    }

    /// Line and column of a byte, counted from 1.
    fn place(&self, at: usize) -> (usize, usize) {
        let line = self.line(at);
        let start = self.starts[line - 1];
        let before = self.text.get(start..at).unwrap_or_default();
        (line, before.chars().count() + 1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn problems(text: &str) -> Vec<(usize, usize, ProblemKind)> {
        let proof = Proof::new("a.toml", text);
        let table = proof.parse();
        drop(table);
        proof
            .problems()
            .into_iter()
            .map(|it| (it.line, it.column, it.kind))
            .collect()
    }

    #[test]
    fn every_broken_line_is_placed_at_once() {
        let found = problems("a = \nb = 1\nc = [1\nname = \"x\"\nb = 2\n");
        let places: Vec<usize> = found.iter().map(|it| it.0).collect();
        assert!(places.contains(&1), "{found:?}");
        assert!(found.len() >= 2, "{found:?}");
    }

    #[test]
    fn a_double_key_is_named_at_its_second_place() {
        assert_eq!(
            problems("\"a\" = 1\n  a = 2\n"),
            [(
                2,
                3,
                ProblemKind::DoubleKey {
                    key: "a".to_owned()
                }
            )]
        );
    }

    #[test]
    fn control_and_direction_characters_are_refused_with_their_place() {
        assert_eq!(
            problems("a = \"é\u{202e}\"\r\n# \u{1b}[2J\n"),
            [
                (1, 7, ProblemKind::Hidden { code: 0x202e }),
                (2, 3, ProblemKind::Hidden { code: 0x1b }),
            ]
        );
    }

    #[test]
    fn a_text_over_a_mebibyte_is_refused_unread() {
        let bytes = MOST_BYTES + 1;
        let most = MOST_BYTES;
        assert_eq!(
            problems(&"[".repeat(bytes)),
            [(1, 1, ProblemKind::TooLong { bytes, most })]
        );
    }

    #[test]
    fn nesting_is_read_to_its_limit_and_refused_beyond() {
        let nested = |depth: usize| format!("a = {}{}", "[".repeat(depth), "]".repeat(depth));
        assert_eq!(problems(&nested(MOST_DEPTH)), []);
        for depth in [MOST_DEPTH + 1, 1_000, 100_000] {
            let found = problems(&nested(depth));
            assert!(
                found
                    .iter()
                    .any(|it| it.2 == ProblemKind::TooDeep { most: MOST_DEPTH }),
                "{depth}: {:?}",
                found.first()
            );
        }
    }

    #[test]
    fn problems_without_end_are_counted_not_listed() {
        let found = problems(&"\u{1}".repeat(MOST_LISTED + 5));
        assert_eq!(found.len(), MOST_LISTED + 1);
        assert_eq!(found[MOST_LISTED].2, ProblemKind::More { count: 5 });
        // Beyond what is kept too: a megabyte can hold a million.
        let found = problems(&"\u{1}".repeat(MOST_KEPT + 7));
        let count = MOST_KEPT + 7 - MOST_LISTED;
        assert_eq!(found.len(), MOST_LISTED + 1);
        assert_eq!(found[MOST_LISTED].2, ProblemKind::More { count });
    }

    #[test]
    fn a_byte_order_mark_is_no_part_of_the_text() {
        assert_eq!(problems("\u{feff}a = 1\r\n"), []);
    }
}
