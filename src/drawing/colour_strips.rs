//! Liquids as strips of colour below a line of foam, seen through three depths.

use crate::drawing::CellRoom;
use crate::drawing::Ink;
use crate::drawing::LINE_PITCH;
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

/// The measures on paper, mm: the widest depth, foam and strip, and below it.
const DEPTH: f64 = 27.0;
const FOAM_HEIGHT: f64 = 3.0;
const HEIGHT: f64 = 10.0;
const GAP: f64 = 2.6;

impl Picture for ColourStrips {
    fn lines(&self, _room: CellRoom) -> Vec<Line> {
        let strips = self.strips.iter().map(ColourStrip::line);
        Self::head_lines().into_iter().chain(strips).collect()
    }

    fn sheet(&self, width: f64) -> Sheet {
        let mut sheet = Sheet::sized("", [width, 0.0]);
        let depth = DEPTH.min(width / 3.0 - 0.1);
        let mut down = 0.0;
        for strip in &self.strips {
            down = strip.print(&mut sheet, depth, down);
        }
        for (index, words) in DEPTHS.iter().enumerate() {
            let x = 0.1 + depth * (index as f64 + 0.5);
            sheet.text([x, down + TICK.size], words, TICK.centred());
        }
        sheet.size[1] = down + 4.0;
        sheet
    }
}

impl ColourStrip {
    /// Its words, and three depths below their foam with a border that is seen in grey; says how far down
    /// that reaches.
    fn print(&self, sheet: &mut Sheet, depth: f64, down: f64) -> f64 {
        let border = Some(Pen::of(0.2));
        let words = self.words.split_whitespace().collect::<Vec<_>>().join(" ");
        let words = format!("{}: {words}", self.label);
        let mut top = down + 1.0;
        for line in set_lines(&words, LABEL.size, LABEL.weight, sheet.size[0]) {
            sheet.text([0.0, top + LABEL.size], &line, LABEL);
            top += LABEL.size * LINE_PITCH;
        }
        top += 0.6;
        let foam = Outline::rectangle([0.1, top], [3.0 * depth, FOAM_HEIGHT]);
        sheet.shape(foam, Some(FOAM), border);
        for (index, colour) in self.colours.iter().enumerate() {
            let at = [0.1 + depth * index as f64, top + FOAM_HEIGHT];
            let strip = Outline::rectangle(at, [depth, HEIGHT]);
            sheet.shape(strip, Some(*colour), border);
        }
        top + FOAM_HEIGHT + HEIGHT + GAP
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::beyond_margins;
    use crate::drawing::printed_texts;

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
        for width in [40.0, 87.0, 170.0] {
            let sheet = it.sheet(width);
            assert_eq!(beyond_margins(&sheet, 0.0), Vec::<String>::new());
            assert!(printed_texts(&sheet).contains(&"5 cm"));
        }
    }
}
