-- Who works here, and what they have set.

CREATE TABLE people (
    id            INTEGER PRIMARY KEY,
    email         TEXT NOT NULL UNIQUE COLLATE NOCASE,
    name          TEXT NOT NULL,
    role          TEXT NOT NULL CHECK (role IN ('sales', 'approver', 'office', 'owner')),
    password_hash TEXT NOT NULL DEFAULT '',
    created_at    TEXT NOT NULL,
    disabled_at   TEXT,
    erased_at     TEXT
) STRICT;

CREATE TABLE sessions (
    token_hash BLOB PRIMARY KEY CHECK (length(token_hash) = 32),
    person_id  INTEGER NOT NULL REFERENCES people (id) ON DELETE CASCADE,
    created_at TEXT NOT NULL,
    expires_at TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX sessions_by_person ON sessions (person_id);

CREATE TABLE settings (
    key        TEXT PRIMARY KEY,
    value      TEXT NOT NULL CHECK (json_valid(value)),
    updated_at TEXT NOT NULL,
    updated_by TEXT NOT NULL
) STRICT, WITHOUT ROWID;
