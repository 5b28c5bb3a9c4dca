//! What keys do while something is chosen from a list, or a code is typed.

use crate::domain::PracticeReply;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::PracticeItemScreen;
use crate::screens::practice_item_screen::CODE_DIGITS;
use crate::screens::practice_item_screen::Step;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

impl PracticeItemScreen {
    pub(super) fn choosing(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let count = self.options(home).len().max(1);
        match act {
            Act::Digit(digit) => return self.choose(usize::from(digit).wrapping_sub(1), home),
            Act::Row(row) => return self.choose(row, home),
            Act::Do(Action::Accept) => return self.choose(self.chosen, home),
            Act::Do(Action::Up) => self.chosen = (self.chosen + count - 1) % count,
            Act::Do(Action::Down) => self.chosen = (self.chosen + 1) % count,
            Act::Do(Action::CannotTell) => {
                self.reply(PracticeReply::CannotTell, None, home)?;
                return self.after_certainty(None, home);
            }
            _ => {}
        }
        Ok(Next::Stay)
    }

    pub(super) fn coding(
        &mut self,
        mut code: String,
        act: Act,
        home: &mut Home,
    ) -> Result<Next, WorkflowError> {
        match act {
            Act::Digit(digit) => code.push(char::from(b'0' + digit)),
            Act::Do(Action::Undo) => {
                code.pop();
            }
            _ => {}
        }
        if code.len() == CODE_DIGITS {
            return self.read_code(&code, home);
        }
        self.step = Step::Code(code);
        Ok(Next::Stay)
    }
}
