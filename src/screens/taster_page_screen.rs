//! One taster's page: what is solid, what is borrowed, what to practise; then line by line and the charts.

use crate::reports;
use crate::screens::Act;
use crate::screens::Action;
use crate::screens::Next;
use crate::screens::Page;
use crate::screens::Room;
use crate::screens::Screen;
use crate::screens::print_offers::taster_offers;
use crate::screens::print_screen::offered_on_paper;
use crate::workflow::ChartKind;
use crate::workflow::Home;
use crate::workflow::Remembered;
use crate::workflow::TasterPage;
use crate::workflow::WorkflowError;

/// The most cells of a line.
const MOST_CELLS: usize = 110;

/// How much is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shown {
    /// The page.
    Page,
    /// Every line, and charts of weighted means.
    Means,
    /// Every line, and charts of cumulative sums.
    Sums,
}

impl Shown {
    /// The charts that are reckoned for it.
    const fn charts(self) -> ChartKind {
        match self {
            Self::Page | Self::Means => ChartKind::WeightedMean,
            Self::Sums => ChartKind::CumulativeSum,
        }
    }
}

/// The page of one taster.
pub struct TasterPageScreen {
    name: String,
    shown: Shown,
    page: Remembered<TasterPage>,
}

impl TasterPageScreen {
    /// The screen for the taster of this name.
    #[must_use]
    pub fn new(name: &str) -> Self {
        Self {
            name: name.to_owned(),
            shown: Shown::Page,
            page: Remembered::default(),
        }
    }

    fn show(&mut self, shown: Shown) -> Next {
        if shown.charts() != self.shown.charts() {
            self.page.forget();
        }
        self.shown = shown;
        Next::Top
    }
}

impl Screen for TasterPageScreen {
    fn title(&self) -> String {
        format!("{}: how far to trust the notes", self.name)
    }

    fn page(&mut self, home: &mut Home, room: Room) -> Result<Page, WorkflowError> {
        home.ensure_page_may_be_told(&self.name)?;
        let charts = self.shown.charts();
        let read = |home: &mut Home| home.taster_page(&self.name, charts);
        let told = self.page.or_drawn_by(home, read)?;
        let mut page = Page::default();
        let cells = room.width.saturating_sub(1).min(MOST_CELLS);
        match self.shown {
            // The title of the screen says what the first line of the report does.
            Shown::Page => {
                let lines = reports::taster_lines(&told, home.wheel(), cells);
                page.lines(lines.into_iter().skip(1));
            }
            Shown::Means | Shown::Sums => page.lines(reports::taster_detail_lines(&told, cells)),
        }
        Ok(page)
    }

    fn actions(&self) -> Vec<Action> {
        let turns: &[Action] = match self.shown {
            Shown::Page => &[Action::Right],
            Shown::Means => &[Action::Right, Action::Left],
            Shown::Sums => &[Action::Left],
        };
        let rest = [
            Action::Print,
            Action::PageDown,
            Action::PageUp,
            Action::Back,
        ];
        turns.iter().copied().chain(rest).collect()
    }

    fn label_of(&self, action: Action) -> Option<&'static str> {
        match (action, self.shown) {
            (Action::Right, Shown::Page) => Some("every line, charts"),
            (Action::Right, _) => Some("cumulative sums"),
            (Action::Left, Shown::Means) => Some("the page"),
            (Action::Left, _) => Some("weighted means"),
            _ => None,
        }
    }

    fn is_drawn(&self, home: &Home) -> bool {
        self.page.is_of_now(home)
    }

    fn explanation(&self) -> &'static str {
        "How far these notes can be trusted: what was measured, what is borrowed from other lines and tasters, and what to practise. Only glasses under a code count, tasted in good form. The same beer poured twice under two codes says how far one answer strays; what others found in the same glass says how far answers lie above or below. Nobody is ranked."
    }

    fn act(&mut self, act: Act, home: &mut Home) -> Result<Next, WorkflowError> {
        Ok(match (act, self.shown) {
            (Act::Do(Action::Print), _) => offered_on_paper(taster_offers(&self.name), home),
            (Act::Do(Action::Back), _) => Next::Close,
            (Act::Do(Action::Right), Shown::Page) | (Act::Do(Action::Left), Shown::Sums) => {
                self.show(Shown::Means)
            }
            (Act::Do(Action::Right), Shown::Means) => self.show(Shown::Sums),
            (Act::Do(Action::Left), Shown::Means) => self.show(Shown::Page),
            _ => Next::Stay,
        })
    }
}
