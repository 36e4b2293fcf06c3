package configurator

import (
	"math"
	"slices"
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
	"tunwright/testdata/projects"
)

func checked(t *testing.T, name string) Report {
	t.Helper()
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	text, err := projects.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	before, _, _ := strings.Cut(string(text), "\ncommercial:")
	p, err := enquiry.Read(name, []byte(before+"\n"))
	if err != nil {
		t.Fatal(err)
	}
	p, err = Arrange(p, c)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Check(p, c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What the samples fill up is a load over a capacity of one kind, and fails where its
// rule fails.
func TestLoads(t *testing.T) {
	seen := map[string]bool{}
	for _, name := range projects.Names() {
		r := checked(t, name)
		for _, l := range r.Loads() {
			seen[l.Rule.ID] = true
			if math.Abs(l.Need.SI()/l.Have.SI()-l.Full.Value()) > 1e-9 || l.Need.Kind() != l.Have.Kind() {
				t.Errorf("%s, %s %s: %s of %s is %s", name, l.What, l.Which, l.Need, l.Have, l.Full)
			}
			// A way in is given with the margin that is wanted, of which a piece may use some.
			if over := l.Full.Value() > 1+1e-6; over != l.Fails && l.Rule.ID != "AC-010" {
				t.Errorf("%s, %s %s %s: %s full, fails %v", name, l.Rule.ID, l.What, l.Which, l.Full, l.Fails)
			}
		}
	}
	for _, id := range []string{"BR-005", "CO-001", "EL-010", "FL-020", "AC-010", "AI-003", "WA-003", "WA-021", "PR-009"} {
		if !seen[id] {
			t.Errorf("no sample shows how full %s is", id)
		}
	}
}

// Every line of a three-phase supply is given, the fullest as its rule says.
func TestLoadsOfEveryLine(t *testing.T) {
	r := checked(t, "weaving-mill")
	var lines []Load
	for _, l := range r.Loads() {
		if l.Rule.ID == "EL-010" {
			lines = append(lines, l)
		}
	}
	if len(lines) != 3 || !strings.HasPrefix(lines[0].Which, "L1, ") || !strings.HasPrefix(lines[2].Which, "L3, ") {
		t.Fatalf("lines: %+v", lines)
	}
	i := slices.IndexFunc(r.Findings, func(f Finding) bool { return f.Rule.ID == "EL-010" && f.Outcome == rule.Pass })
	full, _ := r.Findings[i].Fill()
	most := slices.MaxFunc(lines, func(a, b Load) int { return int(1e6 * (a.Full - b.Full)) })
	if math.Abs(most.Full.Value()-full.Value()) > 1e-6 {
		t.Errorf("the fullest line is %s, the rule says %s", most.Full, full)
	}
}
