//! Removing something from a screen, and the list of what was removed, from which it comes back.

use std::sync::Arc;

use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::choices::Choices;
use crate::screens::choices::Picked;
use crate::screens::done_screen::DoneScreen;
use crate::screens::sure_screen::SureScreen;
use crate::workflow::Home;
use crate::workflow::Remembered;
use crate::workflow::Removable;
use crate::workflow::RemovedRow;
use crate::workflow::WorkflowError;

/// Where it goes on when something was removed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Then {
    /// To the list it stood on.
    Back,
    /// To the first screen, because the page it was removed from is gone with it.
    FirstScreen,
}

/// The question before something is removed; `words` name it, such as “batch S1”.
///
/// # Errors
/// It cannot be removed: what stands on it is told before anything is asked.
pub(super) fn remove_question(
    what: Removable,
    words: &str,
    then: Then,
    home: &Home,
) -> Result<SureScreen, WorkflowError> {
    home.ensure_removable(&what)?;
    // Of one beer somebody may have tasted twice.
    let day = match &what {
        Removable::Notes(notes) => format!(" of {}", home.tasted_on(notes)?),
        _ => String::new(),
    };
    let seal = if home.keeps_sealed(&what)? {
        " What it keeps sealed is open from then on, and stays open when it comes back."
    } else {
        ""
    };
    let asked = format!(
        "y removes the {words}{day}; n keeps it. For thirty days it can be brought back.{seal}"
    );
    let does = move |home: &mut Home| -> Result<Next, WorkflowError> {
        let row = home.remove(&what)?;
        let lines = Box::new(move |cells| reports::remove_lines_in_app(&row, cells));
        let done = match then {
            Then::Back => DoneScreen::then_back("Removed", lines),
            Then::FirstScreen => DoneScreen::then_first_screen("Removed", lines),
        };
        Ok(Next::Replace(Box::new(done)))
    };
    Ok(SureScreen::new(
        "Remove it?".to_owned(),
        asked,
        "What is removed is on no list and in no figure any more. It is kept apart for thirty days and comes back as it was: on the first screen e, then What was removed.",
        Box::new(does),
    ))
}

/// What was removed in the last thirty days.
#[derive(Default)]
pub(super) struct RemovedScreen {
    /// The list; read again as soon as anybody has written.
    rows: Remembered<Vec<RemovedRow>>,
    choices: Choices,
}

impl RemovedScreen {
    /// The list as last read.
    fn rows(&self) -> Arc<Vec<RemovedRow>> {
        self.rows.last().unwrap_or_default()
    }
}

impl Screen for RemovedScreen {
    fn title(&self) -> String {
        "What was removed".to_owned()
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        if !self.rows.is_of_now(home) {
            // The row that was marked may be another one now.
            self.choices = Choices::default();
        }
        let all = self.rows.or_drawn_by(home, Home::removed)?;
        let mut page = Page::default();
        page.gap();
        if all.is_empty() {
            let lines = reports::removed_lines(&all, room.text_width());
            page.lines(lines);
            return Ok(page);
        }
        let rows = all.iter();
        let rows = rows.map(|it| (reports::removed_words(it), reports::kept_words(it)));
        self.choices.draw(&mut page, &rows.collect::<Vec<_>>());
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.rows().is_empty() {
            return vec![Action::Back];
        }
        Choices::ACTIONS.to_vec()
    }

    fn explanation(&self) -> &'static str {
        "Enter on one asks whether it comes back. It comes back as it was, if nothing has its place by now. After thirty days it is thrown out by itself; to throw it out at once, type in a terminal: thirdglass removed --for-good NUMBER"
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        let rows = self.rows();
        Ok(match self.choices.act(act, rows.len()) {
            // It is shown first what stands there now.
            Picked::Row(_) if !self.rows.is_of_now(home) => Next::Stay,
            Picked::Row(row) => Next::Open(Box::new(back_question(&rows[row]))),
            Picked::Left => Next::Close,
            Picked::Moved | Picked::Nothing => Next::Stay,
        })
    }
}

/// The question before something comes back.
fn back_question(row: &RemovedRow) -> SureScreen {
    let (words, kept) = (reports::removed_words(row), reports::kept_words(row));
    let asked = format!("y brings the {words} back ({kept}); n leaves it.");
    let number = row.removal.number;
    let does = move |home: &mut Home| -> Result<Next, WorkflowError> {
        let row = home.bring_back(number)?;
        let lines = move |cells| reports::brought_back_lines(&row, cells);
        let done = DoneScreen::then_back("Brought back", Box::new(lines));
        Ok(Next::Replace(Box::new(done)))
    };
    SureScreen::new(
        "Bring it back?".to_owned(),
        asked,
        "It stands on its lists again as it did before.",
        Box::new(does),
    )
}

#[cfg(test)]
mod tests {
    use crate::domain::NotesSource;
    use crate::screens::trial::flat;
    use crate::screens::trial::keys;
    use crate::screens::trial::picture;
    use crate::screens::trial::started;
    use crate::workflow::Home;
    use crate::workflow::Removable;

    #[test]
    fn the_arrow_stays_on_the_row_it_was_moved_to_and_that_one_is_asked_about() {
        let mut home = Home::trial_with_a_batch();
        for name in ["Ana", "Ben"] {
            let taster = home.taster_or_new(name).unwrap();
            let mut tasting = home.start_tasting(&taster, "T1", NotesSource::App).unwrap();
            home.lock(&mut tasting).unwrap();
            let notes = home.locked_notes().unwrap()[0].notes.clone();
            home.remove(&Removable::Notes(notes)).unwrap();
        }
        let mut app = started(home);
        // The latest stands first: Ben's, then Ana's.
        keys(&mut app, "e6↓⏎y");
        assert_eq!(app.home().locked_notes().unwrap().len(), 1);
        let back = app.home().locked_notes().unwrap()[0]
            .taster
            .name
            .to_string();
        assert_eq!(back, "Ana");
    }

    #[test]
    fn what_stands_on_a_batch_and_where_it_is_removed_is_told_before_anything_is_asked() {
        let mut home = Home::trial_with_a_batch();
        let mut app = started(Home::trial_with_a_batch());
        keys(&mut app, "4⏎z");
        assert!(picture(&mut app).contains("y removes the batch T1"));
        let ana = home.taster_or_new("Ana").unwrap();
        let mut tasting = home.start_tasting(&ana, "T1", NotesSource::App).unwrap();
        home.lock(&mut tasting).unwrap();
        let mut app = started(home);
        keys(&mut app, "4⏎z");
        let page = flat(&mut app);
        assert!(page.contains("1 tasting stands on it"), "{page}");
        assert!(page.contains("tastings with z under Notes"), "{page}");
        assert!(
            page.contains("Batch T1") && !page.contains("Remove it?"),
            "{page}"
        );
        // Once it is gone, the batch can go. The day is that of the trial clock.
        keys(&mut app, "⎋⎋5z");
        let asked = flat(&mut app);
        let today = app.home().today();
        assert!(
            asked.contains(&format!("the tasting T1 by Ana of {today}; n keeps")),
            "{asked}"
        );
        keys(&mut app, "y");
        let gone = flat(&mut app);
        assert!(
            gone.contains("e on the first screen, then What was removed."),
            "{gone}"
        );
        assert!(!gone.contains("--bring-back"), "{gone}");
        keys(&mut app, "⏎⎋4⏎z");
        assert!(picture(&mut app).contains("y removes the batch T1"));
    }
}
