//! The cups are turned over: which code was under the left one.

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TastingScreen;
use crate::screens::VersusScreen;
use crate::screens::tasting_page::choices;
use crate::workflow::Cups;
use crate::workflow::Home;
use crate::workflow::TwoGlasses;
use crate::workflow::WorkflowError;

/// The screen that ends a tasting of two shuffled cups.
pub struct CupsScreen {
    two: TwoGlasses,
    chosen: Option<usize>,
}

impl CupsScreen {
    /// The screen for two glasses that are ready to be locked.
    #[must_use]
    pub const fn new(two: TwoGlasses) -> Self {
        Self { two, chosen: None }
    }

    fn turned(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let Some(&code) = self.two.codes().get(row) else {
            return Ok(Next::Stay);
        };
        let held = home.lock_two(&mut self.two, Cups::LeftIs(code))?;
        let faulty = |it: &crate::workflow::Tasting| it.notes.bottle_fault.is_some();
        if self.two.tastings.iter().any(faulty) {
            return Ok(Next::Home);
        }
        Ok(Next::Replace(Box::new(VersusScreen::opened(&held))))
    }
}

impl Screen for CupsScreen {
    fn title(&self) -> String {
        "Turn the left cup over".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let asked = "Which code is under the left cup? The answer locks both notes for good.";
        page.text(Ink::Strong, asked, room.text_width());
        page.gap();
        let codes = self.two.codes().map(|it| it.to_string());
        choices(
            &mut page,
            &codes.each_ref().map(String::as_str),
            self.chosen,
        );
        page.gap();
        page.line(Line::of(
            Ink::Quiet,
            "Esc goes back to your notes; do not look yet.",
        ));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let mut actions = vec![Action::Up, Action::Down, Action::Back];
        if self.chosen.is_some() {
            actions.insert(0, Action::Accept);
        }
        actions
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Accept).then_some("lock for good")
    }

    fn explanation(&self) -> &'static str {
        "You poured and shuffled, so nobody knew which cup was which until now. The code under the left cup tells it, and your notes go to the right beer."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Digit(digit) => self.turned(usize::from(digit).wrapping_sub(1), home),
            Act::Row(row) => self.turned(row, home),
            Act::Do(Action::Accept) => match self.chosen {
                Some(row) => self.turned(row, home),
                None => Ok(Next::Stay),
            },
            Act::Do(Action::Up) => {
                self.chosen = Some(0);
                Ok(Next::Stay)
            }
            Act::Do(Action::Down) => {
                self.chosen = Some(usize::from(self.chosen.is_some()));
                Ok(Next::Stay)
            }
            Act::Do(Action::Back) => {
                let back = TastingScreen::of_two(self.two.clone(), home)?;
                Ok(Next::Replace(Box::new(back)))
            }
            _ => Ok(Next::Stay),
        }
    }
}
