//! What was said of chances beside how often it came so: on the diagonal the two agree.

use crate::drawing::CellRoom;
use crate::drawing::Dumbbell;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Picture;
use crate::drawing::Sheet;
use crate::drawing::field::Field;
use crate::drawing::field::on_white;
use crate::drawing::field::wide;
use crate::drawing::picture::LABEL;
use crate::drawing::picture::TICK;

/// Cells of a line from never to always.
const PLOT: usize = 21;

/// One chance that was said.
#[derive(Debug, Clone, PartialEq)]
pub struct SaidChance {
    /// The chance, 0 to 1.
    pub said: f64,
    /// How often it came so, 0 to 1.
    pub came: f64,
    /// Between which shares the true one lies 19 times in 20.
    pub limits: [f64; 2],
    /// How often of how many times, in words.
    pub words: String,
}

/// All chances that were said, from low to high.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reliability {
    /// One row a chance.
    pub said: Vec<SaidChance>,
}

impl SaidChance {
    fn line(&self) -> Line {
        let plot = Dumbbell {
            wished: Some(9.0 * self.said),
            found: Some(9.0 * self.came),
            ..Dumbbell::default()
        };
        Line::plain(format!(
            "  {:>4.0} %  {}  right {:.0} %, {}",
            100.0 * self.said,
            plot.cells(PLOT),
            100.0 * self.came,
            self.words
        ))
    }
}

/// Room for the words at the left of the field and below it, mm.
const LEFT: f64 = 16.0;
const BELOW: f64 = 12.0;

impl Picture for Reliability {
    fn lines(&self, _room: CellRoom) -> Vec<Line> {
        let legend = Line::of(Ink::Quiet, "  ◇ said  ● right  ◆ both");
        let rows = self.said.iter().map(SaidChance::line);
        std::iter::once(legend).chain(rows).collect()
    }

    fn sheet(&self, width: f64) -> Sheet {
        /// Words beside the last point still stand on the paper.
        const RIGHT: f64 = 18.0;
        let side = (width - LEFT - RIGHT).max(20.0);
        let mut sheet = Sheet::sized("", [width, side + BELOW + 6.0]);
        let field = Field {
            x: [LEFT, LEFT + side],
            y: [6.0 + side, 6.0],
            across: [0.0, 1.0],
            up: [0.0, 1.0],
        };
        for step in [0.25, 0.5, 0.75, 1.0] {
            field.level(&mut sheet, step, &format!("{:.0} %", 100.0 * step));
        }
        field.frame(&mut sheet);
        let words = [0.0, 0.25, 0.5, 0.75, 1.0].map(|it| (it, format!("{:.0} %", 100.0 * it)));
        field.below(&mut sheet, &words);
        field.line(
            &mut sheet,
            &[[0.0, 0.0], [1.0, 1.0]],
            Pen::of(0.3).dashed(1.6, 1.0),
        );
        sheet.text([0.0, 3.0], "was right", TICK);
        let below = [LEFT + side, field.y[0] + 8.5];
        sheet.text(below, "was said", TICK.to_the_right());
        for it in &self.said {
            it.print(&mut sheet, &field);
        }
        sheet
    }
}

impl SaidChance {
    /// A point with its limits, and its words beside it.
    fn print(&self, sheet: &mut Sheet, field: &Field) {
        let [x, y] = field.at([self.said, self.came]);
        let [low, high] = self.limits.map(|it| field.at([self.said, it])[1]);
        sheet.draw(Outline::stroke([x, low], [x, high]), Pen::of(0.3));
        for end in [low, high] {
            sheet.draw(
                Outline::stroke([x - 1.0, end], [x + 1.0, end]),
                Pen::of(0.3),
            );
        }
        sheet.fill(Outline::circle([x, y], 1.2), [0; 3]);
        let right = (x + 2.4).min(sheet.size[0] - wide(&self.words, LABEL) - 0.5);
        let base = (y + 0.35 * LABEL.size).min(field.y[0] - 1.0);
        on_white(sheet, [right, base], &self.words, LABEL);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::beyond_margins;

    fn said() -> Reliability {
        let said = [(0.25, 0.4), (0.6, 0.6), (1.0, 0.97)];
        let said = said.map(|(said, came)| SaidChance {
            said,
            came,
            limits: [came - 0.2, (came + 0.2_f64).min(1.0)],
            words: "126 of 130".to_owned(),
        });
        Reliability {
            said: said.to_vec(),
        }
    }

    #[test]
    fn what_was_said_and_what_came_stand_on_one_line_from_never_to_always() {
        let lines = said().lines(CellRoom { cells: 80, rows: 5 });
        let texts: Vec<String> = lines.iter().map(Line::text).collect();
        // A quarter of twenty steps is the fifth, and two fifths the eighth.
        assert_eq!(
            texts[1],
            "    25 %  ·····◇··●············  right 40 %, 126 of 130"
        );
        assert!(texts[2].contains("············◆········"), "{}", texts[2]);
    }

    #[test]
    fn the_diagram_stays_on_its_paper() {
        for width in [70.0, 90.0, 120.0] {
            let sheet = said().sheet(width);
            assert_eq!(beyond_margins(&sheet, 0.0), Vec::<String>::new());
        }
    }
}
