-- Schema 7. Proposals for the next recipe as they were made. What was said stays.

-- `parent` is the recipe version that was brewed. `name`, `version` and `hash` are of the document that was written
-- from the proposal: it need not be kept as a recipe version yet. `document` is what was said, as TOML.
CREATE TABLE proposal (
    id         TEXT PRIMARY KEY NOT NULL,
    batch      TEXT NOT NULL REFERENCES batch (id),
    parent     TEXT NOT NULL REFERENCES recipe_version (id),
    name       TEXT NOT NULL,
    version    TEXT NOT NULL,
    hash       TEXT NOT NULL,
    document   TEXT NOT NULL,
    made_at    TEXT NOT NULL,
    removed_at TEXT
) STRICT;
CREATE INDEX proposal_by_name ON proposal (name, version, made_at) WHERE removed_at IS NULL;
CREATE INDEX proposal_by_batch ON proposal (batch, made_at) WHERE removed_at IS NULL;

CREATE TRIGGER proposal_stays
BEFORE UPDATE OF id, batch, parent, name, version, hash, document, made_at ON proposal
BEGIN SELECT RAISE(ABORT, 'what was proposed stays'); END;
