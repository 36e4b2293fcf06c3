package register

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"
)

// Comment is what somebody wrote about a revision, perhaps with a proposal to change
// it. A proposal waits until the salesperson adopts or refuses it.
type Comment struct {
	ID          int64
	QuotationID string
	Letter      string
	LinkID      int64 // 0 when it was written in the house
	Author      string
	At          time.Time
	Text        string
	Proposal    json.RawMessage // the web's; nil for a plain comment
	State       string          // open, adopted, refused
	SettledBy   string
	SettledAt   time.Time
}

// AddComment enters a comment.
func (r *Register) AddComment(ctx context.Context, c Comment) (id int64, err error) {
	const longest = 20_000
	if strings.TrimSpace(c.Text) == "" && len(c.Proposal) == 0 || len(c.Text) > longest {
		return 0, fmt.Errorf("add comment: a text of 1 to %d characters, or a proposal", longest)
	}
	err = r.write(ctx, "add comment", func(tx *sql.Tx) error {
		if err := checkBy(By{Who: c.Author, At: c.At}); err != nil {
			return err
		}
		proposal := sql.NullString{String: string(c.Proposal), Valid: len(c.Proposal) > 0}
		return tx.QueryRowContext(ctx, `INSERT INTO comments (quotation_id, letter, link_id, author, at, text, proposal, state)
			VALUES (?, ?, ?, ?, ?, ?, ?, 'open') RETURNING id`, c.QuotationID, c.Letter,
			sql.NullInt64{Int64: c.LinkID, Valid: c.LinkID != 0}, c.Author, stamp(c.At), c.Text, proposal).Scan(&id)
	})
	return id, err
}

// Settle adopts or refuses a comment that is open.
func (r *Register) Settle(ctx context.Context, id int64, adopt bool, by By) error {
	state := "refused"
	if adopt {
		state = "adopted"
	}
	return r.write(ctx, "settle comment", func(tx *sql.Tx) error {
		res, err := tx.ExecContext(ctx, "UPDATE comments SET state = ?, settled_by = ?, settled_at = ? WHERE id = ? AND state = 'open'", state, by.Who, stamp(by.At), id)
		if err != nil {
			return err
		}
		if err := changedOne(res, fmt.Errorf("%w: it is not open any more", ErrConflict)); err != nil {
			return err
		}
		return note(ctx, tx, by, state, fmt.Sprintf("comment %d", id), "")
	})
}

// Comments lists the comments on a quotation, the oldest first.
func (r *Register) Comments(ctx context.Context, quotationID string) (out []Comment, err error) {
	err = r.read(ctx, "comments", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT id, quotation_id, letter, coalesce(link_id, 0), author, at, text, proposal, state, settled_by, settled_at
			FROM comments WHERE quotation_id = ? ORDER BY at, id`, quotationID)
		out, err = collect(rows, err, func(rows *sql.Rows) (c Comment, err error) {
			var at string
			var proposal, settled sql.NullString
			if err := rows.Scan(&c.ID, &c.QuotationID, &c.Letter, &c.LinkID, &c.Author, &at, &c.Text, &proposal, &c.State, &c.SettledBy, &settled); err != nil {
				return c, err
			}
			if proposal.Valid {
				c.Proposal = json.RawMessage(proposal.String)
			}
			var errAt, errSettled error
			c.At, errAt = parseStamp(at)
			c.SettledAt, errSettled = nullStamp(settled)
			return c, errors.Join(errAt, errSettled)
		})
		return err
	})
	return out, err
}
