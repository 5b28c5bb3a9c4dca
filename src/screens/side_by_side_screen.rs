//! The plan beside the notes.

use crate::reports::Extent;
use crate::reports::comparison_lines;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::NextScreen;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::VersusScreen;
use crate::screens::print_offers::batch_offers;
use crate::screens::print_screen::offered_on_paper;
use crate::workflow::Comparison;
use crate::workflow::Home;
use crate::workflow::Remembered;
use crate::workflow::WorkflowError;

/// The screen of one beer's plan and notes.
pub struct SideBySideScreen {
    mark: String,
    extent: Extent,
    both: Remembered<Comparison>,
    /// Whether there is anything to compare; without it only going back works.
    compared: Compared,
}

/// What became of the comparison when it was last read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Compared {
    /// It is shown.
    Shown,
    /// It was refused, and why stands on the page.
    Refused,
}

impl SideBySideScreen {
    /// The screen for the beer with this cap mark.
    #[must_use]
    pub fn new(mark: &str) -> Self {
        Self {
            mark: mark.to_owned(),
            extent: Extent::First,
            both: Remembered::default(),
            compared: Compared::Shown,
        }
    }

    const fn show(&mut self, extent: Extent) -> Next {
        self.extent = extent;
        Next::Top
    }
}

impl Screen for SideBySideScreen {
    fn title(&self) -> String {
        format!("{}: plan and notes side by side", self.mark)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        let compare = |home: &mut Home| home.compare(&self.mark, None);
        let both = self.both.or_drawn_by(home, compare);
        self.compared = match both {
            Ok(_) => Compared::Shown,
            Err(_) => Compared::Refused,
        };
        let both = both?;
        let mut page = Page::default();
        let cells = room.width.saturating_sub(1).min(110);
        page.lines(comparison_lines(&both, self.extent, cells));
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        if self.compared == Compared::Refused {
            return vec![Action::Back];
        }
        let turn = match self.extent {
            Extent::First => Action::Right,
            Extent::All => Action::Left,
        };
        vec![
            Action::Accept,
            turn,
            Action::Against,
            Action::NextBrew,
            Action::Print,
            Action::PageDown,
            Action::PageUp,
            Action::Back,
        ]
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match action {
            Action::Accept => Some(""),
            Action::Right => Some("every line and why"),
            Action::Left => Some("the short list"),
            _ => None,
        }
    }

    fn is_drawn(&self, home: &Home) -> bool {
        self.both.is_of_now(home)
    }

    fn explanation(&self) -> &'static str {
        "Each line runs from 0 to 9: what was hoped for, what recipe and log predict, what was found, and how far that may be noise. A line is called more or less only when it goes beyond the noise, all lines judged together; as meant only when it is within one digit with nine chances in ten. Until then it cannot be told; the best guess stands in brackets. Not mentioned is not zero: you may have missed it."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match act {
            Act::Do(Action::Accept | Action::Back) => Next::Close,
            Act::Do(Action::Print) => offered_on_paper(batch_offers(&self.mark), home),
            Act::Do(Action::Against) => Next::Open(Box::new(VersusScreen::new(&self.mark))),
            Act::Do(Action::NextBrew) => Next::Open(Box::new(NextScreen::new(&self.mark))),
            Act::Do(Action::Right) => self.show(Extent::All),
            Act::Do(Action::Left) => self.show(Extent::First),
            _ => Next::Stay,
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::screens::trial::keys;
    use crate::screens::trial::picture;
    use crate::screens::trial::started;
    use crate::workflow::Home;

    #[test]
    fn where_there_is_nothing_to_compare_only_the_way_back_is_offered() {
        let mut app = started(Home::trial_with_a_batch());
        keys(&mut app, "4⏎⏎");
        let page = picture(&mut app);
        let footer = page.lines().last().unwrap();
        assert_eq!(footer.trim(), "Esc back  ? explain", "{page}");
    }
}
