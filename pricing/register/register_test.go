package register

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/quotation"

	"github.com/google/go-cmp/cmp"
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

func TestQuotationComesBackAsItWasSaved(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	s := issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	if s.Quote.Number != "Q-2026-0001" || string(s.Quote.Revisions[0].Snapshot.Papers[0].Bytes) != "%PDF Q-2026-0001A" {
		t.Errorf("number %s", s.Quote.Number)
	}
	rev, _ := s.Quote.Current()
	accepted, err := s.Quote.Accept(quotation.Acceptance{Letter: "A", Digest: rev.Digest, Name: "B. Owner", From: "192.0.2.7", Options: []string{"washer"}}, day(t, "2026-05-20"), by("B. Owner", 3))
	if err != nil {
		t.Fatal(err)
	}
	version, err := r.Save(ctx, accepted, s.Version, by("B. Owner", 3))
	if err != nil {
		t.Fatal(err)
	}
	back, err := r.ByNumber(ctx, "Q-2026-0001")
	if err != nil {
		t.Fatal(err)
	}
	opts := cmp.Options{cmp.Comparer(func(a, b pricing.Date) bool { return a == b })}
	if d := cmp.Diff(accepted, back.Quote, opts); d != "" || back.Version != version {
		t.Errorf("version %d, want %d\n%s", back.Version, version, d)
	}
	if err := back.Quote.Verify(); err != nil {
		t.Error(err)
	}
	sound(t, r)
}

func sound(t testing.TB, r *Register) {
	t.Helper()
	problems, err := r.Check(context.Background())
	if err != nil || len(problems) > 0 {
		t.Errorf("the register is not sound: %v, %v", problems, err)
	}
}

func TestTheSlowerOfTwoSaversIsTold(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	s := addDraft(t, r, "q1", "Mill Loft", 0)
	one, _ := s.Quote.SaveDraft(snapshot(), nil, by("Ann", 2), "hers")
	two, _ := s.Quote.SaveDraft(snapshot(), nil, by("Bob", 2), "his")
	if _, err := r.Save(ctx, one, s.Version, by("Ann", 2)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Save(ctx, two, s.Version, by("Bob", 2)); !errors.Is(err, ErrConflict) {
		t.Errorf("got %v, want ErrConflict", err)
	}
	p := Project{ID: "p1", Title: "Mill Loft", Document: "one"}
	if _, err := r.SaveProject(ctx, p, by("Ann", 1)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.SaveProject(ctx, p, by("Bob", 1)); !errors.Is(err, ErrConflict) {
		t.Errorf("made twice: %v", err)
	}
	p.Revision, p.Document = 1, "two"
	if n, err := r.SaveProject(ctx, p, by("Ann", 2)); err != nil || n != 2 {
		t.Errorf("revision %d, %v", n, err)
	}
	p.Document = "three"
	if _, err := r.SaveProject(ctx, p, by("Bob", 2)); !errors.Is(err, ErrConflict) {
		t.Errorf("stale: %v", err)
	}
	now, err := r.Project(ctx, "p1")
	if err != nil || now.Document != "two" || now.Revision != 2 || now.UpdatedBy != "Ann" {
		t.Errorf("%+v, %v", now, err)
	}
	if was, err := r.ProjectAt(ctx, "p1", 1); err != nil || was != "one" {
		t.Errorf("revision 1 is %q, %v", was, err)
	}
	p.ID, p.Revision = "none", 3
	if _, err := r.SaveProject(ctx, p, by("Bob", 2)); !errors.Is(err, ErrNotFound) {
		t.Errorf("a project that is not there: %v", err)
	}
}

func TestWhatWasIssuedCannotBeChanged(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	s := issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	tests := map[string]func(*quotation.Quote){
		"a revision left out":        func(q *quotation.Quote) { q.Revisions = nil },
		"a digest changed":           func(q *quotation.Quote) { q.Revisions[0].Digest = strings.Repeat("0", 64) },
		"a snapshot changed":         func(q *quotation.Quote) { q.Revisions[0].Snapshot.Program = "2" },
		"the trail cut":              func(q *quotation.Quote) { q.Log = q.Log[:1] },
		"the trail changed":          func(q *quotation.Quote) { q.Log[0].Hash = "" },
		"a number of one's own":      func(q *quotation.Quote) { q.Number = "Q-2026-0099" },
		"the snapshot's paper taken": func(q *quotation.Quote) { q.Revisions[0].Snapshot.Papers = nil },
	}
	for name, tamper := range tests {
		q := s.Quote
		q.Revisions, q.Log = slices.Clone(q.Revisions), slices.Clone(q.Log)
		tamper(&q)
		if _, err := r.Save(ctx, q, s.Version, by("Eve", 5)); err == nil {
			t.Errorf("%s was saved", name)
		}
	}
	for _, statement := range []string{
		"UPDATE revisions SET snapshot = '{}'", "UPDATE revisions SET gross_minor = 1, net_minor = 1, tax_minor = 0", "DELETE FROM revisions",
		"UPDATE events SET who = 'Eve'", "UPDATE audit SET who = 'Eve'", "DELETE FROM audit",
	} {
		if _, err := r.writer.ExecContext(ctx, statement); err == nil {
			t.Errorf("%s was carried out", statement)
		}
	}
	sound(t, r)
}

func TestNumbersHaveNoGapsAndNoDoublesUnder64Writers(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "register.db")
	const writers, programs = 64, 4
	registers := make([]*Register, programs) // each as another program would open it
	for i := range registers {
		registers[i] = openAt(t, path)
	}
	drafts := make([]Stored, writers)
	for i := range drafts {
		drafts[i] = addDraft(t, registers[0], fmt.Sprintf("q%d", i), "Loft", 0)
	}
	numbers := make([]string, writers)
	var wg sync.WaitGroup
	for i := range writers {
		wg.Go(func() {
			is := issuing(t, drafts[i])
			r := registers[i%programs]
			if i%8 == 0 { // first a failure, whose number must be given back
				failing := is
				failing.Papers = func(string, string) ([]quotation.Paper, error) { return nil, errors.New("printer on fire") }
				if _, err := r.Issue(ctx, failing, by("Ann", 2)); err == nil {
					t.Error("issued without papers")
				}
			}
			s, err := r.Issue(ctx, is, by("Ann", 2))
			if err != nil {
				t.Error(err)
				return
			}
			numbers[i] = s.Quote.Number
		})
	}
	wg.Wait()
	slices.Sort(numbers)
	for i, n := range numbers {
		if want := fmt.Sprintf("Q-2026-%04d", i+1); n != want {
			t.Fatalf("number %d is %s, want %s", i, n, want)
		}
	}
	sound(t, registers[0])
}

func TestRevisionKeepsItsNumber(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	s := issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	q, err := s.Quote.SaveDraft(snapshot(), nil, by("Ann", 3), "smaller")
	if err != nil {
		t.Fatal(err)
	}
	if s.Version, err = r.Save(ctx, q, s.Version, by("Ann", 3)); err != nil {
		t.Fatal(err)
	}
	s.Quote = q
	is := issuing(t, s)
	s, err = r.Issue(ctx, is, by("Ann", 4))
	if err != nil {
		t.Fatal(err)
	}
	if s.Quote.Number != "Q-2026-0001" || len(s.Quote.Revisions) != 2 || s.Quote.Revisions[0].State != quotation.Superseded {
		t.Errorf("%s, %d revisions", s.Quote.Number, len(s.Quote.Revisions))
	}
	is.Version = 1
	if _, err := r.Issue(ctx, is, by("Ann", 5)); err == nil {
		t.Error("issued from a stale version")
	}
	if next := issue(t, r, addDraft(t, r, "q2", "Barn", 0)); next.Quote.Number != "Q-2026-0002" {
		t.Errorf("next number %s", next.Quote.Number)
	}
}

func TestLapse(t *testing.T) {
	r := open(t)
	issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	for _, step := range []struct {
		today string
		want  int
	}{{"2026-06-05", 0}, {"2026-06-06", 1}, {"2026-06-06", 0}} {
		numbers, err := r.Lapse(context.Background(), day(t, step.today), by("clock", 9))
		if err != nil || len(numbers) != step.want {
			t.Errorf("on %s: %v, %v", step.today, numbers, err)
		}
	}
	sound(t, r)
}

func TestSearch(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	client, err := r.SaveClient(ctx, Client{Name: "Räucherle & Söhne"}, by("Ann", 0))
	if err != nil {
		t.Fatal(err)
	}
	addDraft(t, r, "q1", "Mill Loft 10 hL", 0)
	issue(t, r, addDraft(t, r, "q2", "Käserei cellar", client))
	tests := []struct {
		q    Query
		want string
	}{
		{Query{}, "q1 q2"},
		{Query{Words: "mill"}, "q1"},
		{Query{Words: "kaser"}, "q2"},
		{Query{Words: "Q-2026-0001"}, "q2"},
		{Query{Words: "loft brew"}, "q1"},
		{Query{Words: "loft cellar"}, ""},
		{Query{Words: `" OR * NEAR( ' ; DROP`}, ""},
		{Query{States: []quotation.State{quotation.Issued}}, "q2"},
		{Query{States: []quotation.State{quotation.Issued, quotation.Draft}}, "q1 q2"},
		{Query{ClientID: client}, "q2"},
		{Query{Limit: 1, Offset: 1}, "q2 or q1"},
	}
	for _, tt := range tests {
		found, err := r.Search(ctx, tt.q)
		if err != nil {
			t.Errorf("%+v: %v", tt.q, err)
			continue
		}
		var ids []string
		for _, f := range found {
			ids = append(ids, f.ID)
		}
		slices.Sort(ids)
		if got := strings.Join(ids, " "); got != tt.want && !(strings.Contains(tt.want, "or") && len(ids) == 1) {
			t.Errorf("%+v: %q, want %q", tt.q, got, tt.want)
		}
	}
	for i := range 20 { // every reader has the index in mind by now
		id := fmt.Sprintf("later%d", i)
		addDraft(t, r, id, "Later "+id, 0)
		if found, err := r.Search(ctx, Query{Words: id}); err != nil || len(found) != 1 {
			t.Errorf("%s was not found, %v", id, err)
		}
	}
	found, _ := r.Search(ctx, Query{Words: "cellar"})
	if f := found[0]; f.Number != "Q-2026-0001" || f.Letter != "A" || f.Gross.Fixed() != "120.00" || f.ValidUntil != day(t, "2026-06-05") {
		t.Errorf("%+v", f)
	}
}

func TestPeopleAndSessions(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	id, err := r.AddPerson(ctx, Person{Email: "ann@example.com", Name: "Ann", Role: Sales, PasswordHash: "h"}, by("setup", 0))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.AddPerson(ctx, Person{Email: "ANN@example.com", Name: "Ann", Role: Sales}, by("setup", 0)); !errors.Is(err, ErrExists) {
		t.Errorf("twice: %v", err)
	}
	if _, err := r.AddPerson(ctx, Person{Email: "eve@example.com", Name: "Eve", Role: "king"}, by("setup", 0)); err == nil {
		t.Error("a role that does not exist")
	}
	if p, err := r.PersonByEmail(ctx, " Ann@Example.com "); err != nil || p.ID != id {
		t.Errorf("%+v, %v", p, err)
	}
	token, err := r.StartSession(ctx, id, start, time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	who := func(token string, at time.Time) error {
		_, err := r.SessionPerson(ctx, token, at)
		return err
	}
	if err := who(token, start.Add(59*time.Minute)); err != nil {
		t.Error(err)
	}
	if err := who(token, start.Add(time.Hour)); !errors.Is(err, ErrNotFound) {
		t.Errorf("expired: %v", err)
	}
	if err := who(token+"x", start); !errors.Is(err, ErrNotFound) {
		t.Errorf("wrong token: %v", err)
	}
	if err := r.EndSession(ctx, token); err != nil {
		t.Fatal(err)
	}
	if err := who(token, start); !errors.Is(err, ErrNotFound) {
		t.Errorf("ended: %v", err)
	}
	second, _ := r.StartSession(ctx, id, start, time.Hour)
	if err := r.SetPassword(ctx, id, "new", by("Ann", 1)); err != nil {
		t.Fatal(err)
	}
	if err := who(second, start); !errors.Is(err, ErrNotFound) {
		t.Errorf("after a new password: %v", err)
	}
	if err := r.ErasePerson(ctx, id, by("owner", 2)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.PersonByEmail(ctx, "ann@example.com"); !errors.Is(err, ErrNotFound) {
		t.Errorf("erased: %v", err)
	}
}

func TestLinks(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	link := Link{QuotationID: "q1", Letter: "A", ExpiresAt: start.Add(24 * time.Hour)}
	token, err := r.AddLink(ctx, link, by("Ann", 3))
	if err != nil {
		t.Fatal(err)
	}
	if len(token) != 43 { // 256 bits in base64url
		t.Errorf("token of %d characters", len(token))
	}
	l, err := r.OpenLink(ctx, token, start.Add(time.Hour))
	if err != nil || l.Letter != "A" || l.Views != 1 {
		t.Errorf("%+v, %v", l, err)
	}
	if _, err := r.OpenLink(ctx, token, start.Add(24*time.Hour)); !errors.Is(err, ErrExpired) {
		t.Errorf("expired: %v", err)
	}
	if _, err := r.OpenLink(ctx, "guess", start); !errors.Is(err, ErrNotFound) {
		t.Errorf("guessed: %v", err)
	}
	if err := r.Revoke(ctx, l.ID, by("Ann", 4)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.OpenLink(ctx, token, start.Add(time.Hour)); !errors.Is(err, ErrRevoked) {
		t.Errorf("withdrawn: %v", err)
	}
	link.Letter = "B"
	if _, err := r.AddLink(ctx, link, by("Ann", 5)); !errors.Is(err, ErrNotFound) {
		t.Errorf("a revision that is not there: %v", err)
	}
	data, err := os.ReadFile(r.Path())
	if err != nil || strings.Contains(string(data), token) {
		t.Error("the token is in the file")
	}
}

func TestCommentsAndTransmittals(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	id, err := r.AddComment(ctx, Comment{QuotationID: "q1", Letter: "A", Author: "B. Owner", At: start, Text: "smaller chiller?", Proposal: json.RawMessage(`{"chiller":"CH-10"}`)})
	if err != nil {
		t.Fatal(err)
	}
	if err := r.Settle(ctx, id, true, by("Ann", 5)); err != nil {
		t.Fatal(err)
	}
	if err := r.Settle(ctx, id, false, by("Bob", 6)); !errors.Is(err, ErrConflict) {
		t.Errorf("settled twice: %v", err)
	}
	comments, err := r.Comments(ctx, "q1")
	if err != nil || len(comments) != 1 || comments[0].State != "adopted" || comments[0].SettledBy != "Ann" {
		t.Errorf("%+v, %v", comments, err)
	}
	if _, err := r.AddComment(ctx, Comment{QuotationID: "q1", Letter: "A", Author: "B", At: start, Text: " "}); err == nil {
		t.Error("an empty comment")
	}
	if _, err := r.AddComment(ctx, Comment{QuotationID: "none", Letter: "A", Author: "B", At: start, Text: "x"}); err == nil {
		t.Error("a comment on nothing")
	}
	if _, err := r.Transmit(ctx, Transmittal{QuotationID: "q1", Letter: "A", Paper: "quotation.pdf", Recipient: "B. Owner", Means: "e-mail"}, by("Ann", 6)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Transmit(ctx, Transmittal{QuotationID: "q1", Letter: "A", Paper: "other.pdf"}, by("Ann", 6)); !errors.Is(err, ErrNotFound) {
		t.Errorf("a paper that is not there: %v", err)
	}
	sent, err := r.Transmittals(ctx, "q1")
	if err != nil || len(sent) != 1 || len(sent[0].SHA256) != 64 {
		t.Errorf("%+v, %v", sent, err)
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

func TestErasedClientIsGoneFromTheFileAndTheAccountsAreLeft(t *testing.T) {
	ctx := context.Background()
	r := open(t)
	const secret = "Zebedee Quillfeather"
	client, err := r.SaveClient(ctx, Client{Name: secret, Email: "zq@example.com", Address: secret}, by("Ann", 0))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.SaveProject(ctx, Project{ID: "p1", Title: secret, ClientID: client, Document: secret}, by("Ann", 0)); err != nil {
		t.Fatal(err)
	}
	issue(t, r, addDraft(t, r, "q1", secret, client))
	issue(t, r, addDraft(t, r, "q2", "somebody else", 0))
	if _, err := r.AddLink(ctx, Link{QuotationID: "q1", Letter: "A", ExpiresAt: start.Add(time.Hour)}, by("Ann", 3)); err != nil {
		t.Fatal(err)
	}
	if _, err := r.AddComment(ctx, Comment{QuotationID: "q1", Letter: "A", Author: secret, At: start, Text: secret}); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Transmit(ctx, Transmittal{QuotationID: "q1", Letter: "A", Paper: "quotation.pdf", Recipient: secret}, by("Ann", 3)); err != nil {
		t.Fatal(err)
	}
	if err := r.EraseClient(ctx, client, " ", by("Ann", 9)); err == nil {
		t.Error("erased without a reason")
	}
	if err := r.EraseClient(ctx, client, "asked for it by letter", by("Ann", 9)); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{r.Path(), r.Path() + "-wal"} {
		data, err := os.ReadFile(name)
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			t.Fatal(err)
		}
		for _, word := range []string{secret, "Quillfeather", "quillfeather", "zq@example.com", "%PDF Q-2026-0001A"} {
			if strings.Contains(string(data), word) {
				t.Errorf("%s still holds %q", filepath.Base(name), word)
			}
		}
	}
	s, err := r.Quotation(ctx, "q1")
	if err != nil {
		t.Fatal(err)
	}
	rev := s.Quote.Revisions[0]
	if s.Quote.Number != "Q-2026-0001" || rev.Total.Gross.Fixed() != "120.00" || len(rev.Digest) != 64 || s.ErasedAt.IsZero() {
		t.Errorf("the accounts: %+v", rev)
	}
	if _, err := r.Export(ctx, "q1"); !errors.Is(err, ErrErased) {
		t.Errorf("export: %v", err)
	}
	if _, err := r.Save(ctx, s.Quote, s.Version, by("Ann", 10)); !errors.Is(err, ErrErased) {
		t.Errorf("save: %v", err)
	}
	if found, _ := r.Search(ctx, Query{Words: "somebody"}); len(found) != 1 {
		t.Error("the other quotation is gone too")
	}
	sound(t, r)
}

func TestExportAndImportOnAnotherMachine(t *testing.T) {
	ctx := context.Background()
	here, there := open(t), open(t)
	issue(t, here, addDraft(t, here, "q0", "First", 0))
	issue(t, here, addDraft(t, here, "q1", "Mill Loft", 0))
	data, err := here.Export(ctx, "q1")
	if err != nil {
		t.Fatal(err)
	}
	q, err := there.Import(ctx, "q1.json", data, by("Bob", 5))
	if err != nil || q.Number != "Q-2026-0002" {
		t.Fatalf("%s, %v", q.Number, err)
	}
	again, err := there.Export(ctx, "q1")
	if err != nil || string(again) != string(data) {
		t.Errorf("exported again it differs, %v", err)
	}
	if _, err := there.Import(ctx, "q1.json", data, by("Bob", 6)); !errors.Is(err, ErrExists) {
		t.Errorf("twice: %v", err)
	}
	if next := issue(t, there, addDraft(t, there, "q9", "Barn", 0)); next.Quote.Number != "Q-2026-0003" {
		t.Errorf("a number that came with an import was given out again, or one left out: %s", next.Quote.Number)
	}
	third := open(t)
	issue(t, third, addDraft(t, third, "q8", "Mine", 0))
	if _, err := third.Import(ctx, "q1.json", data, by("Bob", 6)); err != nil {
		t.Fatal(err)
	}
	if next := issue(t, third, addDraft(t, third, "q9", "Barn", 0)); next.Quote.Number != "Q-2026-0003" {
		t.Errorf("after an import: %s", next.Quote.Number)
	}
	sound(t, there)
	if _, err := there.Import(ctx, "q1.json", []byte(strings.Replace(string(data), "Mill Loft", "Hill Loft", 1)), by("Bob", 7)); err == nil {
		t.Error("a changed file was imported")
	}
}

func TestRestoreDrill(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	r := openAt(t, filepath.Join(dir, "register.db"))
	issue(t, r, addDraft(t, r, "q1", "Mill Loft", 0))
	stop := make(chan struct{})
	var wg sync.WaitGroup
	wg.Go(func() { // work goes on during the backup
		for i := 0; ; i++ {
			select {
			case <-stop:
				return
			default:
				addDraft(t, r, fmt.Sprintf("busy%d", i), "Busy", 0)
			}
		}
	})
	backup := filepath.Join(dir, "backup.db")
	err := r.BackUp(ctx, backup)
	close(stop)
	wg.Wait()
	if err != nil {
		t.Fatal(err)
	}
	before, err := r.Quotation(ctx, "q1")
	if err != nil {
		t.Fatal(err)
	}
	if err := r.BackUp(ctx, backup); err == nil {
		t.Error("a backup was written over")
	}
	if err := Restore(ctx, backup, r.Path()); err == nil {
		t.Error("a register was written over")
	}
	fresh := filepath.Join(dir, "new machine", "register.db")
	if err := Restore(ctx, backup, fresh); err != nil {
		t.Fatal(err)
	}
	restored := openAt(t, fresh)
	after, err := restored.Quotation(ctx, "q1")
	if err != nil {
		t.Fatal(err)
	}
	if string(after.Quote.Revisions[0].Snapshot.Papers[0].Bytes) != string(before.Quote.Revisions[0].Snapshot.Papers[0].Bytes) {
		t.Error("the restored paper differs")
	}
	sound(t, restored)
	if next := issue(t, restored, addDraft(t, restored, "q2", "Barn", 0)); next.Quote.Number != "Q-2026-0002" {
		t.Errorf("next number %s", next.Quote.Number)
	}
	left, err := filepath.Glob(filepath.Join(dir, "*", "*.part*"))
	if err != nil || len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestRestoreRefusesADamagedBackup(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	r := openAt(t, filepath.Join(dir, "register.db"))
	for i := range 30 {
		issue(t, r, addDraft(t, r, fmt.Sprintf("q%d", i), "Loft", 0))
	}
	backup := filepath.Join(dir, "backup.db")
	if err := r.BackUp(ctx, backup); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(backup)
	if err != nil {
		t.Fatal(err)
	}
	for name, damage := range map[string]func([]byte) []byte{
		"cut":         func(b []byte) []byte { return b[:len(b)/2] },
		"overwritten": func(b []byte) []byte { copy(b[len(b)/3:], strings.Repeat("damage ", 3000)); return b },
		"one figure": func(b []byte) []byte {
			return []byte(strings.Replace(string(b), `\"net\":\"100.00\"`, `\"net\":\"900.00\"`, 1))
		},
		"not a backup": func([]byte) []byte {
			return []byte("a letter to the brewer, longer than the header of a database file is, so that it gets read")
		},
		"another price": func(b []byte) []byte {
			return []byte(strings.Replace(string(b), `{"net":"100.00"}`, `{"net":"900.00"}`, 1))
		},
	} {
		bad := damage(slices.Clone(data))
		if string(bad) == string(data) {
			continue // this layout of the JSON does not occur in the file
		}
		file := filepath.Join(dir, "bad.db")
		if err := os.WriteFile(file, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		target := filepath.Join(dir, "target.db")
		if err := Restore(ctx, file, target); err == nil {
			t.Errorf("%s: a damaged backup was restored", name)
		}
		if _, err := os.Stat(target); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s: a half-restored register was left", name)
		}
	}
}

func TestOpenSaysWhatIsWrong(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	text := filepath.Join(dir, "letter.txt")
	if err := os.WriteFile(text, []byte(strings.Repeat("not a database ", 100)), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(ctx, text); !errors.Is(err, ErrNotRegister) {
		t.Errorf("a text: %v", err)
	}
	foreign := filepath.Join(dir, "foreign.db")
	db, err := sql.Open("sqlite", foreign)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.ExecContext(ctx, "CREATE TABLE recipes (name TEXT)"); err != nil {
		t.Fatal(err)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(ctx, foreign); !errors.Is(err, ErrNotRegister) {
		t.Errorf("another program's database: %v", err)
	}
	newer := filepath.Join(dir, "newer.db")
	r := openAt(t, newer)
	if _, err := r.writer.ExecContext(ctx, "PRAGMA user_version = 99"); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(ctx, newer); !errors.Is(err, ErrNewer) {
		t.Errorf("a newer version: %v", err)
	}
}

func TestADamagedRegisterSaysSo(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), "register.db")
	r, err := Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 30 {
		issue(t, r, addDraft(t, r, fmt.Sprintf("q%d", i), "Loft", 0))
	}
	if err := r.Close(); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	damage := func(from, to int) {
		bad := slices.Clone(data)
		for i := from; i < to; i++ {
			bad[i] = 0xa5
		}
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	damage(0, 100)
	if _, err := Open(ctx, path); !errors.Is(err, ErrNotRegister) {
		t.Errorf("damaged heading: %v", err)
	}
	damage(100, 1000)
	if _, err := Open(ctx, path); !errors.Is(err, ErrCorrupt) {
		t.Errorf("damaged table of tables: %v", err)
	}
	damage(len(data)/2, len(data)/2+40_000)
	hurt, err := Open(ctx, path)
	if errors.Is(err, ErrCorrupt) {
		return // the damage was met on opening already
	}
	if err != nil {
		t.Fatal(err)
	}
	defer hurt.Close()
	if problems, err := hurt.Check(ctx); len(problems) == 0 && !errors.Is(err, ErrCorrupt) {
		t.Errorf("damaged in the middle: %v, %v", problems, err)
	}
}

func TestLockedRegisterSaysSo(t *testing.T) {
	if testing.Short() {
		t.Skip("waits for the busy timeout")
	}
	ctx := context.Background()
	r := open(t)
	holder, err := sql.Open("sqlite", dsn(r.Path(), "_txlock=immediate"))
	if err != nil {
		t.Fatal(err)
	}
	defer holder.Close()
	tx, err := holder.BeginTx(ctx, nil)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback() // only held for the lock
	if _, err := r.SaveProject(ctx, Project{ID: "p1", Title: "x", Document: "x"}, by("Ann", 1)); !errors.Is(err, ErrLocked) {
		t.Errorf("got %v, want ErrLocked", err)
	}
	if _, err := r.Projects(ctx, 10); err != nil {
		t.Errorf("reading while another writes: %v", err)
	}
}

// A file of every past version is brought up to date with what is in it.
func TestUpgradeFromEveryPastVersion(t *testing.T) {
	ctx := context.Background()
	steps, err := migrations()
	if err != nil {
		t.Fatal(err)
	}
	for version := 1; version < len(steps); version++ {
		t.Run(fmt.Sprintf("from version %d", version), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "old.db")
			db, err := sql.Open("sqlite", dsn(path, pragmas+"&_txlock=immediate"))
			if err != nil {
				t.Fatal(err)
			}
			if err := migrate(ctx, db, steps[:version]); err != nil {
				t.Fatal(err)
			}
			_, err = db.ExecContext(ctx, "INSERT INTO quotations (id, number, title, client, state, version, updated_at) VALUES ('old', 'Q-2025-0007', 'Old barn', 'Old brewer', 'enquiry', 1, '2025-01-01T00:00:00.000Z')")
			if err := errors.Join(err, db.Close()); err != nil {
				t.Fatal(err)
			}
			r := openAt(t, path)
			found, err := r.Search(ctx, Query{Words: "barn"})
			if err != nil || len(found) != 1 || found[0].Number != "Q-2025-0007" {
				t.Errorf("found %+v, %v", found, err)
			}
			issue(t, r, addDraft(t, r, "new", "New barn", 0))
			sound(t, r)
		})
	}
}

func TestAFailedMigrationLeavesTheVersionBefore(t *testing.T) {
	ctx := context.Background()
	steps, err := migrations()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "register.db")
	db, err := sql.Open("sqlite", dsn(path, pragmas+"&_txlock=immediate"))
	if err != nil {
		t.Fatal(err)
	}
	bad := append(slices.Clone(steps[:1]), migration{2, "0002_bad.sql", "CREATE TABLE half (a INTEGER) STRICT; CREATE TABLE wrong ("})
	if err := migrate(ctx, db, bad); err == nil {
		t.Fatal("a migration with an error went through")
	}
	var version, half int
	if err := db.QueryRowContext(ctx, "SELECT user_version FROM pragma_user_version").Scan(&version); err != nil {
		t.Fatal(err)
	}
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema WHERE name = 'half'").Scan(&half); err != nil {
		t.Fatal(err)
	}
	if version != 1 || half != 0 {
		t.Errorf("version %d, half a table: %d", version, half)
	}
	if err := db.Close(); err != nil {
		t.Fatal(err)
	}
	sound(t, openAt(t, path))
}

func BenchmarkSaveProject(b *testing.B) {
	r := open(b)
	p := Project{ID: "p1", Title: "Mill Loft", Document: strings.Repeat("site: loft\n", 2000)}
	b.ReportAllocs()
	for b.Loop() {
		revision, err := r.SaveProject(context.Background(), p, by("Ann", 1))
		if err != nil {
			b.Fatal(err)
		}
		p.Revision = revision
	}
}

func BenchmarkSearch(b *testing.B) {
	r := open(b)
	for i := range 1000 {
		addDraft(b, r, fmt.Sprintf("q%d", i), fmt.Sprintf("Loft %d on the river", i), 0)
	}
	for _, words := range []string{"", "loft 77"} {
		b.Run("words "+words, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := r.Search(context.Background(), Query{Words: words}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
