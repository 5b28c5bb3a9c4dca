//! A batch over the weeks.

use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::BatchWeeks;
use crate::workflow::Home;
use crate::workflow::Remembered;
use crate::workflow::WorkflowError;

/// How a batch changed over the weeks.
pub struct WeeksScreen {
    mark: String,
    weeks: Remembered<BatchWeeks>,
}

impl WeeksScreen {
    /// The screen of a batch.
    #[must_use]
    pub fn new(mark: &str) -> Self {
        Self {
            mark: mark.to_owned(),
            weeks: Remembered::default(),
        }
    }
}

impl Screen for WeeksScreen {
    fn title(&self) -> String {
        format!("{} over the weeks", self.mark)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let read = |home: &mut Home| home.batch_weeks(&self.mark, None);
        let weeks = self.weeks.or_drawn_by(home, read)?;
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        // The title of the screen says what the first line of the report does.
        page.lines(reports::weeks_lines(&weeks, cells).into_iter().skip(1));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::PageDown, Action::Back]
    }

    fn is_drawn(&self, home: &Home) -> bool {
        self.weeks.is_of_now(home)
    }

    fn explanation(&self) -> &'static str {
        "How this batch changed from its first tasting to its last, line by line. Each taster is held against their own earlier notes, so that somebody who always answers high moves nothing. A line has more or less of it only where the change goes beyond the noise, all lines judged together."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
