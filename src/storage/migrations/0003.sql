-- Schema 3. Blind tests. The people of a test are seats of its sitting, its glasses samples of it; what
-- is closed stands in the sitting. NULL is "not said" and never 0.

CREATE TABLE test (
    id         TEXT PRIMARY KEY NOT NULL,
    number     INTEGER NOT NULL CHECK (number >= 1),
    sitting    TEXT NOT NULL UNIQUE REFERENCES sitting (id),
    beer_a     TEXT NOT NULL REFERENCES beer (id),
    beer_b     TEXT NOT NULL REFERENCES beer (id),
    method     TEXT NOT NULL,
    purpose    TEXT NOT NULL,
    alpha      REAL NOT NULL,
    beta       REAL NOT NULL,
    pd         REAL NOT NULL,
    attribute  TEXT,
    expected   TEXT,
    stopping   TEXT NOT NULL,
    pouring    TEXT NOT NULL,
    places     INTEGER NOT NULL CHECK (places >= 1),
    rounds     INTEGER NOT NULL CHECK (rounds >= 1),
    glass_ml   REAL NOT NULL CHECK (glass_ml > 0),
    salt       TEXT NOT NULL,
    commitment TEXT NOT NULL,
    made_at    TEXT NOT NULL,
    removed_at TEXT,
    CHECK (beer_a <> beer_b),
    CHECK (expected IS NULL OR attribute IS NOT NULL)
) STRICT;
CREATE UNIQUE INDEX test_by_number ON test (number) WHERE removed_at IS NULL;
CREATE INDEX test_by_beer_a ON test (beer_a);
CREATE INDEX test_by_beer_b ON test (beer_b);

-- The drawn order: what stands where before whoever takes a place.
CREATE TABLE test_set (
    test     TEXT NOT NULL REFERENCES test (id),
    place    INTEGER NOT NULL CHECK (place >= 1),
    round    INTEGER NOT NULL CHECK (round >= 1),
    position INTEGER NOT NULL CHECK (position >= 1),
    sample   TEXT NOT NULL UNIQUE REFERENCES sample (id),
    PRIMARY KEY (test, place, round, position)
) STRICT, WITHOUT ROWID;

-- What is in the glass marked as the reference, where a method has one; it bears no code.
CREATE TABLE test_reference (
    test  TEXT NOT NULL REFERENCES test (id),
    place INTEGER NOT NULL CHECK (place >= 1),
    round INTEGER NOT NULL CHECK (round >= 1),
    side  TEXT NOT NULL CHECK (side IN ('a', 'b')),
    PRIMARY KEY (test, place, round)
) STRICT, WITHOUT ROWID;

CREATE TABLE test_place (
    seat  TEXT PRIMARY KEY NOT NULL REFERENCES seat (id),
    test  TEXT NOT NULL REFERENCES test (id),
    place INTEGER NOT NULL CHECK (place >= 1),
    UNIQUE (test, place)
) STRICT;

CREATE TABLE answer (
    id       TEXT PRIMARY KEY NOT NULL,
    seat     TEXT NOT NULL REFERENCES test_place (seat),
    round    INTEGER NOT NULL CHECK (round >= 1),
    chosen   TEXT NOT NULL REFERENCES sample (id),
    sureness TEXT,
    prefers  TEXT REFERENCES sample (id),
    source   TEXT NOT NULL,
    given_at TEXT NOT NULL,
    replaces TEXT UNIQUE REFERENCES answer (id)
) STRICT;
CREATE INDEX answer_by_seat ON answer (seat, round);
-- One answer a set; what comes after it corrects it.
CREATE UNIQUE INDEX answer_first ON answer (seat, round) WHERE replaces IS NULL;

CREATE TABLE answer_mark (
    answer     TEXT NOT NULL REFERENCES answer (id),
    position   INTEGER NOT NULL,
    descriptor TEXT,
    shelf      TEXT,
    place      TEXT,
    free       TEXT,
    CHECK ((descriptor IS NOT NULL) + (shelf IS NOT NULL)
         + (place IS NOT NULL) + (free IS NOT NULL) = 1),
    PRIMARY KEY (answer, position)
) STRICT, WITHOUT ROWID;

-- What was drawn stays as drawn, and an answer as given.
CREATE TRIGGER test_stays BEFORE UPDATE OF id, number, sitting, beer_a, beer_b, method, purpose, alpha,
    beta, pd, attribute, expected, stopping, pouring, places, rounds, glass_ml, salt, commitment,
    made_at ON test
BEGIN SELECT RAISE(ABORT, 'a planned test stays as it was planned'); END;

CREATE TRIGGER test_set_stays BEFORE UPDATE ON test_set
BEGIN SELECT RAISE(ABORT, 'the drawn order of a test stays'); END;

CREATE TRIGGER answer_stays BEFORE UPDATE OF id, seat, round, chosen, sureness, prefers, source, given_at,
    replaces ON answer
BEGIN SELECT RAISE(ABORT, 'an answer stays; a correction is a new one'); END;

CREATE TRIGGER no_answer_after_the_end BEFORE INSERT ON answer
WHEN EXISTS (SELECT 1 FROM seat JOIN sitting ON sitting.id = seat.sitting
             WHERE seat.id = NEW.seat AND (sitting.closed_at IS NOT NULL OR seat.left_at IS NOT NULL))
BEGIN SELECT RAISE(ABORT, 'this test is closed, or this taster has left'); END;

CREATE TRIGGER no_place_after_the_end BEFORE INSERT ON test_place
WHEN EXISTS (SELECT 1 FROM test JOIN sitting ON sitting.id = test.sitting
             WHERE test.id = NEW.test AND sitting.closed_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'this test is closed'); END;
