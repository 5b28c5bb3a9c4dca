//! A chart over time: values one after another between their limits.

use crate::drawing::CellRoom;
use crate::drawing::Ink;
use crate::drawing::Line;
use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Picture;
use crate::drawing::Sheet;
use crate::drawing::Type;
use crate::drawing::field::Field;
use crate::drawing::field::wide;
use crate::drawing::picture::LABEL;
use crate::drawing::safe_text;
use crate::drawing::set_lines;

/// Cells from the middle to a limit.
const HALF: usize = 12;
/// Cells from the middle to the edge.
const EDGE: usize = 15;
/// Cells of the heading.
const HEAD: usize = 98;

/// One value with its limits.
#[derive(Debug, Clone, PartialEq)]
pub struct RunPoint {
    /// When it was.
    pub label: String,
    /// The value.
    pub value: f64,
    /// The value in words.
    pub words: String,
    /// The lower and the upper limit.
    pub limits: [f64; 2],
}

/// Values one after another, the oldest first.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RunChart {
    /// What is shown.
    pub head: String,
    /// The values.
    pub points: Vec<RunPoint>,
}

impl RunPoint {
    /// The share of the way from the middle of the limits to the upper one, −1 at the lower one; 0 where
    /// the limits lie on one another.
    fn share(&self) -> f64 {
        let [low, high] = self.limits;
        let reach = (high - low) / 2.0;
        if reach > 0.0 {
            (self.value - f64::midpoint(low, high)) / reach
        } else {
            0.0
        }
    }

    /// Whether it lies beyond its limits.
    fn is_beyond(&self) -> bool {
        self.share().abs() > 1.0
    }

    /// The value and its limits on a strip of cells.
    fn line(&self) -> Line {
        let mut row = vec![' '; 2 * EDGE + 1];
        for (mark, sign) in [(-1.0, '|'), (0.0, '|'), (1.0, '|'), (self.share(), '*')] {
            row[cell(mark)] = sign;
        }
        let row: String = row.into_iter().collect();
        let (ink, flag) = if self.is_beyond() {
            (Ink::Strong, " beyond")
        } else {
            (Ink::Plain, "")
        };
        Line::of(
            ink,
            format!("  {}  {row}  {}{flag}", self.label, self.words),
        )
    }
}

/// The cell of a share of the way to the limits, from −1 to 1; what lies farther stands at the edge.
fn cell(share: f64) -> usize {
    let at = EDGE as f64 + HALF as f64 * share;
    let last = 2 * EDGE;
    (0..last).find(|it| at < *it as f64 + 0.5).unwrap_or(last)
}

/// The height of the field on paper, mm.
const HEIGHT: f64 = 34.0;
/// Room for the words at its left, mm.
const LEFT: f64 = 13.0;

impl Picture for RunChart {
    fn lines(&self, room: CellRoom) -> Vec<Line> {
        let head = safe_text(&self.head, HEAD.min(room.cells.saturating_sub(2)));
        let mut lines = vec![Line::plain(format!("  {head}"))];
        lines.extend(self.points.iter().map(RunPoint::line));
        lines
    }

    fn sheet(&self, width: f64) -> Sheet {
        let head = Type::of(3.4).bold();
        let mut sheet = Sheet::sized("", [width, 0.0]);
        let mut down = 3.4;
        for line in set_lines(&self.head, head.size, head.weight, width) {
            sheet.text([0.0, down], &line, head);
            down += 4.6;
        }
        let field = self.field(width, down);
        sheet.size[1] = field.y[0] + 6.0;
        self.print_limits(&mut sheet, &field);
        field.frame(&mut sheet);
        self.print_points(&mut sheet, &field);
        let days = self.points.iter().enumerate();
        let days: Vec<(f64, String)> = days
            .map(|(index, it)| (index as f64, it.label.clone()))
            .collect();
        field.below(&mut sheet, &days);
        sheet
    }
}

impl RunChart {
    /// The field on paper: wide enough for all values and limits.
    fn field(&self, width: f64, down: f64) -> Field {
        let all = self
            .points
            .iter()
            .flat_map(|it| [it.value, it.limits[0], it.limits[1]]);
        let (low, high) = all.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), it| {
            (low.min(it), high.max(it))
        });
        let (low, high) = if low < high { (low, high) } else { (-1.0, 1.0) };
        let free = 0.08 * (high - low);
        Field {
            x: [LEFT, width],
            y: [down + HEIGHT, down],
            across: [-0.5, self.points.len().max(1) as f64 - 0.5],
            up: [low - free, high + free],
        }
    }

    /// The limits as a band of two dashed lines, and the middle, with the newest ones in figures.
    fn print_limits(&self, sheet: &mut Sheet, field: &Field) {
        let of = |which: fn([f64; 2]) -> f64| -> Vec<[f64; 2]> {
            let places = self.points.iter().enumerate();
            places
                .map(|(index, it)| [index as f64, which(it.limits)])
                .collect()
        };
        for limits in [of(|it| it[0]), of(|it| it[1])] {
            field.line(sheet, &limits, Pen::of(0.3).dashed(1.6, 1.0));
        }
        if let Some(last) = self.points.last() {
            let [low, high] = last.limits;
            for value in [low, f64::midpoint(low, high), high] {
                field.level(sheet, value, &signed(value));
            }
        }
    }

    /// Which value lies farthest beyond its limits; none where none does.
    fn farthest(&self) -> Option<usize> {
        let beyond = self.points.iter().enumerate().filter(|it| it.1.is_beyond());
        let farthest = beyond.max_by(|a, b| a.1.share().abs().total_cmp(&b.1.share().abs()));
        farthest.map(|it| it.0)
    }

    /// The values, joined; one beyond its limits is a square, and the farthest has its figure.
    fn print_points(&self, sheet: &mut Sheet, field: &Field) {
        let places = self.points.iter().enumerate();
        let values: Vec<[f64; 2]> = places.map(|(index, it)| [index as f64, it.value]).collect();
        field.line(sheet, &values, Pen::of(0.35));
        for (index, (it, value)) in self.points.iter().zip(&values).enumerate() {
            let [x, y] = field.at(*value);
            if !it.is_beyond() {
                sheet.fill(Outline::circle([x, y], 0.8), [0; 3]);
                continue;
            }
            let square = Outline::rectangle([x - 1.2, y - 1.2], [2.4, 2.4]);
            sheet.fill(square, [0; 3]);
            if self.farthest() != Some(index) {
                continue;
            }
            let half = wide(&it.words, LABEL) / 2.0;
            let x = x.min(sheet.size[0] - half).max(LEFT + half);
            let above = if it.share() > 0.0 { y - 2.0 } else { y + 4.2 };
            sheet.text([x, above], &it.words, LABEL.bold().centred());
        }
    }
}

/// A figure with its sign.
fn signed(value: f64) -> String {
    format!("{value:+.1}").replace('-', "−")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::beyond_margins;

    fn chart(points: usize) -> RunChart {
        let points = (0..points).map(|at| RunPoint {
            label: format!("2026-01-{:02}", at % 28 + 1),
            value: if at % 7 == 3 { 2.5 } else { 0.2 },
            words: if at % 7 == 3 { "+2.5" } else { "+0.2" }.to_owned(),
            limits: [-1.0, 1.0],
        });
        RunChart {
            head: "Bitter, digits above the others: +0.1 over the first 20 sittings".to_owned(),
            points: points.collect(),
        }
    }

    #[test]
    fn a_value_on_its_limit_stands_on_the_mark_and_one_beyond_is_told() {
        let lines = chart(4).lines(CellRoom { cells: 80, rows: 5 });
        let texts: Vec<String> = lines.iter().map(Line::text).collect();
        // Middle at cell 15, limits 12 cells away: 0.2 of the way is 2.4 cells, so the 17th.
        assert_eq!(
            texts[1],
            "  2026-01-01     |           | *         |     +0.2"
        );
        assert!(texts[4].ends_with("*  +2.5 beyond"), "{}", texts[4]);
    }

    #[test]
    fn thirty_sittings_stay_on_the_paper_and_their_days_do_not_touch() {
        for (points, width) in [(1, 60.0), (2, 60.0), (30, 90.0), (30, 190.0)] {
            let sheet = chart(points).sheet(width);
            assert_eq!(beyond_margins(&sheet, 0.0), Vec::<String>::new());
        }
    }
}
