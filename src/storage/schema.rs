//! The schema of the file: whose file it is, which version, and the steps from older versions.

use std::path::Path;
use std::path::PathBuf;

use rusqlite::Connection;
use rusqlite::TransactionBehavior;

use crate::domain::Moment;
use crate::storage::StorageError;
use crate::storage::user_files::new_private_file_beside;
use crate::storage::whole_file::clear_unfinished;

/// Marks the file as ours: the letters `TGls`.
pub(super) const APPLICATION_ID: i32 = 0x5447_6c73;

/// The steps; step `n` leads to version `n + 1`.
pub(super) static MIGRATIONS: &[&str] = &[
    include_str!("migrations/0001.sql"),
    include_str!("migrations/0002.sql"),
    include_str!("migrations/0003.sql"),
    include_str!("migrations/0004.sql"),
    include_str!("migrations/0005.sql"),
    include_str!("migrations/0006.sql"),
    include_str!("migrations/0007.sql"),
    include_str!("migrations/0008.sql"),
    include_str!("migrations/0009.sql"),
    include_str!("migrations/0010.sql"),
];

/// The version of a file, 0 for an empty one.
///
/// # Errors
/// Not a database, of another program, or newer than `supported`.
pub(super) fn version(
    connection: &Connection,
    file: &Path,
    supported: usize,
) -> Result<usize, StorageError> {
    let (application, found, tables) = connection
        .query_row(
            "SELECT (SELECT application_id FROM pragma_application_id),
                    (SELECT user_version FROM pragma_user_version),
                    (SELECT count(*) FROM sqlite_schema)",
            [],
            |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
        )
        .map_err(|error| StorageError::database(file, "read the version", error))?;
    let tables: i64 = tables;
    let ours = application == APPLICATION_ID || (application == 0 && found == 0 && tables == 0);
    let foreign = || StorageError::Foreign {
        file: file.to_owned(),
        application,
    };
    if !ours {
        return Err(foreign());
    }
    match usize::try_from(found).map_err(|_| foreign())? {
        known if known <= supported => Ok(known),
        _ => Err(StorageError::Newer {
            file: file.to_owned(),
            found,
            supported,
        }),
    }
}

/// Copies a file that is older than `migrations` beside itself, unless it is empty.
///
/// # Errors
/// The file is not ours, or the copy cannot be made.
pub(super) fn copy_before(
    connection: &Connection,
    file: &Path,
    stamp: &Moment,
    migrations: &[&str],
) -> Result<(), StorageError> {
    match version(connection, file, migrations.len())? {
        0 => Ok(()),
        newest if newest == migrations.len() => Ok(()),
        older => {
            // An earlier try may have been cut short.
            file.parent().into_iter().for_each(clear_unfinished);
            copy(connection, file, &copy_name(file, older + 1, stamp))
        }
    }
}

/// Brings a file to the version of `migrations`, all steps or none.
///
/// # Errors
/// The file is not ours, or a step fails: the file then stays as it was.
pub(super) fn migrate(
    connection: &mut Connection,
    file: &Path,
    migrations: &[&str],
) -> Result<(), StorageError> {
    let failed = |error| StorageError::database(file, "bring the tables up to date", error);
    if version(connection, file, migrations.len())? == migrations.len() {
        return Ok(());
    }
    let transaction = connection
        .transaction_with_behavior(TransactionBehavior::Exclusive)
        .map_err(failed)?;
    // Another program may have done the work while this one waited.
    let from = version(&transaction, file, migrations.len())?;
    for (next, step) in (1_u32..).zip(migrations).skip(from) {
        transaction.execute_batch(step).map_err(failed)?;
        transaction
            .pragma_update(None, "user_version", next)
            .map_err(failed)?;
    }
    transaction
        .pragma_update(None, "application_id", APPLICATION_ID)
        .map_err(failed)?;
    transaction.commit().map_err(failed)
}

/// The name of the copy made before a file goes to version `next`; no colons, for every disk.
fn copy_name(file: &Path, next: usize, stamp: &Moment) -> PathBuf {
    let stamp = stamp.to_string().replace(':', "-");
    file.with_file_name(format!("thirdglass-before-v{next}-{stamp}.db"))
}

/// Writes a whole, tidy copy of the file that nobody else may read.
///
/// # Errors
/// The copy exists already, its path is no UTF-8, or the disk refuses; no half copy stays.
pub(super) fn copy(connection: &Connection, file: &Path, to: &Path) -> Result<(), StorageError> {
    let to = std::path::absolute(to)
        .map_err(|error| StorageError::file(to, "find", &error, "name a file in a folder"))?;
    new_private_file_beside(&to, |beside| {
        let name = beside.to_str().ok_or_else(|| StorageError::File {
            file: to.clone(),
            step: "name",
            found: "the path is not UTF-8 text".to_owned(),
            remedy: "choose a path in UTF-8",
        })?;
        let copied = connection.execute("VACUUM INTO ?1", [name]);
        copied
            .map(drop)
            .map_err(|error| StorageError::database(file, "make a copy", error))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A file of schema 1 with one taster in it, in a folder of its own.
    fn older_file() -> (tempfile::TempDir, PathBuf, Connection) {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("thirdglass.db");
        let mut connection = Connection::open(&file).unwrap();
        migrate(&mut connection, &file, &MIGRATIONS[..1]).unwrap();
        connection
            .execute(
                "INSERT INTO taster VALUES ('t', 'Ana', 'ana', 'now', NULL)",
                [],
            )
            .unwrap();
        (folder, file, connection)
    }

    fn stamp() -> Moment {
        Moment::parse("2026-03-14T18:30:00.250Z").unwrap()
    }

    fn tasters(connection: &Connection) -> i64 {
        connection
            .query_row("SELECT count(*) FROM taster", [], |row| row.get(0))
            .unwrap()
    }

    #[test]
    fn an_older_file_is_copied_with_the_date_and_then_brought_up_to_date() {
        let (folder, file, mut connection) = older_file();
        let steps = [
            MIGRATIONS[0],
            "CREATE TABLE later (id TEXT PRIMARY KEY) STRICT;",
        ];
        copy_before(&connection, &file, &stamp(), &steps).unwrap();
        migrate(&mut connection, &file, &steps).unwrap();
        assert_eq!(version(&connection, &file, 2), Ok(2));
        assert_eq!(tasters(&connection), 1);
        let name = "thirdglass-before-v2-2026-03-14T18-30-00.250Z.db";
        let copy = Connection::open(folder.path().join(name)).unwrap();
        assert_eq!(version(&copy, &file, 2), Ok(1));
        assert_eq!(tasters(&copy), 1);
        // What is up to date is neither copied nor changed again.
        copy_before(&connection, &file, &stamp(), &steps).unwrap();
        migrate(&mut connection, &file, &steps).unwrap();
    }

    #[test]
    fn a_step_that_fails_leaves_the_older_file_as_it_was() {
        let (_folder, file, mut connection) = older_file();
        let steps = [
            MIGRATIONS[0],
            "CREATE TABLE later (id TEXT PRIMARY KEY) STRICT;",
            "DELETE FROM taster; INSERT INTO nowhere VALUES (1);",
        ];
        let refused = migrate(&mut connection, &file, &steps);
        assert!(matches!(refused, Err(StorageError::Database { .. })));
        assert_eq!(version(&connection, &file, 3), Ok(1));
        assert_eq!(tasters(&connection), 1);
        assert!(connection.prepare("SELECT * FROM later").is_err());
    }

    #[test]
    fn every_table_is_strict() {
        let (_folder, file, mut connection) = older_file();
        migrate(&mut connection, &file, MIGRATIONS).unwrap();
        let loose: i64 = connection
            .query_row(
                "SELECT count(*) FROM pragma_table_list
                 WHERE schema = 'main' AND name NOT LIKE 'sqlite_%' AND NOT strict",
                [],
                |row| row.get(0),
            )
            .unwrap();
        assert_eq!(loose, 0);
    }
}
