-- Schema 9. What was removed, kept for a while so that it can be brought back; and an index.

-- A number is never given twice, so that nobody brings back what they do not mean. `root` is the id of what was removed, or the number of an import; `name` is what people call it.
CREATE TABLE removal (
    number     INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,
    kind       TEXT NOT NULL,
    root       TEXT NOT NULL,
    name       TEXT NOT NULL,
    removed_at TEXT NOT NULL
) STRICT;

-- Every cell of every row that went, as it was: no row is left in its table, so that nothing can find it there.
-- An import stays in its tables, marked as removed, because it may hold a million rows.
CREATE TABLE removed_cell (
    removal    INTEGER NOT NULL REFERENCES removal (number) ON DELETE CASCADE,
    row_number INTEGER NOT NULL,
    column_name TEXT NOT NULL,
    table_name TEXT NOT NULL,
    value      ANY,
    PRIMARY KEY (removal, row_number, column_name)
) STRICT, WITHOUT ROWID;

-- The list of locked notes is read from its end, however long it is.
CREATE INDEX notes_locked ON notes (tasted_on, typed_on) WHERE locked_at IS NOT NULL AND removed_at IS NULL;
