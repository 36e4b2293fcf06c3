package cooling

import (
	"testing"

	"tunwright/catalog/unit"
)

// The worked cellar was computed apart from this code, in Python, with loads taken at
// the beginning of each hour; the code takes means over the hour, so that the highest
// hour differs by 0.2 %. Figures are printed there in four digits.
func TestWorkedCellar(t *testing.T) {
	r := must(Size(exampleCellar()))
	fv, bbt, clt := r.Tanks[0], r.Tanks[6], r.Tanks[8]
	crash, load, circuit := r.Crashes[0], r.Load, r.Circuit
	peak := r.Hours[120]
	for _, tt := range []struct {
		what           string
		got, want, tol float64
	}{
		{"cone height m", fv.Body.Bottom.M(), 0.866, 5e-4},
		{"shell height m", fv.Body.Cylinder.M(), 1.177, 5e-4},
		{"cone surface m²", fv.Body.BottomA.M2(), 1.571, 5e-4},
		{"shell surface m²", fv.Body.Shell.M2(), 3.697, 5e-4},
		{"top surface m²", fv.Body.TopA.M2(), 0.990, 5e-4},
		{"fermenter surface m²", fv.Body.Surface.M2(), 6.258, 5e-4},
		{"bright tank surface m²", bbt.Body.Surface.M2(), 5.588, 5e-4},
		{"liquor tank surface m²", clt.Body.Surface.M2(), 8.896, 5e-4},
		{"U of the insulation", fv.U.WM2K(), 0.3123, 5e-5},
		{"fermenter gain at 1 °C W", fv.GainCold.W(), 68.01, 0.01},
		{"fermenter gain at 20 °C W", SkinGain(fv.U, fv.Body.Surface, r.Room, unit.Celsius(20)).W(), 23.45, 0.01},
		{"bright tank gain W", bbt.GainCold.W(), 60.73, 0.01},
		{"liquor tank gain W", clt.GainCold.W(), 90.02, 0.01},
		{"peak fermentation kW", fv.PeakHeat.KW(), 0.3075, 5e-5},
		{"crash duty kW", crash.Mean.KW(), 0.9347, 5e-5},
		{"crash duty with gain kW", crash.WithGain.KW(), 0.9804, 5e-5},
		{"jacket m²", fv.Jacket.M2(), 2.107, 5e-4},
		{"jacket flow L/h", fv.JacketFlow.LH(), 408.8, 0.1},
		{"crash time, valve open, h", crash.Open.H(), 10.62, 0.02},
		{"first draw kW", crash.Initial.KW(), 7.059, 5e-3},
		{"first rise K", crash.Rise.K(), 16.0, 0.05},
		{"glycol heat kJ/kgK", r.Fluid.AtMean.Heat.KJKgK(), 3.752, 5e-4},
		{"glycol density", r.Fluid.AtMean.Density.KgM3(), 1036, 0.5},
		{"highest hour", float64(load.PeakHour), 120, 0},
		{"highest hour kW", load.Process.KW(), 2.615, 0.006},
		{"ferment then kW", peak.Ferment.KW(), 0.41, 0.005},
		{"crash then kW", peak.Crash.KW(), 0.93, 0.005},
		{"gains then kW", peak.Gain.KW(), 0.16, 0.005},
		{"bright then kW", peak.Bright.KW(), 0.25, 0.005},
		{"liquor then kW", peak.Liquor.KW(), 0.86, 0.005},
		{"mean kW", load.Mean.KW(), 1.334, 0.002},
		// The Python sum counts the refill of the one liquor tank twice: 8.143 kW and 0.32.
		{"sum of maxima kW", load.SumOfMaxima.KW(), 8.143 - 0.768, 0.001},
		{"diversity", load.Diversity.Value(), 2.615 / (8.143 - 0.768), 0.001},
		{"with one more crash kW", load.Design.KW(), 3.550, 0.006},
		{"pipe gain kW", load.Pipe.KW(), 0.5265, 5e-5},
		{"pump heat W", load.Pump.W(), 78.07, 0.2},
		{"duty kW", load.Duty.KW(), 4.777, 0.006},
		{"flow by jackets m³/h", circuit.Flow.M3H(), 1.635, 5e-4},
		{"velocity m/s", circuit.Sections[0].Velocity.MS(), 0.39, 0.005},
		{"Reynolds number", circuit.Sections[0].Reynolds.N(), 1509, 0.6},
		{"gradient Pa/m", circuit.Sections[0].Gradient.PaM(), 88, 0.1},
		{"pipe drop kPa", circuit.PipeDrop.KPa(), 5.283, 0.001},
		{"valve drop kPa", circuit.ValveDrop.KPa(), 0.4361, 0.001},
		{"whole drop kPa", circuit.Total.KPa(), 67.25, 0.15}, // fittings at the branch's own bore
		{"head m", circuit.Head.M(), 7.608, 0.02},
		{"hydraulic W", circuit.Hydraulic.W(), 35.13, 0.1},
		{"electrical W", circuit.Electrical.W(), 91.84, 0.25},
		{"running share", r.Chiller.Run.Value(), 1.939 / 4.811, 0.002},
		{"swelling %", r.Store.Expansion.Pct(), 1.754, 5e-4},
		{"first ice °C", r.Fluid.Freeze.C(), -14.8, 1e-9}, // table; the polynomial gives -14.83
		{"catalogue capacity kW", must(NominalCapacity(load.Duty, unit.Fraction(0.594))).KW(), 8.043, 0.01},
		{"heat to the air kW", HeatRejection(unit.Kilowatts(4.777), unit.Kilowatts(4.777/2.4)).KW(), 6.768, 1e-3},
	} {
		near(t, tt.what, tt.got, tt.want, tt.tol+1e-12)
	}
	if s := circuit.Sections[0]; s.Pipe.Size != "DN 32" || s.Regime != Laminar {
		t.Errorf("main is %s, %s; want DN 32, laminar", s.Pipe.Size, s.Regime)
	}
}

// The parts of the worked cellar that stand on their own.
func TestWorkedParts(t *testing.T) {
	fluid := must(Glycol(unit.Celsius(-2), unit.Fraction(0.33)))
	ua := must(EffectiveUA(unit.WattsPerK(170*2.107), unit.WattsPerK(0.1176*3752)))
	near(t, "UA_eff W/K", ua.WK(), 245.3, 0.15)
	near(t, "transfer units", 170*2.107/(0.1176*3752), 0.8119, 5e-4)
	closed := must(BatchCooling(unit.KilojoulesPerK(4250.5), ua, 0, unit.Celsius(20), unit.Celsius(1), unit.Celsius(-4), unit.Celsius(30)))
	near(t, "Kern time h", closed.H(), 7.55, 0.01)
	near(t, "first draw kW", ua.WK()*24/1000, 5.887, 0.005)
	near(t, "first over mean", ua.WK()*24/(4250.5e3*19/closed.S()), 1.981, 0.002)

	short := must(ShortCycling(unit.Kilowatts(4.777/2), unit.Kilowatts(0.3), unit.Minutes(5), unit.Kelvins(2), fluid))
	near(t, "store against short running L", short.L(), 80.6, 0.1)
	vessel := must(ExpansionVessel(unit.Litres(729.5), unit.Percent(1.754), unit.BarGauge(1), unit.BarGauge(2.5)))
	near(t, "expansion vessel L", vessel.L(), 38.36, 0.05)

	// Wort: 10 hL in 45 min at 96 °C against 1.15 L/L of water at 15 °C.
	wort, water := unit.KilowattsPerK(1048.0/2700*3.90), unit.KilowattsPerK(1150.0/2700*4.19)
	p := must(PlateStage(unit.KilowattsPerK(8.75), wort, water, unit.Celsius(96), unit.Celsius(15)))
	near(t, "transfer units", p.Units.N(), 5.78, 0.005)
	near(t, "effectiveness", p.Effectiveness.Value(), 0.9025, 5e-5)
	near(t, "first stage kW", p.Duty.KW(), 110.7, 0.05)
	near(t, "wort after it °C", p.WortOut.C(), 22.9, 0.05)
	near(t, "water °C", p.WaterOut.C(), 77.01, 0.01)
	near(t, "to 18 °C kW", must(SecondStage(wort, p.WortOut, unit.Celsius(18))).KW(), 7.418, 0.005)
	lager := must(SecondStage(wort, p.WortOut, unit.Celsius(10)))
	near(t, "to 10 °C kW", lager.KW(), 19.53, 0.01)
	need := unit.Kilowatts(lager.KW()*0.75 - (4.777-2.615)*0.75).KW() // kWh
	near(t, "store for it m³", must(StoreVolume(unit.KilowattHours(need), unit.Kelvins(4), fluid)).M3(), 3.017, 0.01)
	near(t, "cold liquor kWh", must(LiquorDuty(unit.CubicMetres(1.1), unit.Celsius(15), unit.Celsius(3), unit.Hours(1))).KW(), 15.36, 0.01)
}

// Glycol at -4 °C in the worked pipes: losses as printed with the comparison to water.
func TestColdGlycolInPipes(t *testing.T) {
	f := must(Glycol(unit.Celsius(-4), unit.Fraction(0.33)))
	sizes := must(Pipes("stainless"))
	for _, tt := range []struct {
		size     string
		re, grad float64
	}{{"DN 25", 1951, 246}, {"DN 32", 1509, 88}, {"DN 40", 1308, 50}, {"DN 50", 1029, 19}, {"DN 65", 803, 7}} {
		found := 0
		for _, p := range sizes {
			if p.Size != tt.size {
				continue
			}
			found++
			pf := must(FlowInPipe(unit.M3PerHour(1.635), p, f))
			near(t, tt.size+" Re", pf.Reynolds.N(), tt.re, 1)
			near(t, tt.size+" Pa/m", pf.Gradient.PaM(), tt.grad, 0.51)
		}
		if found == 0 {
			t.Fatalf("%s is not in the table of pipes", tt.size)
		}
	}
	for _, tt := range []struct{ bore, v, grad float64 }{
		{26, 0.5, 245}, {38.4, 0.5, 112}, {56.3, 0.5, 82}, {26, 1, 697}, {38.4, 1, 547}, {56.3, 1, 342}, {26, 1.5, 1854}, {38.4, 1.5, 1136}, {56.3, 1.5, 694},
	} {
		p := Pipe{Bore: unit.Millimetres(tt.bore), Rough: unit.Millimetres(0.05)}
		q := unit.M3PerSecond(tt.v * 3.14159265 / 4 * p.Bore.M() * p.Bore.M())
		near(t, "Pa/m", must(FlowInPipe(q, p, f)).Gradient.PaM(), tt.grad, 0.012*tt.grad+1)
	}
	for _, tt := range []struct{ od, foam, gain float64 }{{33.7, 13, 10.6}, {42.4, 25, 8.8}, {60.3, 40, 8.5}, {76.1, 19, 15.9}} {
		q := must(PipeGain(unit.Millimetres(tt.od), unit.Millimetres(tt.foam), unit.WattsPerMK(0.036), unit.Celsius(30), unit.Celsius(-4), unit.WattsPerM2K(8)))
		near(t, "pipe gain W/m", q.W(), tt.gain, 0.05)
	}
	for _, tt := range []struct{ foam, surface float64 }{{19, 24.6}, {25, 26.0}, {32, 26.9}, {40, 27.6}} {
		s := must(PipeSurface(unit.Millimetres(60.3), unit.Millimetres(tt.foam), unit.WattsPerMK(0.036), unit.Celsius(30), unit.Celsius(-4), unit.WattsPerM2K(8)))
		near(t, "surface °C", s.C(), tt.surface, 0.06)
	}
}
