package air

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"tunwright/catalog/unit"
)

// TestSaturationPublished compares with printed tables of saturation pressure.
func TestSaturationPublished(t *testing.T) {
	for _, c := range []struct {
		source string
		tC     float64
		kPa    float64
		tol    float64
	}{
		// IAPWS-IF97 steam tables, saturation pressure, from memory; the tolerance is
		// 0.05 %, within which ASHRAE's equation follows them
		{"IAPWS-IF97 10 °C", 10, 1.2282, 0.0006},
		{"IAPWS-IF97 20 °C", 20, 2.3393, 0.0012},
		{"IAPWS-IF97 30 °C", 30, 4.2470, 0.0021},
		{"IAPWS-IF97 40 °C", 40, 7.3849, 0.0037},
		{"IAPWS-IF97 50 °C", 50, 12.352, 0.006},
		{"IAPWS-IF97 60 °C", 60, 19.946, 0.010},
		{"IAPWS-IF97 70 °C", 70, 31.201, 0.016},
		{"IAPWS-IF97 80 °C", 80, 47.415, 0.024},
		{"IAPWS-IF97 90 °C", 90, 70.182, 0.036},
		{"IAPWS-IF97 100 °C", 100, 101.42, 0.06},
		// ASHRAE Handbook—Fundamentals, ch. 1 Table 3, over ice, from memory
		{"ASHRAE Table 3 -10 °C", -10, 0.25990, 0.0001},
		{"ASHRAE Table 3 -20 °C", -20, 0.10326, 0.0001},
		{"ASHRAE Table 3 -30 °C", -30, 0.03802, 0.00005},
	} {
		p, err := SaturationPressure(unit.Celsius(c.tC))
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.source, p.KPaA(), c.kPa, c.tol)
	}
}

// TestMoistAirPublished compares with printed properties of moist air.
func TestMoistAirPublished(t *testing.T) {
	state := func(tC, rh float64) MoistAir {
		m, err := State(AirState{unit.Celsius(tC), unit.Percent(rh)}, unit.PascalsAbs(seaLevel))
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	// source: ASHRAE Handbook—Fundamentals, ch. 1 Table 2, saturated moist air, from
	// memory; the ideal-gas equations lie up to 0.5 % below the table
	near(t, "Ws at 20 °C", state(20, 100).Moisture.KgKg(), 0.014758, 0.00008)
	near(t, "hs at 20 °C", state(20, 100).Enthalpy.KJKg(), 57.55, 0.25)
	near(t, "vs at 20 °C", state(20, 100).Volume.M3Kg(), 0.8498, 0.0008)
	near(t, "Ws at 30 °C", state(30, 100).Moisture.KgKg(), 0.027329, 0.00014)
	near(t, "hs at 30 °C", state(30, 100).Enthalpy.KJKg(), 100.0, 0.5)
	// source: psychrolib README, dew point at 25 °C and 80 %
	near(t, "dew point", state(25, 80).DewPoint.C(), 21.3094, 0.002)
	// source: US Standard Atmosphere 1976, pressure at 1000 m and 3000 m
	for z, want := range map[float64]float64{1000: 89.875, 3000: 70.109} {
		p, err := StandardPressure(unit.Metres(z))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "standard atmosphere kPa", p.KPaA(), want, 0.02)
	}
}

// TestAgainstPsychrolib compares with an independent open-source library. On a
// machine without node it is skipped; where CI is set it must run.
func TestAgainstPsychrolib(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "psychro")
	missing := func(why string) {
		t.Helper()
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s: CI must install node and run npm ci in testdata/psychro", why)
		}
		t.Skipf("%s: run npm ci in testdata/psychro to compare with the independent library", why)
	}
	node, err := exec.LookPath("node")
	if err != nil {
		missing("node is not installed")
	}
	if _, err := os.Stat(filepath.Join(dir, "node_modules", "psychrolib")); errors.Is(err, os.ErrNotExist) {
		missing("psychrolib is not installed")
	}
	cmd := exec.Command(node, "reference.mjs")
	cmd.Dir = dir
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("run reference.mjs: %v", err)
	}
	var row struct {
		Altitude float64 `json:"altitude_m"`
		T        float64 `json:"t_c"`
		RH       float64 `json:"rh"`
		P        float64 `json:"p_pa"`
		Pws      float64 `json:"pws_pa"`
		W        float64 `json:"w_kg_kg"`
		H        float64 `json:"h_j_kg"`
		V        float64 `json:"v_m3_kg"`
		Dew      float64 `json:"dew_c"`
		Back     float64 `json:"t_back_c"`
	}
	n := 0
	for line := range bytes.Lines(out) {
		if err := json.Unmarshal(line, &row); err != nil {
			t.Fatal(err)
		}
		n++
		p, err := StandardPressure(unit.Metres(row.Altitude))
		if err != nil {
			t.Fatal(err)
		}
		m, err := State(AirState{unit.Celsius(row.T), unit.Fraction(row.RH)}, p)
		if err != nil {
			t.Fatal(err)
		}
		// both follow the same ASHRAE equations: only rounding may differ, and the
		// library's dew point stops at 0.001 K
		near(t, "pressure", p.PaA(), row.P, 0.5)
		near(t, "saturation pressure", pws(row.T), row.Pws, row.Pws*1e-9)
		near(t, "moisture", m.Moisture.KgKg(), row.W, row.W*1e-5)
		near(t, "enthalpy", m.Enthalpy.JKg(), row.H, 0.5+1e-5*max(row.H, -row.H))
		near(t, "volume", m.Volume.M3Kg(), row.V, row.V*1e-5)
		near(t, "dew point", m.DewPoint.C(), row.Dew, 0.002)
		near(t, "temperature from enthalpy", temperature(m.Enthalpy.KJKg(), m.Moisture.KgKg()), row.Back, 1e-6)
	}
	if n != 120 {
		t.Errorf("%d rows compared, want 120", n)
	}
}

func TestRangesRefused(t *testing.T) {
	var r *unit.RangeError
	if _, err := SaturationPressure(unit.Celsius(201)); !errors.As(err, &r) {
		t.Errorf("201 °C: %v", err)
	}
	if _, err := State(AirState{unit.Celsius(20), unit.Percent(101)}, unit.PascalsAbs(seaLevel)); !errors.As(err, &r) {
		t.Errorf("101 %%: %v", err)
	}
	if _, err := StandardPressure(unit.Metres(9000)); !errors.As(err, &r) {
		t.Errorf("9000 m: %v", err)
	}
	if _, err := DuctFor(unit.M3PerSecond(30), unit.MetresPerSecond(9)); !errors.As(err, &r) {
		t.Errorf("30 m³/s in one duct: %v", err)
	}
}
