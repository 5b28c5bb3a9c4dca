//! One blind test: what it is, its sheets, its places, and in the end its result.

use crate::domain::Pouring;
use crate::domain::SheetKind;
use crate::drawing::Ink;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::SheetScreen;
use crate::screens::TestNameScreen;
use crate::screens::TestResultScreen;
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::screens::removed_screen::Then;
use crate::screens::removed_screen::remove_question;
use crate::screens::test_name_screen::Wanted;
use crate::workflow::BlindError;
use crate::workflow::Closing;
use crate::workflow::GoesOn;
use crate::workflow::Home;
use crate::workflow::PlannedTest;
use crate::workflow::Removable;
use crate::workflow::TestProgress;
use crate::workflow::WorkflowError;

/// What can be done with a test.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Choice {
    SitDown,
    Sheet(SheetKind),
    Close(Closing),
    Result,
}

/// The screen of one test.
pub struct OneTestScreen {
    planned: PlannedTest,
    goes_on: GoesOn,
    progress: TestProgress,
    /// What the beers of this home may hold; read once, because it goes through every recipe.
    allergens: String,
    list: Choices,
    /// Closing was refused because answers are missing; then it may be asked for all the same.
    waits: bool,
}

impl OneTestScreen {
    /// The screen of the test with this number.
    ///
    /// # Errors
    /// There is none, or the store cannot be read.
    pub fn new(number: u32, home: &Home) -> Result<Self, WorkflowError> {
        Ok(Self {
            planned: home.planned_test(number)?,
            goes_on: home.goes_on(number)?,
            progress: home.test_progress(number)?,
            allergens: home.joined_allergens()?,
            list: Choices::default(),
            waits: false,
        })
    }

    const fn is_closed(&self) -> bool {
        self.planned.test.closed_at.is_some()
    }

    fn choices(&self) -> Vec<(Choice, &'static str)> {
        let mut all = Vec::new();
        if self.is_closed() {
            all.push((Choice::Result, "The result"));
        } else {
            all.push((Choice::SitDown, "Sit down and taste"));
        }
        let alone = self.planned.test.pouring == Pouring::Alone;
        if !alone || self.is_closed() {
            let pourer = "The pourer's sheet (who sees it cannot taste)";
            all.push((Choice::Sheet(SheetKind::Pourer), pourer));
        }
        if self.planned.test.pouring == Pouring::Two {
            let server = "The server's sheet (who sees it cannot taste)";
            all.push((Choice::Sheet(SheetKind::Server), server));
        }
        all.push((Choice::Sheet(SheetKind::Labels), "Labels for the cups"));
        all.push((Choice::Sheet(SheetKind::Ballots), "Ballots on paper"));
        if !self.is_closed() {
            all.push((Choice::Close(Closing::Complete), "Close the test"));
        }
        if self.waits && !self.is_closed() {
            let early = "Close it early; the result will say so";
            all.push((Choice::Close(Closing::Early), early));
        }
        all
    }

    fn choose(&mut self, row: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        let number = self.planned.test.number;
        let Some((choice, _)) = self.choices().get(row).copied() else {
            return Ok(Next::Stay);
        };
        match choice {
            Choice::SitDown if self.progress.here == 0 && self.goes_on == GoesOn::Stop => {
                let said = "Nobody is missing: it has all the answers it needs, and can be closed.";
                Ok(Next::Say(said.to_owned()))
            }
            Choice::SitDown => Ok(ask(number, Wanted::Place)),
            Choice::Sheet(kind) => {
                let tells = matches!(kind, SheetKind::Pourer | SheetKind::Server);
                if tells && !self.is_closed() {
                    return Ok(ask(number, Wanted::Sheet(kind)));
                }
                let sheet = home.sheet(number, kind, None)?;
                let screen = SheetScreen::new(sheet, self.allergens.clone());
                Ok(Next::Open(Box::new(screen)))
            }
            Choice::Close(closing) => self.close(closing, home),
            Choice::Result => {
                let screen = TestResultScreen::new(number, home)?;
                Ok(Next::Open(Box::new(screen)))
            }
        }
    }

    /// How far it has come; how many are right is nobody's business before it is closed.
    fn state(&self) -> String {
        let TestProgress { given, planned, .. } = self.progress;
        match self.goes_on {
            GoesOn::On => format!(
                "{given} of {planned} answers are there; nobody is told how many are right before it is closed."
            ),
            GoesOn::Stop => "It has all the answers it needs: close it.".to_owned(),
        }
    }

    fn close(&mut self, closing: Closing, home: &mut Home) -> Result<Next, WorkflowError> {
        match home.close_test(self.planned.test.number, closing) {
            Ok(()) => {
                self.list = Choices::default();
                Ok(Next::Say("Closed. Enter shows the result.".to_owned()))
            }
            Err(WorkflowError::Blind(BlindError::BallotsOpen {
                missing, planned, ..
            })) => {
                self.waits = true;
                self.list = Choices::at(self.choices().len() - 1);
                Ok(Next::Say(format!(
                    "{missing} of {planned} answers are missing. Closing now makes the result weaker, and it will say so. Enter closes it all the same."
                )))
            }
            Err(other) => Err(other),
        }
    }
}

fn ask(number: u32, wanted: Wanted) -> Next {
    Next::Open(Box::new(TestNameScreen::new(number, wanted)))
}

impl Screen for OneTestScreen {
    fn title(&self) -> String {
        format!("Blind test {}", self.planned.test.number)
    }

    fn refresh(&mut self, home: &mut Home) -> Result<(), WorkflowError> {
        let number = self.planned.test.number;
        self.planned = home.planned_test(number)?;
        self.goes_on = home.goes_on(number)?;
        self.progress = home.test_progress(number)?;
        Ok(())
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width();
        page.gap();
        page.text(Ink::Strong, &reports::plan_sentence(&self.planned), cells);
        if !self.is_closed() {
            let odds = self.planned.odds()?;
            let worth = reports::odds_sentence(&self.planned, &odds);
            page.text(Ink::Plain, &worth, cells);
            page.text(Ink::Plain, &self.state(), cells);
            let care = format!(
                "May hold: {}. Spit or only smell as you like; nobody is pressed; not for anyone under age, driving, pregnant or on medicines that forbid alcohol.",
                self.allergens
            );
            page.text(Ink::Alert, &care, cells);
        }
        let commitment = reports::short_commitment(&self.planned.test.commitment);
        page.text(Ink::Quiet, &commitment, cells);
        page.gap();
        let rows = self.choices().into_iter();
        let rows = rows.map(|(_, words)| (words.to_owned(), String::new()));
        self.list.draw(&mut page, &rows.collect::<Vec<_>>());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        Choices::actions_with(&[Action::Remove])
    }

    fn explanation(&self) -> &'static str {
        "The commitment is a hash (SHA-256) over the whole plan with a secret salt: write its first signs down before the first answer, and the result lets everybody check that nothing was changed. Pass the screen round: each taster sits down by name, answers alone, and leaves; nothing of it can be seen by the next."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        if act == Act::Do(Action::Remove) {
            let words = format!("blind test {}", self.planned.test.number);
            let what = Removable::Test(self.planned.test.number);
            let asked = remove_question(what, &words, Then::FirstScreen, home)?;
            return Ok(Next::Open(Box::new(asked)));
        }
        match self.list.act(act, self.choices().len()) {
            Picked::Row(row) => self.choose(row, home),
            Picked::Left => Ok(Next::Close),
            Picked::Moved | Picked::Nothing => Ok(Next::Stay),
        }
    }
}
