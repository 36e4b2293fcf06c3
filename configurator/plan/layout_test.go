package plan

import (
	"fmt"
	"reflect"
	"testing"

	"tunwright/catalog/unit"
)

// hall is an invented room with pieces for n fermenters beside a brewhouse.
func hall(n int) (*Room, []Item) {
	clear, persons := unit.Metres(3.9), 12
	r := &Room{
		Outline: Polygon{P(0, 0), P(14, 0), P(14, 9), P(4, 9), P(4, 8), P(0, 8)}, Clear: &clear, Persons: &persons,
		Columns: []Column{{Name: "C1", At: P(7, 4.5), A: unit.Metres(.3), B: unit.Metres(.3)}},
		Doors:   []Door{{Name: "D1", Hinge: P(0, 3), Latch: P(0, 4.2), Inwards: true, Exit: true}, {Name: "D2", Hinge: P(13, 0), Latch: P(12, 0), Exit: true}},
		Gullies: []Gully{{Name: "G1", At: P(4, 4)}, {Name: "G2", At: P(10, 4)}},
		Boards:  []Board{{Name: "DB1", At: P(2, 8), Width: unit.Metres(.8), Depth: unit.Metres(.3), Before: unit.Metres(1)}},
	}
	tank := func(tag, group string, d, h float64) Item {
		return Item{
			Tag: tag, Group: group, Length: unit.Metres(d), Height: unit.Metres(h), Round: true, Drain: true,
			Clearance: Clearance{Front: unit.Metres(1), Side: unit.Metres(.3), Back: unit.Metres(.3), Above: unit.Metres(.3)},
		}
	}
	items := []Item{tank("MLT", "brewhouse", 1.57, 2.1), tank("KET", "brewhouse", 1.47, 2.35), tank("HLT", "brewhouse", 1.47, 2.55)}
	for i := range n {
		items = append(items, tank(fmt.Sprintf("FV%d", i+1), "cellar", 1.17, 2.87))
	}
	return r, append(items, Item{Tag: "CH", Group: "services", Length: unit.Metres(1.2), Width: unit.Metres(.8), Height: unit.Metres(1.4), Clearance: Clearance{Front: unit.Metres(.8)}})
}

func TestFirstLayoutKeepsEveryClearance(t *testing.T) {
	for _, n := range []int{2, 6, 10} {
		r, items := hall(n)
		got := FirstLayout(r, items, nil)
		for _, c := range Conflicts(r, got) {
			t.Errorf("%d fermenters: %+v", n, c)
		}
		if e := EscapeRoutes(r, got, unit.Millimetres(750)); len(e.CutOff) > 0 {
			t.Errorf("%d fermenters: no way out from %v", n, e.CutOff)
		}
		if again := FirstLayout(r, items, nil); !reflect.DeepEqual(got, again) {
			t.Error("the same room gave another layout")
		}
	}
}

// Ground to keep clear stays bare, also where it takes the corner that pieces would
// have been put in.
func TestFirstLayoutKeepsGroundClear(t *testing.T) {
	r, items := hall(4)
	for _, it := range FirstLayout(r, items, nil) {
		at := it.Place.At
		r.Keep = append(r.Keep, Zone{Name: "way", From: at.Sub(P(.4, .4)), To: at.Add(P(.4, .4))})
		break
	}
	r.Keep = append(r.Keep, Zone{Name: "escape", From: P(14, 3), To: P(11.5, 0)})
	got := FirstLayout(r, items, nil)
	for _, c := range Conflicts(r, got) {
		t.Errorf("%+v", c)
	}
}

func BenchmarkFirstLayout(b *testing.B) {
	r, items := hall(10)
	b.ReportAllocs()
	for b.Loop() {
		FirstLayout(r, items, nil)
	}
}

func BenchmarkConflicts(b *testing.B) {
	r, items := hall(11)
	got := FirstLayout(r, items, nil)
	b.ReportAllocs()
	for b.Loop() {
		Conflicts(r, got)
	}
}

func BenchmarkEscapeRoutes(b *testing.B) {
	r, items := hall(11)
	got := FirstLayout(r, items, nil)
	b.ReportAllocs()
	for b.Loop() {
		EscapeRoutes(r, got, unit.Millimetres(750))
	}
}
