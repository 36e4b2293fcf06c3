package pack_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/configurator"
	"tunwright/pricing"
	"tunwright/pricing/data"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/pdf"
	"tunwright/testdata/projects"
)

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

func made(t testing.TB, h offer.House, name string) offer.Offer {
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
	o, err := offer.Make(j, h)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

var issue = pack.Issue{Number: "T-0001", Revision: "A", Program: "test"}

func printed(t testing.TB, doc paper.Doc) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, doc); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// tool runs a program on a PDF. A bare laptop may lack it; where CI is set it must
// be there.
func tool(t *testing.T, text []byte, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed", name)
		}
		t.Skipf("%s is not installed: the pages cannot be looked into", name)
	}
	path := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(path, text, 0o600); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		if a == "PDF" {
			args[i] = path
		}
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// The pack of each sample is whole: every section can be found in its text, and the
// file itself is sound.
func TestPacksOfTheSamples(t *testing.T) {
	h := house(t)
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			o := made(t, h, name)
			doc := pack.Pack(o, h.Firm, issue)
			text := printed(t, doc)
			words := strings.Join(strings.Fields(tool(t, text, "pdftotext", "-layout", "PDF", "-")), " ")
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
			tool(t, text, "qpdf", "--check", "PDF")
		})
	}
}

func TestSameOfferSameBytes(t *testing.T) {
	h := house(t)
	o := made(t, h, projects.Demo)
	first := printed(t, pack.Pack(o, h.Firm, issue))
	if again := printed(t, pack.Pack(made(t, h, projects.Demo), h.Firm, issue)); !bytes.Equal(first, again) {
		t.Error("the same offer was printed as different bytes")
	}
	other := issue
	other.Revision = "B"
	if bytes.Equal(first, printed(t, pack.Pack(o, h.Firm, other))) {
		t.Error("another revision was printed as the same bytes")
	}
}

// Nothing that a client sees names a cost or a margin. The costs are numbers of
// their own, so that each is looked for as it would be printed.
func TestNoCostOnAnyPaper(t *testing.T) {
	h := house(t)
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
	h := house(b)
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
			printed(b, doc)
		}
	})
	whole := pack.Pack(o, h.Firm, issue)
	b.Run("whole", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			printed(b, whole)
		}
	})
}
