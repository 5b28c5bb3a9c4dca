//! What was done for a taster, to read before going on.

use crate::drawing::Line;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What is told, as lines of so many cells.
pub(super) type TellsIn = Box<dyn Fn(usize) -> Vec<Line> + Send>;

/// Where it goes on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum GoesTo {
    Back,
    FirstScreen,
}

/// The page after something was done.
pub(super) struct DoneScreen {
    title: &'static str,
    lines: TellsIn,
    goes_to: GoesTo,
}

impl DoneScreen {
    /// A page from which any way leads back to where it was asked for.
    pub(super) fn then_back(title: &'static str, lines: TellsIn) -> Self {
        Self {
            title,
            lines,
            goes_to: GoesTo::Back,
        }
    }

    /// A page from which any way leads to the first screen, because those below speak of what is gone.
    pub(super) fn then_first_screen(title: &'static str, lines: TellsIn) -> Self {
        Self {
            title,
            lines,
            goes_to: GoesTo::FirstScreen,
        }
    }
}

impl Screen for DoneScreen {
    fn title(&self) -> String {
        self.title.to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        page.lines((self.lines)(room.text_width().saturating_sub(1)));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::PageDown, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "It is done, and on the disk. Copies that were made before are not changed by it: where some are in the home folder, this page names them."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match (act, self.goes_to) {
            (Act::Do(Action::Accept | Action::Back), GoesTo::Back) => Next::Close,
            (Act::Do(Action::Accept | Action::Back), GoesTo::FirstScreen) => Next::Home,
            _ => Next::Stay,
        })
    }
}
