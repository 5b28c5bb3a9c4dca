//! Who sits down at a blind test, or who looks at its key.

use crate::domain::Pouring;
use crate::domain::SheetKind;
use crate::screens::AnswerScreen;
use crate::screens::Asking;
use crate::screens::Next;
use crate::screens::Question;
use crate::screens::SheetScreen;
use crate::screens::TestPlaceScreen;
use crate::workflow::Home;
use crate::workflow::TakePlace;
use crate::workflow::WorkflowError;

/// What a name is wanted for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Wanted {
    /// A place at the test.
    Place,
    /// A look at a sheet that tells what is in the cups.
    Sheet(SheetKind),
}

/// The screen that asks for a name. No names are listed: who was here before is nobody's business.
pub struct TestNameScreen {
    number: u32,
    wanted: Wanted,
    asking: Asking,
}

impl TestNameScreen {
    pub(super) fn new(number: u32, wanted: Wanted) -> Self {
        Self {
            number,
            wanted,
            asking: Asking::default(),
        }
    }
}

impl Question for TestNameScreen {
    fn heading(&self) -> String {
        match self.wanted {
            Wanted::Place => "Who sits down?".to_owned(),
            Wanted::Sheet(_) => "Who looks at what is in the cups?".to_owned(),
        }
    }

    fn asked(&self) -> &'static str {
        match self.wanted {
            Wanted::Place => "Your name; it need not be your real one.",
            Wanted::Sheet(_) => {
                "Your name. From Enter on you know the key, and cannot answer in this test any more."
            }
        }
    }

    fn purpose(&self) -> &'static str {
        "A name keeps one person's answers together, and keeps who knows the key apart from who tastes."
    }

    fn asking(&self) -> &Asking {
        &self.asking
    }

    fn asking_mut(&mut self) -> &mut Asking {
        &mut self.asking
    }

    fn needs(&self) -> Option<&'static str> {
        Some("a name is needed")
    }

    fn accept(&mut self, name: &str, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match self.wanted {
            Wanted::Place => {
                let alone = home.planned_test(self.number)?.test.pouring == Pouring::Alone;
                let free = home.free_places(self.number, name)?;
                if free.len() > 1 && !alone {
                    let screen = TestPlaceScreen::new(self.number, name, &free);
                    return Ok(Next::Replace(Box::new(screen)));
                }
                let place = home.sit_down(self.number, name, TakePlace::NextFree)?;
                Next::Replace(Box::new(AnswerScreen::new(place, home)?))
            }
            Wanted::Sheet(kind) => {
                let sheet = home.sheet(self.number, kind, Some(name))?;
                let screen = SheetScreen::new(sheet, home.joined_allergens()?);
                Next::Replace(Box::new(screen))
            }
        })
    }
}
