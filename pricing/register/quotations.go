package register

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"time"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/quotation"
)

// Stored is a quotation as it lies in the register.
type Stored struct {
	Quote     quotation.Quote
	Version   int // counts the savings
	ClientID  int64
	ProjectID string
	UpdatedAt time.Time
	ErasedAt  time.Time // zero unless its content was erased
}

// Add puts a new quotation into the register. ClientID and ProjectID may be empty.
func (r *Register) Add(ctx context.Context, s Stored, by By) (version int, err error) {
	err = r.write(ctx, "add quotation "+s.Quote.ID, func(tx *sql.Tx) error {
		if err := insertQuotation(ctx, tx, s, by); err != nil {
			return err
		}
		return note(ctx, tx, by, "add", s.Quote.ID, "")
	})
	return 1, err
}

func insertQuotation(ctx context.Context, tx *sql.Tx, s Stored, by By) error {
	if s.Quote.ID == "" {
		return errors.New("the quotation has no id")
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO quotations (id, number, title, client, client_id, project_id, state, version, updated_at)
		VALUES (?, ?, ?, ?, ?, ?, ?, 1, ?)`, s.Quote.ID, nullText(s.Quote.Number), s.Quote.Title, s.Quote.Client,
		sql.NullInt64{Int64: s.ClientID, Valid: s.ClientID != 0}, nullText(s.ProjectID), string(s.Quote.State), stamp(by.At))
	if isUnique(err) {
		return fmt.Errorf("%w: quotation %s, number %s", ErrExists, s.Quote.ID, s.Quote.Number)
	}
	if err != nil {
		return err
	}
	return storeParts(ctx, tx, quotation.Quote{}, s.Quote)
}

func nullText(s string) sql.NullString { return sql.NullString{String: s, Valid: s != ""} }

// Save stores a quotation that was changed from the version given, and returns the
// new version. Issued revisions and the trail may only have grown. A draft that is
// issued gets its number from Issue, not from here.
func (r *Register) Save(ctx context.Context, q quotation.Quote, version int, by By) (int, error) {
	err := r.write(ctx, "save quotation "+q.ID, func(tx *sql.Tx) error {
		old, err := loadQuotation(ctx, tx, q.ID)
		if err != nil {
			return err
		}
		if q.Number != old.Quote.Number {
			return fmt.Errorf("its number is %q, not %q: a number is given out by issuing", old.Quote.Number, q.Number)
		}
		return saveOver(ctx, tx, old, q, version, by)
	})
	return version + 1, err
}

func saveOver(ctx context.Context, tx *sql.Tx, old Stored, q quotation.Quote, version int, by By) error {
	if old.Version != version {
		return fmt.Errorf("%w: version %d was opened, %d is the newest", ErrConflict, version, old.Version)
	}
	if !old.ErasedAt.IsZero() {
		return ErrErased
	}
	if err := grownOnly(old.Quote, q); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, "UPDATE quotations SET number = ?, title = ?, client = ?, state = ?, version = version + 1, updated_at = ? WHERE id = ?",
		nullText(q.Number), q.Title, q.Client, string(q.State), stamp(by.At), q.ID)
	if isUnique(err) {
		return fmt.Errorf("%w: number %s", ErrExists, q.Number)
	}
	if err != nil {
		return err
	}
	return storeParts(ctx, tx, old.Quote, q)
}

// grownOnly asserts that what was issued and what was logged is still there.
func grownOnly(old, q quotation.Quote) error {
	if len(q.Revisions) < len(old.Revisions) || len(q.Log) < len(old.Log) {
		return errors.New("an issued revision or an entry of the trail is missing")
	}
	for i, r := range old.Revisions {
		if q.Revisions[i].Letter != r.Letter || q.Revisions[i].Digest != r.Digest {
			return fmt.Errorf("revision %s is not the one that was issued", r.Letter)
		}
	}
	for i, e := range old.Log {
		if q.Log[i].Hash != e.Hash {
			return fmt.Errorf("entry %d of the trail is not the one that was made", i+1)
		}
	}
	return q.Verify()
}

// storeParts stores the draft, the revisions and the trail, given what is there.
func storeParts(ctx context.Context, tx *sql.Tx, old, q quotation.Quote) error {
	draft := sql.NullString{}
	if q.Draft != nil {
		text, err := json.Marshal(q.Draft)
		if err != nil {
			return err
		}
		draft = sql.NullString{String: string(text), Valid: true}
	}
	if _, err := tx.ExecContext(ctx, "UPDATE quotations SET draft = ? WHERE id = ?", draft, q.ID); err != nil {
		return err
	}
	for i, rev := range q.Revisions {
		store := insertRevision
		if i < len(old.Revisions) {
			store = updateRevision
		}
		if err := store(ctx, tx, q.ID, i+1, rev); err != nil {
			return fmt.Errorf("revision %s: %w", rev.Letter, err)
		}
	}
	for _, e := range q.Log[len(old.Log):] {
		_, err := tx.ExecContext(ctx, "INSERT INTO events (quotation_id, seq, at, who, did, detail, prev, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
			q.ID, e.Seq, stamp(e.At), e.Who, string(e.Did), e.Detail, e.Prev, e.Hash)
		if err != nil {
			return fmt.Errorf("trail, entry %d: %w", e.Seq, err)
		}
	}
	if old.ID == q.ID && old.Number == q.Number && old.Title == q.Title && old.Client == q.Client {
		return nil // the index is slow to change and drafts are saved at every change
	}
	return storeWords(ctx, tx, q)
}

func insertRevision(ctx context.Context, tx *sql.Tx, id string, place int, r quotation.Revision) error {
	var minors [3]int64
	for i, a := range []money.Amount{r.Total.Net, r.Total.Tax, r.Total.Gross} {
		n, err := a.Minor()
		if err != nil {
			return err
		}
		minors[i] = n
	}
	snapshot, err := json.Marshal(r.Snapshot)
	if err != nil {
		return err
	}
	approvals, acceptance, err := closingParts(r)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO revisions (quotation_id, place, letter, state, date, valid_until, issued_by, issued_at,
		currency, net_minor, tax_minor, gross_minor, digest, snapshot, approvals, acceptance, closing)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		id, place, r.Letter, string(r.State), r.Date.String(), r.ValidUntil.String(), r.IssuedBy, stamp(r.IssuedAt),
		string(r.Total.Net.Currency()), minors[0], minors[1], minors[2], r.Digest, string(snapshot), approvals, acceptance, r.Closing)
	return err
}

// updateRevision stores what may still change of an issued revision: how it ended.
func updateRevision(ctx context.Context, tx *sql.Tx, id string, place int, r quotation.Revision) error {
	_, acceptance, err := closingParts(r)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "UPDATE revisions SET state = ?, acceptance = ?, closing = ? WHERE quotation_id = ? AND place = ?",
		string(r.State), acceptance, r.Closing, id, place)
	return err
}

func closingParts(r quotation.Revision) (approvals string, acceptance sql.NullString, err error) {
	text, err := json.Marshal(r.Approvals)
	if err != nil {
		return "", acceptance, err
	}
	if r.Acceptance != nil {
		a, err := json.Marshal(r.Acceptance)
		if err != nil {
			return "", acceptance, err
		}
		acceptance = sql.NullString{String: string(a), Valid: true}
	}
	return string(text), acceptance, nil
}

// Quotation returns a quotation with all its revisions.
func (r *Register) Quotation(ctx context.Context, id string) (Stored, error) {
	var s Stored
	err := r.read(ctx, "quotation "+id, func(tx *sql.Tx) (err error) {
		s, err = loadQuotation(ctx, tx, id)
		return err
	})
	return s, err
}

// ByNumber returns the quotation of a number.
func (r *Register) ByNumber(ctx context.Context, number string) (Stored, error) {
	var s Stored
	err := r.read(ctx, "quotation "+number, func(tx *sql.Tx) error {
		var id string
		if err := tx.QueryRowContext(ctx, "SELECT id FROM quotations WHERE number = ?", number).Scan(&id); err != nil {
			return err
		}
		var err error
		s, err = loadQuotation(ctx, tx, id)
		return err
	})
	return s, err
}

func loadQuotation(ctx context.Context, tx *sql.Tx, id string) (Stored, error) {
	var s Stored
	var number, project, draft, erased sql.NullString
	var client sql.NullInt64
	var state, updated string
	row := tx.QueryRowContext(ctx, `SELECT id, number, title, client, client_id, project_id, state, draft, version, updated_at, erased_at
		FROM quotations WHERE id = ?`, id)
	if err := row.Scan(&s.Quote.ID, &number, &s.Quote.Title, &s.Quote.Client, &client, &project, &state, &draft, &s.Version, &updated, &erased); err != nil {
		return Stored{}, err
	}
	s.Quote.Number, s.Quote.State, s.ClientID, s.ProjectID = number.String, quotation.State(state), client.Int64, project.String
	if draft.Valid {
		s.Quote.Draft = new(quotation.Working)
		if err := json.Unmarshal([]byte(draft.String), s.Quote.Draft); err != nil {
			return Stored{}, fmt.Errorf("draft: %w", err)
		}
	}
	var err error
	if s.UpdatedAt, err = parseStamp(updated); err != nil {
		return Stored{}, err
	}
	if s.ErasedAt, err = nullStamp(erased); err != nil {
		return Stored{}, err
	}
	if s.Quote.Revisions, err = loadRevisions(ctx, tx, id); err != nil {
		return Stored{}, err
	}
	s.Quote.Log, err = loadEvents(ctx, tx, id)
	return s, err
}

func loadRevisions(ctx context.Context, tx *sql.Tx, id string) ([]quotation.Revision, error) {
	rows, err := tx.QueryContext(ctx, `SELECT letter, state, date, valid_until, issued_by, issued_at, currency, net_minor, tax_minor, gross_minor,
		digest, snapshot, approvals, acceptance, closing FROM revisions WHERE quotation_id = ? ORDER BY place`, id)
	return collect(rows, err, func(rows *sql.Rows) (r quotation.Revision, err error) {
		var state, date, until, issued, currency, approvals string
		var snapshot, acceptance sql.NullString
		var minors [3]int64
		if err := rows.Scan(&r.Letter, &state, &date, &until, &r.IssuedBy, &issued, &currency, &minors[0], &minors[1], &minors[2],
			&r.Digest, &snapshot, &approvals, &acceptance, &r.Closing); err != nil {
			return r, err
		}
		r.State = quotation.State(state)
		if r.Total, err = totalOf(minors, money.Currency(currency)); err != nil {
			return r, err
		}
		parts := []error{r.Date.UnmarshalText([]byte(date)), r.ValidUntil.UnmarshalText([]byte(until)), json.Unmarshal([]byte(approvals), &r.Approvals)}
		if snapshot.Valid {
			parts = append(parts, json.Unmarshal([]byte(snapshot.String), &r.Snapshot))
		}
		if acceptance.Valid {
			parts = append(parts, json.Unmarshal([]byte(acceptance.String), &r.Acceptance))
		}
		r.IssuedAt, err = parseStamp(issued)
		if err := errors.Join(append(parts, err)...); err != nil {
			return r, fmt.Errorf("revision %s: %w", r.Letter, err)
		}
		return r, nil
	})
}

func totalOf(minors [3]int64, c money.Currency) (quotation.Total, error) {
	var out [3]money.Amount
	for i, n := range minors {
		a, err := money.FromMinor(n, c)
		if err != nil {
			return quotation.Total{}, err
		}
		out[i] = a
	}
	return quotation.Total{Net: out[0], Tax: out[1], Gross: out[2]}, nil
}

func loadEvents(ctx context.Context, tx *sql.Tx, id string) ([]quotation.Event, error) {
	rows, err := tx.QueryContext(ctx, "SELECT seq, at, who, did, detail, prev, hash FROM events WHERE quotation_id = ? ORDER BY seq", id)
	return collect(rows, err, func(rows *sql.Rows) (e quotation.Event, err error) {
		var at, did string
		if err := rows.Scan(&e.Seq, &at, &e.Who, &did, &e.Detail, &e.Prev, &e.Hash); err != nil {
			return e, err
		}
		e.Did = quotation.Action(did)
		e.At, err = parseStamp(at)
		return e, err
	})
}

// Lapse closes every quotation whose validity has run out by the day, and returns
// their numbers.
func (r *Register) Lapse(ctx context.Context, today pricing.Date, by By) ([]string, error) {
	var numbers []string
	err := r.write(ctx, "lapse quotations", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, `SELECT q.id FROM quotations q JOIN revisions v ON v.quotation_id = q.id
			WHERE q.state = 'issued' AND v.state = 'issued' AND v.valid_until < ? AND q.erased_at IS NULL ORDER BY q.number`, today.String())
		ids, err := collect(rows, err, func(rows *sql.Rows) (id string, err error) { return id, rows.Scan(&id) })
		if err != nil {
			return err
		}
		for _, id := range slices.Compact(ids) {
			old, err := loadQuotation(ctx, tx, id)
			if err != nil {
				return err
			}
			lapsed, err := old.Quote.Lapse(today, by)
			if err != nil {
				return err
			}
			if err := saveOver(ctx, tx, old, lapsed, old.Version, by); err != nil {
				return err
			}
			numbers = append(numbers, lapsed.Number)
		}
		return nil
	})
	return numbers, err
}
