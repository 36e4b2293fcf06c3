package electrical

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
)

func ptr[T any](v T) *T { return &v }

func close(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.4f, want %.4f ± %.4f", what, got, want, tol)
	}
}

// The golden example: a 15 hL electric brewery on a 100 A supply. Its figures were
// worked out apart from this program from BS 7671 tables.
func goldenLoads() []Load {
	type row struct {
		tag, name string
		phases    int
		kw        float64
		pf, eta   float64
		kind      Kind
		start     Starter
		curve     Curve
		multiple  float64
		length    float64
	}
	rows := []row{
		{"E1", "Kettle element 1", 3, 24, 1, 1, Element, "", "", 0, 18},
		{"E2", "Kettle element 2", 3, 24, 1, 1, Element, "", "", 0, 18},
		{"E3", "Kettle element 3", 3, 24, 1, 1, Element, "", "", 0, 18},
		{"E4", "HLT element bank", 3, 24, 1, 1, Element, "", "", 0, 22},
		{"M1", "Glycol chiller packaged", 3, 9.5, 0.85, 1, Motor, Direct, CurveC, 6.19, 35}, // starts with at most 100 A
		{"M2", "CIP set (9 kW heater + pump)", 3, 10.5, 0.97, 1, Electronics, "", CurveC, 0, 25},
		{"M3", "Malt mill 3 kW DOL", 3, 3, 0.82, 0.877, Motor, Direct, "", 0, 30},
		{"P1", "Wort pump 1.5 kW VSD 1ph in", 1, 1.5, 0.98, 0.78, Motor, VariableSpeed, "", 0, 20},
		{"P2", "Transfer pump 1.1 kW VSD 1ph in", 1, 1.1, 0.98, 0.76, Motor, VariableSpeed, "", 0, 24},
		{"P3", "Mash rake 0.75 kW VSD 1ph in", 1, 0.75, 0.98, 0.72, Motor, VariableSpeed, "", 0, 20},
		{"P4", "Glycol pump 1.1 kW DOL 1ph", 1, 1.1, 0.9, 0.72, Motor, Direct, "", 0, 36},
		{"C1", "Control panel 230 V", 1, 1, 0.9, 1, Electronics, "", "", 0, 12},
		{"V1", "Solenoids 6 x 60 VA", 1, 0.36, 0.95, 1, Electronics, "", "", 0, 26},
		{"F1", "Vapour fan 0.37 kW", 1, 0.37, 0.9, 0.65, Motor, SoftStart, "", 1, 28},
		{"S1", "16A 60309 socket brewhouse", 1, 2, 0.95, 1, Socket, "", "", 0, 24},
		{"S2", "16A 60309 socket cellar", 1, 2, 0.95, 1, Socket, "", "", 0, 40},
	}
	runs := map[string]string{
		"E1": "S4 S5", "E2": "S4 S5", "E3": "S4", "E4": "S1 S2 S3 S7", "M2": "S7", "M3": "S2", "P1": "S2 S3 S4 S6",
		"P2": "S3 S6 S7", "P3": "S2 S3", "F1": "S4 S5",
	}
	var loads []Load
	for _, r := range rows {
		l := Load{
			Tag: r.tag, Name: r.name, Kind: r.kind, Power: unit.Kilowatts(r.kw), Phases: r.phases, Starter: r.start, Curve: r.curve,
			PowerFactor: ptr(unit.Fraction(r.pf)), Efficiency: ptr(unit.Fraction(r.eta)), Length: ptr(unit.Metres(r.length)),
		}
		if r.multiple > 0 {
			l.StartMultiple = ptr(unit.Fraction(r.multiple))
		}
		l.Runs = goldenRuns(r.tag, runs[r.tag])
		loads = append(loads, l)
	}
	return loads
}

func goldenRuns(tag, states string) []Run {
	full := func(key string, f float64) Run { return Run{State: key, Peak: ptr(unit.Fraction(f))} }
	switch tag {
	case "M1":
		return []Run{full("S1", 0.5), full("S2", 0.5), full("S3", 0.5), full("S4", 0.5), full("S5", 0.5), full("S6", 1), full("S7", 1)}
	case "C1", "P4":
		return []Run{full("all", 1)}
	case "V1":
		return []Run{full("S1", 0.3), full("all", 1)}
	case "S1":
		return []Run{full("S2", 0.5), full("S3", 0.5), full("S4", 0.5), full("S5", 0.5), full("S6", 0.5), full("S7", 0.5)}
	case "S2":
		return []Run{full("S5", 0.5), full("S6", 0.5), full("S7", 0.5)}
	}
	var out []Run
	for i := 0; i+2 <= len(states); i += 3 {
		out = append(out, full(states[i:i+2], 1))
	}
	return out
}

func goldenInput() Input {
	h := unit.Hours
	return Input{
		Rules: IEC, Loads: goldenLoads(), DayStart: ptr(h(2.5)), BrewVolume: ptr(unit.Hectolitres(15)),
		Supply: Supply{
			Phases: ptr(3), Voltage: ptr(unit.Volts(400)), Fuse: ptr(unit.Amperes(100)), FuseBasis: Told,
			Existing: ptr(unit.Amperes(22)), Basis: Measured, Ze: ptr(unit.Ohms(0.35)), Earthing: "TN-C-S", Fault: ptr(unit.Amperes(6000)),
		},
		Install: Installation{Cable: Armoured, Method: MethodE, Ambient: ptr(unit.Celsius(35)), Grouped: 6},
		Day: []DayState{
			{Key: "S1", Title: "HLT heat", Hours: h(3.5)},
			{Key: "S2", Title: "mill and mash", Hours: h(1.5)},
			{Key: "S3", Title: "run-off", Hours: h(1.5)},
			{Key: "S4", Title: "kettle heat-up", Hours: h(1)},
			{Key: "S5", Title: "boil", Hours: h(1.25)},
			{Key: "S6", Title: "knock-out", Hours: h(1.25)},
			{Key: "S7", Title: "CIP and HLT refill", Hours: h(2)},
		},
	}
}

func mustSize(t testing.TB, in Input) Result {
	t.Helper()
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestGoldenCircuits(t *testing.T) {
	r := mustSize(t, goldenInput())
	want := []struct {
		tag        string
		ib         float64
		device     string
		need, mm2  float64
		it, iz     float64
		vd, vdPct  float64
		zs, zsMax  float64
		governed   string
		drivenByIn bool
	}{
		{"E1", 34.64, "B40", 58.3, 10, 62, 42.5, 2.37, 0.59, 0.429, 1.093, "Iz", false},
		{"E2", 34.64, "B40", 58.3, 10, 62, 42.5, 2.37, 0.59, 0.429, 1.093, "Iz", false},
		{"E3", 34.64, "B40", 58.3, 10, 62, 42.5, 2.37, 0.59, 0.429, 1.093, "Iz", false},
		{"E4", 34.64, "B40", 58.3, 10, 62, 42.5, 2.90, 0.72, 0.447, 1.093, "Iz", false},
		{"M1", 16.13, "C20", 29.1, 4, 35, 24.0, 5.36, 1.34, 0.737, 1.093, "Iz", false},
		{"M2", 15.62, "C16", 23.3, 2.5, 26, 17.8, 5.86, 1.46, 0.795, 1.366, "Iz", false},
		{"M3", 6.02, "D10", 14.6, 2.5, 26, 17.8, 2.71, 0.68, 0.884, 1.093, "Zs", false},
		{"P1", 8.53, "C10", 14.6, 1.5, 22, 15.1, 4.95, 2.15, 0.931, 2.185, "Iz", false},
		{"P2", 6.42, "C10", 14.6, 1.5, 22, 15.1, 4.47, 1.94, 1.047, 2.185, "Iz", false},
		{"P3", 4.62, "C6", 8.7, 1.5, 22, 15.1, 2.68, 1.17, 0.931, 3.642, "Iz", false},
		{"P4", 7.38, "D10", 14.6, 2.5, 31, 21.3, 4.78, 2.08, 0.990, 1.093, "Zs", false},
		{"C1", 4.83, "C6", 8.7, 1.5, 22, 15.1, 1.68, 0.73, 0.698, 3.642, "Iz", false},
		{"V1", 1.65, "C6", 8.7, 1.5, 22, 15.1, 1.24, 0.54, 1.105, 3.642, "Iz", false},
		{"F1", 2.75, "C6", 8.7, 1.5, 22, 15.1, 2.23, 0.97, 1.163, 3.642, "Iz", false},
		{"S1", 9.15, "C16", 23.3, 2.5, 31, 21.3, 6.91, 3.01, 0.777, 1.366, "Iz", true},
		{"S2", 9.15, "C16", 23.3, 4, 41, 28.1, 7.04, 3.06, 0.793, 1.366, "Vd", true},
	}
	for i, w := range want {
		c := r.Circuits[i]
		if c.Problem != "" {
			t.Errorf("%s: %s", w.tag, c.Problem)
			continue
		}
		close(t, w.tag+" Ib", c.Ib.A(), w.ib, 0.006)
		close(t, w.tag+" It needed", c.Cable.Need.A(), w.need, 0.06)
		close(t, w.tag+" size", c.Cable.Section.MM2(), w.mm2, 1e-9)
		close(t, w.tag+" It", c.Cable.It.A(), w.it, 1e-9)
		close(t, w.tag+" Iz", c.Cable.Iz.A(), w.iz, 0.06)
		close(t, w.tag+" Vd", c.Drop.V(), w.vd, 0.006)
		close(t, w.tag+" Vd %", c.DropShare.Pct(), w.vdPct, 0.006)
		close(t, w.tag+" Zs", c.Zs.Ohm(), w.zs, 0.0006)
		close(t, w.tag+" Zs max", c.ZsMax.Ohm(), w.zsMax, 0.0006)
		if c.Device.Text() != w.device || c.Governed != w.governed {
			t.Errorf("%s: %s governed by %s, want %s by %s", w.tag, c.Device.Text(), c.Governed, w.device, w.governed)
		}
	}
}

// TestGoldenStates ties the single-phase loads to the lines of the example's first,
// all-on balance.
func TestGoldenStates(t *testing.T) {
	in := goldenInput()
	lines := map[string]int{"P1": 1, "P2": 2, "P3": 1, "P4": 2, "C1": 1, "V1": 2, "F1": 2, "S1": 3, "S2": 3}
	for i := range in.Loads {
		in.Loads[i].Line = lines[in.Loads[i].Tag]
	}
	r := mustSize(t, in)
	want := []struct {
		l1, l2, l3, most, margin, kw, kva, imb float64
	}{
		{47.5, 50.6, 42.7, 50.6, 27.4, 31.4, 31.7, 9.0},
		{66.7, 57.8, 53.3, 66.7, 11.3, 39.0, 39.8, 12.6},
		{60.7, 58.2, 47.3, 60.7, 17.3, 37.0, 37.5, 14.6},
		{125.4, 123.8, 116.6, 125.4, -47.4, 83.1, 83.3, 4.4},
		{82.2, 89.1, 86.5, 89.1, -11.1, 58.2, 58.4, 4.4},
		{29.5, 31.6, 25.3, 31.6, 46.4, 17.8, 19.7, 12.2},
		{71.2, 81.8, 75.6, 81.8, -3.8, 50.3, 51.5, 7.4},
	}
	for i, w := range want {
		d := r.States[i]
		close(t, d.Title+" L1", d.Line[0].A(), w.l1, 0.06)
		close(t, d.Title+" L2", d.Line[1].A(), w.l2, 0.06)
		close(t, d.Title+" L3", d.Line[2].A(), w.l3, 0.06)
		close(t, d.Title+" max", d.Max.A(), w.most, 0.06)
		close(t, d.Title+" margin", d.Margin.A(), w.margin, 0.06)
		close(t, d.Title+" kW", d.Power.KW(), w.kw, 0.06)
		close(t, d.Title+" kVA", d.Apparent.KVA(), w.kva, 0.06)
		close(t, d.Title+" imbalance", d.Imbalance.Pct(), w.imb, 0.06)
	}
	close(t, "connected kW", r.Connected.KW(), 131.3, 0.06)
	if r.States[r.Binding.State].Key != "S4" || r.Binding.Line != 1 {
		t.Errorf("binding %s L%d, want S4 L1", r.States[r.Binding.State].Key, r.Binding.Line)
	}
}

// managed is the example's second day: two elements heat up, the boil holds 1.4 of
// them, cooling rests during heat-up, cleaning runs without the liquor element.
func managed() Input {
	in := goldenInput()
	in.Day[3].Hours = unit.Hours(1.5)
	drop := func(i int, states ...string) {
		var keep []Run
		for _, r := range in.Loads[i].Runs {
			out := false
			for _, s := range states {
				out = out || r.State == s
			}
			if !out {
				keep = append(keep, r)
			}
		}
		in.Loads[i].Runs = keep
	}
	in.Loads[2].Runs = []Run{{State: "S4", Peak: ptr(unit.Fraction(0))}}
	drop(3, "S7")
	for _, i := range []int{0, 1} {
		in.Loads[i].Runs[1].Peak = ptr(unit.Fraction(0.7))
	}
	drop(4, "S4")
	in.Loads[10].Runs = append([]Run{{State: "S4", Peak: ptr(unit.Fraction(0))}}, in.Loads[10].Runs...)
	drop(14, "S4")
	return in
}

func TestGoldenManagedDay(t *testing.T) {
	in := managed()
	lines := map[string]int{"P1": 1, "S1": 1, "S2": 1, "P2": 2, "P3": 2, "C1": 2, "P4": 3, "V1": 3, "F1": 3}
	for i := range in.Loads {
		in.Loads[i].Line = lines[in.Loads[i].Tag]
	}
	r := mustSize(t, in)
	for i, w := range []float64{50.6, 61.8, 58.6, 77.81, 68.3, 33.8, 43.0} {
		tol := 0.06
		if i == 3 {
			tol = 0.006
		}
		close(t, r.States[i].Title, r.States[i].Max.A(), w, tol)
	}
	for i, w := range []float64{109.9, 58.5, 55.6, 77.8, 54.8, 22.2, 52.7} {
		close(t, r.States[i].Title+" kWh", r.Energy.States[i].KWh(), w, 0.06)
	}
	close(t, "day", r.Energy.Day.KWh(), 431.4, 0.06)
	close(t, "per hL", r.Energy.PerVolume.KWhHL(), 28.8, 0.06)

	free := mustSize(t, managed())
	close(t, "optimum on the worst state", free.Balance.Worst.A(), 77.81, 0.006)
	if !free.Balance.Proven {
		t.Error("the optimum is not proven")
	}
}

func TestGoldenFeeder(t *testing.T) {
	in := managed()
	in.Supply.Distance = ptr(unit.Metres(30))
	r := mustSize(t, in)
	f := r.Feeder
	close(t, "feeder device", f.Device.Rating.A(), 80, 0)
	close(t, "feeder size", f.Cable.Section.MM2(), 25, 0)
	close(t, "feeder It", f.Cable.It.A(), 110, 0)
	close(t, "feeder Iz", f.Cable.Iz.A(), 103, 0.5)
	close(t, "feeder drop", f.Drop.V(), 3.50, 0.006)
	close(t, "feeder drop %", f.DropShare.Pct(), 0.88, 0.006)
	close(t, "socket S2 from the origin %", r.Circuits[15].DropShare.Pct()+f.DropShare.Pct(), 3.94, 0.006)
}
