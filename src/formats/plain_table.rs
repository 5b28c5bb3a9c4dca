//! Rows as a table with commas that a spreadsheet may open without doing what a cell says.

use csv::WriterBuilder;

use crate::formats::panel_table::FORMULA;

/// Why writing into memory goes well.
const IN_MEMORY: &str = "a vector takes every byte, and all rows have as many cells";

/// A text as a cell: one that a spreadsheet would take for a formula begins with an apostrophe. Numbers are no texts
/// and stay as they are, those below zero too.
#[must_use]
pub fn defused(text: &str) -> String {
    let apostrophe = if text.starts_with(FORMULA) { "'" } else { "" };
    format!("{apostrophe}{text}")
}

/// A table with its head row (RFC 4180, with line feeds); every row has a cell for each column.
#[must_use]
pub fn write_table(columns: &[&str], rows: &[Vec<String>]) -> String {
    String::from_utf8_lossy(&written(columns, rows)).into_owned()
}

fn written(columns: &[&str], rows: &[Vec<String>]) -> Vec<u8> {
    let mut writer = WriterBuilder::new().from_writer(Vec::new());
    writer.write_record(columns).expect(IN_MEMORY);
    for row in rows {
        writer.write_record(row).expect(IN_MEMORY);
    }
    writer.into_inner().expect(IN_MEMORY)
}

#[cfg(test)]
mod tests {
    use csv::Reader;
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn what_a_spreadsheet_would_do_begins_with_an_apostrophe_and_the_rest_stays() {
        // The six signs of the OWASP's page on CSV injection.
        for bad in ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1"] {
            assert_eq!(defused(bad), format!("'{bad}"));
        }
        for good in ["", "Ana", " =1", "a-b", "'=1", "3"] {
            assert_eq!(defused(good), good);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]

        #[test]
        fn any_texts_come_back_cell_by_cell(cells in proptest::collection::vec(any::<String>(), 2..6)) {
            let columns = vec!["a"; cells.len()];
            let row: Vec<String> = cells.iter().map(|it| defused(it)).collect();
            let table = write_table(&columns, std::slice::from_ref(&row));
            let mut reader = Reader::from_reader(table.as_bytes());
            let rows: Vec<Vec<String>> = reader
                .records()
                .map(|it| it.unwrap().iter().map(str::to_owned).collect())
                .collect();
            prop_assert_eq!(rows, vec![row.clone()]);
            prop_assert!(row.iter().all(|it| !it.starts_with(FORMULA)));
        }
    }
}
