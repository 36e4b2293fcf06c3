package proof

import (
	"slices"
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/pricing/paper"
	"tunwright/testdata/projects"
)

// Samples prints a trade's paper for every sample: the title of each section and
// whatever the trade wants of the report must be on the pages. The demo's text is the
// golden file named by key.
func Samples(t *testing.T, key string, doc func(configurator.Report) paper.Doc, want func(configurator.Report) []string) {
	t.Helper()
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			r := Report(t, name)
			d := doc(r)
			text := Print(t, key+"-"+name, d)
			words := want(r)
			for _, s := range d.Sections {
				words = append(words, s.Title)
			}
			flat := Flat(text)
			for _, w := range words {
				if !strings.Contains(flat, Flat(w)) {
					t.Errorf("%q is not on the pages", w)
				}
			}
			if name == projects.Demo {
				Golden(t, key, text)
			}
		})
	}
}

// Variation is the demo with something changed that a site may have otherwise.
type Variation struct {
	Name   string
	Change func(*enquiry.Project)
}

// Variations are sites where less is known, other rules hold or something is laid out
// in another way.
func Variations() []Variation {
	return []Variation{
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
	}
}

// Others prints a trade's paper for every variation, on either sheet.
func Others(t *testing.T, doc func(configurator.Report) paper.Doc) {
	t.Helper()
	c := House(t).Catalogue
	demo := Report(t, projects.Demo).Project
	for _, v := range Variations() {
		t.Run(v.Name, func(t *testing.T) {
			p := demo
			p.Site.Floor.Members = slices.Clone(p.Site.Floor.Members)
			p.Chosen.Items = slices.Clone(p.Chosen.Items)
			v.Change(&p)
			r, err := configurator.Check(p, c)
			if err != nil {
				t.Fatal(err)
			}
			EverySheet(t, doc(r), paper.EnGB)
		})
	}
}

// EverySheet draws a paper on both sizes of page in each of the languages.
func EverySheet(t *testing.T, doc paper.Doc, languages ...paper.Locale) {
	t.Helper()
	for _, doc.Size = range []paper.PageSize{paper.A4, paper.USLetter} {
		for _, doc.Locale = range languages {
			Written(t, doc)
		}
	}
}
