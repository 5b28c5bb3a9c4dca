//! Columns into domain values; what does not fit is named by its column.

use std::fmt::Display;

use rusqlite::Row;
use rusqlite::RowIndex;
use rusqlite::types::FromSqlResult;
use rusqlite::types::Type;

use crate::domain::Invalid;
use crate::domain::Moment;
use crate::domain::Name;

/// A column by its name, or by its place where so many rows are read that looking for the name takes long.
pub(super) trait Column: RowIndex + Display + Copy {}

impl Column for &'static str {}
impl Column for usize {}

/// A text column that must read as a value.
pub(super) fn text<T>(
    row: &Row<'_>,
    column: impl Column,
    read: impl FnOnce(&str) -> Result<T, Invalid>,
) -> rusqlite::Result<T> {
    let found = of_column(column, row.get_ref(column)?.as_str())?;
    read(found).map_err(|invalid| unreadable(column, &invalid))
}

/// A text column that may be NULL.
pub(super) fn text_or_none<T>(
    row: &Row<'_>,
    column: impl Column,
    read: impl FnOnce(&str) -> Result<T, Invalid>,
) -> rusqlite::Result<Option<T>> {
    let found = of_column(column, row.get_ref(column)?.as_str_or_null())?;
    found
        .map(read)
        .transpose()
        .map_err(|invalid| unreadable(column, &invalid))
}

/// A column with an id that was drawn.
pub(super) fn id<T>(
    row: &Row<'_>,
    column: impl Column,
    wrap: impl FnOnce(String) -> T,
) -> rusqlite::Result<T> {
    row.get(column).map(wrap)
}

/// A column with an id that was drawn, or NULL.
pub(super) fn id_or_none<T>(
    row: &Row<'_>,
    column: impl Column,
    wrap: impl FnOnce(String) -> T,
) -> rusqlite::Result<Option<T>> {
    let found: Option<String> = row.get(column)?;
    Ok(found.map(wrap))
}

/// A column with a name.
pub(super) fn name(row: &Row<'_>, column: impl Column) -> rusqlite::Result<Name> {
    text(row, column, |found| Name::new("a stored name", found))
}

/// A column with a moment.
pub(super) fn moment(row: &Row<'_>, column: impl Column) -> rusqlite::Result<Moment> {
    text(row, column, Moment::parse)
}

/// A column with a moment, or NULL.
pub(super) fn moment_or_none(
    row: &Row<'_>,
    column: impl Column,
) -> rusqlite::Result<Option<Moment>> {
    text_or_none(row, column, Moment::parse)
}

/// What a column holds, or the error that names it.
fn of_column<T>(column: impl Column, found: FromSqlResult<T>) -> rusqlite::Result<T> {
    found.map_err(|error| unreadable(column, error))
}

/// The error for a column whose value the trade does not allow.
pub(super) fn unreadable(column: impl Column, found: impl Display) -> rusqlite::Error {
    let found = format!("column {column}: {found}");
    rusqlite::Error::FromSqlConversionFailure(0, Type::Text, found.into())
}

/// A name as it is looked up: capitals do not count.
pub(super) fn folded(name: &Name) -> String {
    name.as_str().to_lowercase()
}
