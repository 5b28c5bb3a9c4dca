//! One beer against another: first the other bottle is chosen, then the two stand side by side.

use crate::domain::BlindingCode;
use crate::domain::Name;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::versus_lines;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::question::Answered;
use crate::screens::question::answered;
use crate::workflow::Home;
use crate::workflow::Remembered;
use crate::workflow::Versus;
use crate::workflow::WorkflowError;

/// The screen of two beers.
pub struct VersusScreen {
    mark: String,
    /// The bottles with locked notes; none until they are first shown.
    others: Option<Asking>,
    other: Option<String>,
    both: Remembered<Versus>,
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
            other: None,
            both: Remembered::default(),
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
            other: marks.next(),
            both: Remembered::default(),
            opened: Some(format!("Locked and opened: {}.", told.join(", "))),
        }
    }

    /// The other bottles that were tasted, the newest first.
    fn tasted(&self, home: &Home) -> Result<Vec<String>, WorkflowError> {
        let marks = home.tasted_marks()?.into_iter();
        let others = marks.map(|it| it.to_string()).filter(|it| *it != self.mark);
        Ok(others.collect())
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
            let hold = |home: &mut Home| home.versus(&self.mark, other);
            let both = self.both.or_drawn_by(home, hold)?;
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
            None => Asking::among(self.tasted(home)?),
        };
        page.gap();
        if others.is_empty() {
            page.line(Line::plain("No other bottle has been tasted yet."));
        } else {
            let asked = format!("{} against which bottle?", self.mark);
            page.line(Line::of(Ink::Strong, asked));
            page.gap();
            others.draw(&mut page);
        }
        self.others = Some(others);
        Ok(page)
    }

    fn input(&self) -> Input {
        if self.other.is_some() {
            Input::Keys
        } else {
            Input::Text
        }
    }

    fn is_typing(&self) -> bool {
        self.other.is_none() && self.others.as_ref().is_some_and(Asking::is_typing)
    }

    fn actions(&self) -> Vec<Action> {
        if self.other.is_some() {
            return vec![Action::PageDown, Action::PageUp, Action::Back];
        }
        let asking = self.others.as_ref();
        asking.map_or_else(|| vec![Action::Back], Asking::actions)
    }

    fn is_drawn(&self, home: &Home) -> bool {
        self.other.is_none() || self.both.is_of_now(home)
    }

    fn explanation(&self) -> &'static str {
        "Two bottles by the people who tasted both, line by line: how much each has, and whether the difference is larger than the noise. No recipe is needed. That nothing differs so far does not make two beers the same."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(asking) = self.others.as_mut().filter(|_| self.other.is_none()) else {
            return Ok(match act {
                Act::Do(Action::Back | Action::Accept) if self.opened.is_some() => Next::Close,
                Act::Do(Action::Back) if self.other.is_none() => Next::Close,
                Act::Do(Action::Back) => {
                    self.other = None;
                    Next::Stay
                }
                _ => Next::Stay,
            });
        };
        match answered(asking, act) {
            Answered::With(mark) if mark.is_empty() => {}
            Answered::With(mark) => {
                self.both.forget();
                self.other = Some(mark);
            }
            Answered::NotYet => {}
            Answered::Back => return Ok(Next::Close),
        }
        Ok(Next::Stay)
    }

    fn paste(&mut self, text: &str) {
        if let Some(asking) = self.others.as_mut().filter(|_| self.other.is_none()) {
            asking.paste(text);
        }
    }
}
