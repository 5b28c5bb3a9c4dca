//! A new version of a recipe beside its parent, and the question where to write it.

use crate::drawing::Ink;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Question;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::done_screen::DoneScreen;
use crate::workflow::Home;
use crate::workflow::NextRecipe;
use crate::workflow::Remembered;
use crate::workflow::VersionDraft;
use crate::workflow::WorkflowError;
use crate::workflow::typed_place;

/// What is said where the proposal may be another one by now.
const OLD: &str = "Since this was proposed something was written in another window. Go back: the proposals are looked for again.";

/// A drafted version; nothing is written yet.
pub(super) struct VersionScreen {
    next: NextRecipe,
    draft: VersionDraft,
    /// From which state of the store it was drafted.
    drafted: Remembered<()>,
    age: Age,
}

/// Whether the notes and recipes are still those that it was proposed from.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Age {
    Fresh,
    Old,
}

impl VersionScreen {
    /// A version that was drafted just now.
    ///
    /// # Errors
    /// The store cannot be read.
    pub(super) fn new(
        next: NextRecipe,
        draft: VersionDraft,
        home: &mut Home,
    ) -> Result<Self, WorkflowError> {
        let drafted = Remembered::default();
        drafted.or_drawn_by(home, |_| Ok(()))?;
        let age = Age::Fresh;
        Ok(Self {
            next,
            draft,
            drafted,
            age,
        })
    }
}

impl Screen for VersionScreen {
    fn title(&self) -> String {
        "The new version".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        home.ensure_no_batch_is_tasted()?;
        let mut page = Page::default();
        if !self.drafted.is_of_now(home) {
            self.age = Age::Old;
            page.gap();
            page.text(Ink::Alert, OLD, room.text_width());
            return Ok(page);
        }
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::draft_lines(&self.draft, cells));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        match self.age {
            Age::Fresh => vec![Action::Accept, Action::PageDown, Action::Back],
            Age::Old => vec![Action::Back],
        }
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        (action == Action::Accept).then_some("write it into a file")
    }

    fn explanation(&self) -> &'static str {
        "The recipe file as it would be written: lines with − go, lines with + come, all others stay letter for letter, your comments too. Enter asks for the file; the old one is not touched."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            // The page says why not.
            Act::Do(Action::Accept) if !self.drafted.is_of_now(home) => Next::Stay,
            Act::Do(Action::Accept) => Next::Replace(Box::new(VersionFileScreen {
                next: self.next.clone(),
                draft: self.draft.clone(),
                asking: Asking::default(),
            })),
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}

/// Where to write it.
struct VersionFileScreen {
    next: NextRecipe,
    draft: VersionDraft,
    asking: Asking,
}

impl Question for VersionFileScreen {
    fn heading(&self) -> String {
        "Write the new version".to_owned()
    }

    fn asked(&self) -> &'static str {
        "Into which file? Enter alone takes the name above, in the folder the app was started in."
    }

    fn told(&self) -> Vec<String> {
        vec![self.draft.file_name.clone()]
    }

    fn ensure_may_be_told(&self, home: &Home) -> Result<(), WorkflowError> {
        home.ensure_no_batch_is_tasted()
    }

    fn purpose(&self) -> &'static str {
        "A new file; one that is there already is never overwritten. What the change should do is kept beside it, so that the next tasting can tell whether it did."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let answer = answer.trim();
        let file = if answer.is_empty() {
            self.draft.file_name.as_str()
        } else {
            answer
        };
        home.write_version(&self.next, &self.draft, &typed_place(file))?;
        let (file, version) = (file.to_owned(), self.draft.version.clone());
        let lines = move |cells| reports::written_lines(&file, &version, cells);
        let done = DoneScreen::then_back("Written", Box::new(lines));
        Ok(Next::Replace(Box::new(done)))
    }
}
