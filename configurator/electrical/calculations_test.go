package electrical

import (
	"slices"
	"strings"
	"testing"

	"tunwright/catalog/strict"
	"tunwright/configurator/calc"
)

func TestCalculationsRun(t *testing.T) {
	if err := calc.Verify(Calculations()); err != nil {
		t.Fatal(err)
	}
}

// TestCalculationResults runs calculations by name as a caller does and looks for
// figures in the JSON that comes back.
func TestCalculationResults(t *testing.T) {
	tests := []struct {
		id, in string
		want   []string
		source string
	}{
		{"electrical.design-current", `{"power_kw": 5, "phases": 1, "voltage_v": 230}`, []string{`"current_a": 21.739`}, "public cable sizing example: 21.74 A"},
		{"electrical.element-at-voltage", `{"power_kw": 24, "phases": 3, "rated_voltage_v": 400, "voltage_v": 440}`, []string{`"power_kw": 29.04`, `"current_a": 38.1`}, "own arithmetic"},
		{"electrical.phase-balance", `{"loads_a": [10, 10, 8, 8, 6, 6, 6]}`, []string{`"worst_a": 18`, `"proven": true`, `"neutral_a": 0`}, "every assignment tried"},
		{"electrical.delta-line-currents", `{"l1_l2_a": 15, "l2_l3_a": 10, "l3_l1_a": 5}`, []string{`"l1_a": 18.02`, `"l2_a": 21.79`, `"l3_a": 13.22`}, "own arithmetic"},
		{"electrical.cable-capacity", `{"cable": "armoured", "method": "E", "loaded_conductors": 3, "size_mm2": 10, "ambient_c": 35, "grouped": 6}`, []string{`"tabulated_a": 62`, `"capacity_a": 42.54`}, "BS 7671 Tables 4D4A, 4B1, 4C1"},
		{"electrical.voltage-drop", `{"size_mm2": 35, "phases": 3, "insulation_c": 70, "current_a": 100, "length_m": 150, "voltage_v": 415}`, []string{`"safe_v": 16.5`}, "cable distributor's page"},
		{"electrical.max-loop-impedance", `{"curve": "C", "rating_a": 32, "voltage_v": 230}`, []string{`"impedance_ohm": 0.682`}, "BS 7671 Table 41.3: 0.68"},
		{"electrical.heating-time", `{"volume_l": 2200, "from_c": 12, "to_c": 78, "power_kw": 24, "efficiency_ratio": 0.95}`, []string{`"energy_kwh": 168.8`, `"time_h": 7.40`}, "own arithmetic"},
		{"electrical.circuit", `{"rules": "NEC", "kind": "element", "power_kw": 24, "phases": 3, "line_voltage_v": 480, "length_m": 30.48, "ambient_c": 30, "terminals_75c": true}`, []string{`"live": "8 AWG"`, `"device": "40 A"`, `"protective": "10 AWG"`}, "NFPA 70, worked by hand"},
		{"electrical.ingress-protection", `{"has": "IP67", "needs": "IP66"}`, []string{`"covers": false`}, "IEC 60529 clause 6"},
	}
	for _, tt := range tests {
		out, err := runCalculation(t, tt.id, tt.in)
		if err != nil {
			t.Errorf("%s: %v", tt.id, err)
		}
		for _, want := range tt.want {
			if !strings.Contains(out, want) {
				t.Errorf("%s (%s) gives %s, want %s", tt.id, tt.source, out, want)
			}
		}
	}
}

func runCalculation(t *testing.T, id, in string) (string, error) {
	t.Helper()
	list := Calculations()
	i := slices.IndexFunc(list, func(c calc.Calculation) bool { return c.ID == id })
	if i < 0 {
		t.Fatalf("there is no %s", id)
	}
	out, _, err := list[i].Run([]byte(in))
	if err != nil {
		return "", err
	}
	text, err := strict.JSON(out)
	return string(text), err
}

// TestCalculationsRefuse what the tables or the formula do not cover.
func TestCalculationsRefuse(t *testing.T) {
	for _, tt := range []struct{ id, in string }{
		{"electrical.design-current", `{"power_kw": 5, "phases": 2, "voltage_v": 230}`},
		{"electrical.design-current", `{"power_kw": 5, "voltage_v": 230}`},
		{"electrical.cable-capacity", `{"cable": "armoured", "method": "B1", "loaded_conductors": 3, "size_mm2": 10, "ambient_c": 35, "grouped": 6}`},
		{"electrical.cable-capacity", `{"cable": "armoured", "method": "E", "loaded_conductors": 3, "size_mm2": 300, "ambient_c": 35, "grouped": 6}`},
		{"electrical.cable-capacity", `{"cable": "armoured", "method": "E", "loaded_conductors": 3, "size_mm2": 10, "ambient_c": 70, "grouped": 6}`},
		{"electrical.voltage-drop", `{"size_mm2": 7, "phases": 3, "insulation_c": 70, "current_a": 100, "length_m": 150, "voltage_v": 415}`},
		{"electrical.voltage-drop", `{"size_mm2": 10, "phases": 3, "insulation_c": 80, "current_a": 100, "length_m": 150, "voltage_v": 415}`},
		{"electrical.protective-conductor", `{"line_mm2": 25, "fault_current_a": 1000, "time_s": 9, "k": 115}`},
		{"electrical.heating-time", `{"volume_l": 100, "from_c": 80, "to_c": 20, "power_kw": 5}`},
		{"electrical.ingress-protection", `{"has": "66", "needs": "IP66"}`},
		{"electrical.circuit", `{"rules": "IEC", "kind": "element", "power_kw": 900, "phases": 3, "length_m": 18}`},
	} {
		if out, err := runCalculation(t, tt.id, tt.in); err == nil {
			t.Errorf("%s took %s and gave %s", tt.id, tt.in, out)
		}
	}
}
