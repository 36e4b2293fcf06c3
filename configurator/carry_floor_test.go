package configurator

import (
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/floor"
	"tunwright/configurator/rule"
	"tunwright/testdata/projects"
)

// sample reads a sample enquiry and the catalogue.
func sample(t testing.TB, name string) (enquiry.Project, *catalog.Catalogue) {
	t.Helper()
	text, err := projects.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	p, err := enquiry.Read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	return p, c
}

// answers gives what one rule says of a project.
func answers(t testing.TB, p enquiry.Project, c *catalog.Catalogue, id string) []Finding {
	t.Helper()
	r, err := Check(p, c)
	if err != nil {
		t.Fatal(err)
	}
	var out []Finding
	for _, f := range r.Findings {
		if f.Rule.ID == id {
			out = append(out, f)
		}
	}
	if out == nil {
		t.Fatalf("%s says nothing; gaps %v", id, r.Gaps)
	}
	return out
}

// Ground to keep clear reaches the plan: the first layout leaves it bare, and a piece
// moved onto it stops the job.
func TestGroundToKeepClearReachesThePlan(t *testing.T) {
	p, c := sample(t, projects.Demo)
	p, err := Arrange(p, c)
	if err != nil {
		t.Fatal(err)
	}
	if got := answers(t, p, c, "FL-108"); got[0].Outcome != rule.Pass {
		t.Fatalf("the first layout stands on it: %+v", got)
	}
	for i := range p.Chosen.Items {
		if it := &p.Chosen.Items[i]; it.Tag == "FV4" {
			it.Places[0].At = enquiry.Point{X: unit.Metres(17), Y: unit.Metres(7.8)}
		}
	}
	got := answers(t, p, c, "FL-108")
	if got[0].Outcome != rule.Fail || got[0].Subject != "FV4" || got[0].Rule.Severity != rule.Blocker {
		t.Errorf("FV4 stands in the escape way to the stair: %+v", got)
	}
}

// A bay's own figure goes before the floor's.
func TestABaysOwnFigureReachesTheFloor(t *testing.T) {
	p, c := sample(t, projects.Demo)
	p, err := Arrange(p, c)
	if err != nil {
		t.Fatal(err)
	}
	told := enquiry.Fact[unit.AreaLoad]{Value: unit.KilonewtonsPerM2(1.6), Basis: enquiry.Told, By: "engineer's letter"}
	p.Site.Floor.Bays = []enquiry.Bay{{Name: "trapdoor", From: enquiry.Point{X: 1, Y: 1}, To: enquiry.Point{X: 3, Y: 3}, Area: told}}
	if got := answers(t, p, c, "FL-025"); got[0].Outcome != rule.Fail || got[0].Have == nil {
		t.Errorf("people alone use 1.5 of what 49 mm of build-up leave of 1.6 kN/m²: %+v", got)
	}
}

// A floor of unknown kind is not taken for one of the two.
func TestAnUnknownFloorStaysUnknown(t *testing.T) {
	for kind, want := range map[string]floor.Support{"suspended": floor.Suspended, "ground-bearing": floor.Ground, "unknown": floor.Unknown, "": floor.Unknown} {
		if got := support(kind); got != want {
			t.Errorf("%q is carried as %q, want %q", kind, got, want)
		}
	}
}

// The bore of an outlet is what the product states; a gully's size is not the tank's,
// and what is piped to a place of its own does not run over the floor.
func TestTheOutletIsWhatTheProductStates(t *testing.T) {
	for size, want := range map[string]float64{
		"DN 50": 50, "DN 40, trapped, hot": 40, "DN 50, to the neutralising point": 0,
		"trapped gully DN 100": -1, "floor gully, overflow DN 50": -1, "DN": -1,
	} {
		got := outlet(&catalog.Product{Connects: []catalog.Connection{{Service: "co2", Size: "DN 25"}, {Service: "drain", Size: size}}})
		switch {
		case want < 0 && got != nil:
			t.Errorf("%q was read as %s", size, *got)
		case want >= 0 && (got == nil || got.MM() != want):
			t.Errorf("%q: %v, want %.0f mm", size, got, want)
		}
	}
}

// A floor with gullies whose fall nobody has told is not a floor without falls.
func TestAnUnknownFallIsAskedFor(t *testing.T) {
	p, c := sample(t, projects.Demo)
	p.Site.Drains.Fall = enquiry.Fact[unit.Ratio]{}
	for _, id := range []string{"FL-041", "FL-042", "FL-043"} {
		if got := answers(t, p, c, id); got[len(got)-1].Outcome != rule.Unknown {
			t.Errorf("%s: %+v", id, got)
		}
	}
}
