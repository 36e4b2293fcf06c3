package cooling

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"

	"pgregory.net/rapid"
)

// someCellar draws an invented cellar with a schedule that repeats.
func someCellar(t *rapid.T) Input {
	in := Input{
		Chiller: madeChiller("CH", 40), Horizon: unit.Hours(168 * float64(rapid.IntRange(1, 3).Draw(t, "weeks"))), Repeats: true,
		Room: ptr(unit.Celsius(rapid.Float64Range(12, 38).Draw(t, "room"))), Ambient: ptr(unit.Celsius(rapid.Float64Range(26, 44).Draw(t, "air"))),
		Mains: ptr(unit.Celsius(rapid.Float64Range(8, 24).Draw(t, "mains"))),
	}
	n := rapid.IntRange(1, 10).Draw(t, "fermenters")
	for i := range n {
		v := rapid.SampledFrom([]float64{3, 5, 10, 20, 40}).Draw(t, "hl")
		tag := fmt.Sprintf("FV%d", i+1)
		in.Tanks = append(in.Tanks, Tank{Tag: tag, Use: Ferment, Volume: unit.Hectolitres(v)})
		start := rapid.Float64Range(0, in.Horizon.H()).Draw(t, "start")
		lager := rapid.Bool().Draw(t, "lager")
		b := Batch{Tank: tag, Beer: "beer", Start: unit.Hours(start), Lager: lager, Original: unit.DegreesPlato(12), Final: unit.DegreesPlato(2.5)}
		days := 8.0
		if lager {
			days = 12
		}
		b.Crash = &Crash{Start: unit.Hours(start + 24*days), To: unit.Celsius(rapid.Float64Range(0, 4).Draw(t, "to")), Over: unit.Hours(rapid.Float64Range(12, 60).Draw(t, "over"))}
		b.End = b.Crash.Start + unit.Hours(200)
		in.Batches = append(in.Batches, b)
	}
	if rapid.Bool().Draw(t, "bright") {
		in.Tanks = append(in.Tanks, Tank{Tag: "BT", Use: Bright, Volume: unit.Hectolitres(10)})
	}
	if rapid.Bool().Draw(t, "liquor") {
		in.Tanks = append(in.Tanks, Tank{Tag: "CLT", Use: ColdLiquor, Volume: unit.Hectolitres(20)})
	}
	return in
}

func sized(t *rapid.T, in Input) Result {
	r, err := Size(in)
	if err != nil {
		t.Fatalf("size: %v", err)
	}
	return r
}

// What the hours add up to is what beer, yeast and skins give off over the weeks.
func TestEnergyBalanceCloses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := someCellar(t)
		r := sized(t, in)
		ferment, crash := 0.0, 0.0
		for i := range in.Batches {
			b := &in.Batches[i]
			e, err := FermentedExtract(in.Tanks[i].Volume, b.Original, b.Final)
			if err != nil {
				t.Fatal(err)
			}
			share := kindCourse(b.Lager).until(b.Crash.Start.H()-b.Start.H()) / kindCourse(b.Lager).whole
			ferment += FermentationHeat(e).KWh() * share
			if c := r.Crashes[i]; c.Reached {
				crash += r.Tanks[i].Capacity.JK() * (c.From.C() - c.To.C()) / 3.6e6
			}
		}
		gotFerment, gotCrash, gotCellar := 0.0, 0.0, 0.0
		for _, h := range r.Hours {
			gotFerment += h.Ferment.KW()
			gotCrash += h.Crash.KW()
			gotCellar += h.Ferment.KW() + h.Crash.KW() + h.Gain.KW() + h.Bright.KW() + h.Liquor.KW()
		}
		if math.Abs(gotFerment-ferment) > 1e-6*ferment {
			t.Errorf("fermentation: %.6f kWh in the hours, %.6f from the extract", gotFerment, ferment)
		}
		if slices.IndexFunc(r.Crashes, func(c CrashResult) bool { return !c.Reached }) < 0 && math.Abs(gotCrash-crash) > 1e-6*crash {
			t.Errorf("crash: %.6f kWh in the hours, %.6f from the heat capacities", gotCrash, crash)
		}
		if math.Abs(gotCellar-r.Load.WeekEnergy.KWh()) > 1e-6*gotCellar {
			t.Errorf("weeks: %.6f kWh in the hours, %.6f in all", gotCellar, r.Load.WeekEnergy.KWh())
		}
	})
}

func TestMoreTanksNeverLessDuty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := someCellar(t) // without an interlock, which may order a fuller cellar better
		before := sized(t, in)
		more := in
		more.Tanks, more.Batches = slices.Clone(in.Tanks), slices.Clone(in.Batches)
		more.Tanks = append(more.Tanks, Tank{Tag: "NEW", Use: Ferment, Volume: unit.Hectolitres(10)})
		b := in.Batches[0]
		b.Tank = "NEW"
		more.Batches = append(more.Batches, b)
		after := sized(t, more)
		if after.Load.Process < before.Load.Process-1e-9 || after.Load.Mean < before.Load.Mean-1e-9 {
			t.Errorf("one tank more: highest hour %s after %s, mean %s after %s", after.Load.Process, before.Load.Process, after.Load.Mean, before.Load.Mean)
		}
	})
}

func TestWarmerRoomNeverLessDuty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := someCellar(t)
		in.Route.Insulation = ptr(unit.Millimetres(32))
		before := sized(t, in)
		warm := in
		warm.Room = ptr(*in.Room + 2)
		if after := sized(t, warm); after.Load.Mean < before.Load.Mean-1e-9 || after.Load.Pipe < before.Load.Pipe {
			t.Errorf("2 K warmer: mean %s after %s, pipes %s after %s", after.Load.Mean, before.Load.Mean, after.Load.Pipe, before.Load.Pipe)
		}
	})
}

func TestLoadOrdering(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sized(t, someCellar(t)).Load
		if s.Mean > s.Process || s.Process > s.Design || s.Design > s.Duty || s.WithStore > s.Duty+1e-6 {
			t.Errorf("mean %s, highest hour %s, design %s, duty %s, with store %s", s.Mean, s.Process, s.Design, s.Duty, s.WithStore)
		}
		if want := (s.Design + s.Pipe + s.Pump).W() * (1 + s.Margin.Value()); math.Abs(s.Duty.W()-want) > 1e-6 {
			t.Errorf("the margin is not applied once: duty %s, %g W wanted", s.Duty, want)
		}
	})
}

// The margin enters the duty once and nothing else: with none, the duty is the bare sum.
func TestMarginAppearsOnce(t *testing.T) {
	in := exampleCellar()
	in.Margin = ptr(unit.Fraction(0))
	bare := must(Size(in))
	in.Margin = ptr(unit.Fraction(0.20))
	with := must(Size(in))
	near(t, "duty with 20 %", with.Load.Duty.W(), bare.Load.Duty.W()*1.2, 1e-6)
	near(t, "duty without", bare.Load.Duty.W(), (bare.Load.Design + bare.Load.Pipe + bare.Load.Pump).W(), 1e-6)
	if with.Circuit.Need != bare.Circuit.Need || with.Chiller.Capacity != bare.Chiller.Capacity || with.Load.Process != bare.Load.Process {
		t.Error("the margin on the duty changed pump, output or load as well")
	}
}

func TestPressureDropRisesWithFlow(t *testing.T) {
	sizes := must(Pipes("stainless"))
	rapid.Check(t, func(t *rapid.T) {
		p := sizes[rapid.IntRange(0, len(sizes)-1).Draw(t, "size")]
		f := fluidAt(rapid.Float64Range(-8, 20).Draw(t, "temp"), rapid.Float64Range(0.25, 0.40).Draw(t, "glycol"))
		q := rapid.Float64Range(1e-5, 5e-3).Draw(t, "flow")
		a, b := flowIn(q, p, f), flowIn(q*rapid.Float64Range(1.001, 1.5).Draw(t, "more"), p, f)
		if b.Gradient <= a.Gradient {
			t.Errorf("%s after %s with more flow", b.Gradient, a.Gradient)
		}
	})
}

func TestCrashFollowsJacketAndGlycol(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := jacket{
			capacity: rapid.Float64Range(1e6, 2e7).Draw(t, "C"), area: rapid.Float64Range(0.5, 8).Draw(t, "A"), flow: rapid.Float64Range(100, 3000).Draw(t, "mc"),
			gain: rapid.Float64Range(0.5, 10).Draw(t, "gain"), glycol: -4, room: 30,
		}
		slow, ok := j.time(20, 2)
		larger := j
		larger.area *= 1.2
		fast, okLarger := larger.time(20, 2)
		if ok && (!okLarger || fast >= slow) {
			t.Errorf("a larger jacket takes %g h after %g h", fast, slow)
		}
		// No ramp cools faster than the open valve, and none ends before the time allowed.
		if d := j.ramp(20, 2, 24); d.ok && ok && (d.hours < slow-0.5 || d.hours < 24) {
			t.Errorf("ramp %g h, open valve %g h", d.hours, slow)
		}
	})
}

// A store that shaves a load to c gives out no more than it holds, and a larger one
// never needs a larger chiller.
func TestStoreShaves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load := rapid.SliceOfN(rapid.Float64Range(0, 9000), 24, 336).Draw(t, "load")
		small := rapid.Float64Range(0, 5e4).Draw(t, "store")
		a, b := shaved(load, small), shaved(load, small*1.5+10)
		if out := drawdown(load, a); out > small+1 {
			t.Errorf("gives out %g of %g", out, small)
		}
		if b > a+1e-3 {
			t.Errorf("a larger store needs %g W after %g W", b, a)
		}
	})
}

// The interlock never lets more tanks be cooled down at once than it is set to, as long
// as the time allowed is kept, and never begins a crash before it is due.
func TestInterlock(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := someCellar(t)
		most := rapid.IntRange(1, 3).Draw(t, "most")
		out := interlock(in.Batches, most, in.Horizon.H(), false)
		for i := range out {
			c := out[i].Crash
			if c.Start < in.Batches[i].Crash.Start || out[i].End < c.Start+c.Over {
				t.Errorf("batch %d: crash %s after %s, end %s", i, c.Start, in.Batches[i].Crash.Start, out[i].End)
			}
			running := 0
			for k := range out {
				if o := out[k].Crash; o.Start <= c.Start && c.Start < o.Start+o.Over {
					running++
				}
			}
			if running > most {
				t.Errorf("%d run at once, %d allowed", running, most)
			}
		}
	})
}

// A store that cannot be full again by the end of the weeks is seen in the second round:
// a peak at the end and one at the beginning follow each other.
func TestStoreOverTheTurnOfTheWeeks(t *testing.T) {
	load := make([]float64, 24)
	load[0], load[23] = 3000, 3000
	near(t, "both peaks", drawdown(load, 1000), 4000, 1e-9)
	if !math.IsInf(drawdown([]float64{2, 2, 2}, 1), 1) {
		t.Error("a mean above the capacity can never be won back")
	}
}

// Nothing may depend on chance: the same input gives the same bytes.
func TestSameInputSameBytes(t *testing.T) {
	text := func() []byte {
		in := exampleCellar()
		r := must(Size(in))
		return must(json.Marshal(struct {
			R Result
			F []rule.Finding
		}{r, findings(in, r)}))
	}
	if first := text(); string(first) != string(text()) {
		t.Error("two runs differ")
	}
}

func findings(in Input, r Result) []rule.Finding {
	list := rule.Run(Rules(), Facts{in, r})
	for i := range list {
		list[i].Rule.DependsOn = nil
	}
	return list
}

// Size must answer or refuse, never panic or hang, whatever it is given.
func TestOddInputs(t *testing.T) {
	nan := math.NaN()
	for name, change := range map[string]func(*Input){
		"no tanks":             func(in *Input) { in.Tanks = nil },
		"no ratings":           func(in *Input) { in.Chiller.Ratings = nil },
		"unknown tank":         func(in *Input) { in.Batches[0].Tank = "X" },
		"end before start":     func(in *Input) { in.Batches[0].End = in.Batches[0].Start },
		"crash before start":   func(in *Input) { in.Batches[0].Crash.Start = -5 },
		"crash upwards":        func(in *Input) { in.Batches[0].Crash.To = 30 },
		"time NaN":             func(in *Input) { in.Batches[0].Start = unit.Duration(nan) },
		"time without end":     func(in *Input) { in.Batches[0].End = unit.Duration(math.Inf(1)) },
		"negative volume":      func(in *Input) { in.Tanks[0].Volume = -1 },
		"diameter too large":   func(in *Input) { in.Tanks[0].Diameter = 4 },
		"room NaN":             func(in *Input) { in.Room = ptr(unit.Temperature(nan)) },
		"humidity zero":        func(in *Input) { in.Humidity = ptr(unit.Fraction(0)) },
		"margin too large":     func(in *Input) { in.Margin = ptr(unit.Fraction(2)) },
		"supply far off":       func(in *Input) { in.Supply = ptr(unit.Celsius(-60)) },
		"glycol beyond table":  func(in *Input) { in.Glycol = ptr(unit.Fraction(0.8)) },
		"weeks too long":       func(in *Input) { in.Horizon = unit.Hours(1e6) },
		"unknown pipe":         func(in *Input) { in.Route.Series = "wood" },
		"negative refill":      func(in *Input) { in.Refills[0].Volume = -1 },
		"wort NaN":             func(in *Input) { in.Wort = &Wort{unit.Power(nan), unit.Hours(1), nil} },
		"final above original": func(in *Input) { in.Batches[0].Heat = nil; in.Batches[0].Final = 14 },
		"unknown refill tank":  func(in *Input) { in.Refills[0].Tank = "X" },
		"stay of no length":    func(in *Input) { in.Stays[0].End = in.Stays[0].Start },
		"mains boiling":        func(in *Input) { in.Mains = ptr(unit.Celsius(90)) },
		"air beyond belief":    func(in *Input) { in.Ambient = ptr(unit.Celsius(90)) },
		"pipe of minus 3 m":    func(in *Input) { in.Route.Header = ptr(unit.Metres(-3)) },
		"foam of minus 1 mm":   func(in *Input) { in.Route.Insulation = ptr(unit.Millimetres(-1)) },
		"store below nothing":  func(in *Input) { in.Buffer = &Buffer{Volume: unit.Litres(-5)} },
		"nowhere to stand":     func(in *Input) { in.Siting.Where = "moon" },
		"no end of that name":  func(in *Input) { in.Tanks[0].Bottom = "egg" },
		"rise of nothing":      func(in *Input) { in.Rise = ptr(unit.Kelvins(0)) },
	} {
		in := exampleCellar()
		change(&in)
		if _, err := Size(in); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	for name, change := range map[string]func(*Input){
		"no output rated": func(in *Input) {
			in.Chiller.Ratings = []Rating{{Leaving: in.Chiller.Ratings[0].Leaving, Ambient: 35}, {Leaving: -5, Ambient: 35}}
		},
		"bare pipes":                    func(in *Input) { in.Route.Insulation = ptr(unit.Millimetres(0)) },
		"freezing mixture":              func(in *Input) { in.Glycol = ptr(unit.Fraction(0.05)) },
		"rating out of reach":           func(in *Input) { in.Ambient = ptr(unit.Celsius(55)) },
		"water in the loop":             func(in *Input) { in.Glycol = ptr(unit.Fraction(0)); in.Supply = ptr(unit.Celsius(1)) },
		"thick glycol on a water table": func(in *Input) { in.Chiller.Glycol = 0; in.Glycol = ptr(unit.Fraction(0.5)) },
		"high up":                       func(in *Input) { in.Altitude = ptr(unit.Metres(4000)) },
		"cold room":                     func(in *Input) { in.Room = ptr(unit.Celsius(0)) },
		"one cold tank":                 func(in *Input) { in.Tanks, in.Batches, in.Stays, in.Refills = in.Tanks[6:7], nil, nil, nil },
		"no crash":                      func(in *Input) { in.Batches = in.Batches[:1]; in.Batches[0].Crash = nil },
		"glycol too warm":               func(in *Input) { in.Supply = ptr(unit.Celsius(5)) },
		"chiller below":                 func(in *Input) { in.Route.Rise = ptr(unit.Metres(-12)) },
		"closed":                        func(in *Input) { in.Sealed = true; in.Route.Rise = ptr(unit.Metres(12)) },
		"many open":                     func(in *Input) { in.OpenJackets = ptr(99) },
		"window of a plan":              func(in *Input) { in.Repeats = false; in.Batches[0].Start = unit.Hours(-100) },
	} {
		in := exampleCellar()
		change(&in)
		r, err := Size(in)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if _, err := json.Marshal(r); err != nil {
			t.Errorf("%s: %v", name, err) // NaN and infinities do not marshal
		}
		rule.Run(Rules(), Facts{in, r})
	}
}

func TestBareInputStatesItsAssumptions(t *testing.T) {
	r := must(Size(Input{
		Tanks:   []Tank{{Tag: "FV1", Use: Ferment, Volume: unit.Litres(1000)}, {Tag: "BT1", Use: Bright, Volume: unit.Litres(1000)}, {Tag: "CL", Use: ColdLiquor, Volume: unit.Litres(2000)}},
		Chiller: madeChiller("CH", 8),
	}))
	var fields []string
	for _, a := range r.Assumptions {
		if a.Words == "" || a.Quantity == nil || a.Source.IsZero() {
			t.Errorf("assumption of %s says too little", a.Field)
		}
		fields = append(fields, a.Field)
	}
	for _, want := range []string{"Room", "Humidity", "Ambient", "Mains", "Batches", "Stays", "Refills", "Supply", "Rise", "Glycol", "Margin", "CrashAtOnce", "OpenJackets", "Route.Header", "Route.Insulation", "Tanks[].Diameter", "Tanks[].Insulation", "Tanks[].Steel", "Tanks[].JacketBody"} {
		if !slices.Contains(fields, want) {
			t.Errorf("the assumption of %s is not stated; stated are %v", want, fields)
		}
	}
}
