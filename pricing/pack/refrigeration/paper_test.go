package refrigeration_test

import (
	"strconv"
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/cooling"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/refrigeration"
	"tunwright/pricing/paper"
	"tunwright/testdata/projects"
)

func doc(r configurator.Report) paper.Doc {
	return proof.Paper("Cooling duty", r, append(refrigeration.Sections(r), refrigeration.Workings(r)...))
}

// The paper is drawn on both sizes of page and in every language of the house, also
// with names as long as clients make them.
func TestPagesLanguagesAndLongNames(t *testing.T) {
	r := proof.Report(t, projects.Demo)
	for i := range r.Cooling.Bars {
		r.Cooling.Bars[i].Beer = "Jubiläumsdoppelbockstarkbier der Mechanical Loomworkers " + strconv.Itoa(i)
	}
	proof.EverySheet(t, doc(r), paper.EnGB, paper.EnIE, paper.EnUS, paper.DeDE)
}

func TestPaperOfEachSample(t *testing.T) { proof.Samples(t, "refrigeration", doc, keyFigures) }

// keyFigures are what a contractor would look for, as printed.
func keyFigures(r configurator.Report) []string {
	c := r.Cooling
	kw := func(p unit.Power) string { return strconv.FormatFloat(p.KW(), 'f', 2, 64) }
	want := []string{
		kw(c.Load.Duty), kw(c.Load.Process), kw(c.Chiller.Capacity), "Highest hour of the cellar", "Load table", "Pipe table", "design air", "highest hour",
		strconv.FormatFloat(c.Siting.Rejected.KW(), 'f', 1, 64) + " kW", "refrigeration contractor", "certified persons", "propylene glycol",
	}
	for i := range c.Tanks {
		want = append(want, c.Tanks[i].Tag)
	}
	for i := range c.Circuit.Sections {
		want = append(want, c.Circuit.Sections[i].Label+" ")
	}
	return append(want, c.Sheet.Notes...)
}

// Every drawing is sound, and the stack of the chart holds every hour.
func TestDrawings(t *testing.T) {
	r := proof.Report(t, projects.Demo)
	chart, err := refrigeration.LoadChart(r)
	if err != nil || chart.Check() != nil {
		t.Errorf("load chart: %v, %v", err, chart.Check())
	}
	output, err := refrigeration.Output(r)
	if err != nil || output.Check() != nil {
		t.Errorf("output: %v, %v", err, output.Check())
	}
	parts, err := refrigeration.Schedule(r)
	if err != nil || len(parts) == 0 {
		t.Errorf("schedule: %d drawings, %v", len(parts), err)
	}
	for _, d := range parts {
		if err := d.Check(); err != nil {
			t.Error(err)
		}
	}
}

// The hourly table has a row an hour, its cellar column is the sum of its parts, and
// its largest is the hour named as the highest.
func TestHourTable(t *testing.T) {
	r := proof.Report(t, projects.Demo)
	table := refrigeration.HourTable(r)
	if err := table.Check(); err != nil {
		t.Fatal(err)
	}
	if len(table.Rows) != r.Cooling.Horizon {
		t.Fatalf("%d rows for %d hours", len(table.Rows), r.Cooling.Horizon)
	}
	highest, at := 0.0, 0
	for h, row := range table.Rows {
		sum := 0.0
		for _, cell := range row.Cells[2:8] {
			sum += figure(t, cell)
		}
		cellar := figure(t, row.Cells[8])
		if d := sum - cellar; d > 0.035 || d < -0.035 { // six roundings to 0.01
			t.Errorf("hour %d: parts add up to %.2f, cellar is %.2f", h, sum, cellar)
		}
		if x := r.Cooling.Hours[h].Cellar.KW(); x > highest {
			highest, at = x, h
		}
	}
	if at != r.Cooling.Load.PeakHour {
		t.Errorf("the highest hour is named %d, the largest row is %d", r.Cooling.Load.PeakHour, at)
	}
}

func figure(t *testing.T, c paper.Cell) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(c.Figure, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestNoCoolingSaysWhy(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Cooling, Words: "no tank is chosen"}}}
	text := proof.Flat(proof.Print(t, "refrigeration", doc(r)))
	if !strings.Contains(text, "Not worked out: no tank is chosen.") {
		t.Errorf("the reason is not printed:\n%s", text)
	}
	if _, err := refrigeration.Schedule(r); err == nil {
		t.Error("a schedule was drawn without a cooling")
	}
	if n := len(refrigeration.HourTable(r).Rows); n != 0 {
		t.Errorf("%d hours without a cooling", n)
	}
}

// A chiller that its maker's table does not cover is never given an output, and one
// that is too small draws the line that is lower.
func TestChillerBeyondItsTableAndTooSmall(t *testing.T) {
	r := proof.Report(t, projects.Demo)
	whole := *r.Cooling
	r.Cooling.Chiller = cooling.ChillerResult{Why: "the table ends at 40 °C", Units: 1}
	text := proof.Flat(proof.Print(t, "refrigeration", doc(r)))
	for _, want := range []string{"cannot be judged. The table ends at 40 °C.", "not rated"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the pages", want)
		}
	}
	if _, err := refrigeration.Output(r); err == nil {
		t.Error("an output was drawn without a table")
	}
	r.Cooling = &whole
	r.Cooling.Chiller.Capacity, r.Cooling.Chiller.Spare = unit.Kilowatts(2), unit.Kilowatts(-1.5)
	text = proof.Flat(proof.Print(t, "refrigeration", doc(r)))
	for _, want := range []string{"1.5 kW too little.", "output of the chiller 2.0 kW"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the pages", want)
		}
	}
}

func BenchmarkSections(b *testing.B) {
	r := proof.Report(b, projects.Demo)
	b.ReportAllocs()
	for b.Loop() {
		refrigeration.Sections(r)
	}
}
