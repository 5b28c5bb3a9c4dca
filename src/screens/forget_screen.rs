//! What forgetting a taster means, done once their name is typed.

use crate::drawing::Ink;
use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Asking;
use crate::screens::Input;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::done_screen::DoneScreen;
use crate::screens::question::Answered;
use crate::screens::question::answered;
use crate::workflow::Forgetting;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// What is said while somebody is forgotten, down to the bytes of the file.
const FORGETS: &str = "One moment: every trace is removed.";

/// The page that says what would go, with the line on which the name is typed.
pub struct ForgetScreen {
    before: Forgetting,
    asking: Asking,
}

impl ForgetScreen {
    /// The page of one taster.
    #[must_use]
    pub fn new(before: Forgetting) -> Self {
        Self {
            before,
            asking: Asking::default(),
        }
    }

    /// Forgets, if the name was typed.
    fn typed(&self, answer: &str) -> Next {
        let name = self.before.taster.name.as_str();
        if answer.trim().to_lowercase() != name.to_lowercase() {
            let sentence = format!("Nothing was done. To forget {name}, type the name: {name}.");
            return Next::Say(sentence);
        }
        let name = name.to_owned();
        Next::after(FORGETS, move |home| {
            let done = home.forget(&name)?;
            let lines = move |cells| reports::forgetting_lines(&done, cells);
            let screen = DoneScreen::then_first_screen("Forgotten", Box::new(lines));
            Ok(Next::Replace(Box::new(screen)))
        })
    }
}

impl Screen for ForgetScreen {
    fn title(&self) -> String {
        format!("Forget {}?", self.before.taster.name)
    }

    fn page(&mut self, _home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        let cells = room.text_width().saturating_sub(1);
        page.lines(reports::forgetting_lines(&self.before, cells));
        page.gap();
        let asked = "This cannot be undone. Type the name to do it; Esc does nothing.";
        page.text(Ink::Strong, asked, room.text_width());
        if self.asking.is_typing() {
            page.focus = page.rows.len();
        }
        self.asking.draw(&mut page);
        Ok(page)
    }

    fn input(&self) -> Input {
        Input::Text
    }

    fn is_typing(&self) -> bool {
        self.asking.is_typing()
    }

    fn actions(&self) -> Vec<Action> {
        let mut actions = self.asking.actions();
        actions.push(Action::PageDown);
        actions
    }

    fn explanation(&self) -> &'static str {
        "Everything of this person goes from the file at once, and from its bytes. Everybody else's notes stay as they are. Answers to blind tests stay as those of nobody. Who wants a copy first takes everything away on the page before."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        match answered(&mut self.asking, act) {
            Answered::With(answer) => Ok(self.typed(&answer)),
            Answered::NotYet => Ok(Next::Stay),
            Answered::Back => Ok(Next::Close),
        }
    }

    fn paste(&mut self, text: &str) {
        self.asking.paste(text);
    }
}
