//! A question answered by typing or by choosing one of the names there are.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Action;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::TextEntry;

/// Names shown at once.
const SHOWN: usize = 12;

/// A line to type on, over a list of names that narrows as one types.
#[derive(Debug, Clone, Default)]
pub struct Asking {
    entry: TextEntry,
    names: Vec<String>,
    chosen: Option<usize>,
    /// What else than the names may be answered.
    other: Other,
}

/// What else than one of the names may be answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Other {
    /// Anything.
    #[default]
    Anything,
    /// Nothing.
    Nothing,
}

impl Asking {
    /// A question with these names to choose from.
    #[must_use]
    pub fn among(names: Vec<String>) -> Self {
        Self {
            entry: TextEntry::default(),
            names,
            ..Self::default()
        }
    }

    /// A question that is answered by one of these names and by nothing else.
    #[must_use]
    pub fn only(names: Vec<String>) -> Self {
        Self {
            other: Other::Nothing,
            ..Self::among(names)
        }
    }

    /// A question without names, with something typed already.
    #[must_use]
    pub fn typed(text: &str) -> Self {
        Self {
            entry: TextEntry::starting_with(text),
            ..Self::default()
        }
    }

    /// The same question with one name chosen beforehand, so that Enter alone takes it.
    #[must_use]
    pub fn choosing(mut self, name: &str) -> Self {
        self.chosen = self.shown().iter().position(|it| *it == name);
        self
    }

    /// The names that begin with what is typed.
    fn fitting(&self) -> impl Iterator<Item = &String> {
        let typed = self.entry.text().to_lowercase();
        let names = self.names.iter();
        names.filter(move |name| name.to_lowercase().starts_with(&typed))
    }

    /// As many of those as are shown.
    fn shown(&self) -> Vec<&String> {
        self.fitting().take(SHOWN).collect()
    }

    /// True if there is nothing to choose from.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.names.is_empty()
    }

    /// What is typed.
    #[must_use]
    pub fn text(&self) -> &str {
        self.entry.text()
    }

    /// True while something is typed.
    #[must_use]
    pub fn is_typing(&self) -> bool {
        !self.entry.is_empty()
    }

    /// The keys that work on it now.
    #[must_use]
    pub fn actions(&self) -> Vec<Action> {
        let mut actions = vec![Action::Accept];
        if self.is_typing() {
            actions.push(Action::Undo);
        }
        if !self.shown().is_empty() {
            actions.extend([Action::Up, Action::Down]);
        }
        actions.push(Action::Back);
        actions
    }

    /// Types a character.
    pub fn push(&mut self, c: char) {
        self.chosen = None;
        self.entry.push(c);
    }

    /// Types a pasted text.
    pub fn paste(&mut self, text: &str) {
        self.chosen = None;
        self.entry.paste(text);
    }

    /// Rubs out a character.
    pub fn rub_out(&mut self) {
        self.chosen = None;
        self.entry.rub_out();
    }

    /// Moves the choice among the names shown.
    pub fn turn(&mut self, by: isize) {
        let count = self.shown().len();
        if count > 0 {
            let from = self
                .chosen
                .map_or(if by > 0 { count - 1 } else { 0 }, |at| at);
            self.chosen = Some(from.saturating_add_signed(by + count.cast_signed()) % count);
        }
    }

    /// The answer: the chosen name, or what is typed.
    #[must_use]
    pub fn answer(&self) -> String {
        self.chosen
            .and_then(|row| self.shown().get(row).map(|name| (*name).clone()))
            .unwrap_or_else(|| self.entry.text().to_owned())
    }

    /// The name in a row.
    #[must_use]
    pub fn name_in(&self, row: usize) -> Option<String> {
        self.shown().get(row).map(|name| (*name).clone())
    }

    /// Draws the line and the names.
    pub fn draw(&self, page: &mut Page) {
        page.line(
            Line::of(Ink::Quiet, "> ")
                .and(Ink::Strong, self.entry.text())
                .and(Ink::Chosen, " "),
        );
        page.gap();
        for (index, name) in self.shown().into_iter().enumerate() {
            let (mark, ink) = if self.chosen == Some(index) {
                // What Enter takes is in sight, however much is told above it.
                page.focus = page.rows.len();
                ("▸ ", Ink::Chosen)
            } else {
                ("  ", Ink::Plain)
            };
            page.choice(
                Line::plain(mark).and(ink, format!(" {name} ")),
                Press::Row(index),
            );
        }
        let hidden = self.fitting().count().saturating_sub(SHOWN);
        if hidden > 0 {
            let more = format!("  … and {hidden} more; type how it begins");
            page.line(Line::of(Ink::Quiet, more));
        }
        if self.other == Other::Nothing && self.shown().is_empty() {
            page.line(Line::of(
                Ink::Alert,
                "  None of them begins so; Bksp shows them again.",
            ));
        }
    }
}
