-- Quotations with their issued revisions and trail, projects, numbering, audit.
-- Times are UTC, RFC 3339. Money is in minor units of the currency.

CREATE TABLE clients (
    id         INTEGER PRIMARY KEY,
    name       TEXT NOT NULL,
    contact    TEXT NOT NULL DEFAULT '',
    email      TEXT NOT NULL DEFAULT '',
    phone      TEXT NOT NULL DEFAULT '',
    address    TEXT NOT NULL DEFAULT '',
    created_at TEXT NOT NULL,
    erased_at  TEXT
) STRICT;

CREATE TABLE projects (
    id         TEXT PRIMARY KEY,
    title      TEXT NOT NULL,
    client_id  INTEGER REFERENCES clients (id),
    document   TEXT NOT NULL,
    revision   INTEGER NOT NULL CHECK (revision > 0),
    updated_at TEXT NOT NULL,
    updated_by TEXT NOT NULL
) STRICT;

-- What a project was before, so that nothing saved is lost.
CREATE TABLE project_history (
    project_id TEXT NOT NULL REFERENCES projects (id) ON DELETE CASCADE,
    revision   INTEGER NOT NULL,
    document   TEXT NOT NULL,
    saved_at   TEXT NOT NULL,
    saved_by   TEXT NOT NULL,
    PRIMARY KEY (project_id, revision)
) STRICT, WITHOUT ROWID;

-- next is the number to be given out next; it moves in the transaction that uses it.
-- Numbers up to imported_to may have been given out by another register.
CREATE TABLE series (
    name        TEXT PRIMARY KEY,
    next        INTEGER NOT NULL CHECK (next > 0),
    imported_to INTEGER NOT NULL DEFAULT 0
) STRICT, WITHOUT ROWID;

CREATE TABLE quotations (
    id         TEXT PRIMARY KEY,
    number     TEXT UNIQUE CHECK (number <> ''),
    title      TEXT NOT NULL,
    client     TEXT NOT NULL,
    client_id  INTEGER REFERENCES clients (id),
    project_id TEXT REFERENCES projects (id),
    state      TEXT NOT NULL CHECK (state IN ('enquiry', 'draft', 'issued', 'accepted', 'declined', 'lapsed')),
    draft      TEXT CHECK (draft IS NULL OR json_valid(draft)),
    version    INTEGER NOT NULL CHECK (version > 0),
    updated_at TEXT NOT NULL,
    erased_at  TEXT
) STRICT;
CREATE INDEX quotations_by_state ON quotations (state, updated_at);
CREATE INDEX quotations_by_time ON quotations (updated_at DESC, id);
CREATE INDEX quotations_by_client ON quotations (client_id);

CREATE TABLE revisions (
    quotation_id TEXT NOT NULL REFERENCES quotations (id),
    place        INTEGER NOT NULL CHECK (place > 0),
    letter       TEXT NOT NULL,
    state        TEXT NOT NULL CHECK (state IN ('issued', 'superseded', 'accepted', 'declined', 'lapsed')),
    date         TEXT NOT NULL,
    valid_until  TEXT NOT NULL,
    issued_by    TEXT NOT NULL,
    issued_at    TEXT NOT NULL,
    currency     TEXT NOT NULL,
    net_minor    INTEGER NOT NULL,
    tax_minor    INTEGER NOT NULL,
    gross_minor  INTEGER NOT NULL CHECK (gross_minor = net_minor + tax_minor),
    digest       TEXT NOT NULL CHECK (length(digest) = 64),
    snapshot     TEXT CHECK (snapshot IS NULL OR json_valid(snapshot)),
    approvals    TEXT NOT NULL,
    acceptance   TEXT,
    closing      TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (quotation_id, place),
    UNIQUE (quotation_id, letter)
) STRICT;

-- An issued revision never changes; only its content may be erased as a whole.
CREATE TRIGGER revisions_frozen
BEFORE UPDATE OF quotation_id, place, letter, date, valid_until, issued_at, currency, net_minor, tax_minor, gross_minor, digest, snapshot ON revisions
WHEN NOT (NEW.snapshot IS NULL AND NEW.digest = OLD.digest AND NEW.gross_minor = OLD.gross_minor AND NEW.net_minor = OLD.net_minor
    AND NEW.currency = OLD.currency AND NEW.letter = OLD.letter AND NEW.date = OLD.date AND NEW.quotation_id = OLD.quotation_id AND NEW.place = OLD.place)
BEGIN
    SELECT RAISE(ABORT, 'an issued revision never changes');
END;

CREATE TRIGGER revisions_kept BEFORE DELETE ON revisions
BEGIN
    SELECT RAISE(ABORT, 'an issued revision is never deleted');
END;

CREATE TABLE events (
    quotation_id TEXT NOT NULL REFERENCES quotations (id),
    seq          INTEGER NOT NULL,
    at           TEXT NOT NULL,
    who          TEXT NOT NULL,
    did          TEXT NOT NULL,
    detail       TEXT NOT NULL,
    prev         TEXT NOT NULL,
    hash         TEXT NOT NULL,
    PRIMARY KEY (quotation_id, seq)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER events_frozen BEFORE UPDATE ON events
BEGIN
    SELECT RAISE(ABORT, 'the trail of a quotation never changes');
END;

-- Who changed what in the register itself. It holds no personal data of clients.
CREATE TABLE audit (
    seq    INTEGER PRIMARY KEY,
    at     TEXT NOT NULL,
    who    TEXT NOT NULL,
    did    TEXT NOT NULL,
    what   TEXT NOT NULL,
    detail TEXT NOT NULL,
    prev   TEXT NOT NULL,
    hash   TEXT NOT NULL UNIQUE
) STRICT;

CREATE TRIGGER audit_frozen BEFORE UPDATE ON audit
BEGIN
    SELECT RAISE(ABORT, 'the audit trail never changes');
END;

CREATE TRIGGER audit_kept BEFORE DELETE ON audit
BEGIN
    SELECT RAISE(ABORT, 'the audit trail never changes');
END;
