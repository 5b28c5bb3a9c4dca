//! What a file holds of a tasting, and whether it is whole.

use rusqlite::Connection;
use rusqlite::OptionalExtension;

use crate::script::Kept;

/// The file is whole: by its own checks, and no sitting is open in which nobody tastes.
pub(crate) fn assert_sound(file: &Connection, place: &str) {
    let integrity: String = file
        .query_row("PRAGMA integrity_check", [], |row| row.get(0))
        .expect("it can be checked");
    assert_eq!(integrity, "ok", "{place}");
    let broken: i64 = file
        .query_row("SELECT count(*) FROM pragma_foreign_key_check", [], |row| {
            row.get(0)
        })
        .expect("it can be checked");
    assert_eq!(broken, 0, "{place}: references that lead nowhere");
    let done = "SELECT count(*) FROM sitting WHERE closed_at IS NULL AND id NOT IN
        (SELECT sitting FROM seat JOIN notes ON notes.seat = seat.id
         WHERE locked_at IS NULL AND left_at IS NULL)";
    let forgotten: i64 = file
        .query_row(done, [], |row| row.get(0))
        .expect("it can be checked");
    assert_eq!(forgotten, 0, "{place}: a sitting is open and nobody tastes");
}

/// What the file holds of the one tasting of a bottle; none if it was never opened.
pub(crate) fn kept(file: &Connection, mark: &str) -> Option<Kept> {
    let query = "SELECT notes.id, current_field, knew, nose, remark, locked_at IS NOT NULL
        FROM notes JOIN sample ON sample.id = notes.sample JOIN beer ON beer.id = sample.beer
        WHERE cap_mark = ?1";
    let there = file
        .prepare("SELECT 1 FROM sqlite_schema WHERE name = 'notes'")
        .and_then(|mut statement| statement.exists([]))
        .expect("it can be read");
    if !there {
        return None;
    }
    let found = file
        .query_row(query, [mark], |row| {
            let kept = Kept {
                field: row.get(1)?,
                knew: row.get(2)?,
                nose: row.get(3)?,
                remark: row.get(4)?,
                locked: row.get(5)?,
                ..Kept::default()
            };
            Ok((row.get::<_, String>(0)?, kept))
        })
        .optional()
        .expect("it can be read");
    let (id, mut kept) = found?;
    kept.ratings = rows(file, &id, "SELECT scale, state, value FROM rating", |row| {
        Ok((row.get(0)?, row.get(1)?, row.get(2)?))
    });
    kept.marks = rows(
        file,
        &id,
        "SELECT stage, descriptor, intensity FROM mark",
        |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
    );
    Some(kept)
}

fn rows<T>(
    file: &Connection,
    notes: &str,
    select: &str,
    read: impl FnMut(&rusqlite::Row<'_>) -> rusqlite::Result<T>,
) -> Vec<T> {
    let query = format!("{select} WHERE notes = ?1 ORDER BY position");
    let mut statement = file.prepare(&query).expect("it can be read");
    let rows = statement.query_map([notes], read).expect("it can be read");
    rows.collect::<Result<_, _>>().expect("it can be read")
}
