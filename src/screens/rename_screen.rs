//! Another name for a taster.

use crate::reports;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Question;
use crate::screens::done_screen::DoneScreen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The question for the new name.
pub(super) struct RenameScreen {
    name: String,
    asking: Asking,
}

impl RenameScreen {
    pub(super) fn new(name: String) -> Self {
        Self {
            name,
            asking: Asking::default(),
        }
    }
}

impl Question for RenameScreen {
    fn heading(&self) -> String {
        format!("Another name for {}", self.name)
    }

    fn asked(&self) -> &'static str {
        "The new name; it need not be a real one."
    }

    fn purpose(&self) -> &'static str {
        "The new name takes the place of the old one on every screen and in every report, for old notes too. The old one is kept nowhere in the file."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let renamed = home.rename_taster(&self.name, answer)?;
        let old = self.name.clone();
        let lines = move |cells| reports::renamed_lines(&renamed, &old, cells);
        let done = DoneScreen::then_back("Another name", Box::new(lines));
        Ok(Next::Replace(Box::new(done)))
    }
}
