package cooling

import (
	"math"
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// pick takes the least alternative that gives the duty at the conditions of the design
// and meets a further wish.
func pick(in *Input, f Facts, duty unit.Power, wish func(Chiller) bool) bool {
	height := unit.Length(0)
	if in.Altitude != nil {
		height = *in.Altitude
	}
	best, least := -1, unit.Power(math.Inf(1))
	for i := range in.Alternatives {
		c := &in.Alternatives[i]
		if c.Code == in.Chiller.Code || f.Result.Fluid.Supply < c.MinLeaving || wish != nil && !wish(*c) {
			continue
		}
		o, err := c.output(f.Result.Fluid.Supply, f.Result.Ambient, f.Result.Fluid.Volume, height)
		total := unit.Watts(o.Capacity.W() * float64(max(in.Units, 1)))
		if err == nil && total >= duty && total < least {
			best, least = i, total
		}
	}
	if best < 0 {
		return false
	}
	in.Chiller = in.Alternatives[best]
	return true
}

func tellChiller(_, after Facts) (string, []rule.Param) {
	c := after.Result.Chiller
	return "take chiller " + after.Input.Chiller.Code + ": " + c.Capacity.String() + " at these conditions for the " + after.Result.Load.WithStore.String() + " needed",
		[]rule.Param{named("chiller", after.Input.Chiller.Code), param("capacity", c.Capacity)}
}

var otherChiller = option{kind: "other-chiller", change: func(in *Input, f Facts) bool {
	need := f.Result.Load.WithStore
	if r := f.Result; r.Chiller.Rated && r.Chiller.Run.Value() > fullestRun {
		need = max(need, unit.Watts((r.Load.Mean+r.Load.Pipe+r.Load.Pump).W()/fullestRun))
	}
	return pick(in, f, need, nil)
}, tell: tellChiller}

// wortChiller carries cellar and wort at once, so that no store is needed.
var wortChiller = option{kind: "other-chiller", change: func(in *Input, f Facts) bool {
	return pick(in, f, f.Result.Load.Duty+f.Input.Wort.Power, nil)
}, tell: tellChiller}

var colderChiller = option{kind: "other-chiller", change: func(in *Input, f Facts) bool {
	lower(in, f)
	cold := f
	cold.Result.Fluid.Supply = *in.Supply
	return pick(in, cold, f.Result.Load.WithStore, nil)
}, tell: func(before, after Facts) (string, []rule.Param) {
	words, params := tellChiller(before, after)
	return words + ", with glycol at " + after.Result.Fluid.Supply.String(), append(params, param("supply", after.Result.Fluid.Supply))
}}

var quieterChiller = option{kind: "other-chiller", change: func(in *Input, f Facts) bool {
	over := f.Result.Siting.Sound.DBA() - f.Result.Siting.SoundLimit.DBA()
	most := f.Input.Chiller.Sound.DBA() - over
	return pick(in, f, f.Result.Load.WithStore, func(c Chiller) bool { return c.Sound != nil && c.Sound.DBA() <= most })
}, tell: tellChiller}

var lawfulChiller = option{kind: "other-chiller", change: func(in *Input, f Facts) bool {
	return pick(in, f, f.Result.Load.WithStore, func(c Chiller) bool {
		r, ok := FindRefrigerant(c.Refrigerant)
		limit := largeGWP
		for _, p := range c.Ratings {
			if p.Capacity.KW() > borderKW {
				return ok && r.GWP.N() < largeGWP
			}
			limit = smallGWP
		}
		return ok && r.GWP.N() < limit
	})
}, tell: tellChiller}

func addUnits(n int, last bool) option {
	return option{kind: "second-chiller", change: func(in *Input, _ Facts) bool {
		in.Units = max(in.Units, 1) + n
		return true
	}, tell: func(_, after Facts) (string, []rule.Param) {
		c := after.Result.Chiller
		return "take " + unit.PureNumber(float64(c.Units)).String() + " of chiller " + after.Input.Chiller.Code + ": " + c.Capacity.String() + " together, " + c.OneLess.String() + " with one standing",
			[]rule.Param{param("units", unit.PureNumber(float64(c.Units)))}
	}, last: last}
}

var (
	secondChiller = addUnits(1, false)
	thirdChiller  = addUnits(2, true)
)

var staggerCrash = option{kind: "stagger-crash", change: func(in *Input, f Facts) bool {
	if f.Result.Load.CrashAtOnce < 2 && f.Result.Hours[f.Result.Load.PeakHour].Crashing < 2 {
		return false
	}
	one := 1
	in.CrashAtOnce = &one
	fix(in, f)
	in.Batches = stagger(in.Batches, f.Result.Crashes)
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	params := []rule.Param{param("crash_at_once", unit.PureNumber(1))}
	return "let the controller cool down one tank at a time: " + after.Result.Load.WithStore.String() + " in the highest hour", params
}}

// fix writes an assumed schedule into the input, so that a change of it holds.
func fix(in *Input, f Facts) {
	in.Batches = slices.Clone(f.Result.Batches)
	in.Stays, in.Refills = f.Result.Stays, f.Result.Refills
	if len(f.Input.Batches) == 0 {
		in.Horizon, in.Repeats = unit.Hours(float64(f.Result.Horizon)), true
	}
}

// stagger moves crashes apart, in the order they begin; a tank stays full for as long
// as it waits.
func stagger(batches []Batch, crashes []CrashResult) []Batch {
	order := make([]int, 0, len(batches))
	took := make([]unit.Duration, len(batches))
	for i, next := 0, 0; i < len(batches); i++ {
		if batches[i].Crash != nil {
			took[i] = crashes[next].Ramped
			next++
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return int(batches[a].Crash.Start.S() - batches[b].Crash.Start.S())
	})
	free := unit.Duration(math.Inf(-1))
	for _, i := range order {
		c := *batches[i].Crash
		wait := max(free-c.Start, 0)
		c.Start += wait
		batches[i].Crash, batches[i].End = &c, batches[i].End+wait
		free = c.Start + took[i]
	}
	return batches
}

var slowerCrash = option{kind: "slower-crash", change: func(in *Input, f Facts) bool {
	fix(in, f)
	changed := false
	for i := range in.Batches {
		b := &in.Batches[i]
		if b.Crash == nil {
			continue
		}
		c := *b.Crash
		c.Over = unit.Duration(crashOver(*b).S() * 2)
		if c.Start+c.Over > b.End {
			b.End = c.Start + c.Over
		}
		b.Crash, changed = &c, true
	}
	return changed
}, tell: func(_, after Facts) (string, []rule.Param) {
	over := after.Result.Crashes[0].Wish
	return "cool down over " + over.String() + ", twice as long: " + after.Result.Load.WithStore.String() + " in the highest hour", []rule.Param{param("crash_over", over)}
}}

// storeFor rounds a store up to whole 50 L; beyond 10 m³ it is no remedy.
func storeFor(in *Input, f Facts, energy unit.Energy) bool {
	m := f.Result.Fluid.AtMean
	v, err := StoreVolume(energy, f.Result.Store.Swing, m)
	if err != nil || math.IsInf(v.L(), 0) || v.L() > 10000 {
		return false
	}
	return setBuffer(in, f, v)
}

func setBuffer(in *Input, f Facts, v unit.Volume) bool {
	b := Buffer{Swing: f.Result.Store.Swing}
	if in.Buffer != nil {
		b = *in.Buffer
	}
	b.Volume = max(b.Volume, unit.Litres(50*math.Ceil(v.L()/50-1e-9)))
	in.Buffer = &b
	return true
}

func tellStore(_, after Facts) (string, []rule.Param) {
	b := after.Input.Buffer
	return "set a store of " + b.Volume.String() + " beside the chiller", []rule.Param{param("buffer_volume", b.Volume), param("swing", after.Result.Store.Swing)}
}

var bufferStore = option{kind: "buffer-store", change: func(in *Input, f Facts) bool {
	if !f.Result.Chiller.Rated {
		return false
	}
	need := drawdown(designSeries(&f.Input, &f.Result, false), f.Result.Chiller.Capacity.W())
	return storeFor(in, f, unit.Joules(need*3600*1.01))
}, tell: tellStore}

var wortStore = option{kind: "buffer-store", change: func(in *Input, f Facts) bool {
	return f.Result.Store.WortSettles && storeFor(in, f, f.Result.Store.WortNeed)
}, tell: tellStore}

var cyclingStore = option{kind: "buffer-store", change: func(in *Input, f Facts) bool {
	built := f.Result.Store.Installed
	if in.Buffer != nil {
		built -= in.Buffer.Volume
	}
	return setBuffer(in, f, f.Result.Store.Cycling-built)
}, tell: tellStore}

// wortByLiquor cools the wort with stored cold liquor in one stage instead.
var wortByLiquor = option{kind: "wort-on-cold-liquor", change: func(in *Input, f Facts) bool {
	for i := range f.Result.Tanks {
		t := &f.Result.Tanks[i]
		if t.Use != ColdLiquor {
			continue
		}
		fix(in, f)
		warming := in.warming(t.Hold)
		if warming <= 0 {
			return false
		}
		v := unit.CubicMetres(f.Result.Store.WortEnergy.J() / (rhoWater * cpWater * warming))
		in.Refills = slices.Clone(in.Refills)
		for _, at := range f.Input.Wort.Starts {
			in.Refills = append(in.Refills, Refill{Tank: t.Tag, Start: at + f.Input.Wort.For, Volume: v})
		}
		in.Wort = nil
		return true
	}
	return false
}, tell: func(before, after Facts) (string, []rule.Param) {
	last := after.Input.Refills[len(after.Input.Refills)-1]
	return "cool the wort with " + last.Volume.String() + " more cold liquor a brew, made over 20 h: " + after.Result.Load.WithStore.String() + " in the highest hour",
		[]rule.Param{param("liquor_per_brew", last.Volume)}
}}

// warming is how much cold liquor warms before it is as warm as the mains, in K.
func (in Input) warming(hold unit.Temperature) float64 {
	mains := unit.Celsius(assumedMains)
	if in.Mains != nil {
		mains = *in.Mains
	}
	return mains.C() - hold.C()
}

var warmerGlycol = option{kind: "warmer-glycol", change: func(in *Input, f Facts) bool {
	warm := unit.Celsius(math.Floor(f.Result.Fluid.Coldest.C() - leastApproach))
	if warm <= f.Result.Fluid.Supply {
		return false
	}
	in.Supply = &warm
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	s := after.Result.Fluid.Supply
	return "run the glycol at " + s.String() + ": the chiller then gives " + after.Result.Chiller.Capacity.String(), []rule.Param{param("supply", s)}
}}

func lower(in *Input, f Facts) {
	cold := unit.Celsius(math.Floor(f.Result.Fluid.Coldest.C() - leastApproach))
	cold = min(cold, f.Result.Fluid.Supply-1)
	in.Supply = &cold
	in.Glycol = nil
}

var colderGlycol = option{kind: "colder-glycol", change: func(in *Input, f Facts) bool {
	lower(in, f)
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	m := after.Result.Fluid
	return "run the glycol at " + m.Supply.String() + " with " + m.Mass.String() + " by mass", []rule.Param{param("supply", m.Supply), param("glycol", m.Mass)}
}}

var icyLimit = option{kind: "warmer-glycol", change: func(in *Input, f Facts) bool {
	limit := unit.Celsius(coldSupply)
	in.Supply = &limit
	return true
}, tell: warmerGlycol.tell}

var largerJacket = option{kind: "larger-jacket", change: func(in *Input, f Facts) bool {
	in.Tanks = slices.Clone(in.Tanks)
	changed := false
	for i := range in.Tanks {
		t, r := &in.Tanks[i], &f.Result.Tanks[i]
		whole := 0.8 * (r.Body.Shell + r.Body.BottomA)
		if t.Use == Ferment && r.Jacket < whole {
			t.JacketBody, t.JacketCone = 0.8*r.Body.Shell, 0.8*r.Body.BottomA
			changed = true
		}
	}
	return changed
}, tell: func(_, after Facts) (string, []rule.Param) {
	most := unit.Area(0)
	for i := range after.Result.Tanks {
		if after.Result.Tanks[i].Use == Ferment {
			most = max(most, after.Result.Tanks[i].Jacket)
		}
	}
	return "order the fermenters with jackets on four fifths of shell and cone, " + most.String() + " on the largest", []rule.Param{param("jacket", most)}
}}

var rampSetPoints = option{kind: "ramp-set-points", change: func(in *Input, _ Facts) bool {
	yes := true
	in.Ramped = &yes
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	return "let the controller lower set points by a ramp over the time allowed", []rule.Param{param("crash_over", after.Result.Crashes[0].Wish)}
}}

var oneCrash = option{kind: "one-crash-at-a-time", change: func(in *Input, f Facts) bool {
	if f.Result.Load.CrashAtOnce < 2 {
		return false
	}
	one := 1
	in.CrashAtOnce = &one
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	return "let the controller open one crash valve at a time: " + after.Result.Load.OpenValves.String() + " at first", []rule.Param{param("crash_at_once", unit.PureNumber(1))}
}}

func tellGlycol(_, after Facts) (string, []rule.Param) {
	m := after.Result.Fluid
	return "fill with " + m.Mass.String() + " glycol by mass (" + m.Volume.String() + " by volume): first ice at " + m.Freeze.String(), []rule.Param{param("glycol", m.Mass)}
}

func glycolFor(in *Input, freeze float64) bool {
	x, err := Concentration(unit.Celsius(freeze))
	if err != nil {
		return false
	}
	x = max(x, unit.Fraction(leastGlycol))
	in.Glycol = &x
	return true
}

var strongerGlycol = option{kind: "stronger-glycol", change: func(in *Input, f Facts) bool {
	return glycolFor(in, f.Result.Fluid.Supply.C()-freezeBelow)
}, tell: tellGlycol}

var winterGlycol = option{kind: "stronger-glycol", change: func(in *Input, f Facts) bool {
	return glycolFor(in, min(in.Winter.C()-3, f.Result.Fluid.Supply.C()-freezeBelow))
}, tell: tellGlycol}

var usualGlycol = option{kind: "usual-glycol", change: func(in *Input, f Facts) bool {
	return glycolFor(in, f.Result.Fluid.Supply.C()-freezeBelow)
}, tell: tellGlycol}
