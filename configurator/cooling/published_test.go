package cooling

import (
	_ "embed"
	"math"
	"testing"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

//go:embed testdata/ashrae-glycol.csv
var ashraeGlycol string

// near fails where two figures lie further apart than the published digits allow.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s: got %.6g, want %.6g ± %.2g", what, got, want, tolerance)
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// Two independent fits of propylene glycol: Melinder's polynomials in the code against
// the table of ASHRAE Handbook Fundamentals 2001 in testdata. They agree within 0.1 %
// (heat capacity) to 13 % (viscosity next to freezing), which is what circuits carry
// their 15 % for.
func TestGlycolAgainstASHRAE(t *testing.T) {
	tab := source.MustTable("ashrae-glycol", ashraeGlycol)
	if tab.Len() != 20 {
		t.Fatalf("%d rows, want 20", tab.Len())
	}
	num := func(r int, name string) float64 { x, _ := tab.Number(r, name); return x }
	for r := range tab.Len() {
		mass, ok := between(freezingVolume, freezingMass, num(r, "volume"))
		if !ok {
			t.Fatal("volume outside the table")
		}
		f, err := Glycol(unit.Celsius(num(r, "temp")), unit.Percent(mass))
		if err != nil {
			t.Errorf("row %d: %v", r+1, err)
			continue
		}
		at := tab.Text(r, "volume") + " % at " + tab.Text(r, "temp") + " °C: "
		near(t, at+"density", f.Density.KgM3(), num(r, "density"), 0.007*num(r, "density"))
		near(t, at+"heat", f.Heat.JKgK(), num(r, "heat"), 0.003*num(r, "heat"))
		near(t, at+"conductivity", f.Conductivity.WMK()*1000, num(r, "conductivity"), 0.022*num(r, "conductivity"))
		near(t, at+"viscosity", f.Viscosity.PaS()*1e5, num(r, "viscosity"), 0.13*num(r, "viscosity"))
	}
}

func TestFreezingPoints(t *testing.T) {
	// Lange's Handbook of Chemistry, Table 5.13, by volume; ASHRAE and Lange differ by up to 0.7 K.
	for _, tt := range []struct{ volume, freeze float64 }{{20, -6.7}, {25, -8.9}, {30, -12.8}, {35, -16.1}, {40, -20.6}, {45, -26.7}, {50, -33.3}} {
		mass, _ := between(freezingVolume, freezingMass, tt.volume)
		near(t, "Lange 5.13", must(FreezingPoint(unit.Percent(mass))).C(), tt.freeze, 1.2)
	}
	// Melinder's own freezing polynomial, MPG.json, at the same mass.
	tf := [6]float64{259.9, -66.31, -109.4, -228.3, -340.9, 146.5}
	for _, mass := range []float64{15, 20, 25, 30, 35, 40} {
		dx, sum := mass/100-0.307031, 0.0
		for j := 5; j >= 0; j-- {
			sum = sum*dx + tf[j]
		}
		near(t, "Melinder freezing", must(FreezingPoint(unit.Percent(mass))).C(), sum-273.15, 0.6)
	}
	// Least concentrations for a first ice, read off the ASHRAE table backwards.
	for _, tt := range []struct{ freeze, mass float64 }{{-10, 26}, {-11, 28}, {-12, 29}, {-13, 31}, {0, 0}} {
		near(t, "concentration", must(Concentration(unit.Celsius(tt.freeze))).Pct(), tt.mass, 1e-9)
	}
}

func TestFriction(t *testing.T) {
	for _, tt := range []struct {
		re, rough, want, tolerance float64
		source                     string
	}{
		{1e5, 1e-4, 0.018513866077, 1e-9, "Colebrook in the fluids library, docstring, exact by Lambert W"},
		{5e6, 0.01 / 1250, 0.00947893, 1e-8, "docstring of a public vectorised solver of Colebrook's equation, by Lambert W"},
		{5e6, 0.02 / 1250, 0.00988838, 1e-8, "the same"},
		{5e6, 0.04 / 1250, 0.01054755, 1e-8, "the same"},
		{5e6, 0.08 / 1250, 0.01152190, 1e-8, "the same"},
		{1e4, 1e-9, 0.0309, 5e-5, "Moody chart, smooth pipe"},
		{1e5, 1e-9, 0.0180, 5e-5, "Moody chart, smooth pipe"},
		{4000, 0, 0.039907, 1e-6, "Colebrook's equation solved apart from this code, in Python"},
		{3e4, 1e-3, 0.025970, 1e-6, "the same"},
		{1e6, 1e-2, 0.037965, 1e-6, "the same"},
		{1000, 0, 0.064, 1e-12, "Hagen-Poiseuille"},
		{2000, 0.01, 0.032, 1e-12, "Hagen-Poiseuille at the limit"},
	} {
		f, regime, err := FrictionFactor(unit.PureNumber(tt.re), unit.PureNumber(tt.rough))
		if err != nil {
			t.Fatal(err)
		}
		near(t, tt.source, f.N(), tt.want, tt.tolerance)
		if want := map[bool]Regime{true: Laminar, false: Turbulent}[tt.re <= 2000]; regime != want {
			t.Errorf("Re %g is %s, want %s", tt.re, regime, want)
		}
	}
	if _, regime, _ := FrictionFactor(3000, 0); regime != Transitional {
		t.Errorf("Re 3000 is %s", regime)
	}
}

func TestFittingsAndValves(t *testing.T) {
	// Hooper2K in the fluids library, docstring: 2 in globe valve at Re 10 000.
	near(t, "globe valve 2 in", must(FittingLoss("globe", 10000, unit.Inches(2))).N(), 6.15, 1e-9)
	// fluids library, tests: Kv_to_K(2.312, 0.015).
	near(t, "Kv to K", must(ValveResistance(unit.Kv(2.312), unit.Metres(0.015))).N(), 15.1534, 1e-3)
	// Crane TP 410M example 7-2: DN 150 (154 mm), Kv 500, K 3.6.
	near(t, "Crane 7-2", must(ValveResistance(unit.Kv(500), unit.Millimetres(154))).N(), 3.6, 0.05)
	// EN 60534: Kv is the flow of water in m³/h at 1 bar.
	near(t, "definition of Kv", must(ValveDrop(unit.M3PerHour(10), unit.Kv(10), unit.KgPerM3(1000))).Bar(), 1, 1e-12)
}

func TestExchangers(t *testing.T) {
	// Bergman et al., Introduction to Heat Transfer, example 11.1, by the ht library's docstring.
	near(t, "LMTD, example 11.1", must(LMTD(unit.Kelvins(59.8), unit.Kelvins(30))).K(), 43.200409, 1e-5)
	near(t, "LMTD of equal differences", must(LMTD(unit.Kelvins(40), unit.Kelvins(40))).K(), 40, 1e-9)
	// Coulson and Richardson vol. 1, example 9.1: 20 kg/s from 360 to 340 K, 25 kg/s from 300 K, U 2 kW/m²K: 19.92 m².
	q := 20 * 4.18e3 * 20.0
	near(t, "Coulson 9.1 area", q/(2e3*must(LMTD(unit.Kelvins(360-316), unit.Kelvins(40))).K()), 19.92, 0.01)
	// ht library, docstring of effectiveness_from_NTU.
	near(t, "effectiveness 5, 0.7", must(Effectiveness(5, unit.Fraction(0.7))).Value(), 0.9206703686, 1e-9)
	// Kays and London, counterflow: the closed form evaluated apart from this code, four digits.
	for _, tt := range []struct{ ntu, ratio, want float64 }{
		{0.5, 0, 0.3935}, {1, 0.5, 0.5647}, {2, 0.75, 0.7218}, {3, 0.25, 0.9188}, {4, 0.85, 0.8457}, {6, 0.9, 0.8916}, {8, 1, 0.8889}, {10, 1, 0.9091}, {1, 1, 0.5},
	} {
		near(t, "counterflow table", must(Effectiveness(unit.PureNumber(tt.ntu), unit.Fraction(tt.ratio))).Value(), tt.want, 5e-5)
	}
	// Bergman et al., example 11.1 as a rating: oil 0.1 kg/s of 2131 J/kgK at 100 °C, water 0.2 kg/s
	// of 4178 at 30 °C, U 37.8 W/m²K on 5.223 m²: 8524 W, 60 and 40.2 °C.
	p := must(PlateStage(unit.WattsPerK(37.8*5.223), unit.WattsPerK(213.1), unit.WattsPerK(835.6), unit.Celsius(100), unit.Celsius(30)))
	near(t, "example 11.1 duty", p.Duty.W(), 8524, 10)
	near(t, "example 11.1 oil out", p.WortOut.C(), 60, 0.05)
	near(t, "example 11.1 water out", p.WaterOut.C(), 40.2, 0.05)
}

func TestGeometryAgainstClosedForms(t *testing.T) {
	// Torispherical end by its own geometry (fluids library, a_torispherical): crown f D, knuckle k D.
	height := func(f, k float64) float64 {
		a := math.Asin((1 - 2*k) / (2 * (f - k)))
		return f*(1-math.Cos(a)) + k*math.Cos(a)
	}
	near(t, "torispherical height, DIN 28011", dishedEnd.height, height(1, 0.1), 1e-4)
	near(t, "deep end height, DIN 28013", endOf("deep").height, height(0.8, 0.154), 1e-4)
	near(t, "2:1 ellipse volume", endOf("ellipse").volume, math.Pi/24, 1e-6)
	// Cone of 60° on 1 m: h = √3/2, V = π√3/24, A = π/2.
	c := coneEnd(math.Pi / 3)
	near(t, "cone height", c.height, math.Sqrt(3)/2, 1e-12)
	near(t, "cone volume", c.volume, math.Pi*math.Sqrt(3)/24, 1e-12)
	near(t, "cone surface", c.surface, math.Pi/2, 1e-12)
	// A flat drum of 1 m³ on 1 m diameter: H = 4/π, A = 4 + π/2.
	b := must(Geometry(unit.CubicMetres(1), unit.Metres(1), 0, Flat, Flat, 0))
	near(t, "drum height", b.Cylinder.M(), 4/math.Pi, 1e-12)
	near(t, "drum surface", b.Surface.M2(), 4+math.Pi/2, 1e-5)
	if _, err := Geometry(unit.Litres(10), unit.Metres(1), 0, Cone, Dished, unit.Degrees(60)); err == nil {
		t.Error("10 L in 1 m diameter were accepted")
	}
}

func TestInsulationAndDew(t *testing.T) {
	// A solved problem of a Finnish heat transfer course (math-gpt.org): steel pipe 106 mm, 50 mm of foam λ 0.033, 130 °C against -5 °C, h 10: about 40.2 W/m.
	near(t, "insulated pipe", -must(PipeGain(unit.Millimetres(106), unit.Millimetres(50), unit.WattsPerMK(0.033), unit.Celsius(-5), unit.Celsius(130), unit.WattsPerM2K(10))).W(), 40.2, 0.05)
	for _, tt := range []struct{ air, humidity, dew, tolerance float64 }{
		{22, 0.78, 17.98, 0.05}, // solved exercise with 17.27 and 237.7, assignmentexpert.com question 86009
		{30, 0.80, 26.2, 0.05},  // psychrometric chart, from memory
		{30, 0.70, 23.9, 0.05},
		{30, 0.85, 27.2, 0.05},
		{20, 1.00, 20, 1e-9}, // definition
	} {
		near(t, "dew point", must(DewPoint(unit.Celsius(tt.air), unit.Fraction(tt.humidity))).C(), tt.dew, tt.tolerance)
	}
	// Flat walls, from resistances: 80 mm of λ 0.026 and h 8.
	near(t, "insulated wall", must(Insulated(unit.Millimetres(80), unit.WattsPerMK(0.026), unit.WattsPerM2K(8))).WM2K(), 0.3123, 5e-5)
}

func TestSoundAndAir(t *testing.T) {
	// Free field: level and power are equal at r = 1/√(4π) = 0.2821 m, so 11 dB fall to 1 m.
	near(t, "free field at 1 m", must(SoundAt(unit.DecibelsA(100), unit.Metres(1), 0)).DBA(), 89, 1e-9)
	// ISO 9613-2: 20 dB for each tenfold distance; 3 dB for the ground.
	near(t, "ground at 10 m", must(SoundAt(unit.DecibelsA(70), unit.Metres(10), 1)).DBA(), 42.01, 0.01)
	// Two equal sources add 3.01 dB.
	near(t, "two sources", SoundSum(unit.DecibelsA(60), unit.DecibelsA(60)).DBA(), 63.01, 0.01)
	// Handbook range of condenser air, 600 to 1200 cfm for a refrigeration ton: 290 to 580 m³/h for each kW.
	air := must(CondenserAir(HeatRejection(unit.Kilowatts(1), unit.Kilowatts(1/2.4)), unit.Kelvins(10))).M3H()
	if air < 290 || air > 580 {
		t.Errorf("condenser air is %.0f m³/h for each kW", air)
	}
}

// Newton's law: the closed form of the batch against the integral with 40 steps, which
// a jacket of constant coefficient must both meet; and against the time by the mean
// difference, C ΔT/(UA LMTD).
func TestBatchCoolingByThreeWays(t *testing.T) {
	c, ua := unit.KilojoulesPerK(4250.5), unit.WattsPerK(245.3)
	closed := must(BatchCooling(c, ua, 0, unit.Celsius(20), unit.Celsius(1), unit.Celsius(-4), unit.Celsius(30)))
	mean := must(LMTD(unit.Kelvins(24), unit.Kelvins(5)))
	near(t, "by the mean difference", closed.S(), c.JK()*19/(ua.WK()*mean.K()), 1e-6)
	sum, steps := 0.0, 20000
	for i := range steps {
		temp := 20 - 19*(float64(i)+0.5)/float64(steps)
		sum += c.JK() * 19 / float64(steps) / (ua.WK() * (temp + 4))
	}
	near(t, "by integration", closed.S(), sum, 0.1)
	// With a gain that balances the jacket at 2 °C the target of 1 °C is an error, not NaN.
	gain := unit.WattsPerK(245.3 * 6 / 28)
	if _, err := BatchCooling(c, ua, gain, unit.Celsius(20), unit.Celsius(1), unit.Celsius(-4), unit.Celsius(30)); err == nil {
		t.Error("a target below the balance was accepted")
	}
}

// Perry's Table 11-7 gives 200 to 850 W/m²K for brine jackets with moderate agitation,
// a plant text halves it without: 100 to 425 above the density maximum.
func TestJacketCoefficientWithinPerry(t *testing.T) {
	for temp := 6.0; temp <= 25; temp++ {
		if u := JacketU(unit.Celsius(temp)).WM2K(); u < 100 || u > 425 {
			t.Errorf("U at %g °C is %g", temp, u)
		}
	}
	near(t, "held below 4 °C", JacketU(unit.Celsius(0)).WM2K(), 80, 1e-9)
	near(t, "held above 25 °C", JacketU(unit.Celsius(35)).WM2K(), 260, 1e-9)
}

// The trade's rule: 7.9 W/hL for each °P of real extract a day at 650 kJ/kg.
func TestFermentationHeat(t *testing.T) {
	extract := must(FermentedExtract(unit.Hectolitres(10), unit.DegreesPlato(12), unit.DegreesPlato(2.48)))
	near(t, "extract of 10 hL 12 °P", extract.Kg(), 81.74, 0.3)
	perDay := wortDensity(12) / 1000 * fermentHeat / 86400 // W for each hL and °P/d
	near(t, "heat for each °P/d", perDay, 7.9, 0.05)
	near(t, "wort of 12 °P", wortDensity(12), 1048*0.9982, 1) // SG 1.048 20/20
}

func TestChillerTables(t *testing.T) {
	// One packaged chiller's factor table, by its manual: corner and interpolated points.
	c := madeChiller("T", 10)
	for _, tt := range []struct{ leaving, ambient, want float64 }{{-4, 35, 5.94}, {5, 25, 10.45}, {-5, 45, 4.57}, {-4, 40, 5.40}, {-3.5, 35, 6.085}} {
		near(t, "rating", must(Rated(c.Ratings, unit.Celsius(tt.leaving), unit.Celsius(tt.ambient))).Capacity.KW(), tt.want, 1e-9)
	}
	for _, tt := range [][2]float64{{-5.1, 35}, {5.1, 35}, {-4, 45.1}, {-4, 24}} {
		if _, err := Rated(c.Ratings, unit.Celsius(tt[0]), unit.Celsius(tt[1])); err == nil {
			t.Errorf("%v was extrapolated", tt)
		}
	}
	// Glycol factor by volume and altitude, by their manuals.
	near(t, "glycol factor", must(GlycolFactor(unit.Percent(30))).Value(), 0.91, 1e-9)
	near(t, "altitude factor", must(AltitudeFactor(unit.Metres(600))).Value(), 0.987, 1e-9)
	if _, err := GlycolFactor(unit.Percent(45)); err == nil {
		t.Error("45 % was extrapolated")
	}
	// A table for water is reduced once, one for glycol not at all.
	water := c
	water.Glycol = 0
	on := must(water.output(unit.Celsius(-4), unit.Celsius(35), unit.Percent(30), 0)).Capacity.KW()
	near(t, "water table on glycol", on, 5.94*0.91, 1e-9)
	near(t, "glycol table on glycol", must(c.output(unit.Celsius(-4), unit.Celsius(35), unit.Percent(30), 0)).Capacity.KW(), 5.94, 1e-9)
}
