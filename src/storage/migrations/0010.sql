-- Schema 10. What stands open is found without reading what was left over the years: two small indexes.

DROP INDEX notes_open;
CREATE INDEX notes_open ON notes (tasted_on, typed_on, seat) WHERE locked_at IS NULL AND removed_at IS NULL;

CREATE INDEX seat_left ON seat (id) WHERE left_at IS NOT NULL;
