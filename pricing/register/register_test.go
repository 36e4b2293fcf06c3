package register

import (
	"context"
	"encoding/json"
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/quotation"
)

var start = time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)

func by(who string, minutes int) By {
	return By{Who: who, At: start.Add(time.Duration(minutes) * time.Minute)}
}

func open(t testing.TB) *Register {
	t.Helper()
	return openAt(t, filepath.Join(t.TempDir(), "register.db"))
}

func openAt(t testing.TB, path string) *Register {
	t.Helper()
	r, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := r.Close(); err != nil {
			t.Error(err)
		}
	})
	return r
}

func day(t testing.TB, s string) pricing.Date {
	t.Helper()
	d, err := pricing.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func pounds(t testing.TB, s string) money.Amount {
	t.Helper()
	a, err := money.New(s, money.GBP)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func snapshot() quotation.Snapshot {
	return quotation.Snapshot{
		Project: json.RawMessage(`{"site":"Mill Loft"}`), Report: json.RawMessage(`{"findings":[]}`),
		Prices: json.RawMessage(`{"net":"100.00"}`), Terms: json.RawMessage(`{"days":14}`),
		Catalogue: "2026-05", Program: "1.0.0", House: json.RawMessage(`{"cost":"61.00"}`),
		Sections: []quotation.Section{{Name: "Price", Entries: []quotation.Entry{{Key: "net", Label: "Total", Value: "£100.00"}}}},
	}
}

// addDraft puts a quotation with a draft into the register.
func addDraft(t testing.TB, r *Register, id, title string, clientID int64) Stored {
	t.Helper()
	q, err := quotation.Open(id, title, "Brewers of "+title, by("Ann", 0))
	if err != nil {
		t.Fatal(err)
	}
	if q, err = q.SaveDraft(snapshot(), nil, by("Ann", 1), ""); err != nil {
		t.Fatal(err)
	}
	s := Stored{Quote: q, ClientID: clientID}
	if s.Version, err = r.Add(context.Background(), s, by("Ann", 1)); err != nil {
		t.Fatal(err)
	}
	return s
}

func issuing(t testing.TB, s Stored) Issuing {
	t.Helper()
	return Issuing{
		ID: s.Quote.ID, Version: s.Version, Date: day(t, "2026-05-04"), ValidUntil: day(t, "2026-06-05"),
		Total: quotation.Total{Net: pounds(t, "100.00"), Tax: pounds(t, "20.00"), Gross: pounds(t, "120.00")},
		Papers: func(number, letter string) ([]quotation.Paper, error) {
			return []quotation.Paper{{Name: "quotation.pdf", MediaType: "application/pdf", Bytes: []byte("%PDF " + number + letter)}}, nil
		},
	}
}

func issue(t testing.TB, r *Register, s Stored) Stored {
	t.Helper()
	out, err := r.Issue(context.Background(), issuing(t, s), by("Ann", 2))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func sound(t testing.TB, r *Register) {
	t.Helper()
	problems, err := r.Check(context.Background())
	if err != nil || len(problems) > 0 {
		t.Errorf("the register is not sound: %v, %v", problems, err)
	}
}

func TestPriceBooksAndSettings(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	source := []byte("book: one\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: {list: \"1.00\", cost: \"0.50\", breaks: [{quantity: 4, list: \"0.90\"}]}\n")
	b, err := pricing.ReadBook("one.yaml", source)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.AddBook(ctx, b, "one.yaml", source, by("Ann", 0)); err != nil {
		t.Fatal(err)
	}
	if err := r.AddBook(ctx, b, "one.yaml", source, by("Ann", 0)); !errors.Is(err, ErrExists) {
		t.Errorf("twice: %v", err)
	}
	long := "book: long\ncurrency: GBP\nfrom: 2026-01-01\nprices:\n  A: {list: \"1.00\", note: " + strings.Repeat("x", 5000) + "}\n"
	unreadable, err := pricing.ReadBook("long.yaml", []byte(long))
	if err != nil {
		t.Fatal(err)
	}
	if err := r.AddBook(ctx, unreadable, "long.yaml", []byte(long), by("Ann", 0)); err == nil {
		t.Error("a book that cannot be read back was kept")
	}
	back, err := r.Book(ctx, "one")
	if err != nil || len(pricing.Preview(b, back)) != 0 {
		t.Errorf("%v, %v", pricing.Preview(b, back), err)
	}
	if _, err := r.Book(ctx, "two"); !errors.Is(err, ErrNotFound) {
		t.Errorf("a book that is not there: %v", err)
	}
	if shelf, err := r.Books(ctx); err != nil || len(shelf) != 1 {
		t.Errorf("%d books, %v", len(shelf), err)
	}
	type firm struct{ Name string }
	if err := r.Setting(ctx, "firm", new(firm)); !errors.Is(err, ErrNotFound) {
		t.Errorf("never set: %v", err)
	}
	for _, name := range []string{"one", "two"} {
		if err := r.Set(ctx, "firm", firm{name}, by("Ann", 1)); err != nil {
			t.Fatal(err)
		}
	}
	var f firm
	if err := r.Setting(ctx, "firm", &f); err != nil || f.Name != "two" {
		t.Errorf("%+v, %v", f, err)
	}
}

func TestAuditTrail(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	entries, err := r.Audit(ctx, "q1", 10)
	if err != nil || len(entries) != 2 || entries[0].Did != "issue" || entries[1].Did != "add" || entries[0].Who != "Ann" {
		t.Errorf("%+v, %v", entries, err)
	}
	// A forged entry shows, even where the triggers were taken away first.
	for _, s := range []string{"DROP TRIGGER audit_frozen", "UPDATE audit SET who = 'Eve' WHERE seq = 1"} {
		if _, err := r.writer.ExecContext(ctx, s); err != nil {
			t.Fatal(err)
		}
	}
	problems, err := r.Check(ctx)
	if err != nil || len(problems) != 1 || !strings.Contains(problems[0], "entry 1") {
		t.Errorf("%v, %v", problems, err)
	}
}
