package electrical

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
)

func TestDesignCurrents(t *testing.T) {
	tests := []struct {
		kw     float64
		phases int
		v      float64
		pf     float64
		eta    float64
		want   float64
		tol    float64
		source string
	}{
		{24, 3, 400, 1, 1, 34.64, 0.005, "own arithmetic"},
		{24, 3, 208, 1, 1, 66.6, 0.05, "own arithmetic"},
		{24, 3, 480, 1, 1, 28.9, 0.05, "own arithmetic"},
		{0.75, 3, 400, 0.76, 0.825, 1.7, 0.06, "IEC 60034-30-1 efficiency, usual power factor"},
		{2.2, 3, 400, 0.80, 0.867, 4.6, 0.06, "IEC 60034-30-1 efficiency, usual power factor"},
		{5.5, 3, 400, 0.84, 0.896, 10.6, 0.06, "IEC 60034-30-1 efficiency, usual power factor"},
		{7.5, 3, 400, 0.85, 0.904, 14.1, 0.06, "IEC 60034-30-1 efficiency, usual power factor"},
		{5, 1, 230, 1, 1, 21.74, 0.005, "public cable sizing example: 5 kW heater, 230 V"},
		{2, 1, 230, 1, 1, 8.7, 0.05, "public cable sizing example: 2 kW heater, 230 V"},
	}
	for _, tt := range tests {
		got, err := DesignCurrent(unit.Kilowatts(tt.kw), tt.phases, unit.Volts(tt.v), unit.Fraction(tt.pf), unit.Fraction(tt.eta))
		if err != nil {
			t.Fatal(err)
		}
		close(t, tt.source, got.A(), tt.want, tt.tol)
	}
	for _, bad := range []struct{ kw, v, pf, eta float64 }{{0, 400, 1, 1}, {1, 0, 1, 1}, {1, 400, 0, 1}, {1, 400, 1.1, 1}, {1, 400, 1, 0}, {math.NaN(), 400, 1, 1}} {
		if _, err := DesignCurrent(unit.Kilowatts(bad.kw), 3, unit.Volts(bad.v), unit.Fraction(bad.pf), unit.Fraction(bad.eta)); err == nil {
			t.Errorf("%+v gave no error", bad)
		}
	}
}

// TestShaftPower: a motor's shaft power becomes its input by the IE3 table.
//
// Source: IEC 60034-30-1 IE3 four-pole efficiencies; currents at 400 V follow from them
// and usual power factors, printed to a tenth.
func TestShaftPower(t *testing.T) {
	for r := range motorIE3.Len() {
		kw, _ := motorIE3.Number(r, "kw")
		pf, _ := motorIE3.Number(r, "power_factor")
		want, _ := motorIE3.Number(r, "flc_400v_a")
		c := oneCircuit(t, Load{Kind: Motor, Phases: 3, Power: unit.Kilowatts(kw), Shaft: true, PowerFactor: ptr(unit.Fraction(pf))}, Supply{})
		close(t, "full-load current", c.Ib.A(), want, 0.06)
	}
	close(t, "between rows", motorEfficiency(unit.Kilowatts(3.5)), (0.877+0.886)/2, 1e-9)
	close(t, "below the table", motorEfficiency(unit.Kilowatts(0.12)), 0.5, 1e-9)
	close(t, "above the table", motorEfficiency(unit.Kilowatts(30)), 0.914, 1e-9)
}

func TestElementOnOtherVoltage(t *testing.T) {
	i, err := DesignCurrent(unit.Kilowatts(24), 3, unit.Volts(400), 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		rated, on float64
		kw, amps  float64
		source    string
	}{
		{400, 440, 29.0, 38.1, "own arithmetic: top of the band of the ESQCR 2002"},
		{415, 400, 24 * 0.929, 0, "own arithmetic: 415 V element on 400 V gives 92.9 %"},
	}
	for _, tt := range tests {
		p, a, err := ElementAt(unit.Kilowatts(24), i, unit.Volts(tt.rated), unit.Volts(tt.on))
		if err != nil {
			t.Fatal(err)
		}
		close(t, tt.source+" kW", p.KW(), tt.kw, 0.05)
		if tt.amps > 0 {
			close(t, tt.source+" A", a.A(), tt.amps, 0.05)
		}
	}
}

// TestSupplySizes: kVA of the usual supplies, own arithmetic.
func TestSupplySizes(t *testing.T) {
	for _, tt := range []struct {
		phases     int
		v, a, want float64
	}{
		{1, 230, 60, 13.8},
		{1, 230, 80, 18.4},
		{1, 230, 100, 23.0},
		{3, 400, 63, 43.6},
		{3, 400, 80, 55.4},
		{3, 400, 100, 69.3},
		{3, 400, 125, 86.6},
		{3, 400, 160, 110.9},
		{3, 400, 200, 138.6},
		{3, 400, 315, 218},
		{3, 400, 400, 277},
		{3, 208, 100, 36.0},
		{3, 208, 200, 72.1},
		{3, 480, 100, 83.1},
	} {
		tol := 0.05
		if tt.want > 200 {
			tol = 0.5
		}
		close(t, "kVA", SupplyPower(tt.phases, unit.Volts(tt.v), unit.Amperes(tt.a)).KVA(), tt.want, tol)
	}
}

func TestNeutralAndDelta(t *testing.T) {
	a := func(x, y, z float64) [3]unit.Current {
		return [3]unit.Current{unit.Amperes(x), unit.Amperes(y), unit.Amperes(z)}
	}
	one := [3]unit.Ratio{1, 1, 1}
	close(t, "one line", Neutral(a(10, 0, 0), one).A(), 10, 1e-9)
	close(t, "even", Neutral(a(10, 10, 10), one).A(), 0, 1e-9)
	close(t, "two lines", Neutral(a(10, 10, 0), one).A(), 10, 1e-9)
	// √(a²+b²+c²−ab−bc−ca), the form for equal power factors.
	x, y, z := 17.98, 18.20, 18.30
	want := math.Sqrt(x*x + y*y + z*z - x*y - y*z - z*x)
	close(t, "equal power factors", Neutral(a(x, y, z), [3]unit.Ratio{0.9, 0.9, 0.9}).A(), want, 1e-9)
	close(t, "all-on balance of the example", want, 0.28, 0.005)
	d := DeltaLineCurrents(unit.Amperes(15), unit.Amperes(10), unit.Amperes(5))
	close(t, "Ia", d[0].A(), 18.03, 0.005)
	close(t, "Ib", d[1].A(), 21.79, 0.005)
	close(t, "Ic", d[2].A(), 13.23, 0.005)
	close(t, "split phase", NeutralSplit(unit.Amperes(30), unit.Amperes(22)).A(), 8, 1e-9)
}

func TestVoltageDropExamples(t *testing.T) {
	for _, tt := range []struct {
		mm2    float64
		phases int
		amps   float64
		metres float64
		want   float64
		tol    float64
		source string
	}{
		{35, 3, 100, 150, 16.5, 0.01, "cable distributor's page on voltage drop: 35 mm² PVC SWA, 100 A, 150 m"},
		{25, 3, 77.8, 30, 3.50, 0.005, "own arithmetic: 25 mm², 77.8 A, 30 m"},
		{10, 3, 34.64, 18, 2.37, 0.005, "own arithmetic"},
		{4, 1, 16, 40, 7.04, 0.005, "own arithmetic"},
	} {
		row, err := sizeRow(unit.ConductorMM2(tt.mm2))
		if err != nil {
			t.Fatal(err)
		}
		c := conductorAt(row, tt.phases, false)
		close(t, tt.source, VoltageDrop(c.z(), unit.Amperes(tt.amps), unit.Metres(tt.metres)).V(), tt.want, tt.tol)
	}
	// The same page: within 10.5 V for 100 A over 150 m the table asks for 70 mm².
	for row, mm2 := range sizesIEC {
		if VoltageDrop(conductorAt(row, 3, false).z(), unit.Amperes(100), unit.Metres(150)).V() <= 10.5 {
			close(t, "size for 10.5 V", mm2, 70, 0)
			break
		}
	}
}

// TestTemperatureFactor: at full load in free air without grouping Ct is 1; an idle
// cable at 30 °C is (230+30)/(230+70).
//
// Source: BS 7671 Appendix 4, 6.1, limits of the formula.
func TestTemperatureFactor(t *testing.T) {
	tp := unit.Celsius(70)
	ct, err := TemperatureFactor(tp, 1, 1, unit.Amperes(62), unit.Amperes(62))
	if err != nil {
		t.Fatal(err)
	}
	close(t, "full load", ct.Value(), 1, 1e-9)
	ct, err = TemperatureFactor(tp, 1, 1, 0, unit.Amperes(62))
	if err != nil {
		t.Fatal(err)
	}
	close(t, "idle", ct.Value(), 260.0/300, 1e-9)
	if _, err := TemperatureFactor(tp, 1.2, 1, 0, unit.Amperes(62)); err == nil {
		t.Error("Ca above 1 gave no error")
	}
}

// TestProtectiveConductors. Sources: BS 7671 Table 54.7; 543.1.3 with k of Table 54.3.
func TestProtectiveConductors(t *testing.T) {
	for _, tt := range []struct{ line, want float64 }{{1.5, 1.5}, {2.5, 2.5}, {16, 16}, {25, 16}, {35, 16}, {50, 25}, {70, 35}, {95, 50}, {120, 70}, {150, 95}, {185, 95}, {240, 120}} {
		close(t, "by Table 54.7", ProtectiveConductor(unit.ConductorMM2(tt.line)).MM2(), tt.want, 0)
	}
	s, err := Adiabatic(unit.Amperes(10000), unit.Seconds(0.1), unit.PureNumber(115))
	if err != nil {
		t.Fatal(err)
	}
	close(t, "public example: 10 kA, 0.1 s, k 115", s.MM2(), 27.5, 0.05)
	if _, err := Adiabatic(unit.Amperes(1000), unit.Seconds(6), unit.PureNumber(115)); err == nil {
		t.Error("6 s gave no error")
	}
}

// TestMainBonding. Source: BS 7671 Table 54.8 and 544.1.1.
func TestMainBonding(t *testing.T) {
	for _, tt := range []struct {
		neutral  float64
		combined bool
		want     float64
	}{{25, true, 10}, {35, true, 10}, {50, true, 16}, {95, true, 25}, {150, true, 35}, {240, true, 50}, {16, false, 10}, {95, false, 25}, {240, false, 25}} {
		close(t, "bond", mainBond(unit.ConductorMM2(tt.neutral), tt.combined).MM2(), tt.want, 0)
	}
}

// TestIngress. Source: IEC 60529, 6: the second numerals 7 and 8 do not include 5 and 6.
func TestIngress(t *testing.T) {
	for _, tt := range []struct {
		has, needs string
		want       bool
	}{
		{"IP66", "IP66", true},
		{"IP66", "IP55", true},
		{"IP55", "IP66", false},
		{"IP67", "IP66", false},
		{"IP66/IP67", "IP66", true},
		{"IP67", "IP44", true},
		{"IP69", "IP66", false},
		{"IP66/IP69", "IP69", true},
		{"IP65", "IP66", false},
		{"IPX6", "IP66", false},
		{"IP66", "IP67", false},
		{"66", "IP66", false},
		{"IP65", "IP64", true},
	} {
		if got := MeetsIP(tt.has, tt.needs); got != tt.want {
			t.Errorf("%s covers %s: %v, want %v", tt.has, tt.needs, got, tt.want)
		}
	}
}

func FuzzIngress(f *testing.F) {
	for _, s := range []string{"IP66", "IP66/IP69", "IP6X", "ip67", "IP", "", "IP6é"} {
		f.Add(s, "IP66")
	}
	f.Fuzz(func(t *testing.T, has, needs string) {
		if MeetsIP(has, needs) && !MeetsIP(has+"/IP66/IP69/IP68", needs) {
			t.Errorf("%q covers %q, but not with more codes", has, needs)
		}
	})
}

func TestFactors(t *testing.T) {
	for _, tt := range []struct{ ambient, insulation, want float64 }{
		{20, 70, 1}, {30, 70, 1}, {35, 70, 0.94}, {40, 70, 0.87}, {45, 90, 0.87}, {50, 90, 0.82}, {60, 70, 0.5}, {37.5, 70, 0.905},
	} {
		got, err := AmbientFactor(unit.Celsius(tt.ambient), unit.Celsius(tt.insulation))
		if err != nil {
			t.Fatal(err)
		}
		close(t, "Ca, BS 7671 Table 4B1", got.Value(), tt.want, 1e-9)
	}
	if _, err := AmbientFactor(unit.Celsius(61), unit.Celsius(70)); err == nil {
		t.Error("61 °C is beyond the table and gave no error")
	}
	for _, tt := range []struct{ soil, want float64 }{{10, 1}, {20, 1}, {30, 0.89}, {50, 0.63}} {
		got, err := GroundFactor(unit.Celsius(tt.soil))
		if err != nil {
			t.Fatal(err)
		}
		close(t, "Ca in the ground, BS 7671 Table 4B2", got.Value(), tt.want, 1e-9)
	}
	for _, tt := range []struct {
		n      int
		method Method
		want   float64
	}{{1, MethodE, 1}, {6, MethodE, 0.73}, {10, MethodE, 0.72}, {3, MethodB2, 0.70}, {13, MethodB1, 0.41}, {4, MethodC, 0.75}} {
		got, err := GroupFactor(tt.n, tt.method)
		if err != nil {
			t.Fatal(err)
		}
		close(t, "Cg, BS 7671 Table 4C1", got.Value(), tt.want, 1e-9)
	}
	if _, err := GroupFactor(21, MethodE); err == nil {
		t.Error("21 circuits are beyond the table and gave no error")
	}
}

// TestHeating: 22 hL from 12 to 78 °C take 168.8 kWh, on 24 kW at 0.95 7.4 h; own
// arithmetic with the handbook heat of water.
func TestHeating(t *testing.T) {
	eta := unit.Fraction(0.95)
	out, _, err := calcHeating(heatingIn{unit.Litres(2200), unit.Celsius(12), unit.Celsius(78), unit.Kilowatts(24), &eta})
	if err != nil {
		t.Fatal(err)
	}
	close(t, "kWh", out.Energy.KWh(), 168.8, 0.05)
	close(t, "h", out.Time.H(), 7.4, 0.05)
}
