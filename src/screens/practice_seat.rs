//! One taster's place at a practice table: the screen they answer on, and whether they have answered.

use crate::domain::PracticeKind;
use crate::domain::SittingId;
use crate::domain::Taster;
use crate::screens::PracticeEndScreen;
use crate::screens::PracticeItemScreen;
use crate::screens::Screen;
use crate::screens::StrengthScreen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// Where a taster stands in a practice.
pub(super) enum PracticeSeat {
    /// Something is still asked.
    Open(Box<dyn Screen>),
    /// Everything is answered; the screen tells what was right once that may be told.
    Answered(Box<dyn Screen>),
}

impl PracticeSeat {
    /// The place of a taster.
    ///
    /// # Errors
    /// The taster does not take part, or the store cannot be read.
    pub(super) fn of(
        home: &Home,
        sitting: &SittingId,
        taster: &Taster,
    ) -> Result<Self, WorkflowError> {
        let run = home.practice_run(sitting, taster)?;
        if run.practice.kind == PracticeKind::Strength {
            let run = home.strength_run(sitting, taster)?;
            let answered = run.series.is_answered();
            let screen = Box::new(StrengthScreen::new(run));
            return Ok(if answered {
                Self::Answered(screen)
            } else {
                Self::Open(screen)
            });
        }
        Ok(if run.open().is_some() {
            Self::Open(Box::new(PracticeItemScreen::new(run)))
        } else {
            Self::Answered(Box::new(PracticeEndScreen::new(run)))
        })
    }

    /// Whether everything is answered.
    pub(super) const fn is_answered(&self) -> bool {
        matches!(self, Self::Answered(_))
    }

    /// The screen, whichever it is.
    pub(super) fn into_screen(self) -> Box<dyn Screen> {
        match self {
            Self::Open(screen) | Self::Answered(screen) => screen,
        }
    }
}
