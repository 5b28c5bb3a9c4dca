//! The table of a practice: who has answered, and nobody's answers.

use crate::domain::SittingId;
use crate::domain::Taster;
use crate::drawing::Ink;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::screens::practice_seat::PracticeSeat;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The table: who has answered, and nobody's answers.
pub struct PracticeTableScreen {
    sitting: SittingId,
    tasters: Vec<Taster>,
    done: Vec<bool>,
    choices: Choices,
}

impl PracticeTableScreen {
    /// The table of a practice.
    pub(super) fn new(sitting: SittingId, tasters: Vec<Taster>) -> Self {
        Self {
            sitting,
            tasters,
            done: Vec::new(),
            choices: Choices::default(),
        }
    }

    fn open(&self, row: usize, home: &Home) -> Result<Next, WorkflowError> {
        let Some(taster) = self.tasters.get(row) else {
            return Ok(Next::Stay);
        };
        let seat = PracticeSeat::of(home, &self.sitting, taster)?;
        if !seat.is_answered() || seat.may_be_told() || self.done.iter().all(|it| *it) {
            return Ok(Next::Open(seat.into_screen()));
        }
        Ok(Next::Say(
            "Everything is answered; it is told once the others have answered too.".to_owned(),
        ))
    }
}

impl Screen for PracticeTableScreen {
    fn title(&self) -> String {
        "The table".to_owned()
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        self.done.clear();
        for taster in &self.tasters {
            let seat = PracticeSeat::of(home, &self.sitting, taster)?;
            self.done.push(seat.is_answered());
        }
        Ok(())
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        let all = self.done.iter().all(|it| *it);
        let text = if all {
            "All have answered. Each may look at what was right, one after the other."
        } else {
            "Pass the screen round: each one chooses the own name and answers alone."
        };
        page.text(Ink::Plain, text, room.text_width());
        page.gap();
        let rows = self.tasters.iter().enumerate().map(|(row, taster)| {
            let answered = self.done.get(row).copied().unwrap_or(false);
            let state = if answered { "has answered" } else { "waits" };
            (taster.name.to_string(), state.to_owned())
        });
        self.choices.draw(&mut page, &rows.collect::<Vec<_>>());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::ACTIONS.to_vec()
    }

    fn explanation(&self) -> &'static str {
        "The table shows who has answered and nobody's answers. What was right is told when all have answered, so that nobody helps those who still smell."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match self.choices.act(act, self.tasters.len()) {
            Picked::Row(row) => self.open(row, home),
            Picked::Left => Ok(Next::Close),
            Picked::Moved | Picked::Nothing => Ok(Next::Stay),
        }
    }
}
