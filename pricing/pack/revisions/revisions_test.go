package revisions_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"strings"
	"testing"

	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
	"tunwright/pricing"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/revisions"
	"tunwright/pricing/paper"
	"tunwright/pricing/quotation"
	"tunwright/testdata/projects"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

// changed is the demo after a week of talking: a keg washer with two heads in place of
// one, a discount, another term of delivery, and a fact measured.
func changed(t testing.TB) offer.Job {
	j := proof.Job(t, projects.Demo)
	j.Chosen.Items = slices.Clone(j.Chosen.Items)
	for i := range j.Chosen.Items {
		if j.Chosen.Items[i].Tag == "KW1" {
			j.Chosen.Items[i].Product = "KW-2"
		}
	}
	j.Chosen.Items = append(j.Chosen.Items, enquiry.Item{Tag: "SV9", Product: "SV-SPARES"})
	j.Terms.Discount, j.Terms.Reason = decimal.New(2, 0), "Agreed on the telephone"
	j.Terms.ValidDays = 45
	j.Site.Term = "DPU"
	j.Site.Crane = enquiry.Fact[bool]{Value: true, Basis: enquiry.Measured, By: "T. Rourke"}
	return j
}

func revision(letter, day string, sections []quotation.Section) revisions.Revision {
	d, err := pricing.ParseDate(day)
	if err != nil {
		panic(err)
	}
	return revisions.Revision{Letter: letter, Date: d, Sections: sections}
}

// without leaves out what a discipline that learns more would change, so that the
// golden words move only with this paper.
func without(sections []quotation.Section, names ...string) []quotation.Section {
	return slices.DeleteFunc(slices.Clone(sections), func(s quotation.Section) bool { return slices.Contains(names, s.Name) })
}

func words(t *testing.T, name string, l paper.Locale, sections []paper.Section) string {
	t.Helper()
	doc := paper.Doc{
		Title: "Changes", Number: "T-0001", Revision: "B", Date: revision("B", "2026-12-02", nil).Date.Time(), Locale: l, Numbered: true,
		Firm: paper.Firm{Name: "An invented firm"}, Client: paper.Party{Name: "A client"}, Sections: sections,
	}
	return proof.Text(t, name, proof.Written(t, doc))
}

func TestTheWords(t *testing.T) {
	h := proof.House(t)
	old, now := proof.Offer(t, h, proof.Job(t, projects.Demo)), proof.Offer(t, h, changed(t))
	for _, l := range []paper.Locale{paper.EnGB, paper.DeDE} {
		a := revision("A", "2026-11-25", without(revisions.Sections(old, l), "Engineering", "Findings"))
		b := revision("B", "2026-12-02", without(revisions.Sections(now, l), "Engineering", "Findings"))
		sections, err := revisions.Paper(a, b, l)
		if err != nil {
			t.Fatal(err)
		}
		name := "changes-" + l.String()
		proof.Golden(t, name, words(t, name, l, sections))
	}
}

// The difference of two offers, put on the older, gives the newer; and the whole
// paper can be drawn, whatever changed.
func TestBetweenTheSamples(t *testing.T) {
	h := proof.House(t)
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			old := revisions.Sections(proof.Offer(t, h, proof.Job(t, name)), paper.DeDE)
			now := revisions.Sections(proof.Offer(t, h, changed(t)), paper.DeDE)
			d, err := quotation.Between(old, now)
			if err != nil {
				t.Fatal(err)
			}
			again, err := d.Apply(old)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(now, again); diff != "" {
				t.Error(diff)
			}
			sections, err := revisions.Paper(revision("A", "2026-11-25", old), revision("B", "2026-12-02", now), paper.DeDE)
			if err != nil {
				t.Fatal(err)
			}
			words(t, "all-"+name, paper.DeDE, sections)
		})
	}
}

// Every subject is there, and what is changed in one of them is found in it.
func TestWhatIsFound(t *testing.T) {
	h := proof.House(t)
	old, now := proof.Offer(t, h, proof.Job(t, projects.Demo)), proof.Offer(t, h, changed(t))
	now.Report.Findings = slices.Clone(now.Report.Findings)
	for i := range now.Report.Findings {
		if f := &now.Report.Findings[i]; f.Outcome == rule.Pass {
			f.Outcome = rule.Fail
			break
		}
	}
	brewing := *now.Report.Brewing
	brewing.Totals.Brews++
	now.Report.Brewing = &brewing
	d, err := quotation.Between(revisions.Sections(old, paper.EnGB), revisions.Sections(now, paper.EnGB))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []struct{ section, key string }{
		{"Products", "KW1"},
		{"Products", "SV9"},
		{"Price", "net"},
		{"Price", "discount 1"},
		{"Price", "line KW1"},
		{"Terms", "valid until"},
		{"Terms", "delivery"},
		{"Facts", "site.crane_access"},
		{"Engineering", "brews"},
	} {
		if !slices.ContainsFunc(d.Changes, func(c quotation.Change) bool {
			return c.Section == want.section && (c.Now != nil && c.Now.Key == want.key || c.Was != nil && c.Was.Key == want.key)
		}) {
			t.Errorf("the change of %s, %s is not found", want.section, want.key)
		}
	}
	if !slices.ContainsFunc(d.Changes, func(c quotation.Change) bool {
		return c.Section == "Findings" && c.Was != nil && c.Was.Value == "in order" && c.Now != nil
	}) {
		t.Error("a finding that passed and fails now is not found")
	}
}

func TestNothingChanged(t *testing.T) {
	h := proof.House(t)
	o := proof.Offer(t, h, proof.Job(t, projects.Demo))
	a, b := revisions.Sections(o, paper.EnUS), revisions.Sections(proof.Offer(t, h, proof.Job(t, projects.Demo)), paper.EnUS)
	sections, err := revisions.Paper(revision("A", "2026-11-25", a), revision("B", "2026-12-02", b), paper.EnUS)
	if err != nil {
		t.Fatal(err)
	}
	if len(sections) != 1 || !strings.Contains(fmt.Sprint(sections[0]), "Revision B of December 2, 2026 against revision A of November 25, 2026: nothing changed.") {
		t.Errorf("%+v", sections)
	}
}

// Two sections of one name cannot be compared, and the error says which revision.
func TestSectionsThatCannotBe(t *testing.T) {
	twice := []quotation.Section{{Name: "Price"}, {Name: "Price"}}
	if _, err := revisions.Paper(revision("A", "2026-11-25", nil), revision("B", "2026-12-02", twice), paper.EnGB); err == nil || !strings.Contains(err.Error(), "revision B") {
		t.Errorf("%v", err)
	}
}

// Items of one tag, and findings of one subject, are told apart.
func TestKeysAreUnique(t *testing.T) {
	h := proof.House(t)
	for _, name := range projects.Names() {
		o := proof.Offer(t, h, proof.Job(t, name))
		o.Report.Findings = append(slices.Clone(o.Report.Findings), o.Report.Findings[0], o.Report.Findings[0])
		o.Report.Gaps = append(o.Report.Gaps, configurator.Gap{Discipline: configurator.Air, Words: "not worked out"})
		for _, s := range revisions.Sections(o, paper.EnGB) {
			seen := map[string]bool{}
			for _, e := range s.Entries {
				if e.Key == "" || seen[e.Key] {
					t.Errorf("%s: %s: key %q comes twice", name, s.Name, e.Key)
				}
				seen[e.Key] = true
			}
		}
	}
}

// No file of this paper reads what the house keeps to itself.
func TestNoFieldOfTheHouse(t *testing.T) {
	forbidden := []string{"Costs", "Cost", "Request", "Flags", "House", "MarginFloor", "CostSheet", "Policy"}
	for _, name := range []string{"figures.go", "paper.go"} {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if sel, ok := n.(*ast.SelectorExpr); ok && slices.Contains(forbidden, sel.Sel.Name) {
				t.Errorf("%s reads %s", name, sel.Sel.Name)
			}
			return true
		})
	}
}

func BenchmarkSections(b *testing.B) {
	h := proof.House(b)
	o := proof.Offer(b, h, proof.Job(b, projects.Demo))
	b.ReportAllocs()
	for b.Loop() {
		revisions.Sections(o, paper.EnGB)
	}
}

// A check that is in order and came with a new piece is counted, not listed; one that
// is not in order is listed.
func TestChecksInOrderAreQuiet(t *testing.T) {
	old := []quotation.Section{{Name: "Findings"}}
	now := []quotation.Section{{Name: "Findings", Entries: []quotation.Entry{
		{Key: "A", Label: "A passes", Value: "in order"}, {Key: "B", Label: "B fails", Value: "must be solved"},
	}}}
	sections, err := revisions.Paper(revision("A", "2026-11-25", old), revision("B", "2026-12-02", now), paper.EnGB)
	if err != nil {
		t.Fatal(err)
	}
	got := fmt.Sprint(sections)
	if strings.Contains(got, "A passes") || !strings.Contains(got, "B fails") || !strings.Contains(got, "not listed: 1") || !strings.Contains(got, "one change") {
		t.Error(got)
	}
}
