package register

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"

	"tunwright/pricing"
	"tunwright/pricing/money"
)

// AddBook keeps a version of the price book, with the name and the digest of the
// file it came from. A version never changes: the same id again is ErrExists. One
// that could not be read back is refused, because Books reads all of them at once.
func (r *Register) AddBook(ctx context.Context, b *pricing.Book, sourceName string, source []byte, by By) error {
	return r.write(ctx, "add price book "+b.ID, func(tx *sql.Tx) error {
		prices, err := b.CSV()
		if err != nil {
			return err
		}
		if _, err := readBook(b.Header, prices); err != nil {
			return err
		}
		digest := sha256.Sum256(source)
		_, err = tx.ExecContext(ctx, `INSERT INTO price_books (id, currency, valid_from, valid_to, note, prices, sha256, source_name, added_at, added_by)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, b.ID, string(b.Currency), b.From.String(), b.To.String(), b.Note, prices,
			hex.EncodeToString(digest[:]), sourceName, stamp(by.At), by.Who)
		if isUnique(err) {
			return fmt.Errorf("%w: price book %s; a new version wants a new name", ErrExists, b.ID)
		}
		if err != nil {
			return err
		}
		return note(ctx, tx, by, "add price book", b.ID, sourceName)
	})
}

// Book returns a version of the price book by its id.
func (r *Register) Book(ctx context.Context, id string) (*pricing.Book, error) {
	books, err := r.books(ctx, "price book "+id, "WHERE id = ?", id)
	if err != nil {
		return nil, err
	}
	if len(books) == 0 {
		return nil, fmt.Errorf("price book %s: %w", id, ErrNotFound)
	}
	return books[0], nil
}

// Books returns every version, the oldest first.
func (r *Register) Books(ctx context.Context) (pricing.Shelf, error) {
	return r.books(ctx, "price books", "")
}

func (r *Register) books(ctx context.Context, what, where string, args ...any) (out pricing.Shelf, err error) {
	err = r.read(ctx, what, func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, "SELECT id, currency, valid_from, valid_to, note, prices FROM price_books "+where+" ORDER BY valid_from, id", args...)
		out, err = collect(rows, err, scanBook)
		return err
	})
	return out, err
}

func scanBook(rows *sql.Rows) (*pricing.Book, error) {
	var h pricing.Header
	var currency, from, to string
	var prices []byte
	if err := rows.Scan(&h.ID, &currency, &from, &to, &h.Note, &prices); err != nil {
		return nil, err
	}
	h.Currency = money.Currency(currency)
	if err := h.From.UnmarshalText([]byte(from)); err != nil {
		return nil, err
	}
	if err := h.To.UnmarshalText([]byte(to)); err != nil {
		return nil, err
	}
	return readBook(h, prices)
}

func readBook(h pricing.Header, prices []byte) (*pricing.Book, error) {
	b, err := pricing.ImportCSV("price book "+h.ID, prices, h).Book()
	if err != nil {
		return nil, fmt.Errorf("price book %s: %w", h.ID, err)
	}
	return b, nil
}
