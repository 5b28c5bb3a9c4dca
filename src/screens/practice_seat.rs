//! One taster's place at a practice table: the screen they answer on, and whether they have answered.

use crate::domain::PracticeKind;
use crate::domain::Reveal;
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
    /// The table is closed, and the screen tells what was right.
    Told(Box<dyn Screen>),
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
        let told = run.practice.reveal != Reveal::Each && home.may_tell(&run.practice)?;
        let closed = !home.practice_waits(sitting)?;
        if run.practice.kind == PracticeKind::Strength {
            let run = home.strength_run(sitting, taster)?;
            let answered = run.series.is_answered();
            return Ok(match (told, answered || closed) {
                (true, _) => Self::Told(Box::new(StrengthScreen::told(run))),
                (_, true) => Self::Answered(Box::new(StrengthScreen::new(run))),
                _ => Self::Open(Box::new(StrengthScreen::new(run))),
            });
        }
        Ok(match (told, run.open().is_none() || closed) {
            (true, _) => Self::Told(Box::new(PracticeEndScreen::new(run))),
            (_, true) => Self::Answered(Box::new(PracticeEndScreen::new(run))),
            _ => Self::Open(Box::new(PracticeItemScreen::new(run))),
        })
    }

    /// Whether everything is answered.
    pub(super) const fn is_answered(&self) -> bool {
        matches!(self, Self::Answered(_) | Self::Told(_))
    }

    /// Whether what was right may be told.
    pub(super) const fn may_be_told(&self) -> bool {
        matches!(self, Self::Told(_))
    }

    /// The screen, whichever it is.
    pub(super) fn into_screen(self) -> Box<dyn Screen> {
        match self {
            Self::Open(screen) | Self::Answered(screen) | Self::Told(screen) => screen,
        }
    }
}
