//! Removing what people removed, so that nothing finds it any more, and bringing it back as it was.

use std::collections::BTreeMap;
use std::collections::HashMap;

use rusqlite::Connection;
use rusqlite::ErrorCode;
use rusqlite::Row;
use rusqlite::params;
use rusqlite::params_from_iter;
use rusqlite::types::Value;

use crate::domain::BeerId;
use crate::domain::Moment;
use crate::domain::Name;
use crate::domain::Removal;
use crate::domain::RemovedKind;
use crate::domain::TasterId;
use crate::storage::StorageError;
use crate::storage::Store;
use crate::storage::archive_tables::TableForm;
use crate::storage::archive_tables::table_named;
use crate::storage::archive_tables::without_triggers;
use crate::storage::removal_forms::Held;
use crate::storage::removal_forms::going_with;
use crate::storage::removal_forms::held_by;
use crate::storage::row;

/// What was tried, for messages.
const REMOVE: &str = "remove something";
/// What was tried, for messages.
const BRING_BACK: &str = "bring back what was removed";
/// What was tried, for messages.
const LIST: &str = "list what was removed";

/// The column that stands for the number of a row where no column holds it.
const ROW: &str = "rowid";

/// Everything by which a taster is found: their seats and notes, in their tables or removed.
const OWN: &str = "WITH RECURSIVE own (id) AS (
         SELECT ?1
         UNION SELECT id FROM seat WHERE taster = ?1
         UNION SELECT notes.id FROM notes JOIN seat ON seat.id = notes.seat WHERE seat.taster = ?1
         UNION SELECT of_row.value FROM own
             JOIN removed_cell AS found ON found.value = own.id
                 AND found.column_name IN ('taster', 'seat')
             JOIN removed_cell AS of_row ON of_row.removal = found.removal
                 AND of_row.row_number = found.row_number AND of_row.column_name = 'id')";

/// The removals in which any of that stands.
const REMOVED_WITH: &str =
    "SELECT removal FROM removed_cell JOIN own ON own.id = removed_cell.value";

/// A row that went: its table, and its cells by their columns.
type RemovedRow = (String, BTreeMap<String, Value>);

impl Store {
    /// What stands on something and must be removed before it: how many, and of what.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn held_by(&self, kind: RemovedKind, root: &str) -> Result<Vec<Held>, StorageError> {
        let mut found = Vec::new();
        for it in held_by(kind) {
            let count = self.first(LIST, it.counted, [root], |row| row.get(0))?;
            found.extend(it.held(count.unwrap_or(0)));
        }
        Ok(found)
    }

    /// Takes something out of its tables, with what belongs to it, and keeps it apart under the next number.
    ///
    /// # Errors
    /// It is not there (any more), something else still stands on it, or the file refuses; nothing is removed then.
    pub fn remove(
        &mut self,
        (kind, root): (RemovedKind, &str),
        name: &str,
        now: Moment,
    ) -> Result<Removal, StorageError> {
        self.pragma(REMOVE, "secure_delete", "on")?;
        self.in_one_go(|store| {
            let removal = store.add_removal((kind, root), name, now)?;
            if kind == RemovedKind::Import {
                store.mark_import(root, Some(now))?;
                return Ok(removal);
            }
            let connection = store.raw();
            let taken = connection
                .pragma_update(None, "defer_foreign_keys", true)
                .and_then(|()| without_triggers(connection, || take_out(connection, &removal)))
                .map_err(|error| StorageError::database(store.path(), REMOVE, error))?;
            if taken == 0 {
                return Err(StorageError::Missing {
                    step: REMOVE,
                    what: kind.word(),
                    id: name.to_owned(),
                });
            }
            Ok(removal)
        })
    }

    fn add_removal(
        &self,
        (kind, root): (RemovedKind, &str),
        name: &str,
        now: Moment,
    ) -> Result<Removal, StorageError> {
        let added = self.first(
            REMOVE,
            "INSERT INTO removal (kind, root, name, removed_at) VALUES (?1, ?2, ?3, ?4) RETURNING *",
            params![kind.id(), root, name, now.to_string()],
            removal,
        )?;
        added.ok_or(StorageError::Missing {
            step: REMOVE,
            what: kind.word(),
            id: name.to_owned(),
        })
    }

    /// What was removed and is still kept, the latest first.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn removals(&self) -> Result<Vec<Removal>, StorageError> {
        let sql = "SELECT * FROM removal ORDER BY number DESC";
        self.all(LIST, sql, [], removal)
    }

    /// Whose tastings and practices were removed, by the numbers of the removals, as they are called today.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn tasters_of_removals(&self) -> Result<HashMap<u32, Vec<Name>>, StorageError> {
        let mut tasters: HashMap<u32, Vec<Name>> = HashMap::new();
        // A seat may have gone with a later removal than the notes of it.
        self.all(
            LIST,
            "SELECT DISTINCT removal.number, taster.name FROM removal
             JOIN removed_cell AS own ON own.removal = removal.number AND own.column_name IN ('seat', 'taster')
             LEFT JOIN seat ON seat.id = own.value
             LEFT JOIN removed_cell AS gone ON gone.value = own.value
                 AND gone.table_name = 'seat' AND gone.column_name = 'id'
             LEFT JOIN removed_cell AS whose ON whose.removal = gone.removal
                 AND whose.row_number = gone.row_number AND whose.column_name = 'taster'
             JOIN taster ON taster.id = coalesce(seat.taster, whose.value, own.value)
             WHERE removal.kind IN ('tasting', 'practice')
             ORDER BY removal.number, taster.name",
            [],
            |row| {
                let of_removal = tasters.entry(row.get(0)?).or_default();
                of_removal.push(row::name(row, 1)?);
                Ok(())
            },
        )?;
        Ok(tasters)
    }

    /// Puts something back as it was.
    ///
    /// # Errors
    /// Something has its place by now, or what it stood on is gone; nothing is changed then.
    pub fn bring_back(&mut self, removal: &Removal) -> Result<(), StorageError> {
        self.in_one_go(|store| {
            let rows = store.removed_rows(removal)?;
            store.strike_off(removal, BRING_BACK)?;
            if removal.kind == RemovedKind::Import {
                store.bring_back_import(removal)?;
            }
            let connection = store.raw();
            connection
                .pragma_update(None, "defer_foreign_keys", true)
                .and_then(|()| without_triggers(connection, || put_in(connection, rows)))
                .map_err(|error| match error.sqlite_error_code() {
                    Some(ErrorCode::ConstraintViolation) => StorageError::PlaceTaken {
                        name: removal.name.clone(),
                        kind: removal.kind,
                    },
                    _ => StorageError::database(store.path(), BRING_BACK, error),
                })?;
            store.stands_on_something(removal)
        })
    }

    /// An import comes back unless its answers were read in again meanwhile.
    fn bring_back_import(&self, removal: &Removal) -> Result<(), StorageError> {
        let again = match removal.root.parse() {
            Ok(number) => self.import_overlap(number)?,
            Err(_) => None,
        };
        if again.is_some() {
            return Err(StorageError::PlaceTaken {
                name: removal.name.clone(),
                kind: removal.kind,
            });
        }
        self.mark_import(&removal.root, None)
    }

    /// That every row that was brought back finds what it points at.
    fn stands_on_something(&self, removal: &Removal) -> Result<(), StorageError> {
        let mut tables: Vec<&str> = going_with(removal.kind).iter().map(|it| it.table).collect();
        tables.dedup();
        for table in tables {
            let sql = "SELECT parent FROM pragma_foreign_key_check(?1)";
            let missing = self.first(BRING_BACK, sql, [table], |row| row.get(0))?;
            if let Some(missing) = missing {
                return Err(StorageError::StoodOn {
                    name: removal.name.clone(),
                    kind: removal.kind,
                    missing,
                });
            }
        }
        Ok(())
    }

    /// The rows of a removal, in the order in which they went.
    fn removed_rows(&self, removal: &Removal) -> Result<Vec<RemovedRow>, StorageError> {
        let cells = self.all(
            BRING_BACK,
            "SELECT row_number, table_name, column_name, value FROM removed_cell
             WHERE removal = ?1 ORDER BY row_number",
            [removal.number],
            |row| {
                Ok((
                    row.get::<_, i64>(0)?,
                    row.get::<_, String>(1)?,
                    row.get::<_, String>(2)?,
                    row.get::<_, Value>(3)?,
                ))
            },
        )?;
        let mut rows: Vec<RemovedRow> = Vec::new();
        let mut last = None;
        for (number, table, column, value) in cells {
            if last != Some(number) {
                rows.push((table, BTreeMap::new()));
                last = Some(number);
            }
            if let Some((_, cells)) = rows.last_mut() {
                cells.insert(column, value);
            }
        }
        Ok(rows)
    }

    /// Takes a removal off the list; another window may have done so meanwhile.
    fn strike_off(&self, removal: &Removal, step: &'static str) -> Result<(), StorageError> {
        let struck = self.run(
            step,
            "DELETE FROM removal WHERE number = ?1 AND root = ?2",
            params![removal.number, removal.root],
        )?;
        if struck == 0 {
            return Err(StorageError::Missing {
                step,
                what: removal.kind.word(),
                id: removal.name.clone(),
            });
        }
        Ok(())
    }

    /// Throws out for good what was removed. Its bytes are still to be rubbed out, with [`Store::rub_out`].
    ///
    /// # Errors
    /// It was brought back or thrown out meanwhile, or the file refuses.
    pub fn throw_out(&mut self, removal: &Removal) -> Result<(), StorageError> {
        let step = "throw out what was removed";
        self.leave_no_bytes(step)?;
        self.in_one_go(|store| {
            store.strike_off(removal, step)?;
            if let (RemovedKind::Import, Ok(import)) = (removal.kind, removal.root.parse()) {
                store.delete_removed_import(import)?;
            }
            Ok(())
        })
    }

    /// Throws out everything removed in which a taster is found, however it hangs on them: by a seat or by notes that
    /// are still in their tables, or that were removed too.
    pub(super) fn throw_out_with(&self, taster: &TasterId) -> Result<(), StorageError> {
        let these = format!("{OWN} DELETE FROM removal WHERE number IN ({REMOVED_WITH})");
        self.run("forget a taster", &these, [taster.as_str()])?;
        Ok(())
    }

    /// How many removals [`Store::throw_out_with`] would throw out.
    pub(super) fn removals_with(&self, taster: &TasterId) -> Result<u32, StorageError> {
        let sql = format!("{OWN} SELECT count(*) FROM removal WHERE number IN ({REMOVED_WITH})");
        let found = self.first(LIST, &sql, [taster.as_str()], |row| row.get(0))?;
        Ok(found.unwrap_or(0))
    }

    /// The highest number of a removed blind test.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn last_removed_test(&self) -> Result<u32, StorageError> {
        self.last_removed_number("test")
    }

    /// The highest number of a removed panel.
    ///
    /// # Errors
    /// The file cannot be read.
    pub fn last_removed_panel(&self) -> Result<u32, StorageError> {
        self.last_removed_number("panel")
    }

    fn last_removed_number(&self, table: &str) -> Result<u32, StorageError> {
        let last = self.first(
            LIST,
            "SELECT max(value) FROM removed_cell WHERE table_name = ?1 AND column_name = 'number'",
            [table],
            |row| row.get::<_, Option<u32>>(0),
        )?;
        Ok(last.flatten().unwrap_or(0))
    }

    /// The highest number of a removed photograph of a beer.
    pub(super) fn last_removed_photograph(&self, beer: &BeerId) -> Result<u32, StorageError> {
        let last = self.first(
            LIST,
            "SELECT max(number.value) FROM removed_cell AS number
             JOIN removed_cell AS beer ON beer.removal = number.removal
                 AND beer.row_number = number.row_number AND beer.column_name = 'beer'
             WHERE number.table_name = 'photograph' AND number.column_name = 'number' AND beer.value = ?1",
            [beer.as_str()],
            |row| row.get::<_, Option<u32>>(0),
        )?;
        Ok(last.flatten().unwrap_or(0))
    }
}

/// Copies every row that goes, and takes it away; returns how many went.
fn take_out(connection: &Connection, removal: &Removal) -> rusqlite::Result<u32> {
    let mut written = 0;
    for it in going_with(removal.kind) {
        let table = table_named(connection, it.table)?;
        let mut select = connection.prepare(&table.select_with_number(it.fitting))?;
        let mut rows = select.query([&removal.root])?;
        while let Some(row) = rows.next()? {
            written += 1;
            copy_row(connection, (removal.number, written), &table, row)?;
        }
        connection.execute(&table.delete(it.fitting), [&removal.root])?;
    }
    Ok(written)
}

fn copy_row(
    connection: &Connection,
    place: (u32, u32),
    table: &TableForm,
    row: &Row<'_>,
) -> rusqlite::Result<()> {
    let mut insert = connection.prepare_cached(
        "INSERT INTO removed_cell (removal, row_number, table_name, column_name, value)
         VALUES (?1, ?2, ?3, ?4, ?5)",
    )?;
    let names = table.columns.iter().map(|it| it.0.as_str());
    for (at, column) in std::iter::once(ROW).chain(names).enumerate() {
        let value: Value = row.get(at)?;
        insert.execute(params![place.0, place.1, table.name, column, value])?;
    }
    Ok(())
}

/// Adds rows where they stood, or at the end where their number is taken by now.
fn put_in(connection: &Connection, rows: Vec<RemovedRow>) -> rusqlite::Result<()> {
    for (name, mut cells) in rows {
        let table = table_named(connection, &name)?;
        let number = cells.remove(ROW).unwrap_or(Value::Null);
        let mut values: Vec<Value> = table
            .unnumbered()
            .map(|(_, column)| cells.remove(column).unwrap_or(Value::Null))
            .collect();
        if let Some(taken) = table.number_taken() {
            let taken = connection.prepare_cached(&taken)?.exists([&number])?;
            values.insert(0, if taken { Value::Null } else { number });
        }
        let mut insert = connection.prepare_cached(&table.insert_with_number())?;
        insert.execute(params_from_iter(values))?;
    }
    Ok(())
}

fn removal(row: &Row<'_>) -> rusqlite::Result<Removal> {
    Ok(Removal {
        number: row.get("number")?,
        kind: row::text(row, "kind", RemovedKind::from_id)?,
        root: row.get("root")?,
        name: row.get("name")?,
        removed_at: row::moment(row, "removed_at")?,
    })
}
