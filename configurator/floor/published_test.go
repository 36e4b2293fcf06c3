package floor

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

// Each row stands against a value printed elsewhere; tol follows from its digits.
type check struct {
	what, source   string
	got, want, tol float64
}

func compare(t *testing.T, rows []check) {
	t.Helper()
	for _, c := range rows {
		if math.IsNaN(c.got) || math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s: %.6g, want %.6g ± %.2g (%s)", c.what, c.got, c.want, c.tol, c.source)
		}
	}
}

func TestHeadsAndCones(t *testing.T) {
	const (
		fluids = "library CalebBell/fluids, geometry"
		trade  = "head makers' approximation, from memory"
		din    = "DIN 28011 trade height 0.1935·Da − 0.455·s"
		maths  = "solid geometry"
	)
	head := func(d, crown, knuckle float64) (h, v, a float64) {
		l, vol, area, err := Head(unit.Metres(d), unit.Fraction(crown), unit.Fraction(knuckle))
		if err != nil {
			t.Fatal(err)
		}
		return l.M(), vol.M3(), area.M2()
	}
	hk, vk, ak := head(1, 1, .1)
	hb, vb, ab := head(1, .8, .154)
	ha, va, aa := head(1, 1, .06)
	h16, _, _ := head(1.592, 1.6/1.592, .16/1.592)
	ellipse := headOf(Elliptic, 1)
	cone, err := (Vessel{Diameter: unit.Metres(1), Cone: unit.Degrees(60)}).end(Conical)
	if err != nil {
		t.Fatal(err)
	}
	compare(t, []check{
		{"Kloepper height/D", fluids, hk, .19377, 5e-6},
		{"Kloepper volume/D³", fluids, vk, .09897, 5e-6},
		{"Kloepper area/D²", fluids, ak, .98999, 5e-6},
		{"Kloepper volume/D³, trade", trade, vk, .1, .0015},
		{"Kloepper area/D², trade", trade, ak, .99, .005},
		{"Korbbogen height/D", fluids, hb, .25447, 5e-6},
		{"Korbbogen volume/D³", fluids, vb, .13077, 5e-6},
		{"Korbbogen area/D²", fluids, ab, 1.08792, 5e-6},
		{"Korbbogen volume/D³, trade", trade, vb, .1298, .0015},
		{"ASME 6 % height/D", fluids, ha, .169, .0006},
		{"ASME 6 % volume/D³", fluids, va, .0810, 6e-5},
		{"ASME 6 % area/D²", fluids, aa, .9306, 6e-5},
		{"Kloepper Da 1600 s 4, trade height mm", din, h16 * 1000, 307.8, .5},
		{"2:1 ellipsoid volume/D³", maths, ellipse.volume(ellipse.h), math.Pi / 24, 1e-9},
		{"2:1 ellipsoid area/D²", "half a spheroid by integration 1.0840; handbooks print 1.084, from memory", ellipse.area, 1.084, .0005},
		{"60° cone height/D", maths, cone.height, .86603, 5e-6},
		{"60° cone volume/D³", maths, cone.volume, .22672, 5e-6},
		{"60° cone area/D²", maths, cone.area, 1.5708, 5e-5},
		{"650 L unitank carries about 700 kg of wort", "common practice, no source", .65 * 1050, 700, 30},
	})
}

func TestBeamTables(t *testing.T) {
	const tables = "beam formula tables (one span on two supports), from memory"
	const l = 8.0
	m := func(w float64, loads ...PointLoad) float64 {
		s, err := Beam(unit.Metres(l), loads, unit.KilonewtonsPerM(w))
		if err != nil {
			t.Fatal(err)
		}
		return s.Moment.KNM()
	}
	p := func(kn, at float64) PointLoad { return PointLoad{unit.Kilonewtons(kn), unit.Metres(at)} }
	factor := func(moment, total float64) float64 { return 8 * moment / (l * total) }
	third := m(0, p(10, l/3), p(10, 2*l/3))
	quarter := m(0, p(10, l/4), p(10, l/2), p(10, 3*l/4))
	fifth := m(0, p(10, l/5), p(10, 2*l/5), p(10, 3*l/5), p(10, 4*l/5))
	b := 1.2
	feet := m(0, p(5, (l-b)/2), p(5, (l-b)/2), p(5, (l+b)/2), p(5, (l+b)/2))
	rolling := m(0, p(10, l/2-b/4), p(10, l/2+3*b/4))
	s, _ := Beam(unit.Metres(l), []PointLoad{p(10, 2)}, 0)
	steel, inertia := unit.Gigapascals(210), unit.MomentCM4(8356)
	central, _ := Deflection(unit.Metres(l), unit.Kilonewtons(10), 0, steel, inertia)
	spread, _ := Deflection(unit.Metres(l), 0, unit.KilonewtonsPerM(10/l), steel, inertia)
	byM, byV, _ := EquivalentUniform(unit.KilonewtonMetres(24), unit.Kilonewtons(12), unit.Metres(l), unit.Metres(3))
	first, second, _ := Lever(unit.Metres(1), unit.Metres(3))
	compare(t, []check{
		{"uniform wL²/8", tables, m(2), 2 * l * l / 8, 1e-9},
		{"central PL/4", tables, m(0, p(10, l/2)), 10 * l / 4, 1e-9},
		{"thirds PL/3", tables, third, 10 * l / 3, 1e-9},
		{"quarters PL/2", tables, quarter, 10 * l / 2, 1e-9},
		{"fifths 3PL/5", tables, fifth, 3 * 10 * l / 5, 1e-9},
		{"at a: Pa(L−a)/L", tables, m(0, p(10, 2)), 10 * 2 * 6 / l, 1e-9},
		{"at a: reaction Pb/L", tables, s.Left.KN(), 10 * 6 / l, 1e-9},
		{"load factor, one central", tables, factor(m(0, p(10, l/2)), 10), 2, 1e-9},
		{"load factor, thirds per load", tables, factor(third, 10), 8.0 / 3, 1e-9},
		{"load factor, quarters per load", tables, factor(quarter, 10), 4, 1e-9},
		{"load factor, fifths per load", tables, factor(fifth, 10), 4.8, 1e-9},
		{"two pairs of feet W(L−b)/4", "statics", feet, 20 * (l - b) / 4, 1e-9},
		{"two rolling loads P(2L−b)²/(8L)", tables, rolling, 10 * (2*l - b) * (2*l - b) / (8 * l), 1e-9},
		{"central load by deflection counts 1.6 as uniform", tables, float64(central) / float64(spread), 1.6, 1e-9},
		{"central deflection PL³/48EI mm", tables, central.MM(), 10e3 * 512 / (48 * 210e9 * 8356e-8) * 1000, 1e-9},
		{"equal moment 8M/L²s", "statics", byM.KNM2(), 1, 1e-9},
		{"equal reaction 2V/Ls", "statics", byV.KNM2(), 1, 1e-9},
		{"lever rule, near support", "statics", first.Value(), 2.0 / 3, 1e-12},
		{"lever rule, far support", "statics", second.Value(), 1.0 / 3, 1e-12},
		{"uniform and central together: wL²/8 + PL/4", tables, m(2, p(10, l/2)), 16 + 20, 1e-9},
	})
}

func TestLegs(t *testing.T) {
	const moss = "Moss, Pressure Vessel Design Manual: W/n ± 4M/(n·d)"
	w := unit.Kilonewtons(26.6414)
	m := unit.KilonewtonMetres(26.6414 * 1.900 * math.Tan(math.Pi/180))
	four := (&Feet{Count: 4, Circle: unit.Metres(1), Turn: unit.Degrees(360)}).points()
	three := (&Feet{Count: 3, Circle: unit.Metres(1)}).points()
	r4, err := Reactions(w, four, m, 0)
	if err != nil {
		t.Fatal(err)
	}
	r3, err := Reactions(w, three, m, 0)
	if err != nil {
		t.Fatal(err)
	}
	compare(t, []check{
		{"four legs, towards a leg", moss, r4[0].KN(), 26.6414/4 + 4*m.KNM()/(4*1), 1e-6},
		{"four legs, away", moss, r4[2].KN(), 26.6414/4 - 4*m.KNM()/(4*1), 1e-6},
		{"three legs, towards a leg", moss, r3[0].KN(), 26.6414/3 + 4*m.KNM()/(3*1), 1e-6},
		{"four legs, 1° out of level", "same example in another language", r4[0].KN(), 7.544, .001},
		{"three legs, 1° out of level", "same example in another language", r3[0].KN(), 10.059, .001},
		{"three legs, the other two", "same example in another language", r3[1].KN(), 8.291, .001},
	})
	if _, err := Reactions(w, four, unit.KilonewtonMetres(20), 0); err == nil {
		t.Error("a piece that tips was given reactions")
	}
}

func TestDrainage(t *testing.T) {
	q, err := DumpFlow(unit.Millimetres(48.5), unit.Metres(2.5))
	if err != nil {
		t.Fatal(err)
	}
	rise, mean, err := FallBuildUp(unit.Metres(2), unit.Fraction(1.0/80), true, unit.Millimetres(15))
	if err != nil {
		t.Fatal(err)
	}
	_, oneWay, _ := FallBuildUp(unit.Metres(4), unit.Fraction(1.0/80), false, 0)
	compare(t, []check{
		{"DN 50 full bore at 2.5 m, L/s", "Torricelli with C_d 0.6 (powderprocess.net)", q.LS(), 7.8, .06},
		{"4 × 4 m four-way at 1:80, rise mm", "own arithmetic", rise.MM(), 25, 1e-9},
		{"mean over 15 mm least, mm", "inverted pyramid 2Δ/3", mean.MM(), 31.67, .005},
		{"4 m one-way at 1:80: half of 50 mm", "own arithmetic", oneWay.MM(), 25, 1e-9},
		{"emptying a cylinder: twice the time at full flow", "Torricelli integrated", EmptyingTime(unit.CubicMetres(1), unit.M3PerSecond(.01)).S(), 200, 1e-9},
		{"nothing backs up when the gully takes it", "own arithmetic", Buffer(unit.CubicMetres(1), unit.M3PerSecond(.001), unit.M3PerSecond(.002)).M3(), 0, 0},
		{"gully half as fast holds back a quarter", "Torricelli integrated", Buffer(unit.CubicMetres(1), unit.M3PerSecond(.002), unit.M3PerSecond(.001)).M3(), .25, 1e-12},
	})
}

func TestYardsticks(t *testing.T) {
	uk := func(code string) Yardstick {
		y, err := UKYardstick(code)
		if err != nil {
			t.Fatal(err)
		}
		return y
	}
	en := func(code string) Yardstick {
		y, err := EuropeanYardstick(code)
		if err != nil {
			t.Fatal(err)
		}
		return y
	}
	axle := func(class string, solid bool) float64 {
		f, err := ForkliftAxle(class, solid)
		if err != nil {
			t.Fatal(err)
		}
		return f.KN()
	}
	const na, table, fl = "NA to BS EN 1991-1-1, NA.3/NA.5", "EN 1991-1-1 Table 6.2/6.4", "EN 1991-1-1 Table 6.6, 6.3.2.3"
	compare(t, []check{
		{"taproom C51 kN/m²", na, uk("C51").Area.KNM2(), 5.0, 0},
		{"taproom C51 kN", na, uk("C51").Point.KN(), 3.6, 0},
		{"dining C11 kN/m²", na, uk("C11").Area.KNM2(), 2.0, 0},
		{"office B1 kN/m²", na, uk("B1").Area.KNM2(), 2.5, 0},
		{"office B1 kN", na, uk("B1").Point.KN(), 2.7, 0},
		{"hotel A3 kN/m²", na, uk("A3").Area.KNM2(), 2.0, 0},
		{"C5 kN/m²", table, en("C5").Area.KNM2(), 5.0, 0},
		{"C5 kN", table, en("C5").Point.KN(), 4.5, 0},
		{"E1 kN/m²", table, en("E1").Area.KNM2(), 7.5, 0},
		{"FL1 on pneumatic tyres kN", fl, axle("FL1", false), 36.4, 1e-9},
		{"FL2 on solid tyres kN", fl, axle("FL2", true), 80, 1e-9},
	})
	if _, err := EuropeanYardstick("B"); err == nil {
		t.Error("offices got a recommended load although the readings disagree")
	}
	if _, err := UKYardstick("E2"); err == nil {
		t.Error("industrial use got a figure that the annex does not give")
	}
}

func TestTablesKeepTheirRows(t *testing.T) {
	if ukImposed.Len() != 21 || enImposed.Len() != 12 || forklifts.Len() != 6 || bearingTable.Len() != 4 {
		t.Errorf("rows: %d, %d, %d, %d", ukImposed.Len(), enImposed.Len(), forklifts.Len(), bearingTable.Len())
	}
	sum := 0.0
	col, err := ukImposed.Column("qk_kn_m2")
	if err != nil {
		t.Fatal(err)
	}
	for _, q := range col {
		sum += q
	}
	near(t, "sum of the annex's column", sum, 77, 1e-9)
	for row := range enImposed.Len() {
		lo, _ := enImposed.Number(row, "qk_min")
		hi, _ := enImposed.Number(row, "qk_max")
		if rec, ok := enImposed.Number(row, "qk_rec"); ok && (rec < lo || rec > hi) {
			t.Errorf("row %d: recommended %g outside %g–%g", row, rec, lo, hi)
		}
	}
	last := 0.0
	for row := range forklifts.Len() {
		axle, _ := forklifts.Number(row, "axle_kn")
		if axle <= last {
			t.Errorf("forklift row %d: %g kN after %g", row, axle, last)
		}
		last = axle
	}
}

func TestEscapeWidths(t *testing.T) {
	const adb = "Approved Document B vol. 2, table 2.3"
	w := func(n int) float64 {
		q, err := plan.EscapeWidth(n)
		if err != nil {
			t.Fatal(err)
		}
		return q.MM()
	}
	compare(t, []check{
		{"60 persons mm", adb, w(60), 750, 1e-9},
		{"61 persons mm", adb, w(61), 850, 1e-9},
		{"110 persons mm", adb, w(110), 850, 1e-9},
		{"220 persons mm", adb, w(220), 1050, 1e-9},
		{"240 persons at 5 mm", adb, w(240), 1200, 1e-9},
	})
}
