package client_test

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/programme"
	"tunwright/configurator/rule"
	"tunwright/pricing/money"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/client"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/svg"
	"tunwright/testdata/projects"

	"github.com/shopspring/decimal"
)

// full is a job that has everything a quotation can have: discounts on lines and on
// the whole, options, alternatives and provisional sums.
func full(t testing.TB) offer.Job {
	j := proof.Job(t, projects.Demo)
	j.Chosen.Items = append(j.Chosen.Items,
		enquiry.Item{Tag: "SV9", Product: "SV-SPARES"}, enquiry.Item{Tag: "SV10", Product: "SV-WARRANTY-2"}, enquiry.Item{Tag: "KW2", Product: "KW-2"})
	j.Terms.Discount, j.Terms.Reason = decimal.New(25, -1), "Opening offer"
	j.Terms.Lines = append(j.Terms.Lines,
		offer.LineTerms{Tag: "FV1", Discount: decimal.New(5, 0), Reason: "Three alike"},
		offer.LineTerms{Tag: "SV9", Optional: "Spares for two years"},
		offer.LineTerms{Tag: "KW2", Optional: "Keg washer with two heads", Replaces: []string{"KW1"}, Group: "keg washer"})
	return j
}

func doc(o offer.Offer, firm offer.Firm, l paper.Locale) paper.Doc {
	d := paper.Doc{
		Title: "Quotation", Subtitle: o.Job.Title, Number: "T-0001", Revision: "A", Date: o.Job.Date.Time(), Author: o.Job.Author,
		Firm: paper.Firm{Name: firm.Name, Address: firm.Address, Contact: []string{firm.Phone}, Legal: firm.Legal}, Client: paper.Party{Name: o.Job.Client.Name, Address: o.Job.Client.Address},
		Locale: l, Numbered: true, Sections: client.Sections(o, firm, l),
	}
	if l == paper.EnUS {
		d.Size = paper.USLetter
	}
	return d
}

var locales = []paper.Locale{paper.EnGB, paper.EnIE, paper.EnUS, paper.DeDE}

// steady is an offer whose engineering does not move when a discipline learns more:
// its findings and its programme are put in place of those worked out.
func steady(t testing.TB, o offer.Offer) offer.Offer {
	t.Helper()
	finding := func(id, title, subject string, severity rule.Severity, outcome rule.Outcome) configurator.Finding {
		return configurator.Finding{Finding: rule.Finding{
			Rule: rule.Info{ID: id, Title: title, Severity: severity}, Answer: rule.Answer{Outcome: outcome, Subject: subject},
		}}
	}
	o.Report.Findings = []configurator.Finding{
		finding("AC-010", "A piece does not pass the way in", "FV1", rule.Blocker, rule.Fail),
		finding("AC-010", "A piece does not pass the way in", "FV2", rule.Blocker, rule.Fail),
		finding("EL-022", "A fault to earth is not cut off in time", "", rule.Blocker, rule.Unknown),
		finding("FL-040", "A vessel has no gully in reach", "BT1", rule.Warning, rule.Fail),
		finding("BR-001", "In order", "", rule.Blocker, rule.Pass),
	}
	o.Report.Gaps = nil
	step := func(name, group, who string, day int, open bool) programme.Step {
		needed, err := programme.On(2027, 3, day)
		if err != nil {
			t.Fatal(err)
		}
		return programme.Step{Bar: programme.Bar{Task: programme.Task{Name: name, Group: group, Who: who}, Needed: needed}, Open: open}
	}
	o.Report.Programme = &programme.Result{Steps: []programme.Step{
		step("Structural sign-off of floor loads", "permit", "others", 18, false), step("New water connection", "works", "others", 9, true),
		step("Brewhouse: made", "supply", "us", 1, false), step("Planning application prepared", "permit", "client", 2, false),
	}}
	b := *o.Report.Brewing
	b.BrewLength, b.Totals.Packaged = unit.Hectolitres(10), unit.Hectolitres(737.4)
	o.Report.Brewing = &b
	return o
}

// The words of the whole paper are held in both languages.
func TestTheWords(t *testing.T) {
	h := proof.House(t)
	j := full(t)
	for _, l := range []paper.Locale{paper.EnGB, paper.DeDE} {
		o := steady(t, proof.Offer(t, h, j))
		name := "quotation-" + l.String()
		proof.Golden(t, name, proof.Text(t, name, proof.Written(t, doc(o, h.Firm, l))))
	}
}

// A site in the United States has its dimensions in feet, its volumes in barrels and
// no tax; what is written for it is held too.
func TestAmericanSite(t *testing.T) {
	h := proof.House(t)
	j := proof.Job(t, projects.Demo)
	j.Site.Country = "US"
	j.Terms.Currency = "USD"
	j.Terms.Rate = &offer.Rate{To: "USD", Value: decimal.New(13, -1), Source: "invented central bank", Date: j.Date, Until: enquiry.DateOf(j.Date.Time().Add(90 * 24 * time.Hour))}
	o := steady(t, proof.Offer(t, h, j))
	got := proof.Text(t, "quotation-en-US", proof.Written(t, doc(o, h.Firm, paper.EnUS)))
	for _, want := range []string{"US bbl", "ft", "No tax included", "November", "$"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not on the pages", want)
		}
	}
	proof.Golden(t, "quotation-en-US", got)
}

// Every sample's paper holds the figures of its quotation in the form of each locale.
func TestFiguresOfTheSamples(t *testing.T) {
	h := proof.House(t)
	for _, name := range projects.Names() {
		o := proof.Offer(t, h, proof.Job(t, name))
		for _, l := range locales {
			t.Run(name+"/"+l.String(), func(t *testing.T) {
				got := proof.Flat(proof.Text(t, name+"-"+l.String(), proof.Written(t, doc(o, h.Firm, l))))
				q := o.Quotation
				want := []string{plain(q.Totals.Gross.Format(l)), plain(q.Totals.Net.Format(l)), q.ValidUntil.Long(l), o.Delivery.Rule, q.Totals.Lines.FormatNumber(l)}
				for _, s := range q.Stages {
					want = append(want, s.Name, s.Gross.FormatNumber(l))
				}
				for i := range q.Lines {
					want = append(want, q.Lines[i].Net.FormatNumber(l))
					if p := q.Lines[i].Provisional; p != nil {
						want = append(want, strings.Fields(p.Settled)[0])
					}
				}
				for _, w := range want {
					if !strings.Contains(got, w) {
						t.Errorf("%q is not on the pages", w)
					}
				}
			})
		}
	}
}

// plain is a text as the reader of a page's words gets it: no-break spaces are
// spaces there.
func plain(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

// The payments that are printed sum to the totals, to the last minor unit.
func TestPrintedPaymentsSumExactly(t *testing.T) {
	h := proof.House(t)
	o := proof.Offer(t, h, full(t))
	for _, table := range client.Tables(o, h.Firm, paper.EnGB) {
		if table.Name != "stages" {
			continue
		}
		for col := 4; col <= 6; col++ {
			sum := money.NewTally(o.Quotation.Currency)
			for _, r := range table.Rows[:len(table.Rows)-1] {
				sum.Add(printed(t, r.Cells[col]))
			}
			total, err := sum.Total()
			if err != nil {
				t.Fatal(err)
			}
			if want := printed(t, table.Rows[len(table.Rows)-1].Cells[col]); !total.Equal(want) {
				t.Errorf("column %d sums to %s, printed is %s", col, total, want)
			}
		}
		return
	}
	t.Error("there is no table of payments")
}

func printed(t *testing.T, c paper.Cell) money.Amount {
	t.Helper()
	a, err := money.New(c.Figure, money.Currency(c.Currency))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// Every table can be written by name, and no two have the same one.
func TestTablesHaveNames(t *testing.T) {
	h := proof.House(t)
	o := proof.Offer(t, h, full(t))
	var names []string
	for _, table := range client.Tables(o, h.Firm, paper.DeDE) {
		if err := table.Check(); err != nil {
			t.Error(err)
		}
		if table.Name == "" || slices.Contains(names, table.Name) {
			t.Errorf("table %q has no name of its own", table.Title)
		}
		names = append(names, table.Name)
	}
	for _, want := range []string{"supplied", "prices", "totals", "tax", "self-check", "options", "option-lines", "stages", "rests-on"} {
		if !slices.Contains(names, want) {
			t.Errorf("there is no table %s; there are %v", want, names)
		}
	}
}

// Nothing of the house's own can be reached from the client's paper: its code names
// no field that holds a cost, a margin or a question of the house.
func TestNoFieldOfTheHouse(t *testing.T) {
	forbidden := []string{"Costs", "Cost", "LineCost", "Request", "Flags", "MarginFloor", "DiscountCap", "ProvisionalCap", "CostSheet", "CashExposure", "Exposure", "Policy", "House", "PriceReason"}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	files = append(files, "phrase/phrase.go")
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, imp := range file.Imports {
			if strings.Contains(imp.Path.Value, "/office") || strings.Contains(imp.Path.Value, "pricing/register") {
				t.Errorf("%s imports %s", name, imp.Path.Value)
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok && slices.Contains(forbidden, sel.Sel.Name) {
				t.Errorf("%s reads %s", name, sel.Sel.Name)
			}
			return true
		})
	}
}

// The costs themselves are looked for as they would be printed.
func TestNoCostOnThePaper(t *testing.T) {
	h := proof.House(t)
	o := proof.Offer(t, h, full(t))
	whole := fmt.Sprintf("%+v", client.Sections(o, h.Firm, paper.EnGB))
	prices := fmt.Sprintf("%+v", o.Quotation)
	for _, l := range o.Costs.Lines {
		if cost := l.Cost.Fixed(); len(cost) > 6 && strings.Contains(whole, cost) && !strings.Contains(prices, cost) {
			t.Errorf("the cost %s of %s is on the paper", cost, l.Ref)
		}
	}
	if total := o.Costs.Whole.Cost.Fixed(); strings.Contains(whole, total) {
		t.Errorf("the whole cost %s is on the paper", total)
	}
}

// The same offer gives the same bytes.
func TestSameOfferSameBytes(t *testing.T) {
	h := proof.House(t)
	first := proof.Written(t, doc(proof.Offer(t, h, full(t)), h.Firm, paper.DeDE))
	if !bytes.Equal(first, proof.Written(t, doc(proof.Offer(t, h, full(t)), h.Firm, paper.DeDE))) {
		t.Error("the same offer was drawn as different bytes")
	}
}

// The first page names what stops the job, with what it concerns, and what is open;
// an offer without either says that nothing stands against an order.
func TestWhatComesFirst(t *testing.T) {
	h := proof.House(t)
	o := steady(t, proof.Offer(t, h, proof.Job(t, projects.Demo)))
	first := fmt.Sprint(client.Sections(o, h.Firm, paper.EnGB)[0])
	for _, want := range []string{"AC-010 A piece does not pass the way in (FV1, FV2)", "EL-022", "Findings to be mended: 2. Warnings: 1. Checks without an answer: 1."} {
		if !strings.Contains(first, want) {
			t.Errorf("%q is not said first", want)
		}
	}
	for _, not := range []string{"FL-040", "BR-001"} {
		if strings.Contains(first, not) {
			t.Errorf("%s does not belong on the first page", not)
		}
	}
	o.Report.Findings = nil
	if first := fmt.Sprint(client.Sections(o, h.Firm, paper.EnGB)[0]); !strings.Contains(first, "Nothing stands against an order") {
		t.Error("nothing open, and it is not said")
	}
}

// A price that rests on a fact somebody measured is not listed; a told one is, with
// its lines.
func TestWhatPricesRestOn(t *testing.T) {
	h := proof.House(t)
	j := proof.Job(t, projects.Demo)
	count := func() int {
		for _, table := range client.Tables(proof.Offer(t, h, j), h.Firm, paper.EnGB) {
			if table.Name == "rests-on" {
				return len(table.Rows)
			}
		}
		return 0
	}
	before := count()
	j.Site.Crane = enquiry.Fact[bool]{Value: true, Basis: enquiry.Measured, By: "T. Rourke"}
	if after := count(); before == 0 || after != before-1 {
		t.Errorf("%d facts before the crane's place was looked at, %d after", before, after)
	}
}

// The drawing of the payments ends at the whole price, and needs stages.
func TestPaymentsDrawing(t *testing.T) {
	h := proof.House(t)
	o := proof.Offer(t, h, proof.Job(t, projects.Demo))
	d, err := client.Payments(o.Quotation, paper.DeDE)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Check(); err != nil {
		t.Error(err)
	}
	got, err := svg.String(d, svg.Options{ID: "pay-"})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{o.Quotation.Totals.Gross.Format(paper.DeDE), "Bisher bezahlt", o.Quotation.Stages[0].Name} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in the drawing", want)
		}
	}
}

func BenchmarkSections(b *testing.B) {
	h := proof.House(b)
	o := proof.Offer(b, h, full(b))
	b.ReportAllocs()
	for b.Loop() {
		client.Sections(o, h.Firm, paper.DeDE)
	}
}
