package configurator

import (
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/access"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
	"tunwright/testdata/projects"
)

// A chiller in the yard takes no way in and no floor; inside it takes both.
func TestWhereTheChillerStandsReachesFloorAndAccess(t *testing.T) {
	for where, outside := range map[string]bool{"yard": true, "roof": true, "": true, "inside": false} {
		p, c := sample(t, projects.Demo)
		p.Site.Chiller.Where = where
		p, err := Arrange(p, c)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Check(p, c)
		if err != nil {
			t.Fatal(err)
		}
		for i, piece := range r.Pieces {
			if piece.Item != "CH1" {
				continue
			}
			if on := r.Floor.Items[i].OnFloor; on == outside {
				t.Errorf("%q: on the floor %v", where, on)
			}
			if got := r.PlanItem(piece).Outside; got != outside {
				t.Errorf("%q: outside in the plan %v", where, got)
			}
		}
		for _, way := range r.Access.Routes[0].Pieces {
			if way.Tag == "CH1" && (way.Verdict == access.Outdoors) != outside {
				t.Errorf("%q: the way in says %s", where, way.Verdict)
			}
		}
		if r.Unplaced() {
			t.Errorf("%q: a piece has no place", where)
		}
	}
}

// Whether a crane can stand, and on a road, is carried as told.
func TestTheCraneReachesAccess(t *testing.T) {
	p, c := sample(t, "hotel-basement") // crane not known, a closure ordered
	if got := answers(t, p, c, "AC-049"); got[0].Outcome != rule.Unknown {
		t.Errorf("nobody has said that a crane can stand: %+v", got)
	}
	p.Site.Crane = enquiry.Fact[bool]{Value: true, Basis: enquiry.Told, By: "crane firm"}
	if got := answers(t, p, c, "AC-053"); got[0].Outcome != rule.Fail {
		t.Errorf("a road closure is ordered: %+v", got)
	}
	p.Site.Crane.Value = false
	if got := answers(t, p, c, "AC-049"); got[0].Outcome != rule.Fail {
		t.Errorf("no crane can stand: %+v", got)
	}
	p.Site.Routes[0].Steps[0].Hoist = true
	if got := answers(t, p, c, "AC-049"); got[0].Outcome == rule.Unknown {
		t.Errorf("the hatch has a hoist of its own: %+v", got)
	}
	mill, _ := sample(t, projects.Demo)
	if roadClosed(mill, c) != nil {
		t.Error("in a town centre nobody has said where the crane stands")
	}
	mill.Site.Road = enquiry.Fact[bool]{Basis: enquiry.Told, By: "crane firm, stands in the yard"}
	if got := roadClosed(mill, c); got == nil || *got {
		t.Errorf("the crane firm said the yard: %v", got)
	}
	mill.Site.City, mill.Site.Road = false, enquiry.Fact[bool]{}
	if got := roadClosed(mill, c); got == nil || *got {
		t.Errorf("outside a town centre: %v", got)
	}
}

// Only what lies on a slab, or is a door at the street, needs no figure for its floor.
func TestTheGroundEndsWhereTheWayClimbs(t *testing.T) {
	steps := []enquiry.Step{{Kind: "door"}, {Kind: "corridor"}, {Kind: "lift"}, {Kind: "door"}, {Kind: "corridor"}}
	for _, c := range []struct {
		name  string
		level int
		kind  string
		want  [5]bool
	}{
		{"ground floor on a slab", 0, "ground-bearing", [5]bool{true, true, false, true, true}},
		{"ground floor over a cellar", 0, "suspended", [5]bool{true, false, false, false, false}},
		{"ground floor of unknown kind", 0, "unknown", [5]bool{true, false, false, false, false}},
		{"first floor", 1, "suspended", [5]bool{true, false, false, false, false}},
	} {
		site := enquiry.Site{Level: c.level, Floor: enquiry.Floor{Kind: c.kind}}
		for i, s := range accessSteps(site, steps) {
			if s.Ground != c.want[i] {
				t.Errorf("%s, step %d %s: on the ground %v", c.name, i+1, s.Kind, s.Ground)
			}
		}
	}
	force := enquiry.Fact[unit.Force]{Value: unit.Kilonewtons(9), Basis: enquiry.Told}
	if s := accessSteps(enquiry.Site{}, []enquiry.Step{{Kind: "corridor", FloorLoad: force}}); s[0].Floor == nil || s[0].Floor.Engineer {
		t.Errorf("the wheel load told by nobody in particular: %+v", s[0].Floor)
	}
}
