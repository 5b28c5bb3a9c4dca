//! The plan beside the notes.

use crate::reports::side_by_side_lines;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The screen of one beer's plan and notes.
pub struct SideBySideScreen {
    mark: String,
}

impl SideBySideScreen {
    /// The screen for the beer with this cap mark.
    #[must_use]
    pub fn new(mark: &str) -> Self {
        Self {
            mark: mark.to_owned(),
        }
    }
}

impl Screen for SideBySideScreen {
    fn title(&self) -> String {
        format!("{}: plan and notes side by side", self.mark)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let both = home.side_by_side(&self.mark, None)?;
        let mut page = Page::default();
        page.lines(side_by_side_lines(
            &both,
            room.width.saturating_sub(1).min(100),
        ));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![
            Action::Accept,
            Action::PageDown,
            Action::PageUp,
            Action::Back,
        ]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Accept).then_some("back")
    }

    fn explanation(&self) -> &'static str {
        "What the brewer hoped for beside what was noted, what packets promised, what nobody planned, and the figures beside the glass. A line the plan does not name has no target. Not mentioned is not zero: you may have missed it. The differences are plain ones, not yet judged against your own noise."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept | Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
