-- Links for clients, what they write back, and what was sent to whom.

CREATE TABLE links (
    id           INTEGER PRIMARY KEY,
    token_hash   BLOB NOT NULL UNIQUE CHECK (length(token_hash) = 32),
    quotation_id TEXT NOT NULL REFERENCES quotations (id),
    letter       TEXT NOT NULL,
    opened       TEXT NOT NULL CHECK (json_valid(opened)),
    created_at   TEXT NOT NULL,
    created_by   TEXT NOT NULL,
    expires_at   TEXT NOT NULL,
    revoked_at   TEXT,
    views        INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE INDEX links_by_quotation ON links (quotation_id);

CREATE TABLE comments (
    id           INTEGER PRIMARY KEY,
    quotation_id TEXT NOT NULL REFERENCES quotations (id),
    letter       TEXT NOT NULL,
    link_id      INTEGER REFERENCES links (id),
    author       TEXT NOT NULL,
    at           TEXT NOT NULL,
    text         TEXT NOT NULL,
    proposal     TEXT CHECK (proposal IS NULL OR json_valid(proposal)),
    state        TEXT NOT NULL CHECK (state IN ('open', 'adopted', 'refused')),
    settled_by   TEXT NOT NULL DEFAULT '',
    settled_at   TEXT
) STRICT;
CREATE INDEX comments_by_quotation ON comments (quotation_id, at);

CREATE TABLE transmittals (
    id           INTEGER PRIMARY KEY,
    quotation_id TEXT NOT NULL REFERENCES quotations (id),
    letter       TEXT NOT NULL,
    paper        TEXT NOT NULL,
    sha256       TEXT NOT NULL CHECK (length(sha256) = 64),
    recipient    TEXT NOT NULL,
    means        TEXT NOT NULL,
    at           TEXT NOT NULL,
    sent_by      TEXT NOT NULL
) STRICT;
CREATE INDEX transmittals_by_quotation ON transmittals (quotation_id, at);
