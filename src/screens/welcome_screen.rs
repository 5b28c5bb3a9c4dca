//! The very first question: is there a glass in front of you?

use crate::domain::NotesSource;
use crate::drawing::Ink;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::CupboardScreen;
use crate::screens::HomeScreen;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::TasterScreen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The screen of a first start.
pub struct WelcomeScreen {
    source: NotesSource,
}

impl WelcomeScreen {
    /// The screen; a tasting begun from it is kept as coming from `source`.
    #[must_use]
    pub const fn new(source: NotesSource) -> Self {
        Self { source }
    }
}

impl Screen for WelcomeScreen {
    fn title(&self) -> String {
        "thirdglass".to_owned()
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        page.text(
            Ink::Strong,
            "Is there a glass of beer in front of you?",
            room.text_width(),
        );
        page.gap();
        page.text(
            Ink::Plain,
            "y   Yes: your name, what is written on the bottle, and the first sniff.",
            room.text_width(),
        );
        page.text(Ink::Plain, "n   No: three things from the cupboard, and in two minutes you will have found a word by its place.", room.text_width());
        page.text(
            Ink::Plain,
            "e   You have a home elsewhere: its archive is read in here.",
            room.text_width(),
        );
        page.gap();
        page.text(
            Ink::Quiet,
            "Esc goes to the first screen.",
            room.text_width(),
        );
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Yes, Action::No, Action::Everything, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "This is asked once. Nothing needs to be set up: a beer can be tasted with nothing but its cap mark, and a recipe can be attached later."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Yes) => Next::Replace(Box::new(TasterScreen::new(self.source, home)?)),
            Act::Do(Action::No) => Next::Replace(Box::new(CupboardScreen::new())),
            Act::Do(Action::Everything) => Next::Replace(Box::new(HomeScreen::default())),
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
