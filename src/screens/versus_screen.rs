//! One beer against another: first the other bottle is chosen, then the two stand side by side.

use crate::domain::BlindingCode;
use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::versus_lines;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The screen of two beers.
pub struct VersusScreen {
    mark: String,
    /// The bottles with locked notes; none until they are first shown.
    others: Option<Vec<String>>,
    chosen: usize,
    other: Option<String>,
    /// What the codes of two glasses held, once they were opened.
    opened: Option<String>,
}

impl VersusScreen {
    /// The screen that holds another bottle against the one with this cap mark.
    #[must_use]
    pub fn new(mark: &str) -> Self {
        Self {
            mark: mark.to_owned(),
            others: None,
            chosen: 0,
            other: None,
            opened: None,
        }
    }

    /// The screen for two glasses that were just locked: what each code held.
    #[must_use]
    pub fn opened(held: &[(BlindingCode, Name)]) -> Self {
        let told: Vec<String> = held
            .iter()
            .map(|(code, mark)| format!("{code} was {mark}"))
            .collect();
        let mut marks = held.iter().map(|(_, mark)| mark.to_string());
        Self {
            mark: marks.next().unwrap_or_default(),
            others: None,
            chosen: 0,
            other: marks.next(),
            opened: Some(format!("Locked and opened: {}.", told.join(", "))),
        }
    }

    /// The other bottles that were tasted, the newest first.
    fn tasted(&self, home: &Home) -> Result<Vec<String>, WorkflowError> {
        let mut marks: Vec<String> = Vec::new();
        for row in home.locked_notes()? {
            let mark = row.beer.cap_mark.to_string();
            if mark != self.mark && !marks.contains(&mark) {
                marks.push(mark);
            }
        }
        Ok(marks)
    }

    fn choose(&mut self, row: usize) -> Next {
        self.other = self.others.as_ref().and_then(|it| it.get(row)).cloned();
        Next::Stay
    }

    fn draw_choice(&self, page: &mut Page, others: &[String]) {
        page.gap();
        if others.is_empty() {
            page.line(Line::plain("No other bottle has been tasted yet."));
            return;
        }
        page.line(Line::of(
            Ink::Strong,
            format!("{} against which bottle?", self.mark),
        ));
        page.gap();
        for (index, mark) in others.iter().enumerate() {
            let chosen = index == self.chosen;
            if chosen {
                page.focus = page.rows.len();
            }
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            let line = Line::plain("  ").and(ink, format!(" {mark} "));
            page.choice(line, Press::Row(index));
        }
    }
}

impl Screen for VersusScreen {
    fn title(&self) -> String {
        match &self.other {
            Some(other) => format!("{} against {other}", self.mark),
            None => format!("{} against another beer", self.mark),
        }
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        if let Some(other) = &self.other {
            let both = home.versus(&self.mark, other)?;
            if let Some(told) = &self.opened {
                page.text(Ink::Good, told, room.text_width());
            }
            let cells = room.width.saturating_sub(1).min(110);
            // The title of the screen says the first line already.
            page.lines(versus_lines(&both, cells).into_iter().skip(1));
            return Ok(page);
        }
        let others = match self.others.take() {
            Some(others) => others,
            None => self.tasted(home)?,
        };
        self.draw_choice(&mut page, &others);
        self.others = Some(others);
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.other.is_some() {
            return vec![Action::PageDown, Action::PageUp, Action::Back];
        }
        vec![Action::Accept, Action::Up, Action::Down, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "Two bottles by the people who tasted both, line by line: how much each has, and whether the difference is larger than the noise. No recipe is needed. That nothing differs so far does not make two beers the same."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        let last = self.others.as_ref().map_or(0, Vec::len).saturating_sub(1);
        Ok(match (act, &self.other) {
            (Act::Do(Action::Back | Action::Accept), Some(_)) if self.opened.is_some() => {
                Next::Close
            }
            (Act::Do(Action::Back), Some(_)) => {
                self.other = None;
                Next::Stay
            }
            (Act::Do(Action::Back), None) => Next::Close,
            (Act::Do(Action::Accept), None) => self.choose(self.chosen),
            (Act::Row(row), None) => self.choose(row),
            (Act::Do(Action::Up), None) => {
                self.chosen = self.chosen.saturating_sub(1);
                Next::Stay
            }
            (Act::Do(Action::Down), None) => {
                self.chosen = (self.chosen + 1).min(last);
                Next::Stay
            }
            _ => Next::Stay,
        })
    }
}
