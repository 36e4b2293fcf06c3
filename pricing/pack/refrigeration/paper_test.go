package refrigeration_test

import (
	"bytes"
	"flag"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/cooling"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/refrigeration"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/pdf"
	"tunwright/testdata/projects"
)

var update = flag.Bool("update", false, "write the golden files anew")

// report checks a sample project, arranged as the office would have it.
func report(t testing.TB, name string) configurator.Report {
	t.Helper()
	c, err := catalog.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	text, err := projects.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	j, err := offer.Read(name, text)
	if err != nil {
		t.Fatal(err)
	}
	p, err := configurator.Arrange(j.Project, c)
	if err != nil {
		t.Fatal(err)
	}
	r, err := configurator.Check(p, c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func doc(r configurator.Report) paper.Doc {
	return paper.Doc{
		Title: "Cooling duty", Subtitle: r.Project.Title, Number: "T-0001-RE", Revision: "A", Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		Firm: paper.Firm{Name: "Test firm"}, Locale: paper.EnGB, Numbered: true, Sections: append(refrigeration.Sections(r), refrigeration.Workings(r)...),
	}
}

// words is the text of the printed paper with single blanks. A bare laptop may lack
// the tool; where CI is set it must be there.
func words(t *testing.T, d paper.Doc) string {
	t.Helper()
	var b bytes.Buffer
	if err := pdf.Write(&b, d); err != nil {
		t.Fatal(err)
	}
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftotext is not installed")
		}
		t.Skip("pdftotext is not installed: the pages cannot be read")
	}
	path := filepath.Join(t.TempDir(), "paper.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if keep := os.Getenv("KEEP_PAPERS"); keep != "" {
		if err := os.WriteFile(filepath.Join(keep, "refrigeration-"+t.Name()[strings.LastIndex(t.Name(), "/")+1:]+".pdf"), b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// The paper is drawn on both sizes of page and in every language of the house, also
// with names as long as clients make them.
func TestPagesLanguagesAndLongNames(t *testing.T) {
	r := report(t, projects.Demo)
	for i := range r.Cooling.Bars {
		r.Cooling.Bars[i].Beer = "Jubiläumsdoppelbockstarkbier der Mechanical Loomworkers " + strconv.Itoa(i)
	}
	for _, size := range []paper.PageSize{paper.A4, paper.USLetter} {
		for _, l := range []paper.Locale{paper.EnGB, paper.EnIE, paper.EnUS, paper.DeDE} {
			d := doc(r)
			d.Size, d.Locale = size, l
			if err := pdf.Write(io.Discard, d); err != nil {
				t.Errorf("%v, %v: %v", size, l, err)
			}
		}
	}
}

func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

func TestPaperOfEachSample(t *testing.T) {
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			r := report(t, name)
			text := flat(words(t, doc(r)))
			for _, want := range keyFigures(r) {
				if !strings.Contains(text, want) {
					t.Errorf("%q is not on the pages", want)
				}
			}
		})
	}
}

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
	r := report(t, projects.Demo)
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
	r := report(t, projects.Demo)
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
	text := flat(words(t, doc(r)))
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
	r := report(t, projects.Demo)
	whole := *r.Cooling
	r.Cooling.Chiller = cooling.ChillerResult{Why: "the table ends at 40 °C", Units: 1}
	text := flat(words(t, doc(r)))
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
	text = flat(words(t, doc(r)))
	for _, want := range []string{"1.5 kW too little.", "output of the chiller 2.0 kW"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the pages", want)
		}
	}
}

func BenchmarkSections(b *testing.B) {
	r := report(b, projects.Demo)
	b.ReportAllocs()
	for b.Loop() {
		refrigeration.Sections(r)
	}
}

// Tables have names of their own, so that each becomes a file.
func TestTableNamesAreUnlike(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range refrigeration.Sections(report(t, projects.Demo)) {
		for _, b := range s.Blocks {
			table, ok := b.(paper.Table)
			if !ok {
				continue
			}
			if table.Name == "" || seen[table.Name] {
				t.Errorf("table %q has the name %q, none or one used twice", table.Title, table.Name)
			}
			seen[table.Name] = true
		}
	}
}

func TestGolden(t *testing.T) {
	got := words(t, doc(report(t, projects.Demo)))
	path := filepath.Join("testdata", "refrigeration.txt")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if flat(got) != flat(string(want)) {
		t.Errorf("the paper reads otherwise than %s; run with -update and look at what changed", path)
	}
}
