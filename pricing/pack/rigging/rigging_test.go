package rigging_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/access"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/rigging"
	"tunwright/pricing/paper"
	"tunwright/testdata/projects"
)

// figures are the words of a report that its paper must print.
func figures(r configurator.Report) []string {
	a := r.Access
	out := []string{"A competent person plans the lift", unit.In(a.Freight.Mass, "t", 2), unit.In(a.Freight.Metres, "m", 1), "Incoterms 2020", "Delivery term"}
	for i := range a.Routes {
		out = append(out, "By the "+a.Routes[i].Name)
		for _, row := range a.Rows(i) {
			if row.Verdict == access.Fails && row.Need > row.Have {
				out = append(out, fmt.Sprintf("%.0f mm short", (row.Need-row.Have).MM()))
			}
		}
	}
	for i := range a.Lifts {
		out = append(out, fmt.Sprintf("%.1f", a.Lifts[i].WindLimit.MS()))
	}
	return out
}

// What the paper reads back from the project must be what was worked with.
func TestFactsAreThoseOfTheReport(t *testing.T) {
	for _, name := range projects.Names() {
		r := proof.Report(t, name)
		f := rigging.Facts(r)
		for k := range r.Access.Routes {
			route := &r.Access.Routes[k]
			if route.Name != f.Input.Routes[k].Name {
				t.Errorf("%s: route %d is %s, its result %s", name, k, f.Input.Routes[k].Name, route.Name)
			}
			n := 0
			for i := range f.Input.Items {
				for range f.Input.Items[i].Pieces {
					if got, want := f.Input.Items[i].Tag, route.Pieces[n].Tag; got != want {
						t.Errorf("%s: piece %d is %s, its result %s", name, n, got, want)
					}
					n++
				}
			}
			if n != len(route.Pieces) {
				t.Errorf("%s: %d pieces, %d results", name, n, len(route.Pieces))
			}
		}
	}
}

func TestEveryPieceIsCounted(t *testing.T) {
	count := func(table paper.Table, column int) int {
		n := 0
		for _, row := range table.Rows {
			if row.Kind != paper.Item {
				continue
			}
			k, err := strconv.Atoi(row.Cells[column].Figure)
			if err != nil {
				t.Fatal(err)
			}
			n += k
		}
		return n
	}
	for _, name := range projects.Names() {
		r := proof.Report(t, name)
		if got, want := count(rigging.LiftTable(r.Access), 1), len(r.Access.Lifts); got != want {
			t.Errorf("%s: %d lifts are listed of %d", name, got, want)
		}
		if got, want := count(rigging.FreightTable(r.Access), 1), len(r.Access.Freight.Rows); got != want {
			t.Errorf("%s: %d packed pieces are listed of %d", name, got, want)
		}
	}
}

func TestNotWorkedOut(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Access, Words: "a piece has no size"}}}
	s := rigging.Sections(r)
	if len(s) != 1 || !strings.Contains(fmt.Sprint(s[0].Blocks), "a piece has no size") {
		t.Errorf("a gap prints %v", s)
	}
}
