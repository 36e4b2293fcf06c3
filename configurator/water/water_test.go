package water

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/rule"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.6g, want %.6g ± %.2g", what, got, want, tol)
	}
}

func hours(h float64) unit.Duration { return unit.Hours(h) }

// tenHL is an invented brew day of 10 hL on a first floor with a 25 mm service.
func tenHL() Input {
	return Input{
		Country: GB,
		Supply: Supply{
			Pressure: ptr(unit.BarGauge(3)), Flow: ptr(unit.LitresPerSecond(0.6)), Bore: ptr(unit.Millimetres(20.4)), Run: unit.Metres(30), Rise: ptr(unit.Metres(6)),
			Hardness: ptr(unit.MilligramsPerLitre(280)), Boosters: []Booster{{"BP-2", unit.LitresPerSecond(1), unit.Bars(3)}, {"BP-4", unit.LitresPerSecond(3), unit.Bars(5)}},
		},
		Fixtures: []Fixture{{"washbasin", 2}, {"sink", 1}, {"wc-cistern", 2}},
		Draws: []Draw{
			{Name: "HLT fill", Start: hours(6), Length: hours(1), Volume: unit.Litres(1500)},
			{Name: "wort cooling", Start: hours(12), Length: unit.Minutes(50), Volume: unit.Litres(1100)},
			{Name: "CIP rinse", Start: hours(12.5), Length: unit.Minutes(30), Volume: unit.Litres(600)},
			{Name: "hose", Start: hours(12.2), Length: unit.Minutes(30), Flow: unit.LitresPerSecond(0.5)},
		},
		Outlets: []Outlet{{Name: "hose point", Use: "hose", Device: "EA"}, {Name: "CIP fill", Use: "cip", Device: "AB"}, {Name: "HLT fill", Use: "hot-liquor", Device: "AA"}, {Name: "glycol", Use: "coolant", Device: "none"}},
		Heating: "electric",
		Discharges: []Discharge{
			{Name: "caustic dump", Kind: "caustic", Volume: unit.Litres(150), Outlet: unit.Millimetres(38), Head: unit.Metres(1.2), Gully: "G1", Drain: "D1"},
			{Name: "hot liquor dump", Kind: "hot-liquor", Volume: unit.Litres(300), Temp: ptr(unit.Celsius(85)), Outlet: unit.Millimetres(51), Head: unit.Metres(1.2), Gully: "G1"},
			{Name: "yeast", Kind: "yeast", Volume: unit.Litres(40), Flow: unit.LitresPerSecond(0.5), Gully: "G1"},
			{Name: "rinses", Kind: "rinse", Volume: unit.Litres(600), Times: 2, Flow: unit.LitresPerSecond(0.5), Gully: "G1"},
		},
		Gullies:    []Gully{{Name: "G1", Size: "DN100", Traffic: "forklift", Class: "L15", Drain: "D1"}},
		Drains:     []Drain{{Name: "D1", Size: "DN100"}},
		Consent:    Consent{Planned: ptr(false), MaxDay: ptr(unit.Litres(1000)), MaxRate: ptr(unit.LitresPerSecond(2))},
		BeerPerDay: unit.Litres(1000), BeerWeek: unit.Litres(2000), Yeast: "drain",
		Air: GasSupply{
			Users:      []AirUser{{"valves", unit.M3PerHour(3), unit.Percent(20), unit.BarGauge(6), false}, {"wort aeration", unit.M3PerHour(2), 0, unit.BarGauge(2), true}},
			Compressor: &Compressor{"AC-1", unit.M3PerHour(2), unit.BarGauge(8), unit.Litres(50), "2.4.2"}, Others: []Compressor{{"AC-2", unit.M3PerHour(12), unit.BarGauge(10), unit.Litres(270), "1.4.1"}},
			Cylinder: unit.Kilograms(34), Nitrogen: unit.CubicMetres(12),
		},
	}
}

func TestForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
	if err := calc.Verify(Calculations()); err != nil {
		t.Fatal(err)
	}
}

func TestReferenceFigures(t *testing.T) {
	q, err := VesselOutflow(unit.Millimetres(38), unit.Metres(1.2))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "38 mm outflow", q.LS(), 3.3, 0.05) // source: own arithmetic of the worked figure
	q, _ = VesselOutflow(unit.Millimetres(51), unit.Metres(1.2))
	near(t, "51 mm outflow", q.LS(), 5.9, 0.05) // source: as above
	c, _, err := DrainCapacity(unit.Millimetres(96), unit.Percent(1), unit.Percent(50))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "DN100 half full at 1 %", c.LS(), 2.50, 0.005) // source: EN 12056-2:2000 Table B.1, 2.5 L/s
	b, _ := Blend(unit.Celsius(85), unit.Celsius(43), unit.Celsius(12))
	near(t, "blend", b.Value(), 1.35, 0.005) // source: own arithmetic
	cod, err := BeerCOD(unit.DegreesPlato(12), unit.DegreesPlato(2.5))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "COD of beer g/L", cod.GL(), 131, 0.5) // source: own arithmetic with 2.087 and 1.1
	near(t, "25 mm PE at 2 m/s", Capacity(unit.Millimetres(20), unit.MetresPerSecond(2)).LS(), 0.63, 0.005)
}

func TestRun(t *testing.T) {
	in := tenHL()
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range rule.Run(Rules(), Facts{in, r}) {
		t.Logf("%s %-15s %-12s %s", f.Rule.ID, f.Outcome, f.Subject, f.Words)
		for _, m := range f.Remedies {
			t.Logf("       -> %s: %s", m.Kind, m.Words)
		}
		if f.Outcome == rule.Fail && len(f.Remedies) == 0 {
			t.Errorf("%s %s fails without a remedy", f.Rule.ID, f.Subject)
		}
	}
}

func BenchmarkSize(b *testing.B) {
	in := tenHL()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(in); err != nil {
			b.Fatal(err)
		}
	}
}
