package floor

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol || math.IsNaN(got) {
		t.Errorf("%s = %.5g, want %.5g ± %.2g", what, got, want, tol)
	}
}

type worked struct {
	tag                                string
	v                                  Vessel
	liquid, rho                        float64
	x, y                               float64
	total, empty, op, test             float64
	outside, height, footO, footT, udl float64
}

// workedVessels is an independently programmed example (statics and geometry done a
// second time in another language by numerical slices).
func workedVessels() []worked {
	base := func(d, l, t float64, bottom End, under, legs, legKg, jacket, fit float64, top End) Vessel {
		return Vessel{
			Diameter: unit.Metres(d), Cylinder: unit.Metres(l), Shell: unit.Metres(t), Bottom: bottom, Top: top, Outlet: unit.Metres(.1),
			JacketShare: unit.Fraction(jacket), JacketShell: unit.Millimetres(1.5), Insulation: unit.Millimetres(80), Cladding: unit.Millimetres(1.5),
			Legs: 4, LegLength: unit.Metres(legs), LegMass: unit.KgPerM(legKg), Fittings: unit.Fraction(fit), Under: unit.Metres(under), Over: unit.Metres(.15),
		}
	}
	return []worked{
		{"MLT", base(1.40, 1.00, .004, Flat, .70, .70, 7, 0, .35, Dished), 1.00, 1080, 1.60, 1.50, 1.811, 555, 1635, 2366, 1.571, 2.121, 4.01, 5.80, 6.5},
		{"KET", base(1.30, 1.10, .004, Dished, .60, .95, 7, .55, .20, Dished), 1.15, 1045, 3.50, 1.50, 1.895, 549, 1751, 2444, 1.471, 2.354, 4.29, 5.99, 7.9},
		{"HLT", base(1.30, 1.45, .003, Dished, .45, .80, 7, 0, .10, Dished), 2.00, 1000, 5.50, 1.50, 2.359, 451, 2451, 2810, 1.469, 2.554, 6.01, 6.89, 11.1},
		{"FV1", base(1.00, 1.35, .003, Conical, .40, 1.10, 7, .55, .10, Dished), 1.00, 1050, 1.30, 6.60, 1.386, 394, 1444, 1780, 1.169, 2.873, 3.54, 4.36, 10.4},
		{"FV2", base(1.00, 1.35, .003, Conical, .40, 1.10, 7, .55, .10, Dished), 1.00, 1050, 3.10, 6.60, 1.386, 394, 1444, 1780, 1.169, 2.873, 3.54, 4.36, 10.4},
		{"FV3", base(1.25, 1.75, .003, Conical, .40, 1.30, 9, .55, .10, Dished), 2.00, 1050, 6.00, 5.20, 2.783, 617, 2717, 3400, 1.419, 3.538, 6.66, 8.34, 13.2},
		{"BBT", base(1.00, 1.20, .003, Dished, .45, .75, 7, .55, .10, Dished), 1.00, 1010, 8.50, 6.50, 1.140, 328, 1338, 1469, 1.169, 2.188, 3.28, 3.60, 9.6},
	}
}

// Rows: beam line, ΣP, equipment moment and place, total moment, reactions,
// equivalent uniform loads by moment and shear, use at work and all brim-full.
var workedLines = [][10]float64{
	{15.94, 11.71, 6.32, 29.53, 16.56, 17.38, 2.46, 2.90, 0.790, 0.893},
	{47.40, 38.08, 1.90, 71.77, 43.70, 39.70, 2.99, 3.64, 0.994, 1.200},
	{49.48, 56.15, 4.85, 90.54, 45.39, 40.09, 3.77, 3.78, 1.032, 1.175},
	{12.51, 14.57, 6.22, 47.15, 20.60, 27.91, 1.97, 2.33, 0.635, 0.660},
	{0, 0, 0, 18.00, 9.00, 9.00, 1.50, 1.50, 0.409, 0.409},
}

func workedInput() Input {
	clear := unit.Metres(3.9)
	in := Input{
		Room:    plan.Room{Outline: plan.Polygon{plan.P(0, 0), plan.P(12, 0), plan.P(12, 8), plan.P(0, 8)}, Clear: &clear},
		Support: Suspended,
		Allow:   &Given[unit.AreaLoad]{Value: unit.KilonewtonsPerM2(5), Basis: Told, From: Landlord, By: "landlord's letter"},
		BuildUp: []Layer{
			{Name: "Falls screed, mean", Thickness: unit.Millimetres(55), Weight: unit.KilonewtonsPerM3(21)},
			{Name: "Resin", Thickness: unit.Millimetres(9), Weight: unit.KilonewtonsPerM3(20)},
		},
	}
	for i, name := range []string{"0", "1", "2", "3", "4"} {
		x := 3 * float64(i)
		in.Members = append(in.Members, Member{Name: name, From: plan.P(x, 0), To: plan.P(x, 8)})
	}
	for _, w := range workedVessels() {
		v := w.v
		in.Items = append(in.Items, Item{
			Item:   plan.Item{Tag: w.tag, Length: unit.Metres(w.outside), Height: unit.Metres(w.height), Round: true, Place: &plan.Place{At: plan.P(w.x, w.y)}},
			Vessel: &v, Liquid: unit.CubicMetres(w.liquid), Density: unit.KgPerM3(w.rho),
			Feet: &Feet{Count: 4, Circle: unit.Metres(.8 * v.Diameter.M()), Pad: unit.Millimetres(120)},
		})
	}
	return in
}

func TestWorkedExample(t *testing.T) {
	in := workedInput()
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range workedVessels() {
		e, err := EstimateVessel(w.v)
		if err != nil {
			t.Fatal(err)
		}
		row := r.Items[i]
		near(t, w.tag+" volume m³", e.Total.M3(), w.total, .0006)
		near(t, w.tag+" empty kg", row.Empty.Kg(), w.empty, .6)
		near(t, w.tag+" operating kg", row.Operating.Kg(), w.op, .6)
		near(t, w.tag+" test kg", row.Test.Kg(), w.test, .6)
		near(t, w.tag+" outside m", e.Outside.M(), w.outside, .0006)
		near(t, w.tag+" height m", e.Height.M(), w.height, .0006)
		near(t, w.tag+" foot at work kN", row.Feet.Operating.KN(), w.footO, .006)
		near(t, w.tag+" foot brim-full kN", row.Feet.Test.KN(), w.footT, .006)
		near(t, w.tag+" footprint kN/m²", row.Footprint.KNM2(), w.udl, .06)
	}
	near(t, "added build-up", r.AddedLoad.KNM2(), 1.335, .0006)
	near(t, "available", r.Available.KNM2(), 3.665, .0006)
	near(t, "room average", r.RoomAverage.KNM2(), 1.31, .006)
	near(t, "total t", r.Operating.T(), 12.78, .006)
	for i, want := range workedLines {
		m := r.Members[i]
		c := m.Operating
		for k, got := range []float64{c.Equipment.KN(), c.EquipmentMoment.KNM(), c.EquipmentAt.M(), c.Moment.KNM(), c.Left.KN(), c.Right.KN(), c.ByMoment.KNM2(), c.ByShear.KNM2(), c.Use.Value(), m.Test.Use.Value()} {
			tol := .006
			if k >= 8 {
				tol = .0006
			}
			near(t, "line "+m.Name+" column "+string(rune('a'+k)), got, want[k], tol)
		}
	}
	for k, want := range []float64{1.55, 2.57, 1.10, 0} {
		near(t, r.Bays[k].Name, r.Bays[k].Operating.KNM2(), want, .006)
	}
	near(t, "tributary of FV3", r.Items[5].Tributary.KNM2(), 6.5, .06)
	near(t, "FV3 pad MPa", r.Items[5].Feet.Operating.KN()/(math.Pi/4*.12*.12)/1000, .589, .0006)
	near(t, "FV3 centre of gravity at work", r.Items[5].CentreOperating.M(), 1.900, .002)
}

func TestWorkedExampleMoved(t *testing.T) {
	in := workedInput()
	in.Items[5].Place.At = plan.P(7.5, 6.9)
	in.Items[6].Place.At = plan.P(9.6, 6.9)
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct{ op, test float64 }{{.790, .893}, {.981, 1.185}, {.877, .964}, {.876, .962}, {.512, .522}} {
		near(t, "line use at work", r.Members[i].Operating.Use.Value(), want.op, .0006)
		near(t, "line use brim-full", r.Members[i].Test.Use.Value(), want.test, .0006)
	}
}

func BenchmarkSize(b *testing.B) {
	in := workedInput()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(in); err != nil {
			b.Fatal(err)
		}
	}
}
