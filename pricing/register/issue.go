package register

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/quotation"
)

// Issuing says how a draft leaves the house.
type Issuing struct {
	ID         string // the quotation
	Version    int    // the version it was looked at in
	Date       pricing.Date
	ValidUntil pricing.Date
	Total      quotation.Total
	// Papers makes the documents once number and revision letter are known. An error
	// of it gives the number back. It runs inside the transaction: it may read the
	// register but not write to it, which would wait for itself.
	Papers func(number, letter string) ([]quotation.Paper, error)
}

// Issue makes a revision of the draft: it takes the next number, if the quotation
// has none, has the papers made with it, and stores both in one transaction. If
// anything fails the number is not used up, so that numbers have no gaps; and as
// only one can write at a time, no number is given out twice.
func (r *Register) Issue(ctx context.Context, is Issuing, by By) (Stored, error) {
	var out Stored
	err := r.write(ctx, "issue quotation "+is.ID, func(tx *sql.Tx) error {
		old, err := loadQuotation(ctx, tx, is.ID)
		if err != nil {
			return err
		}
		number := old.Quote.Number
		if number == "" {
			if number, err = nextNumber(ctx, tx, is.Date); err != nil {
				return err
			}
		}
		letter := quotation.Letter(len(old.Quote.Revisions) + 1)
		if is.Papers == nil {
			return errors.New("nothing makes the papers")
		}
		papers, err := is.Papers(number, letter)
		if err != nil {
			return fmt.Errorf("papers of %s revision %s: %w", number, letter, err)
		}
		q, err := old.Quote.Issue(quotation.Issuing{Number: number, Date: is.Date, ValidUntil: is.ValidUntil, Total: is.Total, Papers: papers}, by)
		if err != nil {
			return err
		}
		if err := saveOver(ctx, tx, old, q, is.Version, by); err != nil {
			return err
		}
		if err := note(ctx, tx, by, "issue", is.ID, number+" revision "+letter); err != nil {
			return err
		}
		out, err = loadQuotation(ctx, tx, is.ID)
		return err
	})
	return out, err
}

// nextNumber takes the next number of the year: Q-2026-0001.
func nextNumber(ctx context.Context, tx *sql.Tx, date pricing.Date) (string, error) {
	if date.IsZero() {
		return "", errors.New("a number needs a date")
	}
	series := "Q-" + date.String()[:4]
	var n int
	err := tx.QueryRowContext(ctx, `INSERT INTO series (name, next) VALUES (?, 2)
		ON CONFLICT (name) DO UPDATE SET next = next + 1 RETURNING next - 1`, series).Scan(&n)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("%s-%04d", series, n), nil
}

// takeNumber moves the series past a number that came from another register, so
// that it is not given out again.
func takeNumber(ctx context.Context, tx *sql.Tx, number string) error {
	at := strings.LastIndexByte(number, '-')
	if at < 0 {
		return nil // not of our making; it cannot collide
	}
	n, err := strconv.Atoi(number[at+1:])
	if err != nil || n < 1 {
		return nil // not of our making either
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO series (name, next, imported_to) VALUES (?1, ?2 + 1, ?2)
		ON CONFLICT (name) DO UPDATE SET next = max(next, ?2 + 1), imported_to = max(imported_to, ?2)`, number[:at], n)
	return err
}

// numberGaps names the numbers that this register gave out and no longer has.
func numberGaps(ctx context.Context, tx *sql.Tx) ([]string, error) {
	rows, err := tx.QueryContext(ctx, `
		WITH RECURSIVE given (name, n, next) AS (
			SELECT name, imported_to + 1, next FROM series WHERE next > imported_to + 1
			UNION ALL SELECT name, n + 1, next FROM given WHERE n + 1 < next
		)
		SELECT format('%s-%04d', name, n) AS number FROM given
		WHERE NOT EXISTS (SELECT 1 FROM quotations q WHERE q.number = format('%s-%04d', name, n)) ORDER BY 1`)
	return collect(rows, err, func(rows *sql.Rows) (s string, err error) { return s, rows.Scan(&s) })
}
