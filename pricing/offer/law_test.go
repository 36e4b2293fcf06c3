package offer_test

import (
	"regexp"
	"strings"
	"testing"

	"tunwright/configurator"
	"tunwright/testdata/projects"
)

// british are instruments of Great Britain, which decide nothing elsewhere. BS 4142 and
// EH40 are named abroad where no other method or limit is known.
var british = regexp.MustCompile(`LOLER|BS 7121|PSSR|COSHH|DSEAR|SI \d{4}/|Public Health Act|Water Industry Act|Water Fittings|TCPA|CDM 2015|Confined Spaces Regulations 1997|Licensing Act|UKCA|two clear days`)

// A project keeps its building when its site is set in another country: nothing that is
// then said of the building's services rests on a British act.
func TestNoBritishLawAbroad(t *testing.T) {
	h := house(t)
	services := map[configurator.Discipline]bool{
		configurator.Access: true, configurator.Air: true, configurator.Water: true, configurator.Pressure: true, configurator.Programme: true, configurator.Food: true,
	}
	for _, name := range projects.Names() {
		for _, country := range []string{"IE", "DE", "US"} {
			j := arranged(t, h, name)
			j.Project.Site.Country = country
			r, err := configurator.Check(j.Project, h.Catalogue)
			if err != nil {
				t.Fatal(err)
			}
			seen := map[string]bool{}
			see := func(where, words string) {
				if m := british.FindString(words); m != "" && !seen[where+m] {
					seen[where+m] = true
					t.Errorf("%s in %s: %s says %q: %s", name, country, where, m, words)
				}
			}
			for _, f := range r.Findings {
				if !services[f.Discipline] {
					continue
				}
				see(f.Rule.ID, f.Rule.Source.String())
				see(f.Rule.ID, f.Words)
				for _, m := range f.Remedies {
					see(f.Rule.ID, m.Words)
				}
			}
			see("planner", r.Access.Planner)
			for _, row := range r.Pressure.Register {
				see("register", row.Consequence.Source.String()+" "+row.Consequence.Marking+" "+row.InUse.Words+" "+row.InUse.Source.String())
			}
			for _, p := range r.Pressure.Papers {
				see("papers", p.Paper+" "+p.Why)
			}
			for _, s := range r.Programme.Steps {
				see("programme "+s.ID, s.Instrument)
			}
			for _, l := range r.Water.Waste.Apply {
				see("application", l.Text+" "+l.Note)
			}
			for _, l := range r.Air.Limits {
				if !strings.HasPrefix(l.Code, "NIOSH") && british.MatchString(l.Source.String()) {
					t.Errorf("%s: limit %s by %s", country, l.Code, l.Source)
				}
			}
		}
	}
}
