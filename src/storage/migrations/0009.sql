-- Schema 9. The list of locked notes is read from its end, however long it is.

CREATE INDEX notes_locked ON notes (tasted_on, typed_on) WHERE locked_at IS NOT NULL AND removed_at IS NULL;
