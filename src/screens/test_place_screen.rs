//! Which place somebody takes at a blind test: the one whose cups stand before them.

use crate::screens::AnswerScreen;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Question;
use crate::workflow::Home;
use crate::workflow::TakePlace;
use crate::workflow::WorkflowError;

/// The screen that asks for a place.
pub struct TestPlaceScreen {
    number: u32,
    name: String,
    asking: Asking,
}

impl TestPlaceScreen {
    pub(super) fn new(number: u32, name: &str, free: &[u16]) -> Self {
        let names: Vec<String> = free.iter().map(u16::to_string).collect();
        let first = names.first().cloned().unwrap_or_default();
        Self {
            number,
            name: name.to_owned(),
            asking: Asking::among(names).choosing(&first),
        }
    }
}

impl Question for TestPlaceScreen {
    fn heading(&self) -> String {
        format!("Where does {} sit?", self.name.trim())
    }

    fn asked(&self) -> &'static str {
        "The place whose cups stand before you; whoever served knows its number. Enter takes the first one that is free."
    }

    fn purpose(&self) -> &'static str {
        "Each place has cups of its own with codes of its own. The number stands on the sheets and on the ballots."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn accept(&mut self, answer: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        let Ok(place) = answer.trim().parse() else {
            return Ok(Next::Say("The number of a place.".to_owned()));
        };
        let place = home.sit_down(self.number, &self.name, TakePlace::Numbered(place))?;
        Ok(Next::Replace(Box::new(AnswerScreen::new(place, home)?)))
    }
}
