-- Schema 8. Photographs of a glass, a label or a paper sheet: as bytes, without place, camera and date.

-- `notes` are those that a photograph belongs to; it goes with them. Of one that was removed the row stays without
-- its bytes, so that the numbers of the others stay.
CREATE TABLE photograph (
    id         TEXT PRIMARY KEY NOT NULL,
    beer       TEXT NOT NULL REFERENCES beer (id),
    number     INTEGER NOT NULL CHECK (number >= 1),
    notes      TEXT REFERENCES notes (id) ON DELETE CASCADE,
    kind       TEXT NOT NULL,
    media_type TEXT NOT NULL,
    width      INTEGER NOT NULL CHECK (width >= 1),
    height     INTEGER NOT NULL CHECK (height >= 1),
    sha256     TEXT,
    bytes      BLOB,
    made_at    TEXT NOT NULL,
    removed_at TEXT,
    CHECK ((bytes IS NULL) = (removed_at IS NOT NULL)),
    CHECK ((sha256 IS NULL) = (bytes IS NULL)),
    UNIQUE (beer, number)
) STRICT;
CREATE INDEX photograph_by_notes ON photograph (notes);

CREATE TRIGGER photograph_stays
BEFORE UPDATE OF id, beer, number, notes, kind, media_type, width, height, made_at ON photograph
BEGIN SELECT RAISE(ABORT, 'a photograph stays as it was taken in'); END;

CREATE TRIGGER removed_photograph_stays BEFORE UPDATE OF sha256, bytes, removed_at ON photograph
WHEN OLD.removed_at IS NOT NULL OR NEW.removed_at IS NULL
BEGIN SELECT RAISE(ABORT, 'a photograph can only be removed'); END;
