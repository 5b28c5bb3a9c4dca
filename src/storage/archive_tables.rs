//! The tables of a file as they are declared in it, so that none is forgotten, and their triggers.

use rusqlite::Connection;

use crate::storage::archive_form::LEFT_OUT;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ColumnKind {
    /// Whole numbers.
    Whole,
    /// Numbers.
    Real,
    /// Text.
    Text,
    /// Bytes.
    Bytes,
}

/// A table with its columns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TableForm {
    /// Its name.
    pub(super) name: String,
    /// Its columns with what they hold, in their order.
    pub(super) columns: Vec<(String, ColumnKind)>,
    /// By what its rows are ordered: as they were written, or by their key where no such order is kept.
    order: String,
    /// What its rows are numbered by, if by anything.
    numbered: Numbered,
}

/// What numbers the rows of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Numbered {
    /// Nothing: they stand by their key.
    Not,
    /// A number that is no column.
    Apart,
    /// This column.
    By(String),
}

impl TableForm {
    /// Reads every row in the order of the archive.
    pub(super) fn select(&self) -> String {
        let (columns, table) = (self.column_list(), quoted(&self.name));
        let (kept, order) = (kept(&self.name), &self.order);
        format!("SELECT {columns} FROM {table} WHERE {kept} ORDER BY {order}")
    }

    /// Adds a row.
    pub(super) fn insert(&self) -> String {
        let places: Vec<String> = (1..=self.columns.len()).map(|n| format!("?{n}")).collect();
        let (columns, table) = (self.column_list(), quoted(&self.name));
        format!(
            "INSERT INTO {table} ({columns}) VALUES ({})",
            places.join(", ")
        )
    }

    /// Reads the number of every row that fits, or nothing, and then its columns.
    pub(super) fn select_with_number(&self, fitting: &str) -> String {
        let (columns, table) = (self.column_list(), quoted(&self.name));
        let number = self.number();
        let order = &self.order;
        format!("SELECT {number}, {columns} FROM {table} WHERE {fitting} ORDER BY {order}")
    }

    /// Takes every row away that fits.
    pub(super) fn delete(&self, fitting: &str) -> String {
        format!("DELETE FROM {} WHERE {fitting}", quoted(&self.name))
    }

    /// Adds a row with its number, or with the next one where there is none.
    pub(super) fn insert_with_number(&self) -> String {
        let (number, columns) = match &self.numbered {
            Numbered::Not => return self.insert(),
            Numbered::Apart => ("rowid", self.columns.len()),
            Numbered::By(column) => (column.as_str(), self.columns.len() - 1),
        };
        let places: Vec<String> = (1..=columns + 1).map(|n| format!("?{n}")).collect();
        let rest = self
            .unnumbered()
            .map(|(_, it)| quoted(it))
            .collect::<Vec<_>>();
        let names = [vec![quoted(number)], rest].concat();
        let (table, names) = (quoted(&self.name), names.join(", "));
        format!(
            "INSERT INTO {table} ({names}) VALUES ({})",
            places.join(", ")
        )
    }

    /// Finds out whether a number is taken; none where rows have none.
    pub(super) fn number_taken(&self) -> Option<String> {
        if self.numbered == Numbered::Not {
            return None;
        }
        let table = quoted(&self.name);
        Some(format!(
            "SELECT 1 FROM {table} WHERE {} = ?1",
            self.number()
        ))
    }

    /// The columns that do not number the rows, each with its place.
    pub(super) fn unnumbered(&self) -> impl Iterator<Item = (usize, &str)> {
        let named = self.columns.iter().map(|it| it.0.as_str()).enumerate();
        named.filter(|(_, name)| !matches!(&self.numbered, Numbered::By(column) if column == name))
    }

    fn number(&self) -> String {
        match &self.numbered {
            Numbered::Not => "NULL".to_owned(),
            Numbered::Apart => "rowid".to_owned(),
            Numbered::By(column) => quoted(column),
        }
    }

    /// Counts the rows.
    pub(super) fn count(&self) -> String {
        let kept = kept(&self.name);
        format!("SELECT count(*) FROM {} WHERE {kept}", quoted(&self.name))
    }

    /// Finds out whether there is a row.
    pub(super) fn any(&self) -> String {
        format!("SELECT 1 FROM {} LIMIT 1", quoted(&self.name))
    }

    /// Whether files of their own stand for some of its columns.
    pub(super) fn has_bytes(&self) -> bool {
        self.columns.iter().any(|it| it.1 == ColumnKind::Bytes)
    }

    fn column_list(&self) -> String {
        let names: Vec<String> = self.columns.iter().map(|it| quoted(&it.0)).collect();
        names.join(", ")
    }
}

/// Which rows of a table count: an import that was removed stays in its tables for a while, and is none of them.
fn kept(table: &str) -> &'static str {
    match table {
        "import" => "removed_at IS NULL",
        "import_sitting" | "import_sample" | "import_line" | "import_taster" => {
            "import IN (SELECT number FROM import WHERE removed_at IS NULL)"
        }
        "import_rating" | "import_seat" => {
            "sitting IN (SELECT import_sitting.number FROM import_sitting
                 JOIN import ON import.number = import_sitting.import WHERE import.removed_at IS NULL)"
        }
        _ => "TRUE",
    }
}

/// A name as SQL takes it, whatever letters are in it.
fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('"', "\"\""))
}

/// Every table of a file that an archive holds, by name.
pub(super) fn tables(connection: &Connection) -> rusqlite::Result<Vec<TableForm>> {
    let mut statement = connection.prepare(
        "SELECT name, wr FROM pragma_table_list
         WHERE schema = 'main' AND type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\'
         ORDER BY name",
    )?;
    let found = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    let names = found.collect::<rusqlite::Result<Vec<(String, bool)>>>()?;
    names
        .into_iter()
        .filter(|(name, _)| !LEFT_OUT.contains(&name.as_str()))
        .map(|(name, without_rowid)| table(connection, name, without_rowid))
        .collect()
}

/// The table of this name.
pub(super) fn table_named(connection: &Connection, name: &str) -> rusqlite::Result<TableForm> {
    let without_rowid = connection.query_row(
        "SELECT wr FROM pragma_table_list WHERE schema = 'main' AND name = ?1",
        [name],
        |row| row.get(0),
    )?;
    table(connection, name.to_owned(), without_rowid)
}

fn table(
    connection: &Connection,
    name: String,
    without_rowid: bool,
) -> rusqlite::Result<TableForm> {
    let mut statement =
        connection.prepare("SELECT name, type, pk FROM pragma_table_info(?1) ORDER BY cid")?;
    let found = statement.query_map([&name], |row| {
        Ok((row.get(0)?, row.get::<_, String>(1)?, row.get(2)?))
    })?;
    let found = found.collect::<rusqlite::Result<Vec<(String, String, i64)>>>()?;
    let mut keys: Vec<&(String, String, i64)> = found.iter().filter(|it| it.2 > 0).collect();
    keys.sort_by_key(|it| it.2);
    let numbered = match keys.as_slice() {
        _ if without_rowid => Numbered::Not,
        [(name, kind, _)] if kind == "INTEGER" => Numbered::By(name.clone()),
        _ => Numbered::Apart,
    };
    let keys: Vec<String> = keys.iter().map(|it| quoted(&it.0)).collect();
    let order = if without_rowid {
        keys.join(", ")
    } else {
        "rowid".to_owned()
    };
    let columns = found
        .into_iter()
        .map(|(name, kind, _)| (name, kind_of(&kind)));
    Ok(TableForm {
        name,
        columns: columns.collect(),
        order,
        numbered,
    })
}

/// What a STRICT table declares.
fn kind_of(declared: &str) -> ColumnKind {
    match declared {
        "INTEGER" | "INT" => ColumnKind::Whole,
        "REAL" => ColumnKind::Real,
        "BLOB" => ColumnKind::Bytes,
        _ => ColumnKind::Text,
    }
}

/// Works with all triggers away, and puts them back: rows that were locked once come in as they are.
pub(super) fn without_triggers<T>(
    connection: &Connection,
    work: impl FnOnce() -> rusqlite::Result<T>,
) -> rusqlite::Result<T> {
    let mut statement =
        connection.prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'")?;
    let found = statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    let triggers = found.collect::<rusqlite::Result<Vec<(String, String)>>>()?;
    drop(statement);
    for (name, _) in &triggers {
        connection.execute_batch(&format!("DROP TRIGGER {}", quoted(name)))?;
    }
    let done = work()?;
    for (_, sql) in &triggers {
        connection.execute_batch(sql)?;
    }
    Ok(done)
}
