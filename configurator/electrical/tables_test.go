package electrical

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
)

// TestTablesRead holds each transcribed table to its number of rows and to the order
// and monotony it is looked up by.
func TestTablesRead(t *testing.T) {
	tests := []struct {
		name   string
		rows   int
		rising []string // columns that must rise down the table
	}{
		{"copper_70c", 15, []string{"mm2", "A1_2", "A1_3", "A2_2", "A2_3", "B1_2", "B1_3", "B2_2", "B2_3", "C_2", "C_3", "E_2", "E_3"}},
		{"copper_90c", 15, []string{"mm2", "A1_2", "A1_3", "A2_2", "A2_3", "B1_2", "B1_3", "B2_2", "B2_3", "C_2", "C_3", "E_2", "E_3"}},
		{"armoured", 15, []string{"mm2", "70C_C_2", "70C_C_3", "70C_E_2", "70C_E_3", "70C_D1_2", "70C_D1_3", "90C_C_2", "90C_C_3", "90C_E_2", "90C_E_3", "90C_D1_2", "90C_D1_3"}},
		{"voltage_drop", 15, []string{"mm2"}},
		{"ambient", 8, []string{"ambient_C"}},
		{"ground", 7, []string{"ground_C"}},
		{"grouping", 12, []string{"n_circuits"}},
		{"loop_limits", 12, []string{"A"}},
		{"motor_ie3", 11, []string{"kw", "efficiency", "flc_400v_a"}},
		{"motor_nec_3ph", 12, []string{"hp", "208V", "230V", "460V"}},
		{"motor_nec_1ph", 12, []string{"hp", "115V", "200V", "208V", "230V"}},
		{"nec_ampacity", 18, []string{"Cu60", "Cu75", "Cu90"}},
		{"nec_impedance", 18, nil},
		{"nec_egc", 10, []string{"device_a"}},
		{"nec_correction", 5, []string{"up_to_c"}},
		{"nec_bundling", 7, []string{"up_to_n"}},
		{"awg", 18, []string{"mm2"}},
		{"main_bonding", 5, []string{"neutral_up_to_mm2", "bond_mm2"}},
		{"breaker_iec60898", 13, []string{"a"}},
		{"breaker_iec60947", 17, []string{"a"}},
		{"fuse_gg", 19, []string{"a"}},
		{"nec_standard_ratings", 37, []string{"a"}},
		{"iec60309", 4, []string{"a"}},
		{"starting", 5, nil},
		{"leakage", 6, nil},
		{"ip_zones", 6, nil},
		{"supply_thresholds", 6, nil},
		{"supply_offers", 12, nil},
	}
	for _, tt := range tests {
		tab := table(tt.name)
		if tab.Len() != tt.rows {
			t.Errorf("%s has %d rows, want %d", tt.name, tab.Len(), tt.rows)
		}
		for _, c := range tt.rising {
			last := math.Inf(-1)
			for _, v := range numbers(tab, c) {
				if !(v > last) {
					t.Errorf("%s, column %s does not rise at %v", tt.name, c, v)
				}
				last = v
			}
		}
	}
	entries, err := files.ReadDir("tables")
	if err != nil || len(entries) != len(tests) {
		t.Errorf("%d table files, %d tested (%v)", len(entries), len(tests), err)
	}
}

// TestFallingFactors holds the rating factors to fall with heat and with company.
func TestFallingFactors(t *testing.T) {
	for _, c := range []string{"70C", "90C"} {
		falls(t, "ambient "+c, numbers(ambientTable, c))
	}
	falls(t, "ground", numbers(groundTable, "70C"))
	for _, c := range groupTable.Columns[1:] {
		falls(t, "grouping "+c, numbers(groupTable, c))
	}
	for _, c := range []string{"t60", "t75", "t90"} {
		falls(t, "NEC ambient "+c, numbers(necAmbient, c))
	}
	falls(t, "NEC bundling", numbers(necBundle, "factor"))
	falls(t, "resistance", resistance20)
}

func falls(t *testing.T, name string, col []float64) {
	t.Helper()
	for i := 1; i < len(col); i++ {
		if col[i] > col[i-1] {
			t.Errorf("%s rises at row %d", name, i+1)
		}
	}
}

// TestCapacityPoints compares table points through the lookup that sizing uses.
func TestCapacityPoints(t *testing.T) {
	tests := []struct {
		cable  CableType
		method Method
		loaded int
		mm2    float64
		want   float64
		source string
	}{
		{Thermoplastic, MethodB1, 2, 2.5, 24, "IEC 60364-5-52 Table B.52.2, column B1"},
		{Thermoplastic, MethodB1, 3, 2.5, 21, "IEC 60364-5-52 Table B.52.4, column B1"},
		{Thermoplastic, MethodB2, 2, 4, 30, "IEC 60364-5-52 Table B.52.2, column B2"},
		{Thermoplastic, MethodB2, 3, 10, 46, "IEC 60364-5-52 Table B.52.4, column B2"},
		{Thermoplastic, MethodC, 2, 1.5, 19.5, "IEC 60364-5-52 Table B.52.2, column C"},
		{Thermoplastic, MethodC, 2, 6, 46, "BS 7671 Table 4D2A, method C"},
		{Thermoplastic, MethodC, 3, 25, 96, "BS 7671 Table 4D2A, method C"},
		{Thermoplastic, MethodE, 3, 16, 80, "IEC 60364-5-52 Table B.52.10"},
		{Thermosetting, MethodB1, 2, 16, 100, "IEC 60364-5-52 Table B.52.3, column B1"},
		{Thermosetting, MethodC, 3, 35, 147, "BS 7671 Table 4E2A, method C"},
		{Thermosetting, MethodE, 3, 95, 298, "IEC 60364-5-52 Table B.52.12"},
		{Armoured, MethodC, 2, 10, 67, "BS 7671 Table 4D4A, method C"},
		{Armoured, MethodE, 3, 10, 62, "BS 7671 Table 4D4A, method E"},
		{Armoured, MethodE, 3, 25, 110, "BS 7671 Table 4D4A, method E"},
		{Armoured, MethodD1, 3, 50, 116, "BS 7671 Table 4D4A, method D"},
		{Armoured, MethodE, 2, 240, 516, "BS 7671 Table 4D4A, method E"},
	}
	for _, tt := range tests {
		got, err := Capacity(tt.cable, tt.method, tt.loaded, unit.ConductorMM2(tt.mm2))
		if err != nil || got.A() != tt.want {
			t.Errorf("%s: %v %s, %d loaded: %v A (%v), want %v", tt.source, tt.mm2, tt.method, tt.loaded, got.A(), err, tt.want)
		}
	}
}

// TestDropFromResistance derives the tabulated drops from the resistance of the
// conductor: 2·R20·(1+0.00393·(T−20)) on one phase, √3 in place of 2 on three, with
// the tabulated reactance. Tables and IEC 60228 are two documents; they agree within
// the rounding of the table.
//
// Source: IEC 60228 class 2 resistances; BS 7671 Tables 4D2B and 4E2B; 0.00393 per
// kelvin is the temperature coefficient of copper, IEC 60028.
func TestDropFromResistance(t *testing.T) {
	for _, tt := range []struct {
		insulation string
		hot        bool
		temp       float64
		phases     int
		k          float64
	}{
		{"70C_1ph", false, 70, 1, 2},
		{"70C_3ph", false, 70, 3, math.Sqrt(3)},
		{"90C_1ph", true, 90, 1, 2},
		{"90C_3ph", true, 90, 3, math.Sqrt(3)},
	} {
		for row, mm2 := range sizesIEC {
			c := conductorAt(row, tt.phases, tt.hot)
			r := tt.k * resistance20[row] * (1 + 0.00393*(tt.temp-20))
			want := math.Hypot(r, c.dx)
			if off := math.Abs(c.dz/want - 1); off > 0.045 {
				t.Errorf("%s %v mm²: table %v, from resistance %.4g (%.1f %% off)", tt.insulation, mm2, c.dz, want, off*100)
			}
		}
	}
}

// TestLoopLimits compares the formula with the published table in every cell.
//
// Source: BS 7671:2018 Table 41.3, printed to two decimals.
func TestLoopLimits(t *testing.T) {
	tab := table("loop_limits")
	u0 := unit.Volts(230)
	for r := range tab.Len() {
		a, _ := tab.Number(r, "A")
		for _, c := range []struct {
			column string
			curve  Curve
			five   bool
		}{
			{"B_0.4s_and_5s", CurveB, false},
			{"B_0.4s_and_5s", CurveB, true},
			{"C_0.4s_and_5s", CurveC, false},
			{"C_0.4s_and_5s", CurveC, true},
			{"D_0.4s", CurveD, false},
			{"D_5s", CurveD, true},
		} {
			want, ok := tab.Number(r, c.column)
			if !ok {
				t.Fatalf("row %d has no %s", r, c.column)
			}
			// The published figures are cut or rounded to two decimals, differently by column.
			close(t, c.column, MaxLoop(u0, c.curve, unit.Amperes(a), c.five).Ohm(), want, 0.0101)
		}
	}
}

// TestLoopResistancePerMetre compares R1+R2 at 20 °C with the guide's list.
//
// Source: IET On-Site Guide Table I1 (from memory), mΩ/m at 20 °C.
func TestLoopResistancePerMetre(t *testing.T) {
	for _, tt := range []struct{ line, cpc, want float64 }{
		{1.5, 1.5, 24.20},
		{2.5, 1.5, 19.51},
		{2.5, 2.5, 14.82},
		{4, 2.5, 12.02},
		{4, 4, 9.22},
		{6, 4, 7.69},
		{6, 6, 6.16},
		{10, 6, 4.91},
		{10, 10, 3.66},
		{16, 10, 2.98},
		{16, 16, 2.30},
		{25, 16, 1.877},
		{35, 16, 1.674},
	} {
		cold := LoopResistance(r20Of(tt.line), r20Of(tt.cpc), false, unit.Metres(1)).MOhm() / 1.2
		close(t, "R1+R2", cold, tt.want, 0.0051)
	}
}

// TestAWG compares the sizes in mm² with the formula of the standard.
//
// Source: ASTM B258, d = 0.127 mm · 92^((36−n)/39).
func TestAWG(t *testing.T) {
	n := map[string]float64{"14": 14, "12": 12, "10": 10, "8": 8, "6": 6, "4": 4, "3": 3, "2": 2, "1": 1, "1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}
	for _, s := range necSizes {
		want := 0.0
		if g, ok := n[s.name]; ok {
			d := 0.127 * math.Pow(92, (36-g)/39)
			want = math.Pi / 4 * d * d
		} else {
			want = map[string]float64{"250": 250, "300": 300, "350": 350, "400": 400, "500": 500}[s.name] * 0.5067075
		}
		close(t, s.name, s.mm2, want, want*0.003)
	}
}
