package production_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/pricing/pack/production"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/paper"
	"tunwright/testdata/projects"
)

func doc(r configurator.Report) paper.Doc {
	return proof.Paper("Production plan", r, append(production.Sections(r), production.Workings(r)...))
}

// The paper is drawn on both sizes of page and in every language of the house, also
// with names as long as clients make them.
func TestPagesLanguagesAndLongNames(t *testing.T) {
	r := proof.Report(t, projects.Demo)
	for i := range r.Brewing.Beers {
		r.Brewing.Beers[i].Beer.Name = "Jubiläumsdoppelbockstarkbier der Mechanical Loomworkers " + strconv.Itoa(i)
	}
	proof.EverySheet(t, doc(r), paper.EnGB, paper.EnIE, paper.EnUS, paper.DeDE)
}

func TestPaperOfEachSample(t *testing.T) { proof.Samples(t, "production", doc, keyFigures) }

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
	r := proof.Report(t, projects.Demo)
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
	text := proof.Flat(proof.Print(t, "production", doc(r)))
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
	r := proof.Report(t, projects.Demo)
	in := r.Brewing.Settled
	in.Year.First = time.Time{}
	in.Fermenters, in.Brights, in.Brewhouse = nil, nil, brewing.Brewhouse{}
	plan, err := brewing.Size(in)
	if err != nil {
		t.Fatal(err)
	}
	r.Brewing = &plan
	text := proof.Flat(proof.Print(t, "production", doc(r)))
	for _, want := range []string{"(proposed)", "* Not chosen yet", "day 92", "heat source unknown"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not on the pages", want)
		}
	}
}

func BenchmarkSections(b *testing.B) {
	r := proof.Report(b, projects.Demo)
	b.ReportAllocs()
	for b.Loop() {
		production.Sections(r)
	}
}
