//! Dumbbells under one another, each with its name, its two values and what is said of it.

use crate::drawing::CellRoom;
use crate::drawing::Dumbbell;
use crate::drawing::Flow;
use crate::drawing::Ink;
use crate::drawing::LINE_PITCH;
use crate::drawing::Line;
use crate::drawing::Outline;
use crate::drawing::Pen;
use crate::drawing::Picture;
use crate::drawing::Sheet;
use crate::drawing::Type;
use crate::drawing::Weight;
use crate::drawing::dumbbell::DumbbellMark;
use crate::drawing::dumbbell::print_mark;
use crate::drawing::picture::HAIR_INK;
use crate::drawing::picture::LABEL;
use crate::drawing::picture::TICK;
use crate::drawing::safe_text;
use crate::drawing::set_lines;
use crate::drawing::stacked;
use crate::drawing::text_width;
use crate::drawing::width;
use crate::drawing::wrap;

/// Cells of the label.
const LABEL_CELLS: usize = 24;
/// Cells of the dumbbell.
const CHART_CELLS: usize = 15;

/// Cells that what is said takes at least.
const SAID_CELLS: usize = 12;

/// What the signs stand for, in a word or two each; what is empty is not in the picture.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct DumbbellSigns {
    /// The wish.
    pub wished: String,
    /// The finding.
    pub found: String,
    /// How far the finding strays.
    pub strays: String,
    /// The range.
    pub range: String,
}

/// One dumbbell with its words.
#[derive(Debug, Clone, PartialEq)]
pub struct DumbbellRow {
    /// What it is about.
    pub label: String,
    /// The marks.
    pub dumbbell: Dumbbell,
    /// What it is held against, and the finding.
    pub values: [String; 2],
    /// What is said of it: the longest way first, each for less room than the one before.
    pub said: Vec<String>,
    /// What that means.
    pub ink: Ink,
}

/// Dumbbells that are held against the same.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DumbbellGroup {
    /// The heading.
    pub head: String,
    /// What the two values are.
    pub columns: [String; 2],
    /// Cells of each value.
    pub value_cells: usize,
    /// The rows.
    pub rows: Vec<DumbbellRow>,
}

/// All dumbbells.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Dumbbells {
    /// What the signs mean.
    pub signs: DumbbellSigns,
    /// Group by group.
    pub groups: Vec<DumbbellGroup>,
}

impl DumbbellGroup {
    /// The heading over its columns; the last one may stand out into the blanks behind its values.
    #[must_use]
    pub fn head_line(&self) -> Line {
        let before = 2 + LABEL_CELLS + 1 + CHART_CELLS + 1;
        let (head, wide, [one, other]) = (&self.head, self.value_cells, &self.columns);
        let one = safe_text(one, wide);
        let other = safe_text(other, wide + 1);
        let heads = format!("{head:<before$}{one:>wide$} {other:>wide$}");
        Line::of(Ink::Strong, heads)
    }

    /// One of its rows in at most `cells` cells.
    #[must_use]
    pub fn row_line(&self, row: &DumbbellRow, cells: usize) -> Line {
        let label = safe_text(&row.label, LABEL_CELLS);
        let blanks = " ".repeat(LABEL_CELLS.saturating_sub(width(&label)));
        let chart = row.dumbbell.cells(CHART_CELLS);
        let numbers = self.two_values(&row.values);
        let before = format!("  {label}{blanks} {chart} {numbers}  ");
        let room = cells.saturating_sub(width(&before));
        let said = row.said.iter().find(|it| width(it) <= room);
        let said = said.or(row.said.last()).map_or("", String::as_str);
        Line::plain(before).and(row.ink, safe_text(said, room.max(SAID_CELLS)).into_owned())
    }

    fn two_values(&self, values: &[String; 2]) -> String {
        let wide = self.value_cells;
        let [one, other] = values.each_ref().map(|it| safe_text(it, wide));
        format!("{one:>wide$} {other:>wide$}")
    }
}

/// The measures of the columns on paper, mm from the left, for a picture so wide.
struct Columns {
    label: f64,
    chart: [f64; 2],
    values: [f64; 2],
    said: [f64; 2],
}

impl Columns {
    fn of(width: f64) -> Self {
        let label = 0.285 * width;
        let chart = [label + 3.0, 0.62 * width];
        let values = [chart[1] + 10.0, chart[1] + 19.0];
        Self {
            label,
            chart,
            values,
            said: [values[1] + 3.0, width],
        }
    }
}

/// A sign with the room beside it, mm.
const SIGN: f64 = 9.0;
/// The headings of groups.
const HEAD: Type = Type::of(3.2).bold();
/// From the row above to the base line of a heading, mm.
const ABOVE_HEAD: f64 = 7.5;
/// The smallest row, mm.
const ROW: f64 = 5.1;
/// From line to line in a row, mm.
const PITCH: f64 = LABEL.size * LINE_PITCH;

impl Picture for Dumbbells {
    fn lines(&self, room: CellRoom) -> Vec<Line> {
        let mut lines: Vec<Line> = wrap(&self.signs.words(), room.cells)
            .into_iter()
            .map(|it| Line::of(Ink::Quiet, it))
            .collect();
        for group in &self.groups {
            lines.push(group.head_line());
            lines.extend(group.rows.iter().map(|it| group.row_line(it, room.cells)));
        }
        lines
    }

    fn sheet(&self, width: f64) -> Sheet {
        let mut parts = vec![self.signs.sheet(width)];
        for group in &self.groups {
            parts.push(group.head_sheet(width));
            parts.extend(group.rows.iter().map(|it| it.sheet(width)));
        }
        stacked(&parts, 0.0)
    }
}

impl Dumbbells {
    /// Lays all rows into pages; no row is torn, and each page has the heading of what stands on it.
    pub fn onto(&self, flow: &mut Flow) {
        let width = flow.width();
        flow.picture(&self.signs.sheet(width));
        for group in &self.groups {
            let head = group.head_sheet(width);
            flow.keep(head.size[1] + 2.0 * ROW);
            flow.picture(&head);
            for row in &group.rows {
                let row = row.sheet(width);
                if row.size[1] > flow.left() {
                    flow.turn();
                    flow.picture(&head);
                }
                flow.picture(&row);
            }
        }
    }
}

impl DumbbellSigns {
    /// The signs that are in the picture, with their words.
    fn named(&self) -> Vec<(DumbbellMark, &str)> {
        let all = [
            (DumbbellMark::Wish, &self.wished),
            (DumbbellMark::Finding, &self.found),
            (DumbbellMark::Stray, &self.strays),
            (DumbbellMark::Ends, &self.range),
        ];
        let mut named: Vec<(DumbbellMark, &str)> = all
            .into_iter()
            .filter(|it| !it.1.is_empty())
            .map(|(mark, words)| (mark, words.as_str()))
            .collect();
        if !self.wished.is_empty() && !self.found.is_empty() {
            named.insert(2, (DumbbellMark::Both, "both on one spot"));
        }
        named
    }

    /// The same in words.
    fn words(&self) -> String {
        let told = self.named().into_iter().map(|(mark, words)| {
            let sign = match mark {
                DumbbellMark::Wish => "◇",
                DumbbellMark::Finding => "●",
                DumbbellMark::Both => "◆",
                DumbbellMark::Stray => "~",
                DumbbellMark::Range | DumbbellMark::Ends => "├─┤",
            };
            format!("{sign} {words}")
        });
        told.collect::<Vec<_>>().join("  ")
    }

    /// What the signs mean, on paper.
    fn sheet(&self, width: f64) -> Sheet {
        let mut sheet = Sheet::sized("", [width, 0.0]);
        let (mut x, mut y) = (0.0, 3.2);
        for (mark, words) in self.named() {
            let wide = LABEL.size * text_width(words, LABEL.weight);
            if x > 0.0 && x + SIGN + wide > width {
                (x, y) = (0.0, y + ROW);
            }
            let ends = match mark {
                DumbbellMark::Stray | DumbbellMark::Ends => [x + 0.8, x + 6.8],
                _ => [x + 4.2; 2],
            };
            if mark == DumbbellMark::Ends {
                print_mark(&mut sheet, DumbbellMark::Range, ends, y - 1.0);
            }
            print_mark(&mut sheet, mark, ends, y - 1.0);
            sheet.text([x + 8.2, y], words, LABEL);
            x += SIGN + wide + 4.0;
        }
        sheet.size[1] = y + 2.0;
        sheet
    }
}

impl DumbbellGroup {
    /// The heading with the scale of the line, on paper.
    fn head_sheet(&self, width: f64) -> Sheet {
        let mut sheet = Sheet::sized("", [width, 0.0]);
        let columns = Columns::of(width);
        let lines = set_lines(&self.head, HEAD.size, HEAD.weight, columns.label);
        let mut y = ABOVE_HEAD;
        for (row, line) in lines.iter().enumerate() {
            y += if row == 0 {
                0.0
            } else {
                HEAD.size * LINE_PITCH
            };
            sheet.text([0.0, y], line, HEAD);
        }
        let [from, to] = columns.chart;
        for digit in [0_u8, 3, 5, 7, 9] {
            let x = from + (to - from) * f64::from(digit) / 9.0;
            sheet.text([x, y], &digit.to_string(), TICK.centred());
        }
        for (word, right) in self.columns.iter().zip(columns.values) {
            sheet.text([right, y], word, TICK.to_the_right());
        }
        let line = Outline::stroke([0.0, y + 1.6], [width, y + 1.6]);
        sheet.draw(line, Pen::of(0.25));
        sheet.size[1] = y + 1.6;
        sheet
    }
}

impl DumbbellRow {
    /// The row on paper.
    fn sheet(&self, width: f64) -> Sheet {
        let mut sheet = Sheet::sized("", [width, 0.0]);
        let columns = Columns::of(width);
        let label = set_lines(&self.label, LABEL.size, Weight::Plain, columns.label);
        let set = match self.ink {
            Ink::Alert | Ink::Good | Ink::Strong => LABEL.bold(),
            _ => LABEL,
        };
        let room = columns.said[1] - columns.said[0];
        let said = self.said.first().map_or("", String::as_str);
        let said = set_lines(said, set.size, set.weight, room);
        let most = label.len().max(said.len()).max(1);
        let height = ROW + PITCH * (most - 1) as f64;
        let middle = height / 2.0;
        // The base line of the first of so many lines round the middle.
        let first =
            |count: usize| middle + 0.35 * LABEL.size - PITCH * (count.max(1) - 1) as f64 / 2.0;
        for (row, line) in label.iter().enumerate() {
            sheet.text([0.0, first(label.len()) + PITCH * row as f64], line, LABEL);
        }
        for (row, line) in said.iter().enumerate() {
            let y = first(said.len()) + PITCH * row as f64;
            sheet.text([columns.said[0], y], line, set);
        }
        for (value, right) in self.values.iter().zip(columns.values) {
            sheet.text([right, first(1)], value, LABEL.to_the_right());
        }
        let [from, to] = columns.chart;
        self.dumbbell.draw(&mut sheet, [from, middle], to - from);
        let below = Outline::stroke([0.0, height], [width, height]);
        sheet.draw(below, Pen::of(0.1).inked(HAIR_INK));
        sheet.size[1] = height;
        sheet
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Paper;
    use crate::drawing::beyond_margins;
    use crate::drawing::printed_texts;

    fn rows(count: usize) -> Dumbbells {
        let row = DumbbellRow {
            label: "Überraschungshopfenmischungsvariationen und Жёлтый хмель (flavour)".to_owned(),
            dumbbell: Dumbbell {
                wished: Some(0.0),
                range: Some((0.0, 9.0)),
                found: Some(9.0),
                strays: Some(3.0),
            },
            values: ["120s", "90s"].map(str::to_owned),
            said: [
                "only by Wilhelmina-Charlotte, Teacup and a fourth one",
                "few",
            ]
            .map(str::to_owned)
            .to_vec(),
            ink: Ink::Alert,
        };
        Dumbbells {
            signs: DumbbellSigns {
                wished: "hoped".to_owned(),
                found: "glass".to_owned(),
                strays: "how far the glass may be off by chance".to_owned(),
                range: "where the recipe puts it, 8 times in 10".to_owned(),
            },
            groups: vec![DumbbellGroup {
                head: "Hoped for".to_owned(),
                columns: ["hope", "glass"].map(str::to_owned),
                value_cells: 4,
                rows: vec![row; count],
            }],
        }
    }

    #[test]
    fn a_picture_in_a_notebook_stays_on_its_paper() {
        for width in [90.0, 170.0, 190.0] {
            let sheet = rows(3).sheet(width);
            assert_eq!(beyond_margins(&sheet, 0.0), Vec::<String>::new());
        }
    }

    #[test]
    fn many_rows_go_on_over_the_page_below_the_same_heading() {
        let mut flow = Flow::new("Rows", Paper::Letter, "");
        rows(60).onto(&mut flow);
        let sheets = flow.finish();
        assert!(sheets.len() > 1);
        for sheet in &sheets {
            assert_eq!(beyond_margins(sheet, 10.0), Vec::<String>::new());
            assert!(printed_texts(sheet).contains(&"Hoped for"));
        }
    }

    #[test]
    fn the_head_over_the_last_column_is_whole_one_cell_beyond_its_values() {
        let it = rows(1);
        let head = it.groups[0].head_line().text();
        assert!(head.ends_with(" hope glass"), "{head}");
    }

    #[test]
    fn where_there_is_little_room_the_shorter_words_are_taken() {
        let it = rows(1);
        let group = &it.groups[0];
        let wide = group.row_line(&group.rows[0], 120).text();
        assert!(wide.ends_with("a fourth one"), "{wide}");
        let narrow = group.row_line(&group.rows[0], 78).text();
        assert!(
            narrow.ends_with("  few") && width(&narrow) <= 78,
            "{narrow}"
        );
    }
}
