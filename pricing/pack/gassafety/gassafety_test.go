package gassafety_test

import (
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/air"
	"tunwright/pricing/pack/gassafety"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/paper/drawing"
	"tunwright/testdata/projects"
)

func TestPaperOfEachSample(t *testing.T) {
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			r := proof.Report(t, name)
			text := proof.Print(t, "gassafety-"+name, proof.Paper(gassafety.Title, r, append(gassafety.Sections(r), gassafety.Workings(r)...)))
			flat := proof.Flat(text)
			want := []string{"Oxygen monitors do not stand in", "What an oxygen monitor sees", "Who does what"}
			for _, l := range r.Air.Limits {
				want = append(want, l.Code)
			}
			for _, c := range air.Cautions() {
				want = append(want, c[:24])
			}
			for _, g := range r.Air.Gas {
				want = append(want, unit.In(g.Produced, "kg", 1), unit.Digits(g.Volume.M3(), 3))
				for _, x := range g.Releases {
					want = append(want, x.Name[:3], unit.In(x.Mass, "kg", 1)[:3])
				}
				for _, l := range g.Chosen.FanOff {
					if l.Reached {
						want = append(want, unit.In(l.Week, "h", 1)[:3])
					}
				}
			}
			for _, w := range want {
				if !strings.Contains(flat, strings.TrimSuffix(w, " kg")) {
					t.Errorf("%q is not on the pages", w)
				}
			}
			if name == projects.Demo {
				proof.Golden(t, "gassafety", text)
			}
		})
	}
}

func TestWithoutAResult(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Air, Words: "the room has no height"}}}
	if s := gassafety.Sections(r); len(s) != 1 || !strings.Contains(proof.Words(s), "the room has no height") {
		t.Errorf("the paper does not say why nothing was worked out: %v", s)
	}
	r = configurator.Report{Air: &air.Result{}}
	if s := gassafety.Sections(r); !strings.Contains(proof.Words(s), "No room with carbon dioxide") {
		t.Errorf("a project without gas is not told apart: %v", s)
	}
	if _, err := gassafety.Week(air.GasResult{}); err == nil {
		t.Error("a week without hours was drawn")
	}
	if _, err := gassafety.Course(air.GasResult{}, nil); err == nil {
		t.Error("a course without hours was drawn")
	}
}

// The curve of a room that stands at one concentration is a level line at its height:
// own arithmetic.
func TestCourseStandsWhereTheGasStands(t *testing.T) {
	g := air.GasResult{Name: "cellar"}
	for h := range 168 {
		g.Hours = append(g.Hours, air.HourRow{Hour: h, PPM: unit.PPM(5000), FanOff: unit.PPM(5000)})
	}
	d, err := gassafety.Course(g, []air.Limit{{Code: "limit", Share: unit.PPM(5000)}})
	if err != nil {
		t.Fatal(err)
	}
	var limit drawing.MM
	for _, it := range d.Items {
		if l, ok := it.(drawing.Line); ok && l.Pen.Dash == drawing.Dashed {
			limit = l.From.Y
		}
	}
	for _, it := range d.Items {
		line, ok := it.(drawing.Polyline)
		if !ok {
			continue
		}
		if last := line.Points[len(line.Points)-1]; last.Y != limit {
			t.Errorf("5000 ppm is drawn at %v mm, the limit of 5000 ppm at %v mm", last.Y, limit)
		}
	}
}
