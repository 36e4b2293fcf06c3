package production_test

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
	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/production"
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
		Title: "Production plan", Subtitle: r.Project.Title, Number: "T-0001-PR", Revision: "A", Date: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		Firm: paper.Firm{Name: "Test firm"}, Locale: paper.EnGB, Numbered: true, Sections: append(production.Sections(r), production.Workings(r)...),
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
		if err := os.WriteFile(filepath.Join(keep, "production-"+t.Name()[strings.LastIndex(t.Name(), "/")+1:]+".pdf"), b.Bytes(), 0o600); err != nil {
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
	for i := range r.Brewing.Beers {
		r.Brewing.Beers[i].Beer.Name = "Jubiläumsdoppelbockstarkbier der Mechanical Loomworkers " + strconv.Itoa(i)
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

// keyFigures are what a brewer would look for, as printed.
func keyFigures(r configurator.Report) []string {
	plan := r.Brewing
	want := []string{
		strconv.Itoa(plan.Totals.Brews) + " in " + strconv.Itoa(plan.Totals.Batches) + " batches",
		strconv.FormatFloat(plan.Totals.Packaged.HL(), 'f', 1, 64) + " hL",
		"Thresholds", "check the current text", "INDG143", "What fills up first", "Weeks of the plan 40 to 52",
	}
	if len(plan.Duty.Rows) == 0 {
		want = want[:2]
	}
	for i := range plan.Beers {
		b := &plan.Beers[i]
		want = append(want, "Batch sheet: "+b.Beer.Name, strconv.FormatFloat(b.Brew.Malt.Kg(), 'f', 1, 64), strconv.FormatFloat(b.Brew.KettleFull.L(), 'f', 0, 64))
	}
	for _, v := range plan.Vessels {
		want = append(want, v.Tag)
	}
	return want
}

// Every drawing is sound, and each bar of the plan is on one of the year's pieces.
func TestDrawings(t *testing.T) {
	r := report(t, projects.Demo)
	busy, err := production.BusiestWeeks(r)
	if err != nil || len(busy) == 0 {
		t.Errorf("the busiest weeks: %d drawings, %v", len(busy), err)
	}
	list, err := production.TankSchedule(r)
	if err != nil {
		t.Fatal(err)
	}
	if len(list) < 4 {
		t.Errorf("the year is drawn in %d pieces; four quarters are at least 4", len(list))
	}
	for _, d := range append(list, busy...) {
		if err := d.Check(); err != nil {
			t.Error(err)
		}
	}
	for i := range r.Brewing.BrewDays {
		if d, err := production.BrewDay(r, i); err != nil || d.Check() != nil {
			t.Errorf("brew day %d: %v, %v", i, err, d.Check())
		}
	}
	if _, err := production.BrewDay(r, len(r.Brewing.BrewDays)); err == nil {
		t.Error("a brew day beyond the last was drawn")
	}
	for _, draw := range []func() error{
		func() error { d, err := production.Weeks(r); return either(err, d.Check()) },
		func() error { d, err := production.Limits(r); return either(err, d.Check()) },
	} {
		if err := draw(); err != nil {
			t.Error(err)
		}
	}
}

func either(a, b error) error {
	if a != nil {
		return a
	}
	return b
}

func TestNoPlanSaysWhy(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Brewing, Words: "no beer is asked for"}}}
	text := flat(words(t, doc(r)))
	if !strings.Contains(text, "Not worked out: no beer is asked for.") {
		t.Errorf("the reason is not printed:\n%s", text)
	}
	if _, err := production.TankSchedule(r); err == nil {
		t.Error("a schedule was drawn without a plan")
	}
}

// A plan without a calendar counts its days and weeks from 1; tanks and brewhouse that
// are only proposed say so.
func TestUndatedPlanWithProposedTanks(t *testing.T) {
	r := report(t, projects.Demo)
	in := r.Brewing.Settled
	in.Year.First = time.Time{}
	in.Fermenters, in.Brights, in.Brewhouse = nil, nil, brewing.Brewhouse{}
	plan, err := brewing.Size(in)
	if err != nil {
		t.Fatal(err)
	}
	r.Brewing = &plan
	text := flat(words(t, doc(r)))
	for _, want := range []string{"(proposed)", "* Not chosen yet", "day 92", "heat source unknown"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the pages", want)
		}
	}
}

func BenchmarkSections(b *testing.B) {
	r := report(b, projects.Demo)
	b.ReportAllocs()
	for b.Loop() {
		production.Sections(r)
	}
}

// Tables have names of their own, so that each becomes a file.
func TestTableNamesAreUnlike(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range production.Sections(report(t, projects.Demo)) {
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
	path := filepath.Join("testdata", "production.txt")
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
