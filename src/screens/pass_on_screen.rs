//! The wiped screen between two tasters of a blind test.

use crate::drawing::Ink;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::GoesOn;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The wiped screen between two tasters.
pub struct PassOnScreen {
    goes_on: GoesOn,
}

impl PassOnScreen {
    /// The screen after somebody left, with whether the test goes on.
    #[must_use]
    pub const fn new(goes_on: GoesOn) -> Self {
        Self { goes_on }
    }
}

impl Screen for PassOnScreen {
    fn title(&self) -> String {
        "Pass the screen on".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let text = match self.goes_on {
            GoesOn::On => "Kept. The test goes on: pass the screen to the next taster.",
            GoesOn::Stop => {
                "Kept. The test has all the answers it needs. Enter goes back to it; there it can be closed."
            }
        };
        page.text(Ink::Strong, text, room.text_width());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "Nothing of the last answers is on this screen or behind it."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept | Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
