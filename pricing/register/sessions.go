package register

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"time"
)

// Session is one browser that a person is signed in with.
type Session struct {
	Key     string // names it; it is of no use for signing in
	Browser string // as it calls itself
	Created time.Time
	Seen    time.Time // when it was used last, to the minute
	Expires time.Time
}

// keyBytes is how much of a token's hash names a session.
const keyBytes = 8

// StartSession makes a session and returns its token, which is nowhere stored.
func (r *Register) StartSession(ctx context.Context, person int64, browser string, now time.Time, life time.Duration) (token string, err error) {
	token, hash := newToken()
	err = r.write(ctx, "start session", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE expires_at <= ?", stamp(now)); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO sessions (token_hash, person_id, browser, created_at, seen_at, expires_at) VALUES (?, ?, ?, ?, ?, ?)",
			hash[:], person, browser, stamp(now), stamp(now), stamp(now.Add(life)))
		return err
	})
	return token, err
}

const sessionColumns = "lower(hex(substr(s.token_hash, 1, 8))), s.browser, s.created_at, s.seen_at, s.expires_at"

func scanSession(scan func(...any) error, more ...any) (s Session, err error) {
	var created, seen, expires string
	if err := scan(append([]any{&s.Key, &s.Browser, &created, &seen, &expires}, more...)...); err != nil {
		return s, err
	}
	for _, t := range []struct {
		to   *time.Time
		text string
	}{{&s.Created, created}, {&s.Seen, seen}, {&s.Expires, expires}} {
		if *t.to, err = parseStamp(t.text); err != nil {
			return s, err
		}
	}
	return s, nil
}

// SessionPerson returns who a session belongs to. A session that has expired, was not
// used for the idle time, was ended or never was is ErrNotFound; so is that of a
// disabled person.
func (r *Register) SessionPerson(ctx context.Context, token string, now time.Time, idle time.Duration) (p Person, s Session, err error) {
	hash := sha256.Sum256([]byte(token))
	err = r.read(ctx, "session", func(tx *sql.Tx) error {
		row := tx.QueryRowContext(ctx, "SELECT "+sessionColumns+", "+personColumns+` FROM sessions s JOIN people p ON p.id = s.person_id
			WHERE s.token_hash = ? AND s.expires_at > ? AND s.seen_at > ? AND p.disabled_at IS NULL`, hash[:], stamp(now), stamp(now.Add(-idle)))
		s, err = scanSession(row.Scan, p.fields()...)
		return err
	})
	return p, s, err
}

// SeeSession notes that a session is in use.
func (r *Register) SeeSession(ctx context.Context, token string, now time.Time) error {
	hash := sha256.Sum256([]byte(token))
	return r.write(ctx, "see session", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "UPDATE sessions SET seen_at = ? WHERE token_hash = ?", stamp(now), hash[:])
		return err
	})
}

// Sessions lists where a person is signed in, the newest use first.
func (r *Register) Sessions(ctx context.Context, person int64, now time.Time, idle time.Duration) (out []Session, err error) {
	err = r.read(ctx, "sessions", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, "SELECT "+sessionColumns+" FROM sessions s WHERE s.person_id = ? AND s.expires_at > ? AND s.seen_at > ? ORDER BY s.seen_at DESC, s.token_hash",
			person, stamp(now), stamp(now.Add(-idle)))
		out, err = collect(rows, err, func(rows *sql.Rows) (Session, error) { return scanSession(rows.Scan) })
		return err
	})
	return out, err
}

// EndSession ends the session of a token.
func (r *Register) EndSession(ctx context.Context, token string) error {
	hash := sha256.Sum256([]byte(token))
	return r.write(ctx, "end session", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE token_hash = ?", hash[:])
		return err
	})
}

// EndSessionOf ends the session of that key, if it is the person's own.
func (r *Register) EndSessionOf(ctx context.Context, person int64, key string, by By) error {
	begin, err := hex.DecodeString(key)
	if err != nil || len(begin) != keyBytes {
		return fmt.Errorf("end session %q: %w", key, ErrNotFound)
	}
	return r.write(ctx, "end session", func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE person_id = ? AND substr(token_hash, 1, 8) = ?", person, begin)
		if err != nil {
			return err
		}
		if err := changedOne(res, ErrNotFound); err != nil {
			return err
		}
		return note(ctx, tx, by, "end session", fmt.Sprintf("person %d", person), "")
	})
}

// EndOtherSessions ends every session of a person but the one of the token.
func (r *Register) EndOtherSessions(ctx context.Context, person int64, token string, by By) error {
	hash := sha256.Sum256([]byte(token))
	return r.write(ctx, "end other sessions", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM sessions WHERE person_id = ? AND token_hash <> ?", person, hash[:]); err != nil {
			return err
		}
		return note(ctx, tx, by, "end other sessions", fmt.Sprintf("person %d", person), "")
	})
}
