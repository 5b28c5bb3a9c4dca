//! Ratings of one panel written as the table that `read_panel` reads, safe to open in a spreadsheet.

use std::collections::HashSet;

use csv::WriterBuilder;

use crate::domain::Day;
use crate::domain::Name;
use crate::formats::panel_file::PANEL_COLUMNS;
use crate::formats::plain_table::defused;

/// Why writing into memory goes well.
const IN_MEMORY: &str = "a vector takes every byte, and all rows have as many cells";

/// One row to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct PanelRow {
    /// Who.
    pub taster: String,
    /// On which occasion.
    pub sitting: String,
    /// Which beer was in the glass.
    pub sample: String,
    /// The day of tasting.
    pub date: Day,
    /// The scale that was asked.
    pub line: String,
    /// The answer.
    pub intensity: f64,
    /// The ends of its scale.
    pub ends: [f64; 2],
}

/// The table with its head row. Glasses of one sample that a taster had in one sitting are numbered from
/// 1, in the order of the rows. A cell that a spreadsheet would take for a formula begins with a quote.
#[must_use]
pub fn write_panel(rows: &[PanelRow]) -> String {
    let bytes = written(rows);
    String::from_utf8_lossy(&bytes).into_owned()
}

fn written(rows: &[PanelRow]) -> Vec<u8> {
    let mut writer = WriterBuilder::new().from_writer(Vec::new());
    writer.write_record(PANEL_COLUMNS).expect(IN_MEMORY);
    let mut written = HashSet::new();
    for row in rows {
        let names = [&row.taster, &row.sitting, &row.sample, &row.line].map(|it| cell(it));
        let mut replicate = 1_u16;
        while !written.insert((names.clone(), replicate)) {
            replicate = replicate.saturating_add(1);
            if replicate == u16::MAX {
                break;
            }
        }
        let [taster, sitting, sample, line] = names;
        let numbers = [row.intensity, row.ends[0], row.ends[1]].map(|it| it.to_string());
        let [intensity, low, high] = numbers;
        let replicate = replicate.to_string();
        let date = row.date.to_string();
        let cells = [
            &taster, &sitting, &sample, &replicate, &date, &line, &intensity, &low, &high,
        ];
        writer.write_record(cells).expect(IN_MEMORY);
    }
    writer.into_inner().expect(IN_MEMORY)
}

/// A text as a cell: no formula, and no longer than a name may be.
fn cell(text: &str) -> String {
    defused(text).chars().take(Name::MOST).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::PanelRating;
    use crate::formats::plain_table::FORMULA;
    use crate::formats::read_panel;

    fn row(taster: &str, sample: &str, intensity: f64) -> PanelRow {
        PanelRow {
            taster: taster.to_owned(),
            sitting: "one".to_owned(),
            sample: sample.to_owned(),
            date: Day::parse("2026-03-14").unwrap(),
            line: "bitter".to_owned(),
            intensity,
            ends: [0.0, 9.0],
        }
    }

    fn read(table: &str) -> Vec<PanelRating> {
        let mut ratings = Vec::new();
        read_panel("p.csv", table.as_bytes(), |it| ratings.push(it)).unwrap();
        ratings
    }

    #[test]
    fn a_written_table_is_read_back_with_its_glasses_counted() {
        let rows = [
            row("Ana", "S1", 3.5),
            row("Ana", "S1", 4.0),
            row("Ana", "S2", 9.0),
        ];
        let read = read(&write_panel(&rows));
        let told: Vec<_> = read
            .iter()
            .map(|it| (it.sample.as_str(), it.replicate, it.digits))
            .collect();
        assert_eq!(told, [("S1", 1, 3.5), ("S1", 2, 4.0), ("S2", 1, 9.0)]);
    }

    #[test]
    fn no_cell_begins_as_a_formula_and_quotes_and_commas_come_back() {
        let names = ["=1+1", "+1", "-1", "@a", "a, \"b\"", "Ana", "Ana;=1", "＝1"];
        let rows: Vec<PanelRow> = names.iter().map(|it| row(it, it, 1.0)).collect();
        let table = write_panel(&rows);
        for line in table.lines().skip(1) {
            for cell in line.split(',') {
                let bare = cell.trim_start_matches('"');
                assert!(!bare.starts_with(FORMULA), "{line}");
            }
        }
        let read = read(&table);
        assert_eq!(read[0].taster.as_str(), "'=1+1");
        assert_eq!(read[4].taster.as_str(), "a, \"b\"");
        assert_eq!(read[6].taster.as_str(), "Ana;'=1");
        assert_eq!(read[7].taster.as_str(), "'＝1");
    }

    #[test]
    fn the_longest_name_can_be_read_back_though_it_begins_as_a_formula() {
        let long = format!("={}", "a".repeat(79));
        let table = write_panel(&[row(&long, "S1", 1.0)]);
        assert_eq!(read(&table).len(), 1);
    }
}
