//! What the predictions have learnt: the tasters to choose from, and the record of one of them.

use std::sync::Arc;

use crate::domain::Name;
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
use crate::workflow::Home;
use crate::workflow::Learnt;
use crate::workflow::Remembered;
use crate::workflow::WorkflowError;

/// The tasters of whom something may have been learnt.
#[derive(Default)]
pub struct LearntScreen {
    /// Each with the number of batches that count.
    tasters: Remembered<Vec<(Name, usize)>>,
    choices: Choices,
}

impl LearntScreen {
    /// The list of tasters; where there is only one, what was learnt of them.
    ///
    /// # Errors
    /// Somebody tastes a batch, or the store cannot be read.
    pub fn opened(home: &Home) -> Result<Box<dyn Screen>, WorkflowError> {
        home.ensure_no_batch_is_tasted()?;
        Ok(match home.tasters()?.as_slice() {
            [only] => Box::new(OneLearntScreen::of(&only.name)),
            _ => Box::new(Self::default()),
        })
    }

    fn tasters(&self) -> Arc<Vec<(Name, usize)>> {
        self.tasters.last().unwrap_or_default()
    }
}

impl Screen for LearntScreen {
    fn title(&self) -> String {
        "What the prediction has learnt".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        // In another window somebody may have begun to taste.
        home.ensure_no_batch_is_tasted()?;
        let tasters = self
            .tasters
            .or_drawn_by(home, |home| home.learnt_tasters())?;
        let mut page = Page::default();
        page.gap();
        if tasters.is_empty() {
            let none = "Nobody has tasted yet. From three batches on, predictions learn how far a taster notes above or below them.";
            page.text(Ink::Plain, none, room.text_width());
            return Ok(page);
        }
        let rows = tasters.iter().map(|(name, batches)| {
            let what = match batches {
                1 => "1 batch counts".to_owned(),
                n => format!("{n} batches count"),
            };
            (name.to_string(), what)
        });
        self.choices.draw(&mut page, &rows.collect::<Vec<_>>());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.tasters().is_empty() {
            return vec![Action::Back];
        }
        Choices::ACTIONS.to_vec()
    }

    fn is_drawn(&self, home: &Home) -> bool {
        self.tasters.is_of_now(home)
    }

    fn explanation(&self) -> &'static str {
        "Predictions learn one taster at a time: how far their notes lie above or below what the recipe gives, and which smells they name. Choose whose record to see."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        let tasters = self.tasters();
        Ok(match self.choices.act(act, tasters.len()) {
            Picked::Row(row) => Next::Open(Box::new(OneLearntScreen::of(&tasters[row].0))),
            Picked::Left => Next::Close,
            Picked::Moved | Picked::Nothing => Next::Stay,
        })
    }
}

/// What was learnt of one taster.
struct OneLearntScreen {
    taster: Name,
    learnt: Remembered<Learnt>,
}

impl OneLearntScreen {
    fn of(taster: &Name) -> Self {
        Self {
            taster: taster.clone(),
            learnt: Remembered::default(),
        }
    }
}

impl Screen for OneLearntScreen {
    fn title(&self) -> String {
        format!("Learnt of {}", self.taster)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        home.ensure_learnt_may_be_told(self.taster.as_str())?;
        let read = |home: &mut Home| home.learnt(self.taster.as_str());
        let learnt = self.learnt.or_drawn_by(home, read)?;
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::learnt_lines(&learnt, cells));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::PageDown, Action::Back]
    }

    fn is_drawn(&self, home: &Home) -> bool {
        self.learnt.is_of_now(home)
    }

    fn explanation(&self) -> &'static str {
        "How far this taster's notes lie above the predictions, line by line, each drawn towards what all lines have in common as far as it is noise. An improvement is claimed only if every batch, predicted from the others, came nearer by more than chance does in 1 of 20."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::domain::NotesSource;
    use crate::screens::trial::keys;
    use crate::screens::trial::picture;
    use crate::screens::trial::started;

    use super::*;

    #[test]
    fn a_record_is_chosen_among_the_tasters_and_closed_while_a_batch_is_tasted() {
        let mut home = Home::trial_with_a_batch();
        for name in ["Ana", "Ben"] {
            home.add_taster(name).unwrap();
        }
        let mut app = started(home);
        keys(&mut app, "5l");
        let list = picture(&mut app);
        assert!(
            list.contains("Ana") && list.contains("0 batches count"),
            "{list}"
        );
        keys(&mut app, "2");
        let record = picture(&mut app);
        assert!(
            record.contains("has learnt of Ben") && record.contains("it takes 3"),
            "{record}"
        );
        // In another window somebody begins to taste.
        let ana = app.home().taster("Ana").unwrap();
        let (_, home) = app.top();
        home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        let sealed = picture(&mut app);
        assert!(sealed.contains("predictions wait until Ana"), "{sealed}");
        assert!(
            !sealed.contains("it takes 3") && !sealed.contains("T1"),
            "{sealed}"
        );
    }

    #[test]
    fn of_the_only_taster_the_record_opens_at_once() {
        let mut home = Home::trial_with_a_batch();
        home.add_taster("Ana").unwrap();
        let mut app = started(home);
        keys(&mut app, "5l");
        let record = picture(&mut app);
        assert!(record.contains("has learnt of Ana"), "{record}");
    }
}
