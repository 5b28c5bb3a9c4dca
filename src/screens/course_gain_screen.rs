//! What one learner gained over a course, for their own eyes.

use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::CourseGain;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What one learner gained.
pub struct CourseGainScreen {
    gain: CourseGain,
}

impl CourseGainScreen {
    /// The screen of one learner.
    #[must_use]
    pub const fn new(gain: CourseGain) -> Self {
        Self { gain }
    }
}

impl Screen for CourseGainScreen {
    fn title(&self) -> String {
        "What was gained".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::gain_lines(&self.gain, cells));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::Back]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Accept).then_some("hide this")
    }

    fn explanation(&self) -> &'static str {
        "Words smelled at several meetings and never practised, compared with themselves (paired shares, adjusted interval of Bonett & Price 2012). Which words they are is not told before the last meeting."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept | Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
