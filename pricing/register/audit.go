package register

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
)

// AuditEntry is one change of the register: who did what to which thing. It holds
// ids, never names of clients, so that it can be kept when those are erased.
type AuditEntry struct {
	Seq    int    `json:"seq"`
	At     string `json:"at"`
	Who    string `json:"who"`
	Did    string `json:"did"`
	What   string `json:"what"`
	Detail string `json:"detail"`
	Prev   string `json:"prev"`
	Hash   string `json:"-"`
}

func (e AuditEntry) hash() (string, error) {
	text, err := json.Marshal(e)
	if err != nil {
		return "", err
	}
	digest := sha256.Sum256(text)
	return hex.EncodeToString(digest[:]), nil
}

// note enters a change in the trail, chained to the entry before it.
func note(ctx context.Context, tx *sql.Tx, by By, did, what, detail string) error {
	if err := checkBy(by); err != nil {
		return err
	}
	e := AuditEntry{Seq: 1, At: stamp(by.At), Who: by.Who, Did: did, What: what, Detail: detail}
	err := tx.QueryRowContext(ctx, "SELECT seq + 1, hash FROM audit ORDER BY seq DESC LIMIT 1").Scan(&e.Seq, &e.Prev)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	if e.Hash, err = e.hash(); err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO audit (seq, at, who, did, what, detail, prev, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
		e.Seq, e.At, e.Who, e.Did, e.What, e.Detail, e.Prev, e.Hash)
	return err
}

// Audit returns the newest entries about a thing, or about everything when what is
// empty, newest first.
func (r *Register) Audit(ctx context.Context, what string, limit int) ([]AuditEntry, error) {
	var out []AuditEntry
	err := r.read(ctx, "audit trail", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT seq, at, who, did, what, detail, prev, hash FROM audit
			WHERE ?1 = '' OR what = ?1 ORDER BY seq DESC LIMIT ?2`, what, limit)
		out, err = collect(rows, err, scanAudit)
		return err
	})
	return out, err
}

func scanAudit(rows *sql.Rows) (e AuditEntry, err error) {
	err = rows.Scan(&e.Seq, &e.At, &e.Who, &e.Did, &e.What, &e.Detail, &e.Prev, &e.Hash)
	return e, err
}

// verifyAudit walks the whole chain.
func verifyAudit(ctx context.Context, tx *sql.Tx) ([]string, error) {
	rows, err := tx.QueryContext(ctx, "SELECT seq, at, who, did, what, detail, prev, hash FROM audit ORDER BY seq")
	entries, err := collect(rows, err, scanAudit)
	if err != nil {
		return nil, err
	}
	prev := ""
	for i, e := range entries {
		hash, err := e.hash()
		if err != nil {
			return nil, err
		}
		if e.Seq != i+1 || e.Prev != prev || e.Hash != hash {
			return []string{fmt.Sprintf("audit trail, entry %d: it has been changed or one is missing before it", e.Seq)}, nil
		}
		prev = e.Hash
	}
	return nil, nil
}

// collect reads all rows of a query.
func collect[T any](rows *sql.Rows, err error, scan func(*sql.Rows) (T, error)) ([]T, error) {
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, rows.Err()
}
