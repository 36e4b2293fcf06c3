-- Versions of the price book, and the words a quotation is found by.

CREATE TABLE price_books (
    id          TEXT PRIMARY KEY,
    currency    TEXT NOT NULL,
    valid_from  TEXT NOT NULL,
    valid_to    TEXT NOT NULL DEFAULT '',
    note        TEXT NOT NULL DEFAULT '',
    prices      BLOB NOT NULL,
    sha256      TEXT NOT NULL CHECK (length(sha256) = 64),
    source_name TEXT NOT NULL,
    added_at    TEXT NOT NULL,
    added_by    TEXT NOT NULL
) STRICT;

CREATE VIRTUAL TABLE quotation_words USING fts5 (id UNINDEXED, number, title, client, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
INSERT INTO quotation_words (quotation_words, rank) VALUES ('secure-delete', 1);
INSERT INTO quotation_words (id, number, title, client) SELECT id, coalesce(number, ''), title, client FROM quotations;
