-- When a session was used last and by which browser; a second factor of a person.

ALTER TABLE sessions ADD COLUMN seen_at TEXT NOT NULL DEFAULT '';
ALTER TABLE sessions ADD COLUMN browser TEXT NOT NULL DEFAULT '';
UPDATE sessions SET seen_at = created_at;

-- The secret is shared with a person's own device and must be kept readable. factor_step
-- is the newest time step whose code was used: none is taken twice.
ALTER TABLE people ADD COLUMN factor TEXT NOT NULL DEFAULT '';
ALTER TABLE people ADD COLUMN factor_step INTEGER NOT NULL DEFAULT 0;

CREATE TABLE recovery_codes (
    person_id INTEGER NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    code_hash BLOB NOT NULL CHECK (length(code_hash) = 32),
    PRIMARY KEY (person_id, code_hash)
) STRICT, WITHOUT ROWID;
