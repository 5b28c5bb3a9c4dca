//! A table of numbers without a gap: each row has a value in each column.

use thiserror::Error;

use crate::statistics::squares::usable;

/// Numbers in rows and columns, at least two of each, and no cell without one.
#[derive(Debug, Clone, PartialEq)]
pub struct CompleteTable {
    columns: usize,
    cells: Vec<f64>,
}

/// Why a table cannot be calculated with. Places count from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum TableRefused {
    /// There are fewer than two rows.
    #[error("there are {0} rows, and at least 2 are needed")]
    TooFewRows(usize),
    /// There are fewer than two columns.
    #[error("there are {0} columns, and at least 2 are needed")]
    TooFewColumns(usize),
    /// A row has another length than the first.
    #[error("row {row} has another number of columns than the first")]
    Uneven {
        /// The row.
        row: usize,
    },
    /// A cell has no value.
    #[error("row {row} has no value in column {column}; every row needs one in every column")]
    Missing {
        /// The row.
        row: usize,
        /// The column.
        column: usize,
    },
    /// A value is no number, or larger than 10⁶⁰.
    #[error("the value in row {row}, column {column} is no number, or too large")]
    OutOfRange {
        /// The row.
        row: usize,
        /// The column.
        column: usize,
    },
}

impl CompleteTable {
    /// The table of these rows.
    ///
    /// # Errors
    /// There are fewer than two rows or columns, or a row is shorter or longer than the first, or a cell
    /// is missing or no number: the first such place is told.
    pub fn new(rows: &[Vec<Option<f64>>]) -> Result<Self, TableRefused> {
        if rows.len() < 2 {
            return Err(TableRefused::TooFewRows(rows.len()));
        }
        let columns = rows[0].len();
        if columns < 2 {
            return Err(TableRefused::TooFewColumns(columns));
        }
        let mut cells = Vec::with_capacity(rows.len() * columns);
        for (row, values) in rows.iter().enumerate() {
            if values.len() != columns {
                return Err(TableRefused::Uneven { row });
            }
            for (column, value) in values.iter().enumerate() {
                let value = value.ok_or(TableRefused::Missing { row, column })?;
                if !usable(value) {
                    return Err(TableRefused::OutOfRange { row, column });
                }
                cells.push(value);
            }
        }
        Ok(Self { columns, cells })
    }

    /// How many rows.
    #[must_use]
    pub const fn height(&self) -> usize {
        self.cells.len() / self.columns
    }

    /// How many columns.
    #[must_use]
    pub const fn width(&self) -> usize {
        self.columns
    }

    /// The rows, one after another.
    pub fn rows(&self) -> impl Iterator<Item = &[f64]> {
        self.cells.chunks(self.columns)
    }

    /// The values of a column; none where there is no such column.
    #[must_use]
    pub fn column(&self, column: usize) -> Vec<f64> {
        self.rows()
            .filter_map(|row| row.get(column).copied())
            .collect()
    }

    /// All values, row by row.
    #[must_use]
    pub fn cells(&self) -> &[f64] {
        &self.cells
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refusal(rows: &[&[Option<f64>]]) -> TableRefused {
        let rows: Vec<Vec<Option<f64>>> = rows.iter().map(|it| it.to_vec()).collect();
        CompleteTable::new(&rows).unwrap_err()
    }

    #[test]
    fn the_first_gap_is_told_with_its_place() {
        let [one, two] = [Some(1.0), Some(2.0)];
        assert_eq!(refusal(&[]), TableRefused::TooFewRows(0));
        assert_eq!(refusal(&[&[one, two]]), TableRefused::TooFewRows(1));
        assert_eq!(refusal(&[&[one], &[two]]), TableRefused::TooFewColumns(1));
        assert_eq!(
            refusal(&[&[one, two], &[one]]),
            TableRefused::Uneven { row: 1 }
        );
        let missing = TableRefused::Missing { row: 1, column: 0 };
        assert_eq!(refusal(&[&[one, two], &[None, None]]), missing);
        let no_number = TableRefused::OutOfRange { row: 0, column: 1 };
        assert_eq!(refusal(&[&[one, Some(f64::NAN)], &[one, two]]), no_number);
    }

    #[test]
    fn rows_and_columns_come_back() {
        let rows = [[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]].map(|row| row.map(Some).to_vec());
        let table = CompleteTable::new(&rows).unwrap();
        assert_eq!((table.height(), table.width()), (2, 3));
        assert_eq!(table.column(1), [2.0, 5.0]);
        assert_eq!(table.rows().nth(1), Some([4.0, 5.0, 6.0].as_slice()));
        assert!(table.column(3).is_empty());
    }
}
