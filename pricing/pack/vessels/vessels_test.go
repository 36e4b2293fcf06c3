package vessels_test

import (
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/pressure"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/pack/vessels"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/sheet"
	"tunwright/testdata/projects"
)

func TestPaperOfEachSample(t *testing.T) {
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			r := proof.Report(t, name)
			doc := proof.Paper(vessels.Title, r, append(vessels.Sections(r), vessels.Workings(r)...))
			text := proof.Print(t, "vessels-"+name, doc)
			flat := proof.Flat(text)
			want := []string{"Examinations while in use", "What is fitted and declared", "Papers the buyer must receive", "Who does what"}
			for _, c := range pressure.Cautions() {
				want = append(want, c[:24])
			}
			for _, row := range r.Pressure.Register {
				want = append(want, row.Tag[:3], string(row.Verdict.Category))
			}
			for _, x := range want {
				if !strings.Contains(flat, x) {
					t.Errorf("%q is not on the pages", x)
				}
			}
			complete(t, r, doc)
			if name == projects.Demo {
				proof.Golden(t, "vessels", text)
			}
		})
	}
}

// complete holds the tables to every chamber and every paper of the result.
func complete(t *testing.T, r configurator.Report, doc paper.Doc) {
	t.Helper()
	tables := map[string]paper.Table{}
	for _, x := range sheet.Tables(doc) {
		tables[x.Name] = x
	}
	if got := len(tables["pressure-register"].Rows); got != len(r.Pressure.Register) {
		t.Errorf("the register has %d rows, the result %d chambers", got, len(r.Pressure.Register))
	}
	pairs := 0
	for _, row := range tables["pressure-papers"].Rows {
		pairs += len(strings.Split(row.Cells[1].Text, ", "))
	}
	if pairs != len(r.Pressure.Papers) {
		t.Errorf("%d papers for vessels are printed, the result has %d", pairs, len(r.Pressure.Papers))
	}
}

// A verdict with a doubt is never printed without it, nor an unknown one as a verdict.
func TestDoubtsAreSaid(t *testing.T) {
	litres, bar := unit.Litres(2700), unit.BarGauge(1.5)
	res, err := pressure.Size(pressure.Input{Vessels: []pressure.Vessel{
		{Tag: "FV1", Kind: pressure.Tank, Contents: pressure.BeerCO2, Volume: &litres, PS: &bar},
		{Tag: "FV2", Kind: pressure.Tank, Contents: pressure.BeerCO2, Volume: &litres},
	}})
	if err != nil {
		t.Fatal(err)
	}
	r := configurator.Report{Pressure: &res}
	doc := proof.Paper(vessels.Title, r, vessels.Sections(r))
	flat := proof.Flat(proof.Print(t, "vessels-doubts", doc))
	for _, want := range []string{"III or IV", "IV if the line at PS 4 bar does not", "from memory", "PS is not known", "1 cannot be given yet"} {
		if !strings.Contains(flat, want) {
			t.Errorf("%q is not on the pages", want)
		}
	}
}

func TestWithoutAResult(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Pressure, Words: "the volume is infinite"}}}
	if s := vessels.Sections(r); len(s) != 1 || !strings.Contains(proof.Words(s), "the volume is infinite") {
		t.Errorf("the paper does not say why nothing was worked out: %v", s)
	}
	r = configurator.Report{Pressure: &pressure.Result{}}
	if s := vessels.Sections(r); !strings.Contains(proof.Words(s), "No vessel is chosen") {
		t.Errorf("a project without vessels is not told apart: %v", s)
	}
}
