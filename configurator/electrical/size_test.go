package electrical

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"tunwright/catalog/unit"

	"pgregory.net/rapid"
)

func drawLoad(t *rapid.T, i int) Load {
	kinds := []Kind{Element, Motor, Electronics, Lighting, Socket}
	starters := []Starter{"", Direct, SoftStart, VariableSpeed, StarDelta}
	words := []string{"strike", "mash", "boil", "hlt", "cool", "cip", "night", "ferment", "pack", "all"}
	l := Load{
		Tag: fmt.Sprintf("L%02d", i), Kind: rapid.SampledFrom(kinds).Draw(t, "kind"), Phases: rapid.SampledFrom([]int{1, 3}).Draw(t, "phases"),
		Power: unit.Watts(float64(rapid.IntRange(50, 30000).Draw(t, "power"))), Starter: rapid.SampledFrom(starters).Draw(t, "starter"),
		Length: ptr(unit.Metres(float64(rapid.IntRange(1, 120).Draw(t, "length")))),
	}
	l.Method = rapid.SampledFrom(methods).Draw(t, "method")
	l.Grouped = rapid.IntRange(0, 20).Draw(t, "grouped")
	l.Ambient = ptr(unit.Celsius(float64(rapid.IntRange(10, 60).Draw(t, "ambient"))))
	l.Control = rapid.SampledFrom([]Control{OnOff, Staged, SolidState}).Draw(t, "control")
	l.Stages = rapid.IntRange(0, 6).Draw(t, "stages")
	for range rapid.IntRange(0, 3).Draw(t, "runs") {
		l.Runs = append(l.Runs, Run{State: rapid.SampledFrom(words).Draw(t, "state")})
	}
	return l
}

func drawInput(t *rapid.T) Input {
	in := Input{Rules: rapid.SampledFrom([]RuleSet{IEC, NEC}).Draw(t, "rules"), Brews: rapid.IntRange(0, 6).Draw(t, "brews")}
	for i := range rapid.IntRange(1, 8).Draw(t, "loads") {
		in.Loads = append(in.Loads, drawLoad(t, i))
	}
	in.Supply.Phases = ptr(3)
	in.Install.Cable = rapid.SampledFrom([]CableType{"", Armoured, Thermoplastic, Thermosetting}).Draw(t, "cable")
	if rapid.Bool().Draw(t, "known") {
		in.Supply.Fuse, in.Supply.Existing = ptr(unit.Amperes(100)), ptr(unit.Amperes(20))
		in.Supply.Ze, in.Supply.Distance = ptr(unit.Ohms(0.2)), ptr(unit.Metres(25))
		in.Supply.Earthing = rapid.SampledFrom([]string{"", "TN-S", "TN-C-S", "TT"}).Draw(t, "earthing")
	}
	return in
}

// TestDesignDeviceCable: Ib ≤ In ≤ Iz on every circuit that the tables complete, and
// the drop is within its limit.
func TestDesignDeviceCable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		in.Rules = IEC
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		for i := range r.Circuits {
			c := &r.Circuits[i]
			if c.Problem != "" {
				continue
			}
			if c.Ib.A() > c.Device.Rating.A()+1e-9 || c.Device.Rating.A() > c.Cable.Iz.A()+1e-9 {
				t.Fatalf("%s: Ib %v, In %v, Iz %v", c.Tag, c.Ib, c.Device.Rating, c.Cable.Iz)
			}
			if c.DropRefined > c.Drop+1e-12 {
				t.Fatalf("%s: refined drop %v above the safe one %v", c.Tag, c.DropRefined, c.Drop)
			}
		}
	})
}

// TestLongerNeverSmaller: a longer cable never takes a smaller conductor, on either
// rule set.
func TestLongerNeverSmaller(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		in.Supply.Fuse, in.Supply.Existing = nil, nil
		near, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		far := in
		far.Loads = append([]Load{}, in.Loads...)
		for i := range far.Loads {
			far.Loads[i].Length = ptr(unit.Metres(far.Loads[i].Length.M() * 1.5))
		}
		r, err := Size(far)
		if err != nil {
			t.Fatal(err)
		}
		for i := range r.Circuits {
			a, b := &near.Circuits[i], &r.Circuits[i]
			// Where the loop is met by no size, the size by capacity is shown.
			if a.Problem != "" || b.Problem != "" || b.Zs != nil && *b.Zs > b.ZsMax || b.DropTotal > b.DropLimit {
				continue
			}
			if b.Cable.Section < a.Cable.Section {
				t.Fatalf("%s: %v near, %v far", a.Tag, a.Cable.Section, b.Cable.Section)
			}
		}
	})
}

// TestMoreNeverLess: another load never lowers the demand of the worst state.
func TestMoreNeverLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		all, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		if len(in.Loads) < 2 {
			return
		}
		in.Loads = in.Loads[1:]
		fewer, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		if fewer.Binding.Demand.A() > all.Binding.Demand.A()+proofSlack+1e-9 {
			t.Fatalf("%v with fewer loads, %v with all", fewer.Binding.Demand, all.Binding.Demand)
		}
	})
}

// TestEnergyAddsUp: states, loads, half hours and bands of a day each add up to its
// energy.
func TestEnergyAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		h := unit.Hours
		in.DayStart = ptr(h(float64(rapid.IntRange(0, 23).Draw(t, "start")) + 0.25))
		in.Bands = []Band{{"day", h(7), h(23)}, {"night", h(23), h(7)}}
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		e := &r.Energy
		sums := map[string]float64{}
		for _, x := range e.States {
			sums["states"] += x.KWh()
		}
		for _, x := range e.Loads {
			sums["loads"] += x.KWh()
		}
		for _, x := range e.HalfHours {
			sums["half hours"] += x.Energy.KWh()
		}
		for _, x := range e.Bands {
			sums["bands"] += x.Energy.KWh()
		}
		for name, got := range sums {
			if math.Abs(got-e.Day.KWh()) > 1e-6*(1+e.Day.KWh()) {
				t.Fatalf("%s add up to %v, the day takes %v", name, got, e.Day.KWh())
			}
		}
	})
}

// TestSameInputSameResult, and the caller's Input is left as it was.
func TestSameInputSameResult(t *testing.T) {
	in := goldenInput()
	limit := unit.Amperes(70)
	in.Limit = &limit
	a, b := mustSize(t, in), mustSize(t, in)
	if !reflect.DeepEqual(a, b) {
		t.Error("two runs differ")
	}
	again := goldenInput()
	again.Limit = &limit
	if !reflect.DeepEqual(in, again) {
		t.Error("Size changed its Input")
	}
	for _, f := range findings(t, goldenInput()) {
		for _, r := range f.Remedies {
			before := goldenInput()
			if _, err := Apply(before, r); err != nil || !reflect.DeepEqual(before, goldenInput()) {
				t.Errorf("%s changed the Input it was applied to (%v)", r.Kind, err)
			}
		}
	}
}

// TestTablesAreWhole: every row of every printed table has a cell for each column.
func TestTablesAreWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawInput(t)
		r, err := Size(in)
		if err != nil {
			t.Fatal(err)
		}
		f := Facts{in, r}
		for _, tab := range []Table{f.Schedule(), f.StateTable(), f.CaseTable(), f.LoadTable(), f.EnergyTable(), f.PointTable(), f.StopTable(), f.BondTable()} {
			for _, row := range tab.Rows {
				if len(row) != len(tab.Columns) {
					t.Fatalf("%s: %d cells, %d columns", tab.Title, len(row), len(tab.Columns))
				}
				for _, cell := range row {
					if strings.Contains(cell, "NaN") || strings.Contains(cell, "Inf") {
						t.Fatalf("%s: %v", tab.Title, row)
					}
				}
			}
		}
		f.Header()
		f.Footer()
		f.OperatorBlock()
		f.Chart()
		if n := f.Tree(); n.Kind != "supply" {
			t.Fatal("the diagram does not begin at the supply")
		}
	})
}

// TestImpossibleInputs: what cannot be is refused in words that name the field.
func TestImpossibleInputs(t *testing.T) {
	one := func(change func(*Load)) Input {
		l := Load{Tag: "X", Kind: Element, Phases: 3, Power: unit.Kilowatts(3)}
		change(&l)
		return Input{Rules: IEC, Loads: []Load{l}}
	}
	tests := []struct {
		in   Input
		want string
	}{
		{Input{}, "rules"},
		{Input{Rules: IEC}, "loads"},
		{one(func(l *Load) { l.Tag = "" }), "tag"},
		{one(func(l *Load) { l.Phases = 2 }), "phases"},
		{one(func(l *Load) { l.Power = 0 }), "power"},
		{one(func(l *Load) { l.Power = unit.Watts(math.NaN()) }), "power"},
		{one(func(l *Load) { l.Kind = "heater" }), "kind"},
		{one(func(l *Load) { l.PowerFactor = ptr(unit.Fraction(1.2)) }), "power factor"},
		{one(func(l *Load) { l.Line = 4 }), "line"},
		{one(func(l *Load) { l.Length = ptr(unit.Metres(-1)) }), "length"},
		{one(func(l *Load) { l.Method = "F" }), "method"},
		{one(func(l *Load) { l.Starter = "soft" }), "starter"},
		{one(func(l *Load) { l.Heat = ptr(unit.KilowattHours(math.NaN())) }), "heat"},
		{one(func(l *Load) { l.Leakage = ptr(unit.Milliamperes(-1)) }), "leakage"},
		{Input{Rules: IEC, Loads: one(func(*Load) {}).Loads, Supply: Supply{PerLine: &[3]unit.Current{-1, 0, 0}}}, "supply.per_line"},
		{Input{Rules: IEC, Loads: one(func(*Load) {}).Loads, Limit: ptr(unit.Amperes(math.NaN()))}, "limit"},
		{one(func(l *Load) { l.Runs = []Run{{State: "boil", Duty: ptr(unit.Fraction(2))}} }), "share"},
		{Input{Rules: IEC, Loads: one(func(*Load) {}).Loads, Supply: Supply{Phases: ptr(2)}}, "supply.phases"},
		{Input{Rules: IEC, Loads: one(func(*Load) {}).Loads, Supply: Supply{Fuse: ptr(unit.Amperes(0))}}, "supply.fuse"},
		{Input{Rules: IEC, Loads: one(func(*Load) {}).Loads, Day: []DayState{{Key: "a", Hours: unit.Hours(25)}}}, "24 h"},
		{Input{Rules: IEC, Loads: append(one(func(*Load) {}).Loads, one(func(*Load) {}).Loads...)}, "twice"},
	}
	for _, tt := range tests {
		_, err := Size(tt.in)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("error %v does not speak of %q", err, tt.want)
		}
	}
}

// TestDefaultDays: each usual day has 24 hours, whatever the number of brews.
func TestDefaultDays(t *testing.T) {
	for brews := range 8 {
		total := 0.0
		for _, s := range DefaultDay(brews) {
			total += s.Hours.H()
		}
		close(t, "hours of the day", total, 24, 1e-9)
	}
}

// TestInterlockAndLimit: interlocked loads count once, an instruction does not count,
// and a limit is kept.
func TestInterlockAndLimit(t *testing.T) {
	in := healthy()
	in.Loads[0].Power, in.Loads[1].Power = unit.Kilowatts(24), unit.Kilowatts(12)
	for i := range 2 {
		in.Loads[i].Group, in.Loads[i].Runs = "heat", []Run{{State: "boil", Peak: ptr(unit.Fraction(1))}}
	}
	apart := mustSize(t, in)
	in.Interlocks = []Interlock{{Group: "heat", Manual: true}}
	told := mustSize(t, in)
	close(t, "what the smaller adds when only told", told.Binding.Demand.A()-apart.Binding.Demand.A(), 12000/(math.Sqrt(3)*400), 1e-9)

	in.Interlocks = nil
	in.Loads[0].Control = SolidState
	in.Limit = ptr(unit.Amperes(25))
	held := mustSize(t, in)
	for _, s := range held.States {
		if s.Max.A() > 25+1e-9 {
			t.Errorf("%s carries %v beyond the limit", s.Title, s.Max)
		}
	}
}

// TestSensitivity: the golden example on its managed day fails with an 80 A link and
// at the top of the voltage band.
func TestSensitivity(t *testing.T) {
	r := mustSize(t, managed())
	want := map[string]bool{"stated": true, "smaller-link": false, "high-voltage": false, "derated": false}
	for _, c := range r.Cases {
		if pass, ok := want[c.Key]; !ok || pass != c.Passes {
			t.Errorf("%s: passes %v", c.Name, c.Passes)
		}
	}
	if len(r.Cases) != len(want) {
		t.Errorf("%d cases, want %d", len(r.Cases), len(want))
	}
}
