package electrical

import (
	"testing"

	"tunwright/catalog/unit"
)

// necCircuit sizes one load on a US supply.
func necCircuit(t *testing.T, phases int, volts float64, l Load, terminals75 bool, feet float64) Circuit {
	t.Helper()
	l.Tag, l.Length = "X", ptr(unit.Feet(feet))
	r := mustSize(t, Input{
		Rules: NEC, Loads: []Load{l}, Supply: Supply{Phases: ptr(phases), Voltage: ptr(unit.Volts(volts))},
		Install: Installation{Terminals75: terminals75, Ambient: ptr(unit.Celsius(30))},
	})
	return r.Circuits[0]
}

func horsepower(hp float64) unit.Power { return unit.Watts(hp * 745.7) }

func TestNECElements(t *testing.T) {
	tests := []struct {
		volts    float64
		ib       float64
		live     string
		device   float64
		ground   string
		drop     float64
		dropPct  float64
		basis    float64
		ampacity float64
	}{
		// Worked from NFPA 70 Table 310.16, 210.20(A), 240.4(B), 250.122 and chapter 9 Table 9.
		{208, 66.6, "4 AWG", 90, "8 AWG", 3.58, 1.72, 83.3, 85},
		{480, 28.9, "8 AWG", 40, "10 AWG", 3.90, 0.81, 36.1, 50},
	}
	for _, tt := range tests {
		c := necCircuit(t, 3, tt.volts, Load{Kind: Element, Phases: 3, Power: unit.Kilowatts(24)}, true, 100)
		close(t, "Ib", c.Ib.A(), tt.ib, 0.05)
		close(t, "basis", c.Cable.Need.A(), tt.basis, 0.05)
		close(t, "ampacity", c.Cable.It.A(), tt.ampacity, 0)
		close(t, "device", c.Device.Rating.A(), tt.device, 0)
		close(t, "drop", c.Drop.V(), tt.drop, 0.006)
		close(t, "drop %", c.DropShare.Pct(), tt.dropPct, 0.006)
		if c.Cable.Live() != tt.live || c.Cable.Protective() != tt.ground {
			t.Errorf("%v V: %s with %s, want %s with %s", tt.volts, c.Cable.Live(), c.Cable.Protective(), tt.live, tt.ground)
		}
	}
}

func TestNECMotors(t *testing.T) {
	tests := []struct {
		hp          float64
		phases      int
		supply      int
		volts       float64
		terminals75 bool
		flc         float64
		live        string
		device      float64
		source      string
	}{
		{7.5, 3, 3, 230, false, 22, "10 AWG", 60, "code forum 15136: 7½ hp, 230 V, 60 °C terminals"},
		{7.5, 3, 3, 230, true, 22, "10 AWG", 60, "trade press Q&A on a single motor: 27.5 A, 10 AWG at 75 °C"},
		{5, 1, 1, 230, true, 28, "10 AWG", 70, "licence exam page on motor overcurrent protection: 5 hp, 230 V, one phase"},
		{10, 3, 3, 480, true, 14, "14 AWG", 35, "training page: table current 14 A, 17.5 A; breaker 35 A by 250 %"},
		{1, 1, 1, 115, true, 16, "14 AWG", 40, "forum on motor branch circuits: 1 hp, 115 V, 16 A, 20 A, 14 AWG"},
		{1.5, 1, 1, 115, true, 20, "12 AWG", 50, "answer page: 1½ hp, 115 V, 20 A, 250 % gives 50 A; 25 A by 12 AWG at 75 °C"},
	}
	for _, tt := range tests {
		l := Load{Kind: Motor, Starter: Direct, Phases: tt.phases, Power: horsepower(tt.hp), Shaft: true, Efficiency: ptr(unit.Fraction(0.85)), Voltage: ptr(unit.Volts(tt.volts))}
		volts := tt.volts
		if tt.supply == 1 {
			volts = 230
		}
		c := necCircuit(t, tt.supply, volts, l, tt.terminals75, 20)
		close(t, tt.source+": current", c.Ib.A(), tt.flc, 0)
		close(t, tt.source+": device", c.Device.Rating.A(), tt.device, 0)
		if c.Cable.Live() != tt.live {
			t.Errorf("%s: %s, want %s (%s)", tt.source, c.Cable.Live(), tt.live, c.Problem)
		}
	}
}

// TestNECMotorTable compares the full-load currents with a distributor's list of
// three-phase motors, 230 and 460 V.
func TestNECMotorTable(t *testing.T) {
	for _, tt := range []struct{ hp, v230, v460 float64 }{
		{1, 4.2, 2.1}, {1.5, 6.0, 3.0}, {2, 6.8, 3.4}, {3, 9.6, 4.8}, {5, 15.2, 7.6}, {7.5, 22, 11}, {10, 28, 14}, {15, 42, 21}, {20, 54, 27}, {25, 68, 34},
	} {
		row, err := motorNEC3.AtLeast("hp", tt.hp)
		if err != nil {
			t.Fatal(err)
		}
		a, _ := motorNEC3.Number(row, "230V")
		b, _ := motorNEC3.Number(row, "460V")
		close(t, "230 V", a, tt.v230, 0)
		close(t, "460 V", b, tt.v460, 0)
	}
}

// TestNECBounds: small conductors keep their device (240.4(D)), heat and company cost
// ampacity, and what the tables do not hold is said.
func TestNECBounds(t *testing.T) {
	c := necCircuit(t, 3, 208, Load{Kind: Electronics, Phases: 1, Power: unit.Kilowatts(1.6), PowerFactor: ptr(unit.Fraction(1))}, true, 20)
	if c.Device.Rating.A() != 20 || c.Cable.Live() != "12 AWG" {
		t.Errorf("16.7 A continuous: %v A on %s, want 20 A on 12 AWG", c.Device.Rating.A(), c.Cable.Live())
	}
	ca, cg, err := NECCorrection(unit.Celsius(38), 6)
	if err != nil {
		t.Fatal(err)
	}
	close(t, "38 °C", ca.Value(), 0.91, 0)
	close(t, "6 conductors", cg.Value(), 0.80, 0)
	if _, _, err := NECCorrection(unit.Celsius(55), 3); err == nil {
		t.Error("55 °C is beyond the table and gave no error")
	}
	big := necCircuit(t, 3, 208, Load{Kind: Element, Phases: 3, Power: unit.Kilowatts(200)}, true, 20)
	if big.Problem == "" {
		t.Errorf("694 A on %s: a single conductor of the table cannot carry it", big.Cable.Live())
	}
}

// TestSplitPhase: on 120/240 V a 240 V load takes both lines, 120 V loads share them.
func TestSplitPhase(t *testing.T) {
	loads := []Load{
		{Tag: "E", Kind: Element, Phases: 1, Power: unit.Kilowatts(4.8), Voltage: ptr(unit.Volts(240))},
		{Tag: "A", Kind: Electronics, Phases: 1, Power: unit.Kilowatts(1.2), PowerFactor: ptr(unit.Fraction(1)), Voltage: ptr(unit.Volts(120))},
		{Tag: "B", Kind: Electronics, Phases: 1, Power: unit.Kilowatts(1.2), PowerFactor: ptr(unit.Fraction(1)), Voltage: ptr(unit.Volts(120))},
	}
	r := mustSize(t, Input{Rules: NEC, Loads: loads, Supply: Supply{Phases: ptr(1)}})
	if r.Supply.Lines != 2 || r.Circuits[0].Lines != "L1L2" {
		t.Fatalf("%d lines, element on %s", r.Supply.Lines, r.Circuits[0].Lines)
	}
	d := r.States[0]
	close(t, "L1", d.Line[0].A(), 30, 1e-9)
	close(t, "L2", d.Line[1].A(), 30, 1e-9)
	close(t, "neutral", d.Neutral.A(), 0, 1e-9)
}

// TestLineToLine: on 208Y/120 V a single-phase load between lines takes two of three.
func TestLineToLine(t *testing.T) {
	var loads []Load
	for _, tag := range []string{"A", "B", "C"} {
		loads = append(loads, Load{Tag: tag, Kind: Element, Phases: 1, Power: unit.Kilowatts(2.08), Voltage: ptr(unit.Volts(208))})
	}
	r := mustSize(t, Input{Rules: NEC, Loads: loads, Supply: Supply{Phases: ptr(3)}})
	for l := range 3 {
		close(t, "each line carries two loads of 10 A", r.States[0].Line[l].A(), 20, 1e-9)
	}
}
