//! How a practice went, and what all practice says of a taster.

use crate::domain::Reveal;
use crate::drawing::Ink;
use crate::reports;
use crate::reports::Extent;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Confidence;
use crate::workflow::Home;
use crate::workflow::PracticeRun;
use crate::workflow::WorkflowError;

/// How a practice went.
pub struct PracticeEndScreen {
    run: PracticeRun,
}

impl PracticeEndScreen {
    /// The screen of a finished practice.
    #[must_use]
    pub const fn new(run: PracticeRun) -> Self {
        Self { run }
    }
}

impl Screen for PracticeEndScreen {
    fn title(&self) -> String {
        format!("{}: done", self.run.taster.name)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        if !home.may_tell(&self.run.practice)? {
            let text = match self.run.practice.reveal {
                Reveal::Course => {
                    "Kept. The check is told after the last meeting of the course: pass the screen on."
                }
                _ => {
                    "Kept. What was right is told once the others have answered too: pass the screen on."
                }
            };
            page.text(Ink::Strong, text, room.text_width());
            return Ok(page);
        }
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::practice_lines(&self.run, home.wheel(), cells));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::Back]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Back).then_some("")
    }

    fn explanation(&self) -> &'static str {
        "What was asked, and what you said. One evening says little; how far you can trust your nose grows under “How far to trust your nose”."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept | Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}

/// What all practice says of a taster.
pub struct ConfidenceScreen {
    confidence: Confidence,
    extent: Extent,
}

impl ConfidenceScreen {
    /// The screen of a taster.
    #[must_use]
    pub const fn new(confidence: Confidence) -> Self {
        Self {
            confidence,
            extent: Extent::First,
        }
    }
}

impl Screen for ConfidenceScreen {
    fn title(&self) -> String {
        "How far to trust your nose".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::confidence_lines(
            &self.confidence,
            home.wheel(),
            self.extent,
            cells,
        ));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let turn = match self.extent {
            Extent::First => Action::Right,
            Extent::All => Action::Left,
        };
        vec![turn, Action::Back]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            Action::Right => Some("everything"),
            Action::Left => Some("the short list"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "Shares stand with the range in which they lie 19 times in 20 (Wilson 1927). The lines run from none to all: ● is the share, ├─┤ its range, ◇ what was said. A wide range means: practise on, and conclude nothing yet."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Right) => self.extent = Extent::All,
            Act::Do(Action::Left) => self.extent = Extent::First,
            Act::Do(Action::Back) => return Ok(Next::Close),
            _ => return Ok(Next::Stay),
        }
        Ok(Next::Top)
    }
}
