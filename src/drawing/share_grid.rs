//! Shares by column and row: bars of one row over a table of all, and on paper one curve a row.

use std::ops::Range;

use crate::drawing::CellRoom;
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

/// Cells of one column.
const COLUMN: usize = 3;
/// Cells left of the first one.
const LEFT: usize = 9;

/// One row: its name, and its shares, 0 to 1; none where there is none.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ShareRow {
    /// The name.
    pub name: String,
    /// The shares, a column each.
    pub shares: Vec<Option<f64>>,
    /// The same in words of two signs.
    pub words: Vec<String>,
}

/// Shares by column and row.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ShareGrid {
    /// What the columns are.
    pub head: String,
    /// What the shares are, for paper.
    pub of: String,
    /// The names of the columns.
    pub columns: Vec<String>,
    /// The rows.
    pub rows: Vec<ShareRow>,
    /// The column and the row that are looked at, from 0.
    pub chosen: [usize; 2],
    /// A share that is marked, with its word.
    pub goal: Option<(f64, String)>,
}

impl ShareGrid {
    /// The columns that fit, with the chosen one among them.
    fn shown(&self, cells: usize) -> Range<usize> {
        let all = self.columns.len();
        let fit = (cells.saturating_sub(LEFT) / COLUMN).clamp(1, all.max(1));
        let from = (self.chosen[0] + 1).saturating_sub(fit);
        from..(from + fit).min(all)
    }

    /// The shares of the chosen row.
    fn chosen_shares(&self) -> &[Option<f64>] {
        let row = self.rows.get(self.chosen[1]);
        row.map_or(&[], |it| it.shares.as_slice())
    }

    /// One row of the bars, counted from the top; two halves of a cell are told apart.
    fn bars(&self, row: usize, rows: usize, shown: Range<usize>) -> Line {
        let from_below = rows - row;
        let top = 100 * from_below / rows;
        let label = if top.is_multiple_of(20) {
            format!("{top:>5} %  ")
        } else {
            " ".repeat(LEFT)
        };
        let mut line = Line::of(Ink::Quiet, label);
        for at in shown {
            let share = self.chosen_shares().get(at).copied().flatten();
            let height = share.unwrap_or(0.0) * rows as f64;
            let above = height - (from_below - 1) as f64;
            let bar = match above {
                it if it >= 1.0 - 1e-9 => "██ ",
                it if it >= 0.5 => "▄▄ ",
                _ => "   ",
            };
            line = line.and(self.column_ink(at), bar);
        }
        line
    }

    const fn column_ink(&self, at: usize) -> Ink {
        if at == self.chosen[0] {
            Ink::Strong
        } else {
            Ink::Quiet
        }
    }

    fn columns_line(&self, shown: Range<usize>) -> Line {
        let mut line = Line::of(Ink::Quiet, format!("{:<LEFT$}", self.head));
        for at in shown {
            let name = self.columns.get(at).map_or("", String::as_str);
            line = line.and(self.column_ink(at), format!("{name:>2} "));
        }
        line
    }

    fn row_line(&self, row: usize, shown: Range<usize>) -> Line {
        let own = row == self.chosen[1];
        let ink = if own { Ink::Strong } else { Ink::Quiet };
        let it = &self.rows[row];
        let mut line = Line::of(ink, format!("{:<LEFT$}", it.name));
        for at in shown {
            let words = it.words.get(at).map_or("", String::as_str);
            let ink = match (own, at == self.chosen[0]) {
                (true, true) => Ink::Chosen,
                (true, false) => Ink::Plain,
                _ => Ink::Quiet,
            };
            line = line.and(ink, format!("{words:>2}")).and(Ink::Plain, " ");
        }
        line
    }
}

/// The height of the field on paper, and the room beside it, mm.
const HEIGHT: f64 = 62.0;
const BESIDE: [f64; 2] = [14.0, 22.0];

impl Picture for ShareGrid {
    fn lines(&self, room: CellRoom) -> Vec<Line> {
        let shown = self.shown(room.cells);
        let bars = (0..room.rows).map(|row| self.bars(row, room.rows, shown.clone()));
        let columns = std::iter::once(self.columns_line(shown.clone()));
        let rows = (0..self.rows.len()).map(|row| self.row_line(row, shown.clone()));
        bars.chain(columns).chain(rows).collect()
    }

    fn sheet(&self, width: f64) -> Sheet {
        let mut sheet = Sheet::sized("", [width, HEIGHT + 18.0]);
        let last = self.columns.len().saturating_sub(1).max(1) as f64;
        let field = Field {
            x: [BESIDE[0], width - BESIDE[1]],
            y: [7.0 + HEIGHT, 7.0],
            across: [0.0, last],
            up: [0.0, 1.0],
        };
        sheet.text([0.0, 3.0], &self.of, TICK);
        for step in [0.0, 0.2, 0.4, 0.6, 0.8, 1.0] {
            field.level(&mut sheet, step, &format!("{:.0} %", 100.0 * step));
        }
        if let Some((share, _)) = &self.goal {
            let line = [[0.0, *share], [last, *share]];
            field.line(&mut sheet, &line, Pen::of(0.4).dashed(2.0, 1.2));
        }
        field.frame(&mut sheet);
        let names = self.columns.iter().enumerate();
        let names: Vec<(f64, String)> = names.map(|(at, it)| (at as f64, it.clone())).collect();
        field.below(&mut sheet, &names);
        let below = [field.x[1], field.y[0] + 8.6];
        sheet.text(below, &self.head, TICK.to_the_right());
        self.print_rows(&mut sheet, &field);
        if let Some((share, word)) = &self.goal {
            let [x, y] = field.at([last, *share]);
            on_white(&mut sheet, [x - 1.0, y + 4.0], word, TICK.to_the_right());
        }
        self.print_chosen(&mut sheet, &field);
        sheet
    }
}

impl ShareGrid {
    /// A ring round the share that is looked at, with its figure.
    fn print_chosen(&self, sheet: &mut Sheet, field: &Field) {
        let [column, row] = self.chosen;
        let share = self.chosen_shares().get(column).copied().flatten();
        let words = self.rows.get(row).and_then(|it| it.words.get(column));
        let (Some(share), Some(words)) = (share, words) else {
            return;
        };
        let [x, y] = field.at([column as f64, share]);
        sheet.draw(Outline::circle([x, y], 1.9), Pen::of(0.4));
        let words = format!("{words} %");
        let set = LABEL.bold().centred();
        let half = wide(&words, set) / 2.0 + 0.6;
        let middle = x.max(field.x[0] + half).min(field.x[1] - half);
        // Above it, but for what stands so high that there is no room.
        let base = if y - 6.0 > field.y[1] {
            y - 2.8
        } else {
            y + 5.2
        };
        on_white(sheet, [middle, base], &words, set);
    }

    /// One curve a row, the chosen one thick, each with its name at its end.
    fn print_rows(&self, sheet: &mut Sheet, field: &Field) {
        let mut names: Vec<(f64, usize)> = Vec::new();
        for (index, row) in self.rows.iter().enumerate() {
            let there = row.shares.iter().enumerate();
            let there = there.filter_map(|(at, share)| Some([at as f64, (*share)?]));
            let values: Vec<[f64; 2]> = there.collect();
            let pen = Pen::of(if index == self.chosen[1] { 0.7 } else { 0.25 });
            field.line(sheet, &values, pen);
            for value in &values {
                dot(sheet, field.at(*value), index);
            }
            names.extend(values.last().map(|it| (field.at(*it)[1], index)));
        }
        names.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut free = f64::NEG_INFINITY;
        for (y, index) in names {
            // Curves that end together have their names under one another.
            let y = y.max(free);
            free = y + 4.2;
            let at = [field.x[1] + 3.2, y];
            dot(sheet, at, index);
            let set = if index == self.chosen[1] {
                LABEL.bold()
            } else {
                LABEL
            };
            let place = [at[0] + 2.4, y + 0.35 * set.size];
            sheet.text(place, &self.rows[index].name, set);
        }
    }
}

/// The sign of a row: circle, square, triangle, diamond, by turns.
fn dot(sheet: &mut Sheet, [x, y]: [f64; 2], row: usize) {
    let triangle = Outline::from([x, y - 1.1])
        .line([x + 1.0, y + 0.8])
        .line([x - 1.0, y + 0.8])
        .close();
    let diamond = Outline::from([x, y - 1.1])
        .line([x + 1.1, y])
        .line([x, y + 1.1])
        .line([x - 1.1, y])
        .close();
    let outline = match row % 4 {
        0 => Outline::circle([x, y], 0.85),
        1 => Outline::rectangle([x - 0.8, y - 0.8], [1.6, 1.6]),
        2 => triangle,
        _ => diamond,
    };
    let fill = if row.is_multiple_of(2) {
        [0; 3]
    } else {
        [0xff; 3]
    };
    sheet.shape(outline, Some(fill), Some(Pen::of(0.25)));
}
