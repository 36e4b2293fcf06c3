package lines_test

import (
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/air"
	"tunwright/configurator/water"
	"tunwright/pricing/pack/lines"
	"tunwright/pricing/pack/proof"
	"tunwright/testdata/projects"
)

func TestFiguresAreNumbersWithUnits(t *testing.T) {
	table := lines.Table("t", "T", []air.Line{
		{Label: "flow", Value: unit.M3PerHour(5824.6), Note: "governs"},
		{Label: "flow in litres", Value: unit.LitresPerSecond(2.034), Key: "l_s"},
		{Label: "words", Text: "none chosen", Note: "yet"},
	})
	for i, want := range [][4]string{{"flow", "5825", "m³/h", "governs"}, {"flow in litres", "2.03", "L/s", ""}, {"words", "", "", "none chosen; yet"}} {
		row := table.Rows[i].Cells
		if got := [4]string{row[0].Text, row[1].Figure, row[2].Text, row[3].Text}; got != want {
			t.Errorf("row %d is %q, want %q", i+1, got, want)
		}
	}
	if err := table.Check(); err != nil {
		t.Error(err)
	}
}

// A nought that only means that nobody said is printed as unknown, a true one as it is.
func TestUnknownIsNotNought(t *testing.T) {
	rows := lines.Unknown([]water.Line{{Label: "a", Value: unit.BarLitres(0)}, {Label: "b", Value: unit.KgPerHour(0)}, {Label: "c", Value: unit.BarLitres(300)}},
		func(q unit.Quantity) bool { _, ok := q.(unit.PressureEnergy); return ok }, "ask the maker")
	if rows[0].Value != nil || rows[0].Text != "ask the maker" {
		t.Errorf("an unknown figure is printed as %s", rows[0].Figure())
	}
	if rows[1].Value == nil || rows[2].Value == nil {
		t.Error("a figure that is known is printed as unknown")
	}
}

// Every connection of the chosen equipment for the services asked for has its row, and
// no other has one.
func TestPoints(t *testing.T) {
	r := proof.Report(t, projects.Demo)
	want := 0
	for _, c := range r.Chosen {
		for _, p := range c.Product.Connects {
			if p.Service == "cold-water" || p.Service == "drain" {
				want++
			}
		}
	}
	table := lines.Points(r, "points", "Points", "cold-water", "drain")
	got := 0
	for _, row := range table.Rows {
		got += len(strings.Split(row.Cells[0].Text, ", "))
	}
	if got != want || want == 0 {
		t.Errorf("%d connections are listed, the equipment has %d", got, want)
	}
	if err := table.Check(); err != nil {
		t.Error(err)
	}
	none := configurator.Report{Chosen: []configurator.Chosen{{Product: &catalog.Product{Connects: []catalog.Connection{{Service: "steam"}}}}}}
	if got := lines.Points(none, "points", "Points", "drain"); len(got.Rows) != 0 {
		t.Errorf("a connection that nobody asked for is listed: %v", got.Rows)
	}
}
