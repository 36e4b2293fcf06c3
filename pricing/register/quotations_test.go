package register

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"tunwright/pricing"
	"tunwright/pricing/quotation"

	"github.com/google/go-cmp/cmp"
)

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
