//! Why a batch is predicted as it is: its lines to choose from, and one of them taken apart.

use crate::drawing::Ink;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::workflow::ForeseenLine;
use crate::workflow::Home;
use crate::workflow::Why;
use crate::workflow::WorkflowError;

/// The lines of a prediction, to ask why.
pub struct WhyScreen {
    mark: String,
    lines: Vec<ForeseenLine>,
    choices: Choices,
}

impl WhyScreen {
    /// The screen of a batch.
    ///
    /// # Errors
    /// Somebody is tasting it, or the store cannot be read.
    pub fn new(mark: &str, home: &mut Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            mark: mark.to_owned(),
            lines: home.batch_lines(mark)?,
            choices: Choices::default(),
        })
    }
}

impl Screen for WhyScreen {
    fn title(&self) -> String {
        format!("{}: why should it taste so?", self.mark)
    }

    fn page(&mut self, home: &mut Home, _room: Room) -> Result<Page, WorkflowError> {
        // In another window somebody may have begun to taste it.
        self.lines = home.batch_lines(&self.mark)?;
        let mut page = Page::default();
        page.gap();
        let rows = self.lines.iter();
        let rows = rows.map(|it| (it.label.clone(), reports::predicted_words(it)));
        self.choices.draw(&mut page, &rows.collect::<Vec<_>>());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::ACTIONS.to_vec()
    }

    fn explanation(&self) -> &'static str {
        "Every line that is predicted of this batch by its recipe and its log. Choose one to see what adds to it, by which rule, and what would move it most."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match self.choices.act(act, self.lines.len()) {
            Picked::Row(row) => {
                let why = home.why_of_batch(&self.mark, &self.lines[row])?;
                Ok(Next::Open(Box::new(OneWhyScreen {
                    mark: self.mark.clone(),
                    why,
                })))
            }
            Picked::Left => Ok(Next::Close),
            Picked::Moved | Picked::Nothing => Ok(Next::Stay),
        }
    }
}

/// One line taken apart.
struct OneWhyScreen {
    mark: String,
    why: Why,
}

impl Screen for OneWhyScreen {
    fn title(&self) -> String {
        format!("Why: {}", self.why.line.label)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        // In another window somebody may have begun to taste it.
        self.why = home.why_of_batch(&self.mark, &self.why.line)?;
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::why_lines(&self.why, cells));
        page.gap();
        let honest = "A recipe knows little of a glass: directions are surer than sizes.";
        page.text(Ink::Quiet, honest, room.text_width());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "What moves this line away from an ordinary beer, and what small changes of the recipe would do: each was tried by predicting again."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
