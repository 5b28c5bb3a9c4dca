//! One taster's record of blind tests, and the question whose it shall be.

use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Question;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::TestRecord;
use crate::workflow::WorkflowError;

/// The screen of one taster's record.
pub struct TestRecordScreen {
    record: TestRecord,
}

impl Screen for TestRecordScreen {
    fn title(&self) -> String {
        "A taster's record".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let cells = room.text_width().saturating_sub(2);
        page.lines(reports::record_lines(&self.record, cells));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::PageDown, Action::PageUp, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "Only closed tests count, and only those in which an answer is right or wrong. The limits are those of Wilson (1927): where the share of right answers lies 19 times in 20."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}

/// The question whose record is to be shown.
pub struct TestRecordNameScreen {
    asking: Asking,
}

impl TestRecordNameScreen {
    /// The question with the tasters there are.
    ///
    /// # Errors
    /// The store cannot be read.
    pub fn new(home: &Home) -> Result<Self, WorkflowError> {
        let tasters = home.tasters()?;
        let names = tasters.iter().map(|it| it.name.to_string()).collect();
        Ok(Self {
            asking: Asking::among(names),
        })
    }
}

impl Question for TestRecordNameScreen {
    fn heading(&self) -> String {
        "Whose record?".to_owned()
    }

    fn asked(&self) -> &'static str {
        "The name of a taster. Begin to type, or choose with ↑ and ↓."
    }

    fn purpose(&self) -> &'static str {
        "A record shows how often one taster was right in closed blind tests, beside the others at the same tests."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, name: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let record = home.test_record(name.trim())?;
        Ok(Next::Replace(Box::new(TestRecordScreen { record })))
    }
}
