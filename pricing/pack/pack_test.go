package pack_test

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/sheet"
	"tunwright/testdata/projects"
)

func made(t testing.TB, h offer.House, name string) offer.Offer {
	t.Helper()
	return proof.Offer(t, h, proof.Job(t, name))
}

var issue = pack.Issue{Number: "T-0001", Revision: "A", Program: "test"}

// The pack of each sample is whole: every section can be found in its text, and the
// file itself is sound.
func TestPacksOfTheSamples(t *testing.T) {
	h := proof.House(t)
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			o := made(t, h, name)
			doc := pack.Pack(o, h.Firm, issue)
			text := proof.Written(t, doc)
			words := proof.Flat(proof.Text(t, "pack-"+name, text))
			for _, s := range doc.Sections {
				if !strings.Contains(words, s.Title) {
					t.Errorf("section %q is not on the pages", s.Title)
				}
			}
			for _, want := range []string{o.Job.Client.Name, o.Job.Site.Name, "T-0001", "Page 1 of", "Assumptions", "licensed electrician", "chartered structural engineer", "competent person"} {
				if !strings.Contains(words, want) {
					t.Errorf("%q is not on the pages", want)
				}
			}
			proof.Tool(t, text, "qpdf", "--check", "paper.pdf")
		})
	}
}

// No fact of the site is dropped: the paper of the findings lists each that nobody has
// measured, and a trade's paper lists its own and counts the others.
func TestFactsNobodyMeasuredAreOnPaper(t *testing.T) {
	h := proof.House(t)
	for _, name := range projects.Names() {
		o := made(t, h, name)
		open := 0
		for _, l := range trade.Alike(enquiry.Facts(o.Report.Project)) {
			if l.Basis != enquiry.Measured {
				open++
			}
		}
		for _, p := range pack.Papers() {
			doc := p.Doc(o, h.Firm, issue)
			here := 0
			for _, table := range sheet.Tables(doc) {
				switch {
				case table.Name == "survey":
					here += countItems(table, func(paper.Row) bool { return true })
				case table.Title == trade.FactsTitle:
					here += countItems(table, func(r paper.Row) bool { return r.Cells[trade.FactsBasis].Text != enquiry.Measured.Word() })
				}
			}
			rest := 0
			if m := counted.FindStringSubmatch(doc.FactsStand); m != nil {
				rest, _ = strconv.Atoi(m[1])
			}
			if p.Key == "quotation" {
				here = len(doc.Assumptions) + len(doc.OpenPoints)
			}
			if here+rest != open {
				t.Errorf("%s, %s: %d facts listed and %d counted of %d", name, p.Key, here, rest, open)
			}
		}
	}
}

var counted = regexp.MustCompile(`(\d+) (?:more )?facts of the site are`)

func countItems(t paper.Table, counts func(paper.Row) bool) int {
	n := 0
	for _, r := range t.Rows {
		if r.Kind == paper.Item && counts(r) {
			n++
		}
	}
	return n
}

// Papers are made of whatever was worked out: with nothing at all, and with one
// discipline missing after the other, each paper and the pack still come.
func TestPapersOfWhatIsThere(t *testing.T) {
	h := proof.House(t)
	whole := made(t, h, projects.Demo)
	cases := map[string]offer.Offer{"nothing": {}}
	for name, drop := range map[string]func(*configurator.Report){
		"brewing": func(r *configurator.Report) { r.Brewing = nil }, "cooling": func(r *configurator.Report) { r.Cooling = nil },
		"electrical": func(r *configurator.Report) { r.Electrical = nil }, "floor": func(r *configurator.Report) { r.Floor = nil },
		"access": func(r *configurator.Report) { r.Access = nil }, "air": func(r *configurator.Report) { r.Air = nil },
		"water": func(r *configurator.Report) { r.Water = nil }, "pressure": func(r *configurator.Report) { r.Pressure = nil },
		"programme": func(r *configurator.Report) { r.Programme = nil }, "food": func(r *configurator.Report) { r.Food = nil },
	} {
		o := whole
		drop(&o.Report)
		cases[name] = o
	}
	for name, o := range cases {
		for _, p := range pack.Papers() {
			if doc := p.Doc(o, h.Firm, pack.Issue{}); len(doc.Sections) == 0 {
				t.Errorf("without %s: %s is empty", name, p.Title)
			}
		}
		if doc := pack.Pack(o, h.Firm, pack.Issue{}); len(doc.Sections) == 0 {
			t.Errorf("without %s: the pack is empty", name)
		}
	}
}

func TestSameOfferSameBytes(t *testing.T) {
	h := proof.House(t)
	o := made(t, h, projects.Demo)
	first := proof.Written(t, pack.Pack(o, h.Firm, issue))
	if again := proof.Written(t, pack.Pack(made(t, h, projects.Demo), h.Firm, issue)); !bytes.Equal(first, again) {
		t.Error("the same offer was printed as different bytes")
	}
	other := issue
	other.Revision = "B"
	if bytes.Equal(first, proof.Written(t, pack.Pack(o, h.Firm, other))) {
		t.Error("another revision was printed as the same bytes")
	}
}

// Nothing that a client sees names a cost or a margin. The costs are numbers of
// their own, so that each is looked for as it would be printed.
func TestNoCostOnAnyPaper(t *testing.T) {
	h := proof.House(t)
	o := made(t, h, projects.Demo)
	for _, p := range pack.Papers() {
		doc := p.Doc(o, h.Firm, issue)
		if err := doc.Check(); err != nil {
			t.Errorf("%s: %v", p.Key, err)
		}
		var b strings.Builder
		fmt.Fprintf(&b, "%+v", doc)
		text := b.String()
		for _, word := range []string{"margin floor", "markup", "CostSheet"} {
			if strings.Contains(text, word) {
				t.Errorf("%s holds %q", p.Key, word)
			}
		}
		for _, l := range o.Costs.Lines {
			if cost := l.Cost.Fixed(); len(cost) > 6 && strings.Contains(text, cost) && !pricedAt(o, cost) {
				t.Errorf("%s prints the cost %s of %s", p.Key, cost, l.Ref)
			}
		}
	}
}

// pricedAt tells whether a figure is also a price, which may be printed.
func pricedAt(o offer.Offer, figure string) bool {
	for _, l := range o.Quotation.Lines {
		if l.Price.Fixed() == figure || l.Net.Fixed() == figure {
			return true
		}
	}
	return false
}

func BenchmarkPack(b *testing.B) {
	h := proof.House(b)
	o := made(b, h, projects.Demo)
	b.Run("tree", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			pack.Pack(o, h.Firm, issue)
		}
	})
	doc := pack.Papers()[0].Doc(o, h.Firm, issue)
	b.Run("quotation", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			proof.Written(b, doc)
		}
	})
	whole := pack.Pack(o, h.Firm, issue)
	b.Run("whole", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			proof.Written(b, whole)
		}
	})
}
