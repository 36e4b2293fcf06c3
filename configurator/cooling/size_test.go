package cooling

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// weekCellar is a cellar of n fermenters in a design week, with a bright tank for
// each three of them and one tank of cold liquor.
func weekCellar(n int) Input {
	in := exampleCellar()
	in.Horizon = unit.Hours(168)
	fv, bt, cl := in.Tanks[0], in.Tanks[6], in.Tanks[8]
	in.Tanks, in.Batches, in.Stays, in.Refills = nil, nil, nil, nil
	for i := range n {
		fv.Tag = fmt.Sprintf("FV%02d", i+1)
		fv.Volume = unit.Hectolitres(10 + float64(i%3)*5)
		fv.Diameter, fv.JacketHeld = 0, 0
		in.Tanks = append(in.Tanks, fv)
		start := unit.Hours(float64(i*17%168) - 168)
		in.Batches = append(in.Batches, Batch{
			Tank: fv.Tag, Beer: "ale", Start: start, End: start + unit.Hours(288), Original: unit.DegreesPlato(12), Final: unit.DegreesPlato(2.5),
			Crash: &Crash{Start: start + unit.Hours(192), To: unit.Celsius(1)},
		})
	}
	for i := range (n + 2) / 3 {
		bt.Tag = fmt.Sprintf("BT%02d", i+1)
		in.Tanks = append(in.Tanks, bt)
	}
	in.Tanks = append(in.Tanks, cl)
	in.Chiller = madeChiller("CH", 4*float64(n))
	in.Units, in.Winter = 2, ptr(unit.Celsius(-5))
	return in
}

func BenchmarkSize(b *testing.B) {
	for _, n := range []int{5, 14} { // 8 and 20 tanks
		in := weekCellar(n)
		b.Run(fmt.Sprintf("tanks=%d", len(in.Tanks)), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Size(in); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkCheck(b *testing.B) {
	weak := weekCellar(5)
	weak.Chiller, weak.Units = madeChiller("CH-4", 4), 1
	weak.Alternatives = []Chiller{madeChiller("CH-8", 8), madeChiller("CH-12", 12), madeChiller("CH-20", 20)}
	rules := Rules()
	for _, c := range []struct {
		name string
		in   Input
	}{{"sound,tanks=8", weekCellar(5)}, {"weak,tanks=8", weak}, {"sound,tanks=20", weekCellar(14)}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				r, err := Size(c.in)
				if err != nil {
					b.Fatal(err)
				}
				rule.Run(rules, Facts{c.in, r})
			}
		})
	}
}

func TestTablesAreWhole(t *testing.T) {
	for _, tt := range []struct {
		tab    source.Table
		rows   int
		rising string
	}{
		{glycolTable, 16, ""},
		{freezingTable, 29, "mass"},
		{jacketTable, 8, "beer_c"},
		{profilesTable, 10, ""},
		{headsTable, 4, ""},
		{fittingsTable, 15, ""},
		{refrigerantsTable, 14, ""},
		{factorTable, 5, "volume"},
		{altitudeTable, 5, "metres"},
		{pipesTable, 53, ""},
	} {
		if tt.tab.Len() != tt.rows {
			t.Errorf("table %s has %d rows, want %d", tt.tab.Name, tt.tab.Len(), tt.rows)
		}
		if tt.rising != "" && !slices.IsSorted(mustColumn(tt.tab, tt.rising)) {
			t.Errorf("table %s does not rise in %s", tt.tab.Name, tt.rising)
		}
	}
	for i, p := range freezingPoint[1:] {
		if p >= freezingPoint[i] {
			t.Errorf("freezing point does not fall at row %d", i+2)
		}
	}
	for i, p := range pipeSeries {
		if i > 0 && p.Series == pipeSeries[i-1].Series && p.Bore <= pipeSeries[i-1].Bore {
			t.Errorf("%s %s is no larger than the size before", p.Series, p.Size)
		}
		if wall := (p.Outside - p.Bore).MM() / 2; wall < 0.69 || wall > 10.01 {
			t.Errorf("%s %s has a wall of %g mm", p.Series, p.Size, wall)
		}
	}
	// The sum of all coefficients, added up apart from this code, guards against a slipped digit.
	sum := 0.0
	for _, name := range []string{"j0", "j1", "j2", "j3", "j4", "j5"} {
		for _, x := range mustColumn(glycolTable, name) {
			sum += x
		}
	}
	near(t, "sum of the coefficients", sum, 2405.7656742382533, 1e-9)
}

// What the jackets ask is what the branches carry, and the index run adds up.
func TestCircuitAddsUp(t *testing.T) {
	in := weekCellar(14)
	in.Route = Route{Header: ptr(unit.Metres(25)), Along: ptr(unit.Metres(20)), Branch: ptr(unit.Metres(4)), Rise: ptr(unit.Metres(9))}
	r := must(Size(in))
	c := r.Circuit
	branches, index, indexed := 0, unit.PressureDiff(0), 0
	for _, s := range c.Sections {
		if s.Tag == "B" {
			branches++
			if tank := findTank(&r, s.To); tank.JacketFlow != s.Flow {
				t.Errorf("branch to %s carries %s, its jacket wants %s", s.To, s.Flow, tank.JacketFlow)
			}
			if s.ToBalance < 0 {
				t.Errorf("branch to %s asks more than the index run", s.To)
			}
		}
		if s.Index {
			index += s.Drop
			indexed++
		}
		if !s.Within || !s.Dry {
			t.Errorf("%s to %s: %s at %s, surface %s", s.From, s.To, s.Gradient, s.Velocity, s.Surface)
		}
	}
	if branches != len(in.Tanks) {
		t.Errorf("%d branches for %d tanks", branches, len(in.Tanks))
	}
	near(t, "index run", (index + c.ChillerDrop + c.Lift).Pa(), c.Total.Pa(), 1e-6)
	near(t, "static head of 9 m", c.Static.Bar(), r.Fluid.AtSupply.Density.KgM3()*9.81*9/1e5, 1e-9)
	if indexed < 3 {
		t.Errorf("the index run has %d sections", indexed)
	}
}

// A reversed return lays the same length to every tank, so that only jackets and
// branches are left to balance.
func TestReversedReturnBalances(t *testing.T) {
	in := weekCellar(6)
	in.Route = Route{Header: ptr(unit.Metres(25)), Along: ptr(unit.Metres(30)), Branch: ptr(unit.Metres(4)), Rise: ptr(unit.Metres(0))}
	most := func(r Result) (p unit.PressureDiff) {
		for _, s := range r.Circuit.Sections {
			p = max(p, s.ToBalance)
		}
		return p
	}
	direct := must(Size(in))
	in.Route.Reverse = true
	reversed := must(Size(in))
	if most(reversed) >= most(direct) {
		t.Errorf("reversed return leaves %s to balance, direct %s", most(reversed), most(direct))
	}
}

func TestPeakNamesWhatRuns(t *testing.T) {
	r := must(Size(exampleCellar()))
	stages := map[string]int{}
	for _, b := range r.AtPeak {
		stages[b.Stage]++
	}
	// Hour 120: one tank cooled down, three full of fermenting beer, one cold, a refill.
	if stages["crash"] != 1 || stages["refill"] != 1 || stages["ferment"] != 3 || stages["bright"] == 0 {
		t.Errorf("at the peak: %v", stages)
	}
	if c := r.Chiller.Curve; len(c) != 3 || c[0].Capacity <= c[2].Capacity {
		t.Errorf("curve %v", c)
	}
}

func TestSheetSaysWhatTheContractorNeeds(t *testing.T) {
	in := sound()
	wort(&in)
	in.Buffer = &Buffer{Volume: unit.Litres(6000)}
	in.Sealed = true
	r := must(Size(in))
	s := r.Sheet
	for name, n := range map[string]int{
		"loads": len(s.Loads), "chiller": len(s.Chiller), "connections": len(s.Connections), "set points": len(s.SetPoints),
		"materials": len(s.Materials), "by whom": len(s.ByWhom), "flags": len(s.Flags), "flags of the place": len(r.Siting.Flags), "cautions": len(s.Cautions), "notes": len(s.Notes), "working": len(r.Trace), "bars": len(r.Bars),
	} {
		if n < 2 {
			t.Errorf("%s: %d rows", name, n)
		}
	}
	if len(r.Hours) != 336 {
		t.Errorf("%d hours", len(r.Hours))
	}
	for _, row := range s.Loads {
		if row.Item == "" || row.Basis == "" || row.Count < 1 || row.For <= 0 || row.HoursWeek <= 0 {
			t.Errorf("load row says too little: %+v", row)
		}
	}
	if first := s.Loads[0]; first.Count != 6 || first.HoursWeek.H() != 6*192/2 {
		t.Errorf("six fermentations of 192 h in two weeks: %d, %s a week", first.Count, first.HoursWeek)
	}
	for i, step := range r.Trace {
		if step.Title == "" || step.Symbol == "" || step.Formula == "" || step.Result == nil || step.Source.IsZero() {
			t.Errorf("step %d says too little: %+v", i, step)
		}
	}
	for _, m := range s.Materials {
		if m.Quantity.SI() <= 0 {
			t.Errorf("%s: %s", m.Item, m.Quantity)
		}
	}
	if !strings.Contains(s.Notes[0], "inhibitors") {
		t.Error("nothing is said of inhibitors")
	}
	if r.Store.Vessel <= 0 {
		t.Error("a closed circuit needs a vessel")
	}
}

// A plan that does not repeat counts only what lies within its window.
func TestWindowOfAPlan(t *testing.T) {
	in := exampleCellar()
	in.Repeats, in.Horizon = false, unit.Hours(168)
	in.Batches = in.Batches[:1]
	in.Batches[0].Start, in.Batches[0].End = unit.Hours(-200), unit.Hours(88)
	in.Batches[0].Crash.Start = unit.Hours(-8)
	r := must(Size(in))
	if r.Hours[0].Crash == 0 || r.Hours[30].Crash != 0 {
		t.Errorf("the crash that began before runs on: %s, %s", r.Hours[0].Crash, r.Hours[30].Crash)
	}
	if r.Hours[100].Gain != 0 {
		t.Errorf("an emptied tank gains %s", r.Hours[100].Gain)
	}
}

func TestInterlockedCellarAsksLess(t *testing.T) {
	in := weekCellar(14)
	for i := range in.Batches { // all at once
		in.Batches[i].Start, in.Batches[i].End = 0, unit.Hours(400)
		in.Batches[i].Crash = &Crash{Start: unit.Hours(100), To: unit.Celsius(1)}
	}
	in.Horizon = unit.Hours(504)
	in.Stays, in.Refills = []Stay{{Tank: "BT01", Start: 0, End: unit.Hours(72)}}, []Refill{{Tank: "CLT", Start: 0, Volume: unit.Litres(1000)}}
	all := must(Size(in))
	in.CrashAtOnce = ptr(2)
	two := must(Size(in))
	if two.Load.Duty >= all.Load.Duty*2/3 {
		t.Errorf("two at once want %s, all at once %s", two.Load.Duty, all.Load.Duty)
	}
	for h, row := range two.Hours {
		if row.Crashing > 4 { // two, and the tails of two that their jackets make late
			t.Errorf("hour %d: %d tanks are cooled down", h, row.Crashing)
		}
	}
}
