//! One sheet typed in: a line for each code, shown as it is understood before Enter keeps it.

use crate::domain::MeetingPart;
use crate::domain::Taster;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::capitalised;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TextEntry;
use crate::workflow::Evening;
use crate::workflow::Home;
use crate::workflow::PaperAnswer;
use crate::workflow::PaperRow;
use crate::workflow::WorkflowError;

/// Names told where several could be meant.
const SEVERAL: usize = 6;

/// One sheet.
pub struct PaperScreen {
    evening: Evening,
    taster: Taster,
    rows: Vec<PaperRow>,
    at: usize,
    entry: TextEntry,
}

impl PaperScreen {
    /// The sheet of a taster, at the first code without an answer.
    ///
    /// # Errors
    /// The taster is not there, or the store cannot be read.
    pub(super) fn new(
        evening: Evening,
        taster: Taster,
        home: &Home,
    ) -> Result<Self, WorkflowError> {
        let rows = home.paper_rows(&evening, &taster)?;
        let open = rows.iter().position(|it| it.answer.is_none());
        Ok(Self {
            evening,
            taster,
            at: open.unwrap_or(0),
            rows,
            entry: TextEntry::default(),
        })
    }

    fn row(&self) -> Option<&PaperRow> {
        self.rows.get(self.at)
    }

    /// What is typed, as it is understood.
    fn understood(&self, home: &Home) -> Option<PaperAnswer> {
        PaperAnswer::read(self.row()?.part, self.entry.text(), home.wheel())
    }

    fn keep(&mut self, home: &mut Home) -> Result<Next, WorkflowError> {
        let last = self.rows.len().saturating_sub(1);
        if self.entry.is_empty() {
            let done = self.at == last && self.is_complete();
            self.at = (self.at + 1).min(last);
            return Ok(if done { Next::Close } else { Next::Stay });
        }
        let (Some(answer), Some(row)) = (self.understood(home), self.row().cloned()) else {
            return Ok(Next::Say(self.not_understood(home)));
        };
        if let Some(said) = self.placed_twice(&answer, &row) {
            return Ok(Next::Say(said));
        }
        let Some(part) = self.evening.parts.iter().find(|it| it.part == row.part) else {
            return Ok(Next::Stay);
        };
        home.answer_from_paper(part, &self.taster, row.code, &answer)?;
        self.rows = home.paper_rows(&self.evening, &self.taster)?;
        self.entry.take();
        if self.at == last && self.is_complete() {
            let name = &self.taster.name;
            return Ok(Next::Say(format!(
                "The sheet of {name} is complete. Enter goes back to the names."
            )));
        }
        self.at = (self.at + 1).min(last);
        Ok(Next::Stay)
    }

    fn is_complete(&self) -> bool {
        self.rows.iter().all(|it| it.answer.is_some())
    }

    /// Two glasses cannot stand at one number of the row.
    fn placed_twice(&self, answer: &PaperAnswer, row: &PaperRow) -> Option<String> {
        let PaperAnswer::Strength { placed, .. } = answer else {
            return None;
        };
        let mut others = self.rows.iter().filter(|it| it.code != row.code);
        let other = others.find(|it| it.placed == Some(*placed))?;
        Some(format!(
            "Number {} is taken by glass {}; look at the sheet again.",
            placed.get(),
            other.code
        ))
    }

    /// Why what is typed cannot be kept.
    fn not_understood(&self, home: &Home) -> String {
        let is_jar = self
            .row()
            .is_some_and(|it| matches!(it.part, MeetingPart::Check | MeetingPart::Jars));
        let could_be = PaperAnswer::could_be(self.entry.text(), home.wheel());
        match (is_jar, could_be.as_slice()) {
            (true, []) => {
                "No word, shelf or place begins so; a dash stands for cannot tell.".to_owned()
            }
            (true, several) => {
                let some: Vec<&str> = several.iter().take(SEVERAL).map(String::as_str).collect();
                format!("Could be: {}. Type a little more.", some.join(", "))
            }
            (false, _) => how_to_type(self.row()).to_owned(),
        }
    }

    fn go(&mut self, to: usize) {
        self.at = to.min(self.rows.len().saturating_sub(1));
        self.entry.take();
    }

    fn draw_row(&self, page: &mut Page, at: usize, row: &PaperRow, home: &Home) {
        let own = at == self.at;
        let mark = if own { "▸" } else { " " };
        let line = Line::of(Ink::Strong, format!(" {mark} {}  ", row.code));
        if !own {
            let answer = row.answer.as_deref().unwrap_or("·");
            page.choice(line.and(Ink::Plain, answer), Press::Row(at));
            return;
        }
        page.focus = page.rows.len();
        let line = line
            .and(Ink::Strong, self.entry.text())
            .and(Ink::Chosen, " ");
        let understood = match (self.entry.is_empty(), self.understood(home), &row.answer) {
            (true, _, Some(answer)) => format!("  {answer}"),
            (true, _, None) => String::new(),
            (false, Some(answer), _) => format!("  → {}", answer.words()),
            (false, None, _) => "  → ?".to_owned(),
        };
        page.choice(line.and(Ink::Good, understood), Press::Row(at));
    }
}

/// How an answer to a row is typed.
fn how_to_type(row: Option<&PaperRow>) -> &'static str {
    match row.map(|it| it.part) {
        Some(MeetingPart::Presence) => {
            "y or n, then how sure in tens: y 8. A dash for cannot tell."
        }
        Some(MeetingPart::Strength) => "The digit, then the number in the row: 4 2",
        _ => "A word, shelf or place begun, and how sure in tens: cardb 7. A dash: cannot tell.",
    }
}

impl Screen for PaperScreen {
    fn title(&self) -> String {
        format!("The sheet of {}", self.taster.name)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let mut part = None;
        page.text(Ink::Quiet, how_to_type(self.row()), room.text_width());
        for (at, row) in self.rows.iter().enumerate() {
            if part != Some(row.part) {
                part = Some(row.part);
                page.line(Line::of(Ink::Title, capitalised(row.part.word())));
            }
            self.draw_row(&mut page, at, row, home);
        }
        Ok(page)
    }

    fn input(&self) -> Input {
        Input::Text
    }

    fn is_typing(&self) -> bool {
        !self.entry.is_empty()
    }

    fn actions(&self) -> Vec<Action> {
        let mut actions = vec![Action::Accept, Action::Up, Action::Down];
        if !self.entry.is_empty() {
            actions.push(Action::Undo);
        }
        actions.push(Action::Back);
        actions
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match (action, self.entry.is_empty()) {
            (Action::Accept, true) => Some("next"),
            (Action::Accept, false) => Some("keep"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "The codes stand in the order of the sheet. What is typed is shown as it is understood; Enter keeps it and goes to the next code. An answer can be typed again until all sheets are in."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Accept) => return self.keep(home),
            Act::Do(Action::Up) => self.go(self.at.saturating_sub(1)),
            Act::Do(Action::Down) => self.go(self.at + 1),
            Act::Row(row) => self.go(row),
            Act::Do(Action::Undo) => {
                self.entry.rub_out();
            }
            Act::Do(Action::Back) => return Ok(Next::Close),
            Act::Typed(c) => self.entry.push(c),
            Act::Do(_) | Act::Digit(_) => {}
        }
        Ok(Next::Stay)
    }

    fn paste(&mut self, text: &str) {
        self.entry.paste(text);
    }
}
