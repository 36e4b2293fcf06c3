package floor

import (
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

// unplaced is the worked hall with doors, gullies, a board and a column, nothing placed.
func unplaced() Input {
	in := workedInput()
	in.Room.Persons = ptr(10)
	in.Room.Doors = []plan.Door{{Name: "D1", Hinge: plan.P(0, 3.4), Latch: plan.P(0, 4.6), Inwards: true, Exit: true}, {Name: "D2", Hinge: plan.P(12, 1), Latch: plan.P(12, 2), Exit: true}}
	in.Room.Boards = []plan.Board{{Name: "DB1", At: plan.P(11, 8), Width: unit.Metres(.6), Depth: unit.Metres(.2), Before: unit.Metres(1)}}
	in.Room.Columns = []plan.Column{{Name: "C1", At: plan.P(6, 4), A: unit.Metres(.3), B: unit.Metres(.3), Round: true}}
	in.Room.Gullies = []plan.Gully{{Name: "G1", At: plan.P(3, 4)}, {Name: "G2", At: plan.P(9, 4)}}
	for i := range in.Items {
		it := &in.Items[i]
		it.Place, it.Drain, it.Group = nil, true, "cellar"
		if i < 3 {
			it.Group = "brewhouse"
		}
		it.Clearance = plan.Clearance{Front: unit.Metres(1), Side: unit.Metres(.3), Back: unit.Metres(.3), Above: unit.Metres(.3)}
	}
	for _, x := range []struct {
		tag     string
		l, w, h float64
	}{{"CH1", 1.2, .8, 1.5}, {"CIP", 1.4, .7, 1.6}, {"MILL", 1.0, .8, 1.9}, {"PNL", .8, .4, 1.9}, {"KW", 1.5, .9, 1.6}} {
		in.Items = append(in.Items, Item{Item: plan.Item{Tag: x.tag, Group: "services", Length: unit.Metres(x.l), Width: unit.Metres(x.w), Height: unit.Metres(x.h), Clearance: plan.Clearance{Front: unit.Metres(.8)}}, Empty: ptr(unit.Kilograms(300))})
	}
	return in
}

func planned(in Input) []plan.Item {
	items := make([]plan.Item, len(in.Items))
	for i := range in.Items {
		items[i] = in.Items[i].Item
	}
	return items
}

// A person took two moves and a table of figures to bring the worked hall's members
// within what was given; the first layout does so with five more pieces in the room.
func TestFirstLayoutKeepsMembersAndClearances(t *testing.T) {
	in := unplaced()
	for i, it := range plan.FirstLayout(&in.Room, planned(in), Judge(in)) {
		in.Items[i].Place = it.Place
	}
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.Members {
		if m := &r.Members[i]; m.Upper.Use > 1 {
			t.Errorf("member %s at %.1f %%", m.Name, m.Upper.Use.Pct())
		}
	}
	if len(r.Conflicts)+len(r.Escape.CutOff)+len(r.Escape.Blocked)+len(r.Stray) > 0 {
		t.Errorf("conflicts %+v, escape %+v, stray %v", r.Conflicts, r.Escape, r.Stray)
	}
}

func TestJudgeAgreesWithSize(t *testing.T) {
	in := workedInput()
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for i := range r.Members {
		worst = max(worst, r.Members[i].Upper.Use.Value())
	}
	near(t, "highest use", Judge(in)(planned(in)), worst, 1e-12)
}

func BenchmarkFirstLayout(b *testing.B) {
	in := unplaced()
	b.ReportAllocs()
	for b.Loop() {
		plan.FirstLayout(&in.Room, planned(in), Judge(in))
	}
}
