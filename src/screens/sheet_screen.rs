//! A sheet of a blind test, and the result of one: pages that are only read.

use crate::domain::SheetKind;
use crate::reports;
use crate::reports::Extent;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::print_screen::on_paper;
use crate::screens::print_screen::shown_on_paper;
use crate::workflow::Home;
use crate::workflow::SamePair;
use crate::workflow::Sheet;
use crate::workflow::TestResult;
use crate::workflow::WorkflowError;

/// The screen of one sheet.
pub struct SheetScreen {
    sheet: Sheet,
    allergens: String,
}

impl SheetScreen {
    /// The screen of a sheet, with what the beers of this home may hold.
    #[must_use]
    pub const fn new(sheet: Sheet, allergens: String) -> Self {
        Self { sheet, allergens }
    }

    /// The pages of what is shown: the key was opened when the screen was.
    fn print(&self, home: &mut Home) -> Next {
        let number = self.sheet.planned.test.number;
        let (what, name) = match self.sheet.kind {
            SheetKind::Pourer => ("what is poured; not for tasters", "pour"),
            SheetKind::Server => ("what is served; not for tasters", "serve"),
            // By the catalogue, which knows the sheets of labels; no key is among them.
            SheetKind::Labels => return on_paper("cup-labels", &[number.to_string()], home),
            SheetKind::Ballots => ("the ballots, to be cut apart", "ballots"),
        };
        let file = format!("test-{number}-{name}.pdf");
        let (sheet, allergens) = (self.sheet.clone(), self.allergens.clone());
        let makes = move |paper| reports::sheet_printout(&sheet, &allergens, paper);
        shown_on_paper(what, &file, makes, home)
    }
}

/// Cells for a report on a screen.
fn cells(room: Room) -> usize {
    room.width.saturating_sub(1).min(110)
}

impl Screen for SheetScreen {
    fn title(&self) -> String {
        format!("Blind test {}", self.sheet.planned.test.number)
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.lines(reports::sheet_lines(
            &self.sheet,
            &self.allergens,
            cells(room),
        ));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![
            Action::Accept,
            Action::Print,
            Action::PageDown,
            Action::PageUp,
            Action::Back,
        ]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Accept).then_some("hide it")
    }

    fn explanation(&self) -> &'static str {
        "o writes the sheet as a file to print. What tells the key is for whoever pours or serves; hide it before a taster sees the screen."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Print) => self.print(home),
            Act::Do(Action::Accept | Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}

/// The screen of the result of a closed test.
pub struct TestResultScreen {
    result: TestResult,
    pair: SamePair,
    extent: Extent,
}

impl TestResultScreen {
    /// The screen of the result of a closed test.
    ///
    /// # Errors
    /// The test is open, or the store cannot be read.
    pub fn new(number: u32, home: &Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            result: home.test_result(number)?,
            pair: home.same_pair(number)?,
            extent: Extent::First,
        })
    }
}

impl Screen for TestResultScreen {
    fn title(&self) -> String {
        format!("What test {} says", self.result.planned.test.number)
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.lines(reports::result_lines(
            &self.result,
            self.extent,
            cells(room),
        ));
        page.lines(reports::pair_lines(&self.pair, cells(room)));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let turn = match self.extent {
            Extent::First => Action::Right,
            Extent::All => Action::Left,
        };
        vec![turn, Action::PageDown, Action::PageUp, Action::Back]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            Action::Right => Some("every figure"),
            Action::Left => Some("less"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "The bars show how often guessing alone gives each number of right answers; the arrow stands at yours. A difference is called one only where guessing would do so well less than 5 times in 100, or as was planned. No difference seen is never the same as no difference."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Right) => self.extent = Extent::All,
            Act::Do(Action::Left) => self.extent = Extent::First,
            Act::Do(Action::Back) => return Ok(Next::Close),
            _ => {}
        }
        Ok(Next::Stay)
    }
}
