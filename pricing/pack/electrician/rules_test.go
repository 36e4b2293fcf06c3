package electrician

import (
	"strings"
	"testing"

	"tunwright/configurator"
	"tunwright/configurator/electrical"
)

// The head names the rules of the country of the site, never those of another alone.
func TestRulesOfTheSite(t *testing.T) {
	for _, c := range []struct {
		country string
		rules   electrical.RuleSet
		begins  string
		follows bool
	}{
		{"GB", electrical.IEC, "IEC 60364 / BS 7671", false},
		{"IE", electrical.IEC, "I.S. 10101 at the site", true},
		{"DE", electrical.IEC, "DIN VDE 0100 at the site", true},
		{"FR", electrical.IEC, "the national adoption of IEC 60364 at the site", true},
		{"US", electrical.NEC, "NFPA 70", false},
	} {
		var r configurator.Report
		r.Project.Site.Country = c.country
		r.Inputs.Electrical.Rules = c.rules
		calculated := "IEC 60364 / BS 7671"
		if c.rules == electrical.NEC {
			calculated = "NFPA 70 (NEC) 2023"
		}
		got := rules(r, calculated)
		if !strings.HasPrefix(got, c.begins) || strings.Contains(got, "the electrician confirms") != c.follows {
			t.Errorf("%s: %q", c.country, got)
		}
	}
}
