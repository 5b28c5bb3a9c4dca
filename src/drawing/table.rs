//! A table as lines: columns as wide as they need to be, one of them cut if there is no room.

use crate::drawing::Line;
use crate::drawing::safe_text;
use crate::drawing::width;

/// Blanks between two columns.
const GAP: usize = 2;

/// Lays out rows of cells in at most `cells` cells of width, cutting the column `gives_way` where
/// there is no room; every row has as many cells as the first.
#[must_use]
pub fn table(rows: &[Vec<String>], gives_way: usize, cells: usize) -> Vec<Line> {
    let columns = rows.first().map_or(0, Vec::len);
    let mut widths: Vec<usize> = (0..columns)
        .map(|column| {
            let wide = rows.iter().filter_map(|row| row.get(column));
            wide.map(|cell| width(cell)).max().unwrap_or(0)
        })
        .collect();
    let gaps = GAP * columns.saturating_sub(1);
    let over = (widths.iter().sum::<usize>() + gaps).saturating_sub(cells);
    if let Some(wide) = widths.get_mut(gives_way) {
        *wide = wide.saturating_sub(over).max(8);
    }
    rows.iter()
        .map(|row| {
            let mut text = String::new();
            for (cell, wide) in row.iter().zip(&widths) {
                let shown = safe_text(cell, *wide);
                text.push_str(&shown);
                text.push_str(&" ".repeat((wide + GAP).saturating_sub(width(&shown))));
            }
            Line::plain(text.trim_end())
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(texts: &[&[&str]]) -> Vec<Vec<String>> {
        let row = |cells: &&[&str]| cells.iter().map(|cell| (*cell).to_owned()).collect();
        texts.iter().map(row).collect()
    }

    fn laid_out(texts: &[&[&str]], cells: usize) -> Vec<String> {
        table(&rows(texts), 0, cells)
            .iter()
            .map(Line::text)
            .collect()
    }

    #[test]
    fn columns_stand_under_one_another() {
        let lines = laid_out(&[&["bitter", "5", "4"], &["orange peel", "12", "9"]], 40);
        assert_eq!(lines, ["bitter       5   4", "orange peel  12  9"]);
    }

    #[test]
    fn one_column_gives_way_where_there_is_no_room() {
        let lines = laid_out(&[&["something very long", "5"]], 14);
        assert_eq!(lines, ["something …  5"]);
    }

    #[test]
    fn nothing_gives_nothing() {
        assert!(table(&[], 0, 80).is_empty());
    }
}
