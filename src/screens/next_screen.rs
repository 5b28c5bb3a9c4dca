//! What to brew next after a batch, with the wishes it was searched by.

use std::sync::Arc;

use crate::reports;
use crate::reports::NextDetail;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::version_screen::VersionScreen;
use crate::screens::wish_screen::WishScreen;
use crate::workflow::AskedWishes;
use crate::workflow::Home;
use crate::workflow::NextRecipe;
use crate::workflow::Remembered;
use crate::workflow::WorkflowError;

/// What to brew next.
pub struct NextScreen {
    mark: String,
    wishes: AskedWishes,
    detail: NextDetail,
    /// What was found, searched for when it is first shown.
    found: Remembered<NextRecipe>,
}

impl NextScreen {
    /// The screen after a batch.
    #[must_use]
    pub fn new(mark: &str) -> Self {
        Self::with(mark, AskedWishes::default())
    }

    /// The same with wishes.
    #[must_use]
    pub(super) fn with(mark: &str, wishes: AskedWishes) -> Self {
        Self {
            mark: mark.to_owned(),
            wishes,
            detail: NextDetail::Short,
            found: Remembered::default(),
        }
    }

    /// The new version of a proposal, counted from 0.
    fn version(&self, at: usize, home: &mut Home) -> Result<Next, WorkflowError> {
        // In another window somebody may have begun to taste.
        home.ensure_no_batch_is_tasted()?;
        let found = self.found(home)?;
        if at >= found.proposals.len() {
            return Ok(Next::Stay);
        }
        let draft = home.draft_numbered(&found, at + 1)?;
        let screen = VersionScreen::new(NextRecipe::clone(&found), draft, home)?;
        Ok(Next::Open(Box::new(screen)))
    }

    /// What is found now.
    fn found(&self, home: &mut Home) -> Result<Arc<NextRecipe>, WorkflowError> {
        let search = |home: &mut Home| home.next_recipe(&self.mark, &self.wishes, None);
        self.found.or_drawn_by(home, search)
    }
}

impl Screen for NextScreen {
    fn title(&self) -> String {
        "What to brew next".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        // In another window somebody may have begun to taste.
        home.ensure_no_batch_is_tasted()?;
        let found = self.found(home)?;
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::next_lines(&found, self.detail, cells));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let proposes = self.found.last();
        let proposes = proposes.is_none_or(|it| !it.proposals.is_empty());
        let mut actions = vec![Action::Add, Action::Right, Action::PageDown, Action::Back];
        if proposes {
            actions.insert(0, Action::Accept);
        }
        actions
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            Action::Accept => Some(match self.found.last().map(|it| it.proposals.len()) {
                Some(1) => "look at it",
                Some(2) => "look at it (2: the other)",
                _ => "look at it (2, 3: the others)",
            }),
            Action::Add => Some("wishes"),
            Action::Right if self.detail == NextDetail::Short => Some("everything"),
            Action::Right => Some("less"),
            _ => None,
        }
    }

    fn is_drawn(&self, home: &Home) -> bool {
        self.found.is_of_now(home)
    }

    fn explanation(&self) -> &'static str {
        "Which hopes the glasses miss by more than noise, and up to three changes of the recipe that should bring the beer nearer. Smells that come of process or age stand first, because no recipe mends them. Enter shows the first proposal as a new version of the recipe file, 2 and 3 the others; nothing is written before you say so. What is believed to be there lies nearer to the hope than what was found, as far as the gap may be noise; ranges are told for 8 times in 10."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        match act {
            Act::Do(Action::Accept) => self.version(0, home),
            Act::Digit(digit @ 1..=3) => self.version(usize::from(digit) - 1, home),
            Act::Do(Action::Add) => {
                let wish = WishScreen::new(self.mark.clone(), self.wishes.clone());
                Ok(Next::Replace(Box::new(wish)))
            }
            Act::Do(Action::Right) => {
                self.detail = match self.detail {
                    NextDetail::Short => NextDetail::All,
                    NextDetail::All => NextDetail::Short,
                };
                Ok(Next::Top)
            }
            Act::Do(Action::Back) => Ok(Next::Close),
            _ => Ok(Next::Stay),
        }
    }
}
