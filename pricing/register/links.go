package register

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"database/sql"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// What a link that does not open anything says.
var (
	ErrExpired = errors.New("the link has expired")
	ErrRevoked = errors.New("the link has been withdrawn")
)

// Link opens one revision of a quotation to a client.
type Link struct {
	ID          int64
	QuotationID string
	Letter      string
	Opened      json.RawMessage // what the salesperson has opened to change; the web's
	CreatedAt   time.Time
	CreatedBy   string
	ExpiresAt   time.Time
	RevokedAt   time.Time
	Views       int
}

// newToken makes a token of 256 random bits and its hash.
//
// Source: OWASP ASVS 5.0, 7.2.3 and 11.5.1 (at least 128 bits from a cryptographic
// generator), 6.5.2 (a plain hash is enough for such a token).
func newToken() (token string, hash [32]byte) {
	var secret [32]byte
	_, _ = rand.Read(secret[:]) // never fails: crypto/rand ends the program instead
	token = base64.RawURLEncoding.EncodeToString(secret[:])
	return token, sha256.Sum256([]byte(token))
}

// AddLink makes a link and returns its token. Only the token's hash is stored: a
// copy of the register opens nothing.
func (r *Register) AddLink(ctx context.Context, l Link, by By) (token string, err error) {
	token, hash := newToken()
	if len(l.Opened) == 0 {
		l.Opened = json.RawMessage("{}")
	}
	err = r.write(ctx, "add link", func(tx *sql.Tx) error {
		var known int
		row := tx.QueryRowContext(ctx, "SELECT count(*) FROM revisions WHERE quotation_id = ? AND letter = ? AND snapshot IS NOT NULL", l.QuotationID, l.Letter)
		if err := row.Scan(&known); err != nil {
			return err
		}
		if known == 0 {
			return fmt.Errorf("revision %s of %s: %w", l.Letter, l.QuotationID, ErrNotFound)
		}
		var id int64
		err := tx.QueryRowContext(ctx, `INSERT INTO links (token_hash, quotation_id, letter, opened, created_at, created_by, expires_at)
			VALUES (?, ?, ?, ?, ?, ?, ?) RETURNING id`, hash[:], l.QuotationID, l.Letter, string(l.Opened), stamp(by.At), by.Who, stamp(l.ExpiresAt)).Scan(&id)
		if err != nil {
			return err
		}
		return note(ctx, tx, by, "add link", l.QuotationID, fmt.Sprintf("link %d to revision %s until %s", id, l.Letter, stamp(l.ExpiresAt)))
	})
	if err != nil {
		return "", err
	}
	return token, nil
}

const linkColumns = "id, quotation_id, letter, opened, created_at, created_by, expires_at, revoked_at, views"

func scanLink(row interface{ Scan(...any) error }) (l Link, err error) {
	var opened, created, expires string
	var revoked sql.NullString
	if err := row.Scan(&l.ID, &l.QuotationID, &l.Letter, &opened, &created, &l.CreatedBy, &expires, &revoked, &l.Views); err != nil {
		return l, err
	}
	l.Opened = json.RawMessage(opened)
	if l.CreatedAt, err = parseStamp(created); err != nil {
		return l, err
	}
	if l.ExpiresAt, err = parseStamp(expires); err != nil {
		return l, err
	}
	l.RevokedAt, err = nullStamp(revoked)
	return l, err
}

// OpenLink returns what a token opens and counts the visit.
func (r *Register) OpenLink(ctx context.Context, token string, now time.Time) (l Link, err error) {
	hash := sha256.Sum256([]byte(token))
	err = r.write(ctx, "open link", func(tx *sql.Tx) error {
		l, err = scanLink(tx.QueryRowContext(ctx, "SELECT "+linkColumns+" FROM links WHERE token_hash = ?", hash[:]))
		switch {
		case err != nil:
			return err
		case !l.RevokedAt.IsZero():
			return ErrRevoked
		case !now.Before(l.ExpiresAt):
			return ErrExpired
		}
		l.Views++
		_, err := tx.ExecContext(ctx, "UPDATE links SET views = views + 1 WHERE id = ?", l.ID)
		return err
	})
	if err != nil {
		return Link{}, err
	}
	return l, nil
}

// Revoke withdraws a link.
func (r *Register) Revoke(ctx context.Context, id int64, by By) error {
	return r.write(ctx, "withdraw link", func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, "UPDATE links SET revoked_at = ? WHERE id = ? AND revoked_at IS NULL", stamp(by.At), id)
		if err != nil {
			return err
		}
		if err := changedOne(res, ErrNotFound); err != nil {
			return err
		}
		return note(ctx, tx, by, "withdraw link", fmt.Sprintf("link %d", id), "")
	})
}

// Links lists the links of a quotation, the newest first.
func (r *Register) Links(ctx context.Context, quotationID string) (out []Link, err error) {
	err = r.read(ctx, "links", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, "SELECT "+linkColumns+" FROM links WHERE quotation_id = ? ORDER BY id DESC", quotationID)
		out, err = collect(rows, err, func(rows *sql.Rows) (Link, error) { return scanLink(rows) })
		return err
	})
	return out, err
}
