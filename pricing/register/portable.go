package register

import (
	"context"
	"database/sql"
	"fmt"

	"tunwright/pricing/quotation"
)

// Export writes one quotation as a file that Import reads, here or on another
// machine. It holds everything, costs included: it is for the house.
func (r *Register) Export(ctx context.Context, id string) ([]byte, error) {
	s, err := r.Quotation(ctx, id)
	if err != nil {
		return nil, err
	}
	if !s.ErasedAt.IsZero() {
		return nil, fmt.Errorf("export quotation %s: %w", id, ErrErased)
	}
	return quotation.WritePortable(s.Quote)
}

// Import reads an exported quotation into this register. It must not be here yet,
// neither by its id nor by its number; the number is not given out again.
func (r *Register) Import(ctx context.Context, file string, data []byte, by By) (quotation.Quote, error) {
	q, err := quotation.ReadPortable(file, data)
	if err != nil {
		return quotation.Quote{}, fmt.Errorf("import: %w", err)
	}
	err = r.write(ctx, "import "+file, func(tx *sql.Tx) error {
		if err := insertQuotation(ctx, tx, Stored{Quote: q}, by); err != nil {
			return err
		}
		if err := takeNumber(ctx, tx, q.Number); err != nil {
			return err
		}
		return note(ctx, tx, by, "import", q.ID, q.Number)
	})
	if err != nil {
		return quotation.Quote{}, err
	}
	return q, nil
}
