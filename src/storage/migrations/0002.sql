-- Schema 2. The second sniff: once notes are locked, their taster may smell the glass again for words
-- that are asked for. Every answer here is prompted, so it stands apart from `mark` and counts nowhere
-- else. `position` is the drawn order. NULL as an answer is "not asked yet".

CREATE TABLE second_sniff (
    id          TEXT PRIMARY KEY NOT NULL,
    notes       TEXT NOT NULL REFERENCES notes (id) ON DELETE CASCADE,
    position    INTEGER NOT NULL CHECK (position BETWEEN 1 AND 6),
    descriptor  TEXT NOT NULL,
    kind        TEXT NOT NULL CHECK (kind IN ('hoped', 'promised', 'decoy')),
    answer      TEXT CHECK (answer IN ('there', 'not-there', 'cannot-tell')),
    made_at     TEXT NOT NULL,
    answered_at TEXT,
    CHECK ((answer IS NULL) = (answered_at IS NULL)),
    UNIQUE (notes, position),
    UNIQUE (notes, descriptor)
) STRICT;

-- The words tell the plan, so there are none before the lock.
CREATE TRIGGER second_sniff_after_the_lock BEFORE INSERT ON second_sniff
WHEN NOT EXISTS (SELECT 1 FROM notes WHERE id = NEW.notes AND locked_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'these notes are not locked'); END;

CREATE TRIGGER second_sniff_order_stays
BEFORE UPDATE OF id, notes, position, descriptor, kind, made_at ON second_sniff
BEGIN SELECT RAISE(ABORT, 'the drawn words of a second sniff stay'); END;

-- After the last answer it is told which words were decoys; nobody answers with that in mind.
CREATE TRIGGER finished_second_sniff_stays BEFORE UPDATE OF answer, answered_at ON second_sniff
WHEN NOT EXISTS (SELECT 1 FROM second_sniff WHERE notes = OLD.notes AND answer IS NULL)
BEGIN SELECT RAISE(ABORT, 'this second sniff is finished'); END;

-- It goes only together with its notes, when a taster asks to be forgotten.
CREATE TRIGGER second_sniff_not_taken BEFORE DELETE ON second_sniff
WHEN EXISTS (SELECT 1 FROM notes WHERE id = OLD.notes)
BEGIN SELECT RAISE(ABORT, 'a second sniff stays with its notes'); END;
