//! The history of a recipe: what changed from version to version, what was promised, and what came of it.

use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::print_screen::on_paper;
use crate::workflow::Home;
use crate::workflow::RecipeHistory;
use crate::workflow::Remembered;
use crate::workflow::WorkflowError;

/// The history of the recipe of a batch.
pub struct HistoryScreen {
    mark: String,
    history: Remembered<RecipeHistory>,
}

impl HistoryScreen {
    /// The screen of the recipe that a batch was brewed from.
    #[must_use]
    pub fn new(mark: &str) -> Self {
        Self {
            mark: mark.to_owned(),
            history: Remembered::default(),
        }
    }
}

impl Screen for HistoryScreen {
    fn title(&self) -> String {
        match self.history.last() {
            Some(history) => reports::history_title(&history),
            None => "History of a recipe".to_owned(),
        }
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        // Another window may have poured a glass since.
        // The title names the recipe.
        home.ensure_history_open()
            .inspect_err(|_| self.history.forget())?;
        let read = |home: &mut Home| home.batch_history(&self.mark);
        let history = self.history.or_drawn_by(home, read)?;
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        // The title of the screen says what the first line of the report does.
        let lines = reports::history_lines(&history, cells);
        page.lines(lines.into_iter().skip(1));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Print, Action::PageDown, Action::Back]
    }

    fn is_drawn(&self, home: &Home) -> bool {
        self.history.is_of_now(home)
    }

    fn explanation(&self) -> &'static str {
        "Every version of this recipe that was brewed, whatever it was called then, each below the one it came from: what changed, what a proposal promised of it, and what the notes on both say. As promised is what moved beyond the noise and not otherwise than promised, all promised lines judged together. That the change did it is said only after one version was brewed and tasted twice, because no two brews are alike. While anybody tastes a batch, none of this is told."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Print) => {
                let read = |home: &mut Home| home.batch_history(&self.mark);
                let history = self.history.or_drawn_by(home, read)?;
                on_paper("history", &[history.name.to_string()], home)
            }
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
