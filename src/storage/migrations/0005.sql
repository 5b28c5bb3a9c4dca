-- Schema 5. Strength in practice, and courses of evenings. What is drawn stays; answers are only added.

-- One glass of a series from weak to strong, for one person.
CREATE TABLE strength_glass (
    seat     TEXT NOT NULL REFERENCES seat (id),
    position INTEGER NOT NULL CHECK (position >= 1),
    scale    TEXT NOT NULL,
    step     INTEGER NOT NULL CHECK (step BETWEEN 1 AND 5),
    code     INTEGER NOT NULL CHECK (code BETWEEN 100 AND 999),
    PRIMARY KEY (seat, position)
) STRICT, WITHOUT ROWID;

-- 'rated' says how strong one glass seemed, 0 to 9; 'placed' which step it was taken for, 1 to 5.
CREATE TABLE strength_answer (
    id       TEXT PRIMARY KEY NOT NULL,
    seat     TEXT NOT NULL,
    position INTEGER NOT NULL,
    reply    TEXT NOT NULL CHECK (reply IN ('rated', 'placed')),
    value    INTEGER NOT NULL
        CHECK (value BETWEEN 0 AND 9 AND (reply = 'rated' OR value BETWEEN 1 AND 5)),
    given_at TEXT NOT NULL,
    FOREIGN KEY (seat, position) REFERENCES strength_glass (seat, position)
) STRICT;
CREATE INDEX strength_answer_by_glass ON strength_answer (seat, position);

CREATE TABLE course (
    id         TEXT PRIMARY KEY NOT NULL,
    name       TEXT NOT NULL,
    folded_name TEXT NOT NULL,
    meetings   INTEGER NOT NULL CHECK (meetings >= 3),
    made_at    TEXT NOT NULL,
    removed_at TEXT
) STRICT;
CREATE UNIQUE INDEX course_by_name ON course (folded_name) WHERE removed_at IS NULL;

CREATE TABLE course_person (
    course TEXT NOT NULL REFERENCES course (id),
    place  INTEGER NOT NULL CHECK (place >= 1),
    taster TEXT NOT NULL REFERENCES taster (id),
    PRIMARY KEY (course, place),
    UNIQUE (course, taster)
) STRICT, WITHOUT ROWID;

-- The words held back for the check.
CREATE TABLE course_word (
    course     TEXT NOT NULL REFERENCES course (id),
    place      INTEGER NOT NULL CHECK (place >= 1),
    descriptor TEXT NOT NULL,
    PRIMARY KEY (course, place),
    UNIQUE (course, descriptor)
) STRICT, WITHOUT ROWID;

CREATE TABLE meeting (
    id         TEXT PRIMARY KEY NOT NULL,
    course     TEXT NOT NULL REFERENCES course (id),
    number     INTEGER NOT NULL CHECK (number >= 1),
    minutes    REAL NOT NULL CHECK (minutes > 0),
    made_at    TEXT NOT NULL,
    removed_at TEXT
) STRICT;
CREATE UNIQUE INDEX meeting_by_number ON meeting (course, number) WHERE removed_at IS NULL;

CREATE TABLE meeting_practice (
    meeting TEXT NOT NULL REFERENCES meeting (id),
    place   INTEGER NOT NULL CHECK (place >= 1),
    part    TEXT NOT NULL,
    sitting TEXT NOT NULL REFERENCES practice (sitting),
    PRIMARY KEY (meeting, place)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER strength_glass_stays BEFORE UPDATE ON strength_glass
BEGIN SELECT RAISE(ABORT, 'what was drawn for a practice stays'); END;

CREATE TRIGGER strength_answer_stays BEFORE UPDATE ON strength_answer
BEGIN SELECT RAISE(ABORT, 'an answer stays; a correction is a new one'); END;

CREATE TRIGGER no_strength_answer_after_the_end BEFORE INSERT ON strength_answer
WHEN EXISTS (SELECT 1 FROM seat WHERE seat.id = NEW.seat AND seat.left_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'this taster has left the practice'); END;

CREATE TRIGGER course_word_stays BEFORE UPDATE ON course_word
BEGIN SELECT RAISE(ABORT, 'the words of a check stay for the whole course'); END;
