//! What a screen shows: rows with meaning, each of which may answer to a click, and a side pane where there is room.

use std::ops::Range;

use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::wrap;
use crate::screens::Press;

/// The room there is, in cells.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Room {
    /// Cells from left to right.
    pub width: usize,
    /// Cells from top to bottom.
    pub height: usize,
}

impl Room {
    /// Width from which a side pane stands beside the page.
    pub const WIDE: usize = 110;

    /// The room of a page that is told line by line: as many rows as it takes, and no pictures.
    pub const TOLD: Self = Self {
        width: 80,
        height: 1_000,
    };

    /// Cells for the text of the page itself.
    #[must_use]
    pub const fn text_width(self) -> usize {
        let own = if self.width >= Self::WIDE {
            78
        } else {
            self.width
        };
        if own > 80 { 80 } else { own }
    }
}

/// One row of a page.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Row {
    /// What stands there.
    pub line: Line,
    /// What a click on it presses.
    pub press: Option<Press>,
}

/// A page without its title and footer.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Page {
    /// The rows from top to bottom.
    pub rows: Vec<Row>,
    /// What stands beside, where there is room.
    pub side: Vec<Line>,
    /// The row that must stay in view.
    pub focus: usize,
    /// What of a long list is not among the rows, because nobody could see it.
    pub left_out: LeftOut,
}

/// Lines of a long list that a page does without.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct LeftOut {
    /// How many above its first row.
    pub above: usize,
    /// How many below its last row.
    pub below: Below,
}

/// Lines left out below a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Below {
    /// So many.
    Lines(usize),
    /// Some; nobody counted them.
    Uncounted,
}

impl Default for Below {
    fn default() -> Self {
        Self::Lines(0)
    }
}

impl LeftOut {
    /// True where nothing is left out.
    #[must_use]
    pub fn is_nothing(self) -> bool {
        self == Self::default()
    }
}

impl Page {
    /// Adds a line.
    pub fn line(&mut self, line: Line) {
        self.rows.push(Row { line, press: None });
    }

    /// Adds an empty line.
    pub fn gap(&mut self) {
        self.line(Line::blank());
    }

    /// Adds a sentence, broken to fit.
    pub fn text(&mut self, ink: Ink, text: &str, cells: usize) {
        for line in wrap(text, cells.saturating_sub(1)) {
            self.line(Line::of(ink, line));
        }
    }

    /// Adds lines.
    pub fn lines(&mut self, lines: impl IntoIterator<Item = Line>) {
        for line in lines {
            self.line(line);
        }
    }

    /// The entries of a list of `count` that can be seen in so many rows with the chosen one among them. The page is
    /// made ready for them: what stands on it already goes where the list has moved on. `more` says
    /// what follows after the last entry.
    pub fn window(
        &mut self,
        count: usize,
        chosen: usize,
        height: usize,
        more: Below,
    ) -> Range<usize> {
        let head = self.rows.len();
        let total = head + count;
        let last = total.saturating_sub(height);
        // The last row may have to say that there is more.
        let from = (head + chosen)
            .saturating_sub(height.saturating_sub(2))
            .min(last);
        let first = from.saturating_sub(head);
        let end = (from + height).saturating_sub(head).min(count);
        self.rows.drain(..from.min(head));
        self.left_out = LeftOut {
            above: from,
            below: match more {
                Below::Lines(lines) => Below::Lines(lines + count - end),
                Below::Uncounted => Below::Uncounted,
            },
        };
        first..end
    }

    /// Adds a row that answers to a click.
    pub fn choice(&mut self, line: Line, press: Press) {
        self.rows.push(Row {
            line,
            press: Some(press),
        });
    }
}
