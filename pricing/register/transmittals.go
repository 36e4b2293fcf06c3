package register

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"time"
)

// Transmittal is the record that a paper of a revision went to somebody.
type Transmittal struct {
	ID          int64
	QuotationID string
	Letter      string
	Paper       string
	SHA256      string // of the paper's bytes as they lie in the register
	Recipient   string
	Means       string // e-mail, link, by hand
	At          time.Time
	SentBy      string
}

// Transmit records that a paper was sent. The paper must be one of the revision's.
func (r *Register) Transmit(ctx context.Context, t Transmittal, by By) (id int64, err error) {
	err = r.write(ctx, "record transmittal", func(tx *sql.Tx) error {
		if err := checkBy(by); err != nil {
			return err
		}
		s, err := loadQuotation(ctx, tx, t.QuotationID)
		if err != nil {
			return err
		}
		rev, ok := s.Quote.Revision(t.Letter)
		if !ok {
			return fmt.Errorf("revision %s: %w", t.Letter, ErrNotFound)
		}
		paper, ok := rev.Snapshot.Paper(t.Paper)
		if !ok {
			return fmt.Errorf("paper %s of revision %s: %w", t.Paper, t.Letter, ErrNotFound)
		}
		digest := sha256.Sum256(paper.Bytes)
		return tx.QueryRowContext(ctx, `INSERT INTO transmittals (quotation_id, letter, paper, sha256, recipient, means, at, sent_by)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?) RETURNING id`, t.QuotationID, t.Letter, t.Paper, hex.EncodeToString(digest[:]),
			t.Recipient, t.Means, stamp(by.At), by.Who).Scan(&id)
	})
	return id, err
}

// Transmittals lists what was sent of a quotation, the oldest first.
func (r *Register) Transmittals(ctx context.Context, quotationID string) (out []Transmittal, err error) {
	err = r.read(ctx, "transmittals", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT id, quotation_id, letter, paper, sha256, recipient, means, at, sent_by
			FROM transmittals WHERE quotation_id = ? ORDER BY at, id`, quotationID)
		out, err = collect(rows, err, func(rows *sql.Rows) (t Transmittal, err error) {
			var at string
			if err := rows.Scan(&t.ID, &t.QuotationID, &t.Letter, &t.Paper, &t.SHA256, &t.Recipient, &t.Means, &at, &t.SentBy); err != nil {
				return t, err
			}
			t.At, err = parseStamp(at)
			return t, err
		})
		return err
	})
	return out, err
}
