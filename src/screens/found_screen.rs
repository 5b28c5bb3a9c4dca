//! What you found, after the lock; one key opens the plan beside it, another is a second sniff.

use crate::domain::Name;
use crate::domain::NotesId;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::found_lines;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::SecondSniffScreen;
use crate::screens::SideBySideScreen;
use crate::screens::print_offers::beer_offers;
use crate::screens::print_screen::offered_on_paper;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What there is beside the notes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Plan {
    /// It can be opened.
    Open,
    /// Somebody is still tasting.
    Sealed,
    /// The bottle has no recipe.
    Missing,
}

/// Whether the glass may be smelled once more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Bottle {
    /// As far as is known here.
    Sound,
    /// Something was wrong with it.
    Bad,
}

/// The screen of one set of locked notes.
pub struct FoundScreen {
    notes: NotesId,
    mark: Name,
    taster: Name,
    /// What the page last drawn said; the next key answers to that.
    told: Option<Plan>,
    bottle: Bottle,
}

impl FoundScreen {
    /// The screen for these notes.
    #[must_use]
    pub const fn new(notes: NotesId, mark: Name, taster: Name) -> Self {
        Self {
            notes,
            mark,
            taster,
            told: None,
            bottle: Bottle::Sound,
        }
    }

    fn plan(&self, home: &Home) -> Result<Plan, WorkflowError> {
        match home.ensure_open_for_reading(&self.notes) {
            Err(WorkflowError::Sealed { .. }) => return Ok(Plan::Sealed),
            other => other?,
        }
        let recipe = home.beer(self.mark.as_str())?.batch;
        Ok(recipe.map_or(Plan::Missing, |_| Plan::Open))
    }

    /// Opens the second sniff, or says why there is none.
    fn second_sniff(&self, home: &mut Home) -> Result<Next, WorkflowError> {
        use WorkflowError::{BadBottle, NoRecipe, NothingToSniff, Sealed};
        match home.start_second_sniff(&self.notes) {
            Ok(sniff) => Ok(Next::Open(Box::new(SecondSniffScreen::new(
                sniff,
                self.notes.clone(),
                self.mark.clone(),
                self.taster.clone(),
            )))),
            Err(
                refused @ (Sealed { .. }
                | BadBottle { .. }
                | NoRecipe { .. }
                | NothingToSniff { .. }),
            ) => Ok(Next::Say(refused.to_string())),
            Err(other) => Err(other),
        }
    }
}

fn draw_sealed(page: &mut Page, error: &WorkflowError, cells: usize) {
    page.line(Line::of(Ink::Good, "Your notes are locked."));
    page.gap();
    page.text(Ink::Plain, &error.to_string(), cells);
    page.text(
        Ink::Quiet,
        "When everybody is done, Enter opens them here; later they stand under Notes.",
        cells,
    );
}

impl Screen for FoundScreen {
    fn title(&self) -> String {
        format!("What {} found in {}", self.taster, self.mark)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        if let Err(error @ WorkflowError::Sealed { .. }) = home.ensure_open_for_reading(&self.notes)
        {
            self.told = Some(Plan::Sealed);
            // Whether it was bad stands in the notes, and those are sealed.
            self.bottle = Bottle::Sound;
            draw_sealed(&mut page, &error, room.text_width());
            return Ok(page);
        }
        let found = home.found(&self.notes)?;
        let fault = found.notes.bottle_fault;
        self.bottle = fault.map_or(Bottle::Sound, |_| Bottle::Bad);
        page.lines(found_lines(&found, home.wheel(), room.text_width()));
        page.gap();
        let plan = self.plan(home)?;
        self.told = Some(plan);
        let hint = if plan == Plan::Open {
            "Enter opens the plan beside these notes.".to_owned()
        } else {
            format!(
                "No recipe is known for {}, so there is no plan to open. Attach one later: Batches, then a, and choose this mark.",
                self.mark
            )
        };
        page.text(Ink::Quiet, &hint, room.text_width());
        if plan == Plan::Open && self.bottle == Bottle::Sound {
            let sniff = "While there is beer in the glass, r smells it once more: up to six words, half of them decoys.";
            page.text(Ink::Quiet, sniff, room.text_width());
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        match self.bottle {
            Bottle::Sound => vec![
                Action::Accept,
                Action::Print,
                Action::SecondSniff,
                Action::Back,
            ],
            // Nobody is asked to smell such a glass again.
            Bottle::Bad => vec![Action::Accept, Action::Print, Action::Back],
        }
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match (action, self.told) {
            (Action::Accept, Some(Plan::Open)) => Some("the plan beside"),
            _ => None,
        }
    }

    fn explanation(&self) -> &'static str {
        "These notes, stage by stage, as they were locked. Words never used before are named: they are worth a jar. Nothing of the plan is shown until you ask for it."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept) => {
                match self.told.take().map_or_else(|| self.plan(home), Ok)? {
                    Plan::Open => Next::Open(Box::new(SideBySideScreen::new(self.mark.as_str()))),
                    // The page is drawn anew, and open if the last one has locked.
                    Plan::Sealed => Next::Stay,
                    Plan::Missing => Next::Close,
                }
            }
            Act::Do(Action::Print) => offered_on_paper(beer_offers(self.mark.as_str()), home),
            Act::Do(Action::SecondSniff) => self.second_sniff(home)?,
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
