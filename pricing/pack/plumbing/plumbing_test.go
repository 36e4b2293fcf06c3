package plumbing_test

import (
	"math"
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/water"
	"tunwright/pricing/pack/plumbing"
	"tunwright/pricing/pack/proof"
	"tunwright/pricing/paper/drawing"
	"tunwright/testdata/projects"
)

func TestPaperOfEachSample(t *testing.T) {
	for _, name := range projects.Names() {
		t.Run(name, func(t *testing.T) {
			r := proof.Report(t, name)
			text := proof.Print(t, "plumbing-"+name, proof.Paper(plumbing.Title, r, append(plumbing.Sections(r), plumbing.Workings(r)...)))
			flat := proof.Flat(text)
			w := r.Water
			want := []string{unit.In(w.Supply.Needed, "l_s", 2), unit.In(w.Demand.Day, "m3", 1), w.Supply.Pipe, "Who does what", "Data for the application to discharge"}
			for _, c := range water.Cautions() {
				want = append(want, c[:24])
			}
			for _, b := range w.Backflow {
				want = append(want, b.Outlet[:3], b.Needs)
			}
			for _, d := range w.Demand.Draws {
				want = append(want, strings.Fields(d.Name)[0])
			}
			for _, c := range w.Waste.Consent {
				want = append(want, c.Parameter)
			}
			for _, g := range w.Gullies {
				want = append(want, g.Name, g.Needs)
			}
			for _, x := range want {
				if !strings.Contains(flat, x) {
					t.Errorf("%q is not on the pages", x)
				}
			}
			if name == projects.Demo {
				proof.Golden(t, "plumbing", text)
			}
		})
	}
}

func TestWithoutAResult(t *testing.T) {
	r := configurator.Report{Gaps: []configurator.Gap{{Discipline: configurator.Water, Words: "the draw has no length"}}}
	if s := plumbing.Sections(r); len(s) != 1 || !strings.Contains(proof.Words(s), "the draw has no length") {
		t.Errorf("the paper does not say why nothing was worked out: %v", s)
	}
	if _, err := plumbing.Day(r); err == nil {
		t.Error("a day without draws was drawn")
	}
}

// The areas of the day's chart hold the volumes drawn, one on top of the other: litres
// by flow and time are proportional to the square millimetres, by own arithmetic.
func TestDayHoldsTheVolumes(t *testing.T) {
	steps, draws, err := water.Timeline([]water.Draw{
		{Name: "tank", Start: unit.Hours(6), Length: unit.Hours(2), Volume: unit.Litres(1800)},
		{Name: "hose", Start: unit.Hours(7), Length: unit.Hours(1), Volume: unit.Litres(900)},
		{Name: "tank", Start: unit.Hours(12), Length: unit.Hours(1), Volume: unit.Litres(1800)},
	})
	if err != nil {
		t.Fatal(err)
	}
	r := configurator.Report{Water: &water.Result{Demand: water.Demand{Steps: steps, Draws: draws, ProcessPeak: unit.LitresPerSecond(0.5)}}}
	d, err := plumbing.Day(r)
	if err != nil {
		t.Fatal(err)
	}
	areas, feet := map[drawing.Fill]float64{}, map[drawing.Fill]drawing.MM{}
	for _, it := range d.Items {
		if p, ok := it.(drawing.Polygon); ok {
			feet[p.Fill] = max(feet[p.Fill], p.Points[3].Y)
			areas[p.Fill] += float64((p.Points[1].X - p.Points[0].X) * (p.Points[3].Y - p.Points[0].Y))
		}
	}
	tank, hose := areas[drawing.ChartFill(0)], areas[drawing.ChartFill(1)]
	if hose == 0 || math.Abs(tank/hose-4) > 1e-9 {
		t.Errorf("3600 L and 900 L are drawn as %.3f and %.3f mm²", tank, hose)
	}
	if feet[drawing.ChartFill(1)] >= feet[drawing.ChartFill(0)] {
		t.Errorf("the hose stands at %.1f mm beside the tank at %.1f mm, not on it", feet[drawing.ChartFill(1)], feet[drawing.ChartFill(0)])
	}
}
