package register

import (
	"context"
	"database/sql"
	"strings"
	"time"
	"unicode"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/quotation"
)

// Query is what is looked for; empty fields do not matter.
type Query struct {
	Words    string // beginnings of words in number, title or client
	States   []quotation.State
	ClientID int64
	Limit    int // 50 when zero
	Offset   int
}

// Found is a row of the list of quotations.
type Found struct {
	ID         string
	Number     string
	Title      string
	Client     string
	State      quotation.State
	Letter     string // of the newest revision; empty before the first
	Date       pricing.Date
	ValidUntil pricing.Date
	Gross      money.Amount // of the newest revision
	UpdatedAt  time.Time
	Erased     bool
}

// Search lists quotations, the last changed first.
func (r *Register) Search(ctx context.Context, q Query) ([]Found, error) {
	const usual = 50
	if q.Limit <= 0 {
		q.Limit = usual
	}
	where, args := q.conditions()
	text := `SELECT q.id, coalesce(q.number, ''), q.title, q.client, q.state, q.updated_at, q.erased_at IS NOT NULL,
			coalesce(v.letter, ''), coalesce(v.date, ''), coalesce(v.valid_until, ''), coalesce(v.currency, ''), coalesce(v.gross_minor, 0)
		FROM quotations q
		LEFT JOIN revisions v ON v.quotation_id = q.id AND v.place = (SELECT max(place) FROM revisions WHERE quotation_id = q.id)` +
		where + " ORDER BY q.updated_at DESC, q.id LIMIT ? OFFSET ?"
	var out []Found
	err := r.read(ctx, "search", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, text, append(args, q.Limit, q.Offset)...)
		out, err = collect(rows, err, scanFound)
		return err
	})
	return out, err
}

// conditions builds the WHERE clause out of fixed texts; every value is a parameter.
func (q Query) conditions() (where string, args []any) {
	var parts []string
	if match := matchWords(q.Words); match != "" {
		parts = append(parts, "q.id IN (SELECT id FROM quotation_words WHERE quotation_words MATCH ?)")
		args = append(args, match)
	}
	if len(q.States) > 0 {
		parts = append(parts, "q.state IN (?"+strings.Repeat(", ?", len(q.States)-1)+")")
		for _, s := range q.States {
			args = append(args, string(s))
		}
	}
	if q.ClientID != 0 {
		parts = append(parts, "q.client_id = ?")
		args = append(args, q.ClientID)
	}
	if len(parts) == 0 {
		return "", nil
	}
	return " WHERE " + strings.Join(parts, " AND "), args
}

// matchWords makes a query of the full-text index from what a person typed: every
// word is quoted, so that it is a word and never an operator, and matches
// beginnings.
func matchWords(typed string) string {
	words := strings.FieldsFunc(typed, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	const most = 12
	if len(words) > most {
		words = words[:most]
	}
	for i, w := range words {
		words[i] = `"` + w + `"*`
	}
	return strings.Join(words, " ")
}

func scanFound(rows *sql.Rows) (f Found, err error) {
	var state, updated, date, until, currency string
	var gross int64
	if err := rows.Scan(&f.ID, &f.Number, &f.Title, &f.Client, &state, &updated, &f.Erased, &f.Letter, &date, &until, &currency, &gross); err != nil {
		return f, err
	}
	f.State = quotation.State(state)
	if err := f.Date.UnmarshalText([]byte(date)); err != nil {
		return f, err
	}
	if err := f.ValidUntil.UnmarshalText([]byte(until)); err != nil {
		return f, err
	}
	if currency != "" {
		if f.Gross, err = money.FromMinor(gross, money.Currency(currency)); err != nil {
			return f, err
		}
	}
	f.UpdatedAt, err = parseStamp(updated)
	return f, err
}

// storeWords puts the words a quotation is found by into the index.
func storeWords(ctx context.Context, tx *sql.Tx, q quotation.Quote) error {
	if _, err := tx.ExecContext(ctx, "DELETE FROM quotation_words WHERE id = ?", q.ID); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, "INSERT INTO quotation_words (id, number, title, client) VALUES (?, ?, ?, ?)", q.ID, q.Number, q.Title, q.Client)
	return err
}
