package structure_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/floor"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/structure"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/svg"
	"tunwright/testdata/projects"
)

// figures are the words of a report that its paper must print.
func figures(r configurator.Report) []string {
	f := r.Floor
	out := []string{
		floor.ScheduleTitle, "no partial factors included", "structural engineer", unit.Fixed(f.AddedLoad, 2), unit.In(f.Operating, "t", 2),
		unit.Fixed(f.RoomAverage, 2), "footprint", "Gullies and openings",
	}
	for i := range f.Items {
		if x := &f.Items[i]; x.OnFloor {
			out = append(out, x.Tag)
			if x.Feet != nil {
				out = append(out, fmt.Sprintf("%.2f", x.Feet.Operating.KN()), fmt.Sprintf("%.2f", x.Feet.Bound.KN()))
			}
		}
	}
	for i := range f.Members {
		m := &f.Members[i]
		out = append(out, m.Name, fmt.Sprintf("%.1f", m.Operating.Moment.KNM()))
	}
	return out
}

func TestScheduleHasEveryColumn(t *testing.T) {
	for _, name := range projects.Names() {
		r := proof.Report(t, name)
		whole := structure.ScheduleTable(r)
		var notes []string
		on := map[string]bool{"action": true, "notes": true} // said once in a note where they are the same for every piece
		for _, s := range structure.Sections(r) {
			for _, b := range s.Blocks {
				if x, ok := b.(paper.Table); ok && strings.HasPrefix(x.Name, "loading-") {
					for _, c := range x.Columns {
						on[c.Name()] = true
					}
					notes = append(notes, x.Notes...)
				}
			}
		}
		for i, c := range whole.Columns {
			filled := false
			for _, row := range whole.Rows {
				filled = filled || !row.Cells[i].Empty()
			}
			noted := slices.ContainsFunc(notes, func(n string) bool { return strings.HasPrefix(n, c.Title+", for all: ") })
			if filled && !on[c.Name()] && !noted {
				t.Errorf("%s: column %q is on no part of the printed schedule", name, c.Name())
			}
		}
	}
}

// The plan carries every piece that stands in the room, at its true place.
func TestPlanShowsEveryPiece(t *testing.T) {
	for _, name := range projects.Names() {
		r := proof.Report(t, name)
		d, err := structure.Plan(r, 258, 138)
		if err != nil {
			t.Fatal(err)
		}
		text, err := svg.String(d, svg.Options{ID: "p-"})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range r.Pieces {
			it := r.PlanItem(p)
			if it.Place == nil || it.Wall || it.Outside {
				continue
			}
			if !strings.Contains(text, ">"+p.Item+"<") {
				t.Errorf("%s: %s is not on the plan", name, p.Item)
			}
		}
	}
}

// A chiller is on the plan where the enquiry puts it into the room, and only there.
func TestPlanShowsAChillerInside(t *testing.T) {
	r := proof.Report(t, projects.Demo)
	i := slices.IndexFunc(r.Pieces, func(p configurator.Piece) bool { return p.Chosen.Product.Class == catalog.ClassChiller })
	r.Pieces = slices.Clone(r.Pieces)
	r.Pieces[i].Place = &enquiry.Placed{At: enquiry.Point{X: unit.Metres(9), Y: unit.Metres(4.5)}}
	for where, want := range map[string]bool{"inside": true, "yard": false} {
		r.Project.Site.Chiller.Where = where
		d, err := structure.Plan(r, 258, 138)
		if err != nil {
			t.Fatal(err)
		}
		text, err := svg.String(d, svg.Options{ID: "p-"})
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(text, ">"+r.Pieces[i].Item+"<"); got != want {
			t.Errorf("%s: on the plan %v", where, got)
		}
	}
}

// Nothing the paper reads back may differ from what was worked with.
func TestFactsAreThoseOfTheReport(t *testing.T) {
	for _, name := range projects.Names() {
		r := proof.Report(t, name)
		f := structure.Facts(r)
		if len(f.Input.Items) != len(r.Floor.Items) {
			t.Fatalf("%s: %d items, %d results", name, len(f.Input.Items), len(r.Floor.Items))
		}
		for i := range f.Input.Items {
			if got, want := f.Input.Items[i].Tag, r.Floor.Items[i].Tag; got != want {
				t.Errorf("%s: item %d is %s, its result %s", name, i, got, want)
			}
			if (f.Input.Items[i].Feet != nil) != (r.Floor.Items[i].Feet != nil) && r.Floor.Items[i].OnFloor {
				t.Errorf("%s: %s stands on feet in one and not in the other", name, f.Input.Items[i].Tag)
			}
		}
	}
}

func TestNothingIsCalledSafe(t *testing.T) {
	r := proof.Report(t, projects.Demo)
	for _, s := range structure.Sections(r) {
		text := fmt.Sprintf("%+v", s.Blocks)
		for _, word := range []string{"is safe", "are safe"} {
			if n := strings.Count(text, word); n > strings.Count(text, "says that a floor is safe") {
				t.Errorf("section %q says %q", s.Title, word)
			}
		}
	}
}

func TestNotWorkedOut(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Floor, Words: "two pieces have one tag"}}}
	s := structure.Sections(r)
	if len(s) != 1 || !strings.Contains(fmt.Sprint(s[0].Blocks), "two pieces have one tag") {
		t.Errorf("a gap prints %v", s)
	}
}
