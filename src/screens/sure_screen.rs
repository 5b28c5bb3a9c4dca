//! A question before what cannot be taken back: only a yes does it, Enter alone does nothing.

use crate::drawing::Ink;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What a yes does.
pub(super) type Does = Box<dyn Fn(&mut Home) -> Result<Next, WorkflowError> + Send>;

/// The page of the question.
pub(super) struct SureScreen {
    title: String,
    asked: String,
    explanation: &'static str,
    does: Does,
}

impl SureScreen {
    /// The question `asked` under a title; `explanation` says what a yes means.
    pub(super) fn new(title: String, asked: String, explanation: &'static str, does: Does) -> Self {
        Self {
            title,
            asked,
            explanation,
            does,
        }
    }
}

impl Screen for SureScreen {
    fn title(&self) -> String {
        self.title.clone()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        page.text(Ink::Alert, &self.asked, room.text_width());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Yes, Action::No, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        self.explanation
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Yes) => (self.does)(home),
            Act::Do(Action::No | Action::Back) => Ok(Next::Close),
            _ => Ok(Next::Stay),
        }
    }
}
