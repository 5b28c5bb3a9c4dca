-- Schema 4. Practice. Its people are seats of its sitting; what is closed stands in the sitting. Answers
-- are only added: of two of the same kind to one item the later counts. NULL is "not said" and never 0.

CREATE TABLE practice (
    sitting    TEXT PRIMARY KEY NOT NULL REFERENCES sitting (id),
    kind       TEXT NOT NULL,
    reveal     TEXT NOT NULL,
    made_at    TEXT NOT NULL,
    removed_at TEXT
) STRICT;

-- The drawn order: what each person is asked.
CREATE TABLE practice_item (
    seat       TEXT NOT NULL REFERENCES seat (id),
    position   INTEGER NOT NULL CHECK (position >= 1),
    form       TEXT NOT NULL,
    descriptor TEXT NOT NULL,
    code       INTEGER CHECK (code BETWEEN 100 AND 999),
    spiked     TEXT,
    PRIMARY KEY (seat, position)
) STRICT, WITHOUT ROWID;

-- What can be chosen, in the order shown.
CREATE TABLE practice_option (
    seat       TEXT NOT NULL,
    position   INTEGER NOT NULL,
    place      INTEGER NOT NULL CHECK (place >= 1),
    descriptor TEXT NOT NULL,
    PRIMARY KEY (seat, position, place),
    FOREIGN KEY (seat, position) REFERENCES practice_item (seat, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE practice_answer (
    id         TEXT PRIMARY KEY NOT NULL,
    seat       TEXT NOT NULL,
    position   INTEGER NOT NULL,
    reply      TEXT NOT NULL CHECK (reply IN ('place', 'shelf', 'word', 'presence', 'cannot-tell')),
    chosen     TEXT CHECK ((chosen IS NULL) = (reply = 'cannot-tell')),
    certainty  INTEGER CHECK (certainty BETWEEN 0 AND 100),
    given_at   TEXT NOT NULL,
    FOREIGN KEY (seat, position) REFERENCES practice_item (seat, position)
) STRICT;
CREATE INDEX practice_answer_by_item ON practice_answer (seat, position);

CREATE TRIGGER practice_item_stays BEFORE UPDATE ON practice_item
BEGIN SELECT RAISE(ABORT, 'what was drawn for a practice stays'); END;

CREATE TRIGGER practice_answer_stays BEFORE UPDATE ON practice_answer
BEGIN SELECT RAISE(ABORT, 'an answer stays; a correction is a new one'); END;

CREATE TRIGGER no_practice_answer_after_the_end BEFORE INSERT ON practice_answer
WHEN EXISTS (SELECT 1 FROM seat WHERE seat.id = NEW.seat AND seat.left_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'this taster has left the practice'); END;
