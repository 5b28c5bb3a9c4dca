//! A blind test closed: after that no answer comes in, and the key may be seen by anybody.

use crate::workflow::BlindError;
use crate::workflow::GoesOn;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// Whether a test may be closed before it has all its answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Closing {
    /// Only once it has.
    Complete,
    /// All the same; the result says so.
    Early,
}

impl Home {
    /// Closes a test.
    ///
    /// # Errors
    /// It is closed already, has no answer, or waits for some and closing early was not asked for.
    pub fn close_test(&mut self, number: u32, closing: Closing) -> Result<(), WorkflowError> {
        let planned = self.open_test(number)?;
        let answers = self.store.answers(&planned.test.id)?;
        if answers.is_empty() {
            return Err(BlindError::NoAnswers { number }.into());
        }
        if closing == Closing::Complete && self.goes_on(number)? == GoesOn::On {
            let planned = planned.sets.len();
            return Err(BlindError::BallotsOpen {
                number,
                missing: planned - answers.len(),
                planned,
            }
            .into());
        }
        let now = self.now();
        Ok(self.store.close_sitting(&planned.test.sitting, now)?)
    }
}
