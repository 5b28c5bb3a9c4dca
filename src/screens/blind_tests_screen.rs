//! All blind tests: plan a new one, or open one.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::OneTestScreen;
use crate::screens::Page;
use crate::screens::PlanTestScreen;
use crate::screens::Press;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TestRecordNameScreen;
use crate::screens::TestSizesScreen;
use crate::screens::long_list::moved;
use crate::workflow::Home;
use crate::workflow::TestRow;
use crate::workflow::WorkflowError;

/// The screen of all blind tests.
#[derive(Default)]
pub struct BlindTestsScreen {
    tests: Vec<TestRow>,
    chosen: usize,
}

impl BlindTestsScreen {
    fn open(&self, row: usize, home: &Home) -> Result<Next, WorkflowError> {
        match self.tests.get(row) {
            Some(it) => {
                let screen = OneTestScreen::new(it.test.number, home)?;
                Ok(Next::Open(Box::new(screen)))
            }
            None => Ok(Next::Stay),
        }
    }
}

impl Screen for BlindTestsScreen {
    fn title(&self) -> String {
        "Blind tests".to_owned()
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        self.tests = home.test_rows()?;
        // The newest first.
        self.tests.reverse();
        self.chosen = self.chosen.min(self.tests.len().saturating_sub(1));
        Ok(())
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        if self.tests.is_empty() {
            let none = "Can two beers be told apart at all? Two bottles, some friends and half an hour settle it. a plans a test; h shows how many friends it takes.";
            page.text(Ink::Plain, none, room.text_width());
        }
        for (index, it) in self.tests.iter().enumerate() {
            let chosen = index == self.chosen;
            let ink = if chosen { Ink::Chosen } else { Ink::Plain };
            if chosen {
                page.focus = page.rows.len();
            }
            let [a, b] = it.beers.each_ref().map(|it| &it.cap_mark);
            let state = match it.test.closed_at {
                Some(at) => format!("closed on {}", at.day()),
                None => "open".to_owned(),
            };
            let name = format!(" {:>3}  {a} and {b} ", it.test.number);
            let line =
                Line::of(ink, name).and(Ink::Quiet, format!("  {}, {state}", it.method.name));
            page.choice(line, Press::Row(index));
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.tests.is_empty() {
            return vec![Action::Add, Action::HowMany, Action::Back];
        }
        vec![
            Action::Accept,
            Action::Add,
            Action::HowMany,
            Action::Record,
            Action::Up,
            Action::Down,
            Action::Back,
        ]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Add).then_some("plan a test")
    }

    fn explanation(&self) -> &'static str {
        "A blind test asks people to find a difference without knowing where it is. Guessing is right now and then, so the app counts how likely so many right answers are by guessing alone. An open test shows nobody its count."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Add) => Ok(Next::Open(Box::new(PlanTestScreen::new(home)?))),
            Act::Do(Action::HowMany) => {
                let glass = home.settings().blind_glass;
                Ok(Next::Open(Box::new(TestSizesScreen::new(glass)?)))
            }
            Act::Do(Action::Record) if !self.tests.is_empty() => {
                Ok(Next::Open(Box::new(TestRecordNameScreen::new(home)?)))
            }
            Act::Do(Action::Accept) => self.open(self.chosen, home),
            Act::Row(row) => self.open(row, home),
            Act::Do(Action::Back) => Ok(Next::Close),
            _ => {
                let moved = moved(self.chosen, act, self.tests.len());
                self.chosen = moved.unwrap_or(self.chosen);
                Ok(Next::Stay)
            }
        }
    }
}
