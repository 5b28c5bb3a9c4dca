-- Schema 1. Moments are texts in universal time that sort by time; days are texts like 2026-03-14.
-- NULL is "not said" and never 0. A column never changes its meaning; later schemas add tables.
-- Lists that may grow (kinds, roles, sources, faults) are checked by the program that reads them;
-- lists that cannot grow (stages, states, prompting) are checked here as well.
-- A folded name is the name in small letters, so that looking up does not depend on capitals.

CREATE TABLE taster (
    id          TEXT PRIMARY KEY NOT NULL,
    name        TEXT NOT NULL,
    folded_name TEXT NOT NULL,
    made_at     TEXT NOT NULL,
    removed_at  TEXT
) STRICT;
CREATE UNIQUE INDEX taster_by_name ON taster (folded_name) WHERE removed_at IS NULL;

-- The document stands as it was read, and is parsed only when it is opened.
CREATE TABLE recipe_version (
    id         TEXT PRIMARY KEY NOT NULL,
    parent     TEXT REFERENCES recipe_version (id),
    reason     TEXT,
    name       TEXT NOT NULL,
    version    TEXT NOT NULL,
    document   TEXT NOT NULL,
    hash       TEXT NOT NULL,
    made_at    TEXT NOT NULL,
    removed_at TEXT
) STRICT;
CREATE UNIQUE INDEX recipe_version_by_hash ON recipe_version (hash) WHERE removed_at IS NULL;
CREATE INDEX recipe_version_by_name ON recipe_version (name, version, made_at);
CREATE INDEX recipe_version_by_parent ON recipe_version (parent);

CREATE TABLE batch (
    id          TEXT PRIMARY KEY NOT NULL,
    version     TEXT NOT NULL REFERENCES recipe_version (id),
    cap_mark    TEXT NOT NULL,
    folded_mark TEXT NOT NULL,
    made_at     TEXT NOT NULL,
    removed_at  TEXT
) STRICT;
CREATE UNIQUE INDEX batch_by_mark ON batch (folded_mark) WHERE removed_at IS NULL;
CREATE INDEX batch_by_version ON batch (version);

-- `written` counts the lines of all logs in the order of writing.
CREATE TABLE batch_entry (
    written  INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    batch    TEXT NOT NULL REFERENCES batch (id),
    kind     TEXT NOT NULL,
    value    TEXT NOT NULL,
    at       TEXT NOT NULL,
    replaces TEXT UNIQUE REFERENCES batch_entry (id)
) STRICT;
CREATE INDEX batch_entry_by_batch ON batch_entry (batch, kind);

CREATE TABLE beer (
    id          TEXT PRIMARY KEY NOT NULL,
    cap_mark    TEXT NOT NULL,
    folded_mark TEXT NOT NULL,
    batch       TEXT REFERENCES batch (id),
    abv         REAL CHECK (abv >= 0),
    removed_at  TEXT
) STRICT;
CREATE UNIQUE INDEX beer_by_mark ON beer (folded_mark) WHERE removed_at IS NULL;
CREATE INDEX beer_by_batch ON beer (batch);

-- The seed is a whole number of 64 bits without sign, in decimal, too wide for INTEGER.
CREATE TABLE sitting (
    id         TEXT PRIMARY KEY NOT NULL,
    kind       TEXT NOT NULL,
    seed       TEXT NOT NULL,
    made_at    TEXT NOT NULL,
    closed_at  TEXT,
    removed_at TEXT
) STRICT;

CREATE TABLE seat (
    id          TEXT PRIMARY KEY NOT NULL,
    sitting     TEXT NOT NULL REFERENCES sitting (id),
    taster      TEXT NOT NULL REFERENCES taster (id),
    role        TEXT NOT NULL,
    left_at     TEXT,
    key_seen_at TEXT
) STRICT;
CREATE INDEX seat_by_sitting ON seat (sitting);
CREATE INDEX seat_by_taster ON seat (taster);

CREATE TABLE sample (
    id           TEXT PRIMARY KEY NOT NULL,
    sitting      TEXT NOT NULL REFERENCES sitting (id),
    code         INTEGER NOT NULL CHECK (code BETWEEN 100 AND 999),
    beer         TEXT REFERENCES beer (id),
    reference    TEXT,
    duplicate_of TEXT REFERENCES sample (id),
    CHECK ((beer IS NULL) <> (reference IS NULL)),
    UNIQUE (sitting, code)
) STRICT;
CREATE INDEX sample_by_beer ON sample (beer);
CREATE INDEX sample_by_original ON sample (duplicate_of);

-- The drawn order: which glass stands where for one taster.
CREATE TABLE serving (
    seat       TEXT NOT NULL REFERENCES seat (id),
    set_number INTEGER NOT NULL CHECK (set_number >= 1),
    position   INTEGER NOT NULL CHECK (position >= 1),
    sample     TEXT NOT NULL REFERENCES sample (id),
    PRIMARY KEY (seat, set_number, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX serving_by_sample ON serving (sample);

CREATE TABLE notes (
    id             TEXT PRIMARY KEY NOT NULL,
    seat           TEXT NOT NULL REFERENCES seat (id),
    sample         TEXT NOT NULL REFERENCES sample (id),
    round          INTEGER NOT NULL CHECK (round BETWEEN 1 AND 255),
    form           TEXT NOT NULL,
    source         TEXT NOT NULL,
    knew           TEXT,
    nose           TEXT,
    tasted_on      TEXT NOT NULL,
    typed_on       TEXT NOT NULL,
    current_field  TEXT NOT NULL,
    seal_broken_at TEXT,
    locked_at      TEXT,
    bottle_fault   TEXT,
    remark         TEXT,
    removed_at     TEXT,
    UNIQUE (seat, sample, round)
) STRICT;
CREATE INDEX notes_by_sample ON notes (sample);
CREATE INDEX notes_open ON notes (tasted_on, typed_on) WHERE locked_at IS NULL AND removed_at IS NULL;

-- `position` counts the answers of one tasting in the order in which they were last given.
CREATE TABLE rating (
    notes    TEXT NOT NULL REFERENCES notes (id) ON DELETE CASCADE,
    scale    TEXT NOT NULL,
    value    REAL,
    state    TEXT NOT NULL CHECK (state IN ('rated', 'skipped', 'cannot-tell')),
    position INTEGER NOT NULL,
    CHECK ((state = 'rated') = (value IS NOT NULL)),
    PRIMARY KEY (notes, scale)
) STRICT, WITHOUT ROWID;

CREATE TABLE mark (
    id         TEXT PRIMARY KEY NOT NULL,
    notes      TEXT NOT NULL REFERENCES notes (id) ON DELETE CASCADE,
    stage      TEXT NOT NULL
               CHECK (stage IN ('appearance', 'aroma', 'flavour', 'body', 'finish')),
    descriptor TEXT,
    shelf      TEXT,
    place      TEXT,
    free       TEXT,
    intensity  INTEGER CHECK (intensity BETWEEN 0 AND 9),
    prompting  TEXT NOT NULL CHECK (prompting IN ('unprompted', 'prompted')),
    position   INTEGER NOT NULL,
    CHECK ((descriptor IS NOT NULL) + (shelf IS NOT NULL)
         + (place IS NOT NULL) + (free IS NOT NULL) = 1),
    UNIQUE (notes, position)
) STRICT;

CREATE TABLE stopwatch (
    notes      TEXT NOT NULL REFERENCES notes (id) ON DELETE CASCADE,
    scale      TEXT NOT NULL,
    started_at TEXT NOT NULL,
    stopped_at TEXT,
    position   INTEGER NOT NULL,
    PRIMARY KEY (notes, scale)
) STRICT, WITHOUT ROWID;

CREATE TABLE prediction (
    id                TEXT PRIMARY KEY NOT NULL,
    version           TEXT NOT NULL REFERENCES recipe_version (id),
    batch             TEXT REFERENCES batch (id),
    model_version     TEXT NOT NULL,
    catalogue_version TEXT NOT NULL,
    document          TEXT NOT NULL,
    made_at           TEXT NOT NULL
) STRICT;
CREATE INDEX prediction_by_version ON prediction (version, made_at);
CREATE INDEX prediction_by_batch ON prediction (batch, made_at);

-- Locked notes stand as they are. They can be removed whole (a taster may ask to be forgotten),
-- but no answer, word or column in them can be changed, added or taken away.
CREATE TRIGGER locked_notes_stay
BEFORE UPDATE OF id, seat, sample, round, form, source, knew, nose, tasted_on, typed_on,
    current_field, seal_broken_at, locked_at, bottle_fault, remark ON notes
WHEN OLD.locked_at IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;

CREATE TRIGGER locked_rating_not_added BEFORE INSERT ON rating
WHEN EXISTS (SELECT 1 FROM notes WHERE id = NEW.notes AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;

CREATE TRIGGER locked_rating_not_changed BEFORE UPDATE ON rating
WHEN EXISTS (SELECT 1 FROM notes WHERE id IN (OLD.notes, NEW.notes) AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;

CREATE TRIGGER locked_rating_not_taken BEFORE DELETE ON rating
WHEN EXISTS (SELECT 1 FROM notes WHERE id = OLD.notes AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;

CREATE TRIGGER locked_mark_not_added BEFORE INSERT ON mark
WHEN EXISTS (SELECT 1 FROM notes WHERE id = NEW.notes AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;

CREATE TRIGGER locked_mark_not_changed BEFORE UPDATE ON mark
WHEN EXISTS (SELECT 1 FROM notes WHERE id IN (OLD.notes, NEW.notes) AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;

CREATE TRIGGER locked_mark_not_taken BEFORE DELETE ON mark
WHEN EXISTS (SELECT 1 FROM notes WHERE id = OLD.notes AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;

CREATE TRIGGER locked_stopwatch_not_added BEFORE INSERT ON stopwatch
WHEN EXISTS (SELECT 1 FROM notes WHERE id = NEW.notes AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;

CREATE TRIGGER locked_stopwatch_not_changed BEFORE UPDATE ON stopwatch
WHEN EXISTS (SELECT 1 FROM notes WHERE id IN (OLD.notes, NEW.notes) AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;

CREATE TRIGGER locked_stopwatch_not_taken BEFORE DELETE ON stopwatch
WHEN EXISTS (SELECT 1 FROM notes WHERE id = OLD.notes AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are locked'); END;
