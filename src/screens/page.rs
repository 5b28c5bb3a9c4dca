//! What a screen shows: rows with meaning, each of which may answer to a click, and a side pane where there is room.

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

    /// Adds a row that answers to a click.
    pub fn choice(&mut self, line: Line, press: Press) {
        self.rows.push(Row {
            line,
            press: Some(press),
        });
    }
}
