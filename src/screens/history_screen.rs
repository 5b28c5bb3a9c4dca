//! The history of a recipe: what changed from version to version, what was promised, and what came of it.

use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::workflow::Home;
use crate::workflow::RecipeHistory;
use crate::workflow::WorkflowError;

/// The history of the recipe of a batch.
pub struct HistoryScreen {
    mark: String,
    /// As last read; what was found takes long to compare.
    history: Option<RecipeHistory>,
}

impl HistoryScreen {
    /// The screen of the recipe that a batch was brewed from.
    #[must_use]
    pub fn new(mark: &str) -> Self {
        Self {
            mark: mark.to_owned(),
            history: None,
        }
    }
}

impl Screen for HistoryScreen {
    fn title(&self) -> String {
        let history = self.history.as_ref();
        history.map_or_else(|| "History".to_owned(), reports::history_title)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let history = match self.history.take() {
            Some(history) => {
                // Another window may have poured a glass since.
                home.ensure_history_open()?;
                history
            }
            None => home.batch_history(&self.mark)?,
        };
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        // The title of the screen says what the first line of the report does.
        page.lines(reports::history_lines(&history, cells).into_iter().skip(1));
        self.history = Some(history);
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::PageDown, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "Every version of this recipe that was brewed, whatever it was called then, each below the one it came from: what changed, what a proposal promised of it, and what the notes on both say. As promised is what moved beyond the noise and not otherwise than promised, all promised lines judged together. That the change did it is said only after one version was brewed and tasted twice, because no two brews are alike. While anybody tastes a batch, none of this is told."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
