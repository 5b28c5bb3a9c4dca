-- Schema 6. Panel sittings, ratings that were kept elsewhere, and sums over those. What was drawn stays.

-- A sitting of several beers and tasters. `told_at` is when it was told what was in the glasses. Nobody in
-- `poured_by` means that whoever poured does not taste.
CREATE TABLE panel (
    sitting    TEXT PRIMARY KEY NOT NULL REFERENCES sitting (id),
    number     INTEGER NOT NULL CHECK (number >= 1),
    form       TEXT NOT NULL,
    glass_ml   REAL NOT NULL CHECK (glass_ml > 0),
    poured_by  TEXT REFERENCES taster (id),
    made_at    TEXT NOT NULL,
    told_at    TEXT,
    removed_at TEXT
) STRICT;
CREATE UNIQUE INDEX panel_by_number ON panel (number) WHERE removed_at IS NULL;

CREATE TRIGGER panel_stays BEFORE UPDATE OF sitting, number, form, glass_ml, made_at ON panel
BEGIN SELECT RAISE(ABORT, 'what was planned for a panel stays'); END;

-- One table of ratings that was read in. Names get numbers, so that a million ratings stay small.
CREATE TABLE import (
    number     INTEGER PRIMARY KEY NOT NULL,
    file_name  TEXT NOT NULL,
    hash       TEXT NOT NULL,
    ratings    INTEGER NOT NULL,
    made_at    TEXT NOT NULL,
    removed_at TEXT
) STRICT;
CREATE UNIQUE INDEX import_by_hash ON import (hash) WHERE removed_at IS NULL;

CREATE TABLE import_sitting (
    number    INTEGER PRIMARY KEY NOT NULL,
    import    INTEGER NOT NULL REFERENCES import (number),
    name      TEXT NOT NULL,
    tasted_on TEXT NOT NULL,
    UNIQUE (import, name, tasted_on)
) STRICT;

CREATE TABLE import_sample (
    number INTEGER PRIMARY KEY NOT NULL,
    import INTEGER NOT NULL REFERENCES import (number),
    name   TEXT NOT NULL,
    UNIQUE (import, name)
) STRICT;

CREATE TABLE import_line (
    number INTEGER PRIMARY KEY NOT NULL,
    import INTEGER NOT NULL REFERENCES import (number),
    name   TEXT NOT NULL,
    UNIQUE (import, name)
) STRICT;

CREATE TABLE import_taster (
    number INTEGER PRIMARY KEY NOT NULL,
    import INTEGER NOT NULL REFERENCES import (number),
    taster TEXT NOT NULL REFERENCES taster (id),
    UNIQUE (import, taster)
) STRICT;
CREATE INDEX import_taster_by_taster ON import_taster (taster);

-- `digits` is the answer on 0 to 9, whatever the ends of its own scale were. Line, sample and taster are numbers of
-- the same import; without an index of their own for each they would make taking one away walk all ratings, so
-- that they stand here without a reference.
CREATE TABLE import_rating (
    sitting   INTEGER NOT NULL REFERENCES import_sitting (number),
    line      INTEGER NOT NULL,
    sample    INTEGER NOT NULL,
    taster    INTEGER NOT NULL,
    replicate INTEGER NOT NULL CHECK (replicate >= 1),
    digits    REAL NOT NULL CHECK (digits BETWEEN 0 AND 9),
    PRIMARY KEY (sitting, line, sample, taster, replicate)
) STRICT, WITHOUT ROWID;

-- Who took part in which sitting, so that one taster's sittings are found without reading all ratings.
CREATE TABLE import_seat (
    taster  INTEGER NOT NULL REFERENCES import_taster (number),
    sitting INTEGER NOT NULL REFERENCES import_sitting (number),
    PRIMARY KEY (taster, sitting)
) STRICT, WITHOUT ROWID;

-- Sums of one taster on one line over one import: a cache, computed again when its formula changes.
-- `up_to` is the number of ratings of the import that it is of.
CREATE TABLE summary (
    taster          INTEGER NOT NULL REFERENCES import_taster (number),
    line            INTEGER NOT NULL REFERENCES import_line (number),
    formula_version INTEGER NOT NULL,
    up_to           INTEGER NOT NULL,
    document        TEXT NOT NULL,
    PRIMARY KEY (taster, line)
) STRICT, WITHOUT ROWID;
