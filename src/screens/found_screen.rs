//! What you found, after the lock; one key opens the plan beside it.

use crate::domain::Name;
use crate::domain::NotesId;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::reports::found_lines;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::SideBySideScreen;
use crate::workflow::Home;
use crate::workflow::WorkflowError;

/// The screen of one set of locked notes.
pub struct FoundScreen {
    notes: NotesId,
    mark: Name,
    taster: Name,
}

impl FoundScreen {
    /// The screen for these notes.
    #[must_use]
    pub const fn new(notes: NotesId, mark: Name, taster: Name) -> Self {
        Self {
            notes,
            mark,
            taster,
        }
    }
}

impl Screen for FoundScreen {
    fn title(&self) -> String {
        format!("What {} found in {}", self.taster, self.mark)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let mut page = Page::default();
        page.gap();
        if let Err(error @ WorkflowError::Sealed { .. }) = home.ensure_open_for_reading(&self.notes)
        {
            page.line(Line::of(Ink::Good, "Your notes are locked."));
            page.gap();
            page.text(Ink::Plain, &error.to_string(), room.text_width());
            page.text(
                Ink::Quiet,
                "When everybody is done, open them under Notes.",
                room.text_width(),
            );
            return Ok(page);
        }
        let found = home.found(&self.notes)?;
        page.lines(found_lines(&found, home.wheel(), room.text_width()));
        page.gap();
        page.line(Line::of(
            Ink::Quiet,
            "Enter opens the plan beside your notes.",
        ));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        vec![Action::Accept, Action::Back]
    }

    fn explanation(&self) -> &'static str {
        "Your own notes, stage by stage, as you locked them. Words you have never used before are named: they are worth a jar. Nothing of the plan is shown until you ask for it."
    }

    fn act(&mut self, act: Act, _home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept) => {
                Next::Open(Box::new(SideBySideScreen::new(self.mark.as_str())))
            }
            Act::Do(Action::Back) => Next::Close,
            _ => Next::Stay,
        })
    }
}
