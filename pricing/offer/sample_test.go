package offer_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/configurator"
	"tunwright/configurator/propose"
	"tunwright/configurator/rule"
	"tunwright/pricing"
	"tunwright/pricing/data"
	"tunwright/pricing/offer"
	"tunwright/testdata/projects"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

var update = flag.Bool("update", false, "write the golden files anew")

func house(t testing.TB) offer.House {
	t.Helper()
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	book, err := pricing.ReadBook(data.PricesFile, data.Prices())
	if err != nil {
		t.Fatal(err)
	}
	firm, err := offer.ReadFirm(data.FirmFile, data.Firm())
	if err != nil {
		t.Fatal(err)
	}
	return offer.House{Firm: firm, Catalogue: c, Book: book}
}

// arranged is a sample with its first layout.
func arranged(t testing.TB, h offer.House, name string) offer.Job {
	t.Helper()
	text, err := projects.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	j, err := offer.Read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	if j.Project, err = configurator.Arrange(j.Project, h.Catalogue); err != nil {
		t.Fatal(err)
	}
	return j
}

// The outcome of every rule on every sample is one table: a change of a rule, a
// product or a carrier shows in it line by line.
func TestOutcomesOfTheSamples(t *testing.T) {
	h := house(t)
	var b bytes.Buffer
	for _, name := range projects.Names() {
		o, err := offer.Make(arranged(t, h, name), h)
		if err != nil {
			t.Fatal(err)
		}
		n := o.Report.Count()
		fmt.Fprintf(&b, "# %s: %d stop, %d warn, %d notices, %d unknown, %d waiting, %d in order; %s\n", name, n.Stops, n.Warnings, n.Notices, n.Unknown, n.Waiting, n.Passed, o.Quotation.Totals.Net)
		for _, f := range o.Report.Findings {
			word := f.Outcome.String()
			if f.WaitingOn != "" {
				word = "waits on " + f.WaitingOn
			}
			fmt.Fprintf(&b, "%s\t%s\t%s\n", f.Rule.ID, word, f.Subject)
		}
		if len(o.Report.Gaps) > 0 {
			t.Errorf("%s: not worked out: %v", name, o.Report.Gaps)
		}
	}
	golden(t, "outcomes.tsv", b.Bytes())
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("..", "..", "testdata", "golden", name)
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs; go test ./pricing/offer -update writes it anew:\n%s", name, diff)
	}
}

func TestTheDemoCanBeSold(t *testing.T) {
	h := house(t)
	o, err := offer.Make(arranged(t, h, projects.Demo), h)
	if err != nil {
		t.Fatal(err)
	}
	if o.Report.Stopped() {
		for _, f := range o.Report.Open() {
			t.Log(f.Rule.ID, f.Subject, f.Words)
		}
		t.Error("the demo has a stopping finding")
	}
	if o.Report.Unplaced() {
		t.Error("a piece of the demo has no place")
	}
	if !o.Quotation.Verified() {
		t.Errorf("the self-check does not hold: %+v", o.Quotation.Checks)
	}
}

// A rate names the currency it leads to: the digits of one are never another's price.
func TestARateIsOfItsCurrency(t *testing.T) {
	h := house(t)
	j := arranged(t, h, "hill-farm")
	j.Terms.Currency = "USD"
	_, err := offer.Make(j, h)
	if err == nil || !strings.Contains(err.Error(), "exchange_rate.to") {
		t.Errorf("a rate into euros priced in dollars: %v", err)
	}
}

// The parts of one brewhouse are joined by pipes: the first layout keeps each within
// reach of the next.
func TestPartsOfABrewhouseStandTogether(t *testing.T) {
	h := house(t)
	o, err := offer.Make(arranged(t, h, projects.Demo), h)
	if err != nil {
		t.Fatal(err)
	}
	var parts []configurator.Piece
	for _, p := range o.Report.Pieces {
		if p.Item == "BH1" && p.Place != nil {
			parts = append(parts, p)
		}
	}
	if len(parts) < 3 {
		t.Fatalf("the brewhouse has %d parts on the plan", len(parts))
	}
	for i, a := range parts {
		near := math.Inf(1)
		for j, b := range parts {
			if i != j {
				near = min(near, math.Hypot(a.Place.At.X.M()-b.Place.At.X.M(), a.Place.At.Y.M()-b.Place.At.Y.M()))
			}
		}
		if near > 3 {
			t.Errorf("%s stands %.1f m from the next part", a.Tag, near)
		}
	}
}

// What could not be worked out stops the job like a check that failed.
func TestADisciplineNotWorkedOutStops(t *testing.T) {
	h := house(t)
	j := arranged(t, h, projects.Demo)
	j.Project.Site.Supply.Phases.Value = 2
	o, err := offer.Make(j, h)
	if err != nil {
		t.Fatal(err)
	}
	if len(o.Report.Gaps) == 0 || !o.Report.Stopped() {
		t.Errorf("gaps %v, stopped %v", o.Report.Gaps, o.Report.Stopped())
	}
}

// The same project gives the same report and the same prices, every time.
func TestMakeIsDeterministic(t *testing.T) {
	h := house(t)
	j := arranged(t, h, projects.Demo)
	first, err := offer.Make(j, h)
	if err != nil {
		t.Fatal(err)
	}
	for range 5 {
		again, err := offer.Make(j, h)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.EqualFunc(first.Report.Findings, again.Report.Findings, func(a, b configurator.Finding) bool {
			return a.Rule.ID == b.Rule.ID && a.Outcome == b.Outcome && a.Words == b.Words && a.Subject == b.Subject
		}) {
			t.Fatal("two runs find different things")
		}
		if diff := cmp.Diff(first.Quotation.Totals.Gross.String(), again.Quotation.Totals.Gross.String()); diff != "" {
			t.Fatal(diff)
		}
	}
}

// A mend that is offered was made and checked: the rule passes with it and nothing
// new stops the job.
func TestMendsPass(t *testing.T) {
	h := house(t)
	offered := 0
	for _, name := range projects.Names() {
		j := arranged(t, h, name)
		r, err := configurator.Check(j.Project, h.Catalogue)
		if err != nil {
			t.Fatal(err)
		}
		before := r.Count().Stops
		for _, f := range r.Open() {
			for _, m := range propose.Mends(j.Project, h.Catalogue, r, f) {
				offered++
				edited, err := offer.Apply(j, m.Edits...)
				if err != nil {
					t.Errorf("%s %s: %v", name, f.Rule.ID, err)
					continue
				}
				after, err := configurator.Check(edited.Project, h.Catalogue)
				if err != nil {
					t.Errorf("%s %s: %v", name, f.Rule.ID, err)
					continue
				}
				if n := after.Count().Stops; n > before {
					t.Errorf("%s %s: %q leaves %d stops, there were %d", name, f.Rule.ID, m.Words, n, before)
				}
				for _, g := range after.Findings {
					if g.Rule.ID == f.Rule.ID && g.Subject == f.Subject && g.Outcome == rule.Fail {
						t.Errorf("%s %s %s: %q does not mend it: %s", name, f.Rule.ID, f.Subject, m.Words, g.Words)
					}
				}
			}
		}
	}
	if offered < 5 {
		t.Errorf("only %d mends are offered over all samples", offered)
	}
}

func TestEveryProductHasAPrice(t *testing.T) {
	h := house(t)
	day, err := pricing.ParseDate("2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range h.Catalogue.All() {
		if _, err := h.Book.Find(p.Code, day); err != nil {
			t.Errorf("%s: %v", p.Code, err)
		}
	}
}

// A mistake in the terms is named with its field, and nothing is priced.
func TestTermsThatCannotBe(t *testing.T) {
	h := house(t)
	j := arranged(t, h, projects.Demo)
	j.Terms.Currency = "EUR"
	if _, err := offer.Make(j, h); err == nil {
		t.Error("another currency without a rate was accepted")
	}
	j = arranged(t, h, projects.Demo)
	j.Terms.Stages = []offer.Stage{{Name: "All", Event: "delivery", Percent: decimal.NewFromInt(90)}}
	if _, err := offer.Make(j, h); err == nil {
		t.Error("stages that do not sum to 100 were accepted")
	}
}

// sized gives a job of about so many lines by repeating its fittings.
func sized(b *testing.B, h offer.House, lines int) offer.Job {
	j := arranged(b, h, projects.Demo)
	n := len(j.Chosen.Items)
	if lines < n {
		j.Chosen.Items = j.Chosen.Items[:lines]
		return j
	}
	for i := n; i < lines; i++ {
		it := j.Chosen.Items[n-1]
		it.Tag = fmt.Sprintf("X%d", i)
		it.Product = "FT-HOSE-25"
		j.Chosen.Items = append(j.Chosen.Items, it)
	}
	return j
}

func BenchmarkCheckAndPrice(b *testing.B) {
	h := house(b)
	for _, lines := range []int{20, 60} {
		j := sized(b, h, lines)
		b.Run(fmt.Sprintf("check/%d", lines), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := configurator.Check(j.Project, h.Catalogue); err != nil {
					b.Fatal(err)
				}
			}
		})
		r, err := configurator.Check(j.Project, h.Catalogue)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(fmt.Sprintf("price/%d", lines), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := offer.Price(j, h, r); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
