package electrician_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/pricing/pack/electrician"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/svg"
	"tunwright/testdata/projects"
)

// figures are the words of a report that its paper must print.
func figures(r configurator.Report) []string {
	e := r.Electrical
	out := []string{
		unit.Fixed(e.Binding.Demand, 1), unit.Fixed(e.Connected, 1), unit.Fixed(e.Energy.Brew, 0), e.States[e.Binding.State].Title,
		"competent person", "network operator confirms it in writing", "Emergency stop", "Bonding", "isolation",
	}
	for i := range e.Circuits {
		c := &e.Circuits[i]
		out = append(out, c.Tag)
		if c.Problem == "" {
			out = append(out, c.Device.Text(), c.Cable.Live())
		}
	}
	return out
}

func TestScheduleHasEveryColumn(t *testing.T) {
	for _, name := range projects.Names() {
		r := proof.Report(t, name)
		whole := electrician.ScheduleTable(r)
		if len(whole.Rows) != len(r.Electrical.Circuits) {
			t.Errorf("%s: %d rows for %d circuits", name, len(whole.Rows), len(r.Electrical.Circuits))
		}
		on := map[string]bool{}
		for _, s := range electrician.Sections(r) {
			for _, b := range s.Blocks {
				if x, ok := b.(paper.Table); ok && strings.HasPrefix(x.Name, "circuits-") {
					for _, c := range x.Columns {
						on[c.Name()] = true
					}
					for _, n := range x.Notes { // what is alike in every row
						title, _, _ := strings.Cut(n, ", for all: ")
						on[title] = true
					}
				}
			}
		}
		for i, c := range whole.Columns {
			filled := false
			for _, row := range whole.Rows {
				filled = filled || !row.Cells[i].Empty()
			}
			if filled && !on[c.Name()] {
				t.Errorf("%s: column %q is on no part of the printed schedule", name, c.Name())
			}
		}
	}
}

// What the paper reads back from the project must be what was worked with.
func TestFactsAreThoseOfTheReport(t *testing.T) {
	for _, name := range projects.Names() {
		r := proof.Report(t, name)
		f := electrician.Facts(r)
		if len(f.Input.Loads) != len(r.Electrical.Circuits) {
			t.Fatalf("%s: %d loads, %d circuits", name, len(f.Input.Loads), len(r.Electrical.Circuits))
		}
		for i := range f.Input.Loads {
			l, c := &f.Input.Loads[i], &r.Electrical.Circuits[i]
			if got, want := [4]any{l.Tag, l.Name, l.Item, l.Group}, [4]any{c.Tag, c.Name, c.Item, c.Group}; !reflect.DeepEqual(got, want) {
				t.Errorf("%s: load %d is %v, its circuit %v", name, i, got, want)
			}
		}
	}
}

func TestDiagramShowsEveryCircuit(t *testing.T) {
	for _, name := range projects.Names() {
		r := proof.Report(t, name)
		sheets, err := electrician.Diagram(r, 171, 222)
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		for i, d := range sheets {
			if err := svg.Write(&b, d, svg.Options{ID: fmt.Sprintf("d%d-", i)}); err != nil {
				t.Fatal(err)
			}
		}
		for i := range r.Electrical.Circuits {
			if c := &r.Electrical.Circuits[i]; !strings.Contains(b.String(), ">"+c.Tag+"<") {
				t.Errorf("%s: circuit %s is not in the diagram", name, c.Tag)
			}
		}
	}
}

func TestNotWorkedOut(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Electrical, Words: "no loads are chosen"}}}
	s := electrician.Sections(r)
	if len(s) != 1 || !strings.Contains(fmt.Sprint(s[0].Blocks), "no loads are chosen") {
		t.Errorf("a gap prints %v", s)
	}
}
