//! A new line in the log of a batch: what, then how much.

use crate::domain::ENTRY_KINDS;
use crate::domain::EntryKind;
use crate::domain::EntryMeasure;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::long_list::moved;
use crate::screens::question::Answered;
use crate::screens::question::answered;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// One new line in a batch's log: what, then how much.
pub(super) struct LogScreen {
    mark: String,
    chosen: usize,
    kind: Option<&'static EntryKind>,
    asking: Asking,
}

impl LogScreen {
    pub(super) fn new(mark: &str) -> Self {
        Self {
            mark: mark.to_owned(),
            chosen: 0,
            kind: None,
            asking: Asking::default(),
        }
    }

    fn choose(&mut self, row: usize) -> Next {
        self.kind = ENTRY_KINDS.get(row);
        Next::Stay
    }

    fn accept(
        &mut self,
        value: &str,
        kind: &EntryKind,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        home.log_entry(&self.mark, kind.id, value)?;
        Ok(Next::Close)
    }
}

/// What is expected for a kind, in words.
const fn unit(kind: &EntryKind) -> &'static str {
    match kind.measure {
        EntryMeasure::Gravity => "specific gravity",
        EntryMeasure::Volume => "litres",
        EntryMeasure::Temperature => "°C",
        EntryMeasure::Time => "minutes",
        EntryMeasure::Mass => "grams",
        EntryMeasure::Date => "year-month-day",
        EntryMeasure::Acidity => "pH",
        EntryMeasure::CellDensity => "million cells in a mL",
        EntryMeasure::Count => "a whole number",
        EntryMeasure::Text => "in your own words",
        EntryMeasure::Intent => "the path of a file with an [intent]",
    }
}

impl Screen for LogScreen {
    fn title(&self) -> String {
        format!("Log of {}", self.mark)
    }

    fn page(&mut self, _home: &mut Home, _room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        if let Some(kind) = self.kind {
            page.line(Line::of(
                Ink::Strong,
                format!("{} ({}), such as {}", kind.word, unit(kind), kind.example),
            ));
            page.gap();
            self.asking.draw(&mut page);
            return Ok(page);
        }
        for (index, kind) in ENTRY_KINDS.iter().enumerate() {
            let chosen = index == self.chosen;
            if chosen {
                page.focus = page.rows.len();
            }
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            page.choice(
                Line::plain("  ")
                    .and(ink, format!(" {:<28} ", kind.word))
                    .and(Ink::Quiet, unit(kind)),
                Press::Row(index),
            );
        }
        Ok(page)
    }

    fn input(&self) -> Input {
        if self.kind.is_some() {
            Input::Text
        } else {
            Input::Keys
        }
    }

    fn is_typing(&self) -> bool {
        self.asking.is_typing()
    }

    fn actions(&self) -> Vec<Action> {
        if self.kind.is_some() {
            self.asking.actions()
        } else {
            vec![Action::Accept, Action::Up, Action::Down, Action::Back]
        }
    }

    fn explanation(&self) -> &'static str {
        "A later entry of the same kind counts instead of the earlier one, which is kept. Notes are added up."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if let Some(kind) = self.kind {
            return match answered(&mut self.asking, act) {
                Answered::With(value) => self.accept(&value, kind, home),
                Answered::NotYet => Ok(Next::Stay),
                Answered::Back => {
                    self.kind = None;
                    Ok(Next::Stay)
                }
            };
        }
        Ok(match act {
            Act::Do(Action::Accept) => self.choose(self.chosen),
            Act::Row(row) => self.choose(row),
            Act::Do(Action::Back) => Next::Close,
            _ => {
                let moved = moved(self.chosen, act, ENTRY_KINDS.len());
                self.chosen = moved.unwrap_or(self.chosen);
                Next::Stay
            }
        })
    }

    fn paste(&mut self, text: &str) {
        if self.kind.is_some() {
            self.asking.paste(text);
        }
    }
}
