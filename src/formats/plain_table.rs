//! Rows as a table with commas that a spreadsheet may open without doing what a cell says.

use std::borrow::Cow;
use std::fmt::Display;
use std::fmt::Write as _;
use std::io;
use std::io::Write;

use csv::WriterBuilder;

/// What a spreadsheet takes for the beginning of a formula: the page of the OWASP on CSV injection, with its signs in
/// the full width of East Asian letters.
pub(super) const FORMULA: [char; 11] =
    ['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'];

/// Where a spreadsheet begins a new cell that is set otherwise than to commas, and so knows nothing of our quotes.
const PARTS: [char; 4] = [';', '\t', '\n', '\r'];

/// What begins a formula and is no blank.
fn is_sign(letter: char) -> bool {
    FORMULA.contains(&letter) && !letter.is_control()
}

/// A text as a cell: wherever a spreadsheet would take it for a formula, at its beginning or behind a sign that parts
/// cells for some of them, an apostrophe stands before. Numbers are no texts and stay as they are, those below zero too.
#[must_use]
pub fn defused(text: &str) -> Cow<'_, str> {
    // Nearly every cell begins with a letter or a digit and holds nothing that parts cells.
    let plain = text
        .bytes()
        .next()
        .is_none_or(|it| it.is_ascii_alphanumeric());
    // To look at every sign is faster than to stop at the first.
    let parts = text
        .bytes()
        .filter(|it| *it == b';' || it.is_ascii_control());
    if plain && parts.count() == 0 {
        return Cow::Borrowed(text);
    }
    let mut cell = String::with_capacity(text.len());
    let mut begins = true;
    for (at, letter) in text.char_indices() {
        if begins && is_sign(letter) || at == 0 && FORMULA.contains(&letter) {
            cell.push('\'');
        }
        cell.push(letter);
        // A quote behind such a sign is taken for one around the new cell.
        begins = PARTS.contains(&letter) || begins && at > 0 && letter == '"';
    }
    Cow::Owned(cell)
}

/// A table with commas as it is written, cell by cell (RFC 4180, with line feeds). Every row has a cell for each
/// column of the head row.
pub struct TableWriter<W: Write> {
    rows: csv::Writer<W>,
    number: String,
}

impl<W: Write> TableWriter<W> {
    /// Writes the head row.
    ///
    /// # Errors
    /// `out` takes no more.
    pub fn new<'a>(out: W, columns: impl Iterator<Item = &'a str>) -> io::Result<Self> {
        let mut rows = WriterBuilder::new().from_writer(out);
        rows.write_record(columns)?;
        Ok(Self {
            rows,
            number: String::new(),
        })
    }

    /// Adds a cell with a text, so that no spreadsheet does what it says.
    ///
    /// # Errors
    /// `out` takes no more.
    pub fn text(&mut self, text: &str) -> io::Result<()> {
        Ok(self.rows.write_field(&*defused(text))?)
    }

    /// Adds a cell with a word of the program, or an empty one.
    ///
    /// # Errors
    /// `out` takes no more.
    pub fn plain(&mut self, word: &str) -> io::Result<()> {
        Ok(self.rows.write_field(word)?)
    }

    /// Adds a cell with a number, a day or a time.
    ///
    /// # Errors
    /// `out` takes no more.
    pub fn number(&mut self, number: impl Display) -> io::Result<()> {
        self.number.clear();
        // Writing into a text does not fail.
        write!(self.number, "{number}").unwrap_or_default();
        Ok(self.rows.write_field(&self.number)?)
    }

    /// Ends a row.
    ///
    /// # Errors
    /// `out` takes no more.
    pub fn end_row(&mut self) -> io::Result<()> {
        Ok(self.rows.write_record(None::<&[u8]>)?)
    }

    /// Ends the table.
    ///
    /// # Errors
    /// `out` takes no more.
    pub fn finish(mut self) -> io::Result<()> {
        self.rows.flush()
    }
}

#[cfg(test)]
mod tests {
    use csv::Reader;
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn what_a_spreadsheet_would_do_begins_with_an_apostrophe_and_the_rest_stays() {
        // The signs of the OWASP's page on CSV injection, those of the full width among them.
        for bad in [
            "=1+1", "+1", "-1", "@SUM(A1)", "\ta", "\ra", "\na", "＝1", "＋1", "－1", "＠A",
        ] {
            assert_eq!(defused(bad), format!("'{bad}"));
        }
        for good in [
            "", "Ana", " =1", "a-b", "'=1", "3", "a; b", "a;b", "a,=1", "a\r\nb", "\"=1",
        ] {
            assert_eq!(defused(good), good);
        }
    }

    #[test]
    fn a_formula_behind_what_parts_cells_for_some_spreadsheets_gets_an_apostrophe_too() {
        for (bad, safe) in [
            ("nice;=HYPERLINK(1)", "nice;'=HYPERLINK(1)"),
            ("a;=1;+2", "a;'=1;'+2"),
            ("a\t@b", "a\t'@b"),
            ("a\r\n-1", "a\r\n'-1"),
            ("a;＝1", "a;'＝1"),
            ("a;\"=1", "a;\"'=1"),
            ("\t=1", "'\t'=1"),
            ("=1;=2", "'=1;'=2"),
        ] {
            assert_eq!(defused(bad), safe);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2_000))]

        #[test]
        fn no_part_of_a_cell_begins_as_a_formula(text in "[=+@＝;\t\r\na\"-]{0,12}") {
            let cell = defused(&text);
            prop_assert!(cell.split(PARTS).all(|it| !it.starts_with(is_sign)), "{cell:?}");
            // Nothing but apostrophes was added.
            prop_assert_eq!(cell.replace('\'', ""), text);
        }

        #[test]
        fn any_texts_come_back_cell_by_cell(cells in proptest::collection::vec(any::<String>(), 2..6)) {
            let columns = vec!["a"; cells.len()];
            let row: Vec<String> = cells.iter().map(|it| defused(it).into_owned()).collect();
            let mut table = Vec::new();
            let mut writer = TableWriter::new(&mut table, columns.into_iter()).unwrap();
            for it in &cells {
                writer.text(it).unwrap();
            }
            writer.end_row().unwrap();
            writer.finish().unwrap();
            let mut reader = Reader::from_reader(table.as_slice());
            let rows: Vec<Vec<String>> = reader
                .records()
                .map(|it| it.unwrap().iter().map(str::to_owned).collect())
                .collect();
            prop_assert_eq!(rows, vec![row.clone()]);
            prop_assert!(row.iter().all(|it| !it.starts_with(FORMULA)));
        }
    }
}
