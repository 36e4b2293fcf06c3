package structure_test

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/pricing"
	"tunwright/pricing/data"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/structure"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/pdf"
	"tunwright/testdata/projects"
)

var update = flag.Bool("update", false, "write the golden text anew")

// report checks a sample as an offer does.
func report(t testing.TB, name string) configurator.Report {
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
	text, err := projects.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	j, err := offer.Read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	if j.Project, err = configurator.Arrange(j.Project, c); err != nil {
		t.Fatal(err)
	}
	o, err := offer.Make(j, offer.House{Firm: firm, Catalogue: c, Book: book})
	if err != nil {
		t.Fatal(err)
	}
	return o.Report
}

// document puts the sections into a paper of a house that does not exist.
func document(r configurator.Report) paper.Doc {
	return paper.Doc{
		Title: "Equipment loading schedule", Subtitle: r.Project.Title, Number: "T-0001-ST", Revision: "A", Date: r.Project.Date.Time(),
		Firm: paper.Firm{Name: "Test House"}, Numbered: true, Sections: sections(r),
	}
}

func sections(r configurator.Report) []paper.Section {
	return append(structure.Sections(r), structure.Architect(r)...)
}

func printed(t testing.TB, doc paper.Doc) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, doc); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// words is the text of the pages; a bare laptop may lack the tool that reads them.
func words(t testing.TB, file []byte) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftotext is not installed")
		}
		t.Skip("pdftotext is not installed: the pages cannot be read")
	}
	path := filepath.Join(t.ArtifactDir(), "paper.pdf")
	if err := os.WriteFile(path, file, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// flat is text with every run of white space as one space, as a search needs it.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

func TestPaperOfTheSamples(t *testing.T) {
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			r := report(t, name)
			doc := document(r)
			text := flat(words(t, printed(t, doc)))
			for _, s := range doc.Sections {
				if !strings.Contains(text, s.Title) {
					t.Errorf("section %q is not on the pages", s.Title)
				}
			}
			for _, want := range figures(r) {
				if !strings.Contains(text, flat(want)) {
					t.Errorf("%q is not on the pages", want)
				}
			}
		})
	}
}

// Whatever is not known or is laid out in another way is printed too, on either sheet.
func TestOtherEnquiries(t *testing.T) {
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		name   string
		change func(*enquiry.Project)
	}{
		{"nothing known of the supply", func(p *enquiry.Project) { p.Site.Supply = enquiry.Supply{Rules: "IEC"} }},
		{"by the NEC", func(p *enquiry.Project) {
			p.Site.Country, p.Site.Supply.Rules = "US", "NEC"
			p.Site.Supply.Voltage = enquiry.Assume(unit.Volts(208), "a test")
			p.Site.Supply.Earthing = enquiry.Fact[string]{}
		}},
		{"no way in", func(p *enquiry.Project) { p.Site.Routes = nil }},
		{"nothing measured on the way", func(p *enquiry.Project) {
			p.Site.Routes = []enquiry.Route{{Name: "stairs", Steps: []enquiry.Step{{Name: "stairs", Kind: "stairs"}, {Name: "door", Kind: "door"}}}}
		}},
		{"nothing given for the floor", func(p *enquiry.Project) {
			p.Site.Floor = enquiry.Floor{Kind: "suspended", Members: p.Site.Floor.Members}
			for i := range p.Site.Floor.Members {
				p.Site.Floor.Members[i].Area = enquiry.Fact[unit.AreaLoad]{}
			}
		}},
		{"a weak floor", func(p *enquiry.Project) {
			for i := range p.Site.Floor.Members {
				p.Site.Floor.Members[i].Area.Value = unit.KilonewtonsPerM2(4.5)
			}
		}},
		{"nothing placed", func(p *enquiry.Project) {
			for i := range p.Chosen.Items {
				p.Chosen.Items[i].Places = nil
			}
		}},
		{"nothing chosen", func(p *enquiry.Project) { p.Chosen.Items = nil }},
	} {
		t.Run(x.name, func(t *testing.T) {
			p := report(t, projects.Demo).Project
			p.Site.Floor.Members = slices.Clone(p.Site.Floor.Members)
			p.Chosen.Items = slices.Clone(p.Chosen.Items)
			x.change(&p)
			r, err := configurator.Check(p, c)
			if err != nil {
				t.Fatal(err)
			}
			doc := document(r)
			for _, size := range []paper.PageSize{paper.A4, paper.USLetter} {
				doc.Size = size
				if err := os.WriteFile(filepath.Join(t.ArtifactDir(), "paper.pdf"), printed(t, doc), 0o600); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}

func TestSameReportSameBytes(t *testing.T) {
	r := report(t, projects.Demo)
	if !bytes.Equal(printed(t, document(r)), printed(t, document(r))) {
		t.Error("the same report was printed as different bytes")
	}
}

func TestGolden(t *testing.T) {
	got := words(t, printed(t, document(report(t, projects.Demo))))
	path := filepath.Join("testdata", "demo.txt")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o600); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the text differs from %s; look at the difference, then -update", path)
	}
}
