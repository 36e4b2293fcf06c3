package air

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/rule"
)

// near fails unless got lies within tol of want; the tolerance follows from the digits printed.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.6g, want %.6g ± %.2g", what, got, want, tol)
	}
}

// brewRoom is the invented worked example: 10.5 hL in the kettle, 8 % an hour.
func brewRoom() Steam {
	return Steam{
		Room: Room{Name: "brewhouse", Area: unit.SquareMetres(60), Height: unit.Metres(3)}, Evaporation: unit.KgPerHour(84), Kettle: unit.Litres(1050), Heat: "electric",
		Indoor: AirState{unit.Celsius(20), unit.Percent(50)}, Winter: AirState{unit.Celsius(-3), unit.Percent(90)}, Summer: AirState{unit.Celsius(26), unit.Percent(60)},
		Canopy:    &Canopy{Name: "HD-18", Length: unit.Metres(2), Width: unit.Metres(1.8), Underside: unit.Metres(2.1), Flow: unit.M3PerSecond(0.9)},
		Makeup:    MakeUp{To: unit.Celsius(18)},
		Condenser: nil,
		Canopies:  []Canopy{{Name: "HD-30", Length: unit.Metres(2), Width: unit.Metres(1.8), Flow: unit.M3PerSecond(2.6)}},
		Condenses: []Condenser{{Name: "VC-60", Vapour: unit.KgPerHour(60), WaterIn: unit.Celsius(12), WaterOut: unit.Celsius(80)}, {Name: "VC-100", Vapour: unit.KgPerHour(100), WaterIn: unit.Celsius(12), WaterOut: unit.Celsius(80)}},
	}
}

// cellar is the invented worked example: four tanks of 10 hL, two at their peak, two at
// a quarter of it.
func cellar() GasSpace {
	m, _ := FermentationGas(unit.Hectolitres(10), unit.DegreesPlato(12), unit.DegreesPlato(2.5))
	g, _ := PeakGas(m, unit.DegreesPlato(12), unit.DegreesPlato(2.5), unit.PlatoPerDay(4))
	hourly := make([]unit.MassFlow, 168)
	for i := range hourly {
		hourly[i] = 2*g + 2*g/4
	}
	return GasSpace{
		Room: Room{Name: "cellar", Area: unit.SquareMetres(60), Height: unit.Metres(3)}, Hourly: hourly, Fan: ptr(unit.VolumeFlow(0)),
		Fans: []unit.VolumeFlow{unit.M3PerHour(300), unit.M3PerHour(800)}, Stored: ptr(true), Stores: []Store{{Name: "cylinder", Content: unit.Kilograms(6.35), Count: 4}},
		Alarm: Alarm{Detectors: ptr(0)},
	}
}

func TestGoldenSteam(t *testing.T) {
	s := brewRoom()
	r, err := Size(Input{Country: GB, Steam: &s})
	if err != nil {
		t.Fatal(err)
	}
	x := r.Steam
	// source: invented worked example, recomputed by an independent script
	near(t, "capture m³/s", x.Capture.M3S(), 0.90, 0.005)
	near(t, "duct mm", x.DuctProposed.MM(), 400, 0)
	near(t, "duct m/s", x.DuctAt.MS(), 7.2, 0.05)
	near(t, "make-up heat kW", x.MakeUpHeat.KW(), 19.4, 0.05)
	near(t, "stream °C", x.Stream.Air.Temp.C(), 29.4, 0.05)
	near(t, "condensate kg/h", x.Stream.Condensate.KgH(), 10.7, 0.05)
	near(t, "no fog m³/s", x.NoFog.M3S(), 2.31, 0.005)
	near(t, "dry duct m³/s", x.DryDuct.M3S(), 3.98, 0.005)
	near(t, "condenser kW", x.Condenser.Duty.KW(), 54, 0.5)
	near(t, "cooling water L/h", x.Condenser.Water.LH(), 684, 0.5)
	near(t, "L per kg", x.Condenser.PerKg.M3Kg()*1000, 8.1, 0.05)
	near(t, "spray L/h", x.Condenser.SprayFor.LH(), 1614, 0.5)
	near(t, "pure vapour m³/h", x.Vapour.M3H(), 140, 0.5)
	// source: Darcy-Weisbach by hand: 0.9 m³/s in 400 mm, 7.16 m/s, f 0.0174; (0.0174·6/0.4 + 2·0.3 + 1)·1.2·7.16²/2
	near(t, "duct Pa", x.DuctLoss.Pa(), 57.3, 0.6)
	if w := x.Moisture[1]; w.NoFog != 0 || w.Words == "" {
		t.Errorf("winter air at -3 °C and 90 %% is said to carry the vapour with %v", w.NoFog)
	}
	if x.Governs != "moisture balance (no fog)" {
		t.Errorf("governs %q", x.Governs)
	}
}

func TestGoldenGas(t *testing.T) {
	r, err := Size(Input{Country: GB, Gas: []GasSpace{cellar()}})
	if err != nil {
		t.Fatal(err)
	}
	c := r.Gas[0].Chosen
	// source: invented worked example, recomputed by an independent script
	near(t, "G m³/h", c.PeakFlow.M3H(), 0.924, 0.0005)
	near(t, "Q at K = 1", c.NeedPerfect.M3H(), 202, 0.5)
	near(t, "Q at K = 3", c.Need.M3H(), 605, 0.5)
	near(t, "air changes", c.NeedChanges.H(), 3.36, 0.005)
	near(t, "ppm with need", c.AtNeed.PPM(), 1947, 0.5)
	for i, want := range []float64{0.89, 2.84, 7.71} {
		near(t, "fan off h", c.FanOff[i].Steady.H(), want, 0.005)
		near(t, "fan off in the week h", c.FanOff[i].Week.H(), want, 0.005)
	}
	near(t, "purge min", c.PurgeTime.Min(), 33.3, 0.05)
	four, err := After(unit.PPM(420), c.PeakFlow, unit.M3PerHour(100), unit.CubicMetres(180), unit.Hours(4))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ppm at 4 h", four.PPM(), 8657, 1)
}

func TestRulesForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
	if err := calc.Verify(Calculations()); err != nil {
		t.Fatal(err)
	}
}

func BenchmarkSize(b *testing.B) {
	s := brewRoom()
	g := cellar()
	g.Hourly = nil
	for i := range 8 {
		g.Batches = append(g.Batches, Batch{Tank: "FV", Start: unit.Hours(float64(i) * 18), Volume: unit.Hectolitres(10), Original: unit.DegreesPlato(12), Final: unit.DegreesPlato(2.5)})
	}
	in := Input{Country: GB, Steam: &s, Gas: []GasSpace{g}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkRules(b *testing.B) {
	s := brewRoom()
	in := Input{Country: GB, Steam: &s, Gas: []GasSpace{cellar()}}
	r, err := Size(in)
	if err != nil {
		b.Fatal(err)
	}
	rules := Rules()
	b.ReportAllocs()
	for b.Loop() {
		rule.Run(rules, Facts{in, r})
	}
}
