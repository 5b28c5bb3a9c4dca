//! Liquids as strips of colour below a line of foam, seen through three depths.

use crate::drawing::CellRoom;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Picture;
use crate::drawing::Rgb;
use crate::drawing::Sheet;
use crate::drawing::picture::LABEL;
use crate::drawing::picture::TICK;
use crate::drawing::set_lines;

/// The colour of foam.
const FOAM: Rgb = [245, 240, 225];
/// Cells of the three depths.
const CELLS: [usize; 3] = [7, 8, 9];
/// What the three depths are.
const DEPTHS: [&str; 3] = ["1 cm", "3 cm", "5 cm"];

/// One liquid.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ColourStrip {
    /// What stands before it.
    pub label: String,
    /// What it looks like through 1, 3 and 5 cm.
    pub colours: [Rgb; 3],
    /// What it is called, for who sees no colours.
    pub words: String,
    /// What the words mean.
    pub ink: Ink,
}

/// Liquids under one another.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ColourStrips {
    /// The liquids.
    pub strips: Vec<ColourStrip>,
}

impl ColourStrip {
    /// The strip in cells: its patches after the label, and its words.
    #[must_use]
    pub fn line(&self) -> Line {
        let mut line = Line::of(Ink::Strong, format!("{:<6}", self.label));
        for (colour, wide) in self.colours.into_iter().zip(CELLS) {
            line = line.and(Ink::Patch(colour), " ".repeat(wide));
        }
        line.and(Ink::Plain, "  ").and(self.ink, self.words.clone())
    }
}

impl ColourStrips {
    /// What the depths are, and the foam on top.
    #[must_use]
    pub fn head_lines() -> [Line; 2] {
        let [one, three, five] = DEPTHS;
        let [first, second, _] = CELLS;
        let depths = format!("       {one:<first$} {three:<second$} {five} deep");
        [
            Line::plain(depths),
            Line::plain("      ")
                .and(Ink::Patch(FOAM), " ".repeat(CELLS.iter().sum()))
                .and(Ink::Quiet, "  foam"),
        ]
    }
}

/// The measures on paper, mm: label, one depth, foam and strip.
const LABEL_WIDTH: f64 = 24.0;
const DEPTH: f64 = 19.0;
const FOAM_HEIGHT: f64 = 3.4;
const HEIGHT: f64 = 11.0;
const GAP: f64 = 3.0;

impl Picture for ColourStrips {
    fn lines(&self, _room: CellRoom) -> Vec<Line> {
        let strips = self.strips.iter().map(ColourStrip::line);
        Self::head_lines().into_iter().chain(strips).collect()
    }

    fn sheet(&self, width: f64) -> Sheet {
        let mut sheet = Sheet::sized("", [width, 0.0]);
        let mut down = 3.2;
        for (index, depth) in DEPTHS.iter().enumerate() {
            let x = LABEL_WIDTH + DEPTH * (index as f64 + 0.5);
            sheet.text([x, down], depth, TICK.centred());
        }
        down += 1.6;
        for strip in &self.strips {
            strip.print(&mut sheet, down);
            down += FOAM_HEIGHT + HEIGHT + GAP;
        }
        sheet.size[1] = down;
        sheet
    }
}

impl ColourStrip {
    /// Three depths below their foam, with a border that is seen in grey.
    fn print(&self, sheet: &mut Sheet, down: f64) {
        let border = Some(Pen::of(0.2));
        let middle = down + FOAM_HEIGHT + HEIGHT / 2.0;
        print_middle(sheet, [0.0, middle], &self.label, LABEL_WIDTH - 2.0);
        let foam = Outline::rectangle([LABEL_WIDTH, down], [3.0 * DEPTH, FOAM_HEIGHT]);
        sheet.shape(foam, Some(FOAM), border);
        for (index, colour) in self.colours.iter().enumerate() {
            let at = [LABEL_WIDTH + DEPTH * index as f64, down + FOAM_HEIGHT];
            sheet.shape(
                Outline::rectangle(at, [DEPTH, HEIGHT]),
                Some(*colour),
                border,
            );
        }
        let right = LABEL_WIDTH + 3.0 * DEPTH + 3.0;
        let words = self.words.split_whitespace().collect::<Vec<_>>().join(" ");
        print_middle(sheet, [right, middle], &words, sheet.size[0] - right);
    }
}

/// A text in lines round a height.
fn print_middle(sheet: &mut Sheet, [x, y]: [f64; 2], text: &str, room: f64) {
    let lines = set_lines(text, LABEL.size, LABEL.weight, room);
    for (row, line) in lines.iter().enumerate() {
        let down = (row as f64 - (lines.len() as f64 - 1.0) / 2.0) * 3.8;
        sheet.text([x, y + down + 0.35 * LABEL.size], line, LABEL);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::beyond_margins;

    #[test]
    fn three_depths_stand_below_the_foam_and_words_say_what_they_are_without_colours() {
        let strip = ColourStrip {
            label: "the glass".to_owned(),
            colours: [[250, 220, 120], [200, 120, 20], [90, 30, 0]],
            words: "amber, 24 EBC".to_owned(),
            ink: Ink::Plain,
        };
        let line = strip.line();
        assert_eq!(line.spans.len(), 6);
        assert_eq!(line.text(), "the glass  amber, 24 EBC");
        let it = ColourStrips {
            strips: vec![strip; 3],
        };
        let sheet = it.sheet(110.0);
        assert_eq!(beyond_margins(&sheet, 0.0), Vec::<String>::new());
    }
}
