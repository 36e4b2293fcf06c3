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

var otherChiller = option{kind: "other-chiller", plant: true, change: func(in *Input, f Facts) bool {
	need := f.Result.Load.WithStore
	if r := f.Result; r.Chiller.Rated && r.Chiller.Run.Value() > fullestRun {
		need = max(need, restful(f))
	}
	return pick(in, f, need, nil)
}, tell: tellChiller}

// restful is the output that carries the mean load and still rests as CO-021 asks.
func restful(f Facts) unit.Power { return unit.Watts(f.Result.Load.steady().W() / fullestRun) }

// smallerChiller is the least that carries the cellar, and the wort where glycol cools it.
var smallerChiller = option{kind: "other-chiller", plant: true, change: func(in *Input, f Facts) bool {
	return pick(in, f, max(asked(f), restful(f)), nil)
}, tell: tellChiller}

// wortChiller carries cellar and wort at once, so that no store is needed.
var wortChiller = option{kind: "other-chiller", plant: true, change: func(in *Input, f Facts) bool {
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

var quieterChiller = option{kind: "other-chiller", plant: true, change: func(in *Input, f Facts) bool {
	over := f.Result.Siting.Sound.DBA() - f.Result.Siting.SoundLimit.DBA()
	most := f.Input.Chiller.Sound.DBA() - over
	return pick(in, f, f.Result.Load.WithStore, func(c Chiller) bool { return c.Sound != nil && c.Sound.DBA() <= most })
}, tell: tellChiller}

var lawfulChiller = option{kind: "other-chiller", plant: true, change: func(in *Input, f Facts) bool {
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

// moreUnits adds equal chillers: as many as the rule at hand needs, up to four.
func moreUnits(units func(f Facts) int) option {
	return option{kind: "second-chiller", plant: true, change: func(in *Input, f Facts) bool {
		n := units(f)
		if !f.Result.Chiller.Rated || n <= max(in.Units, 1) || n > 4 {
			return false
		}
		in.Units = n
		return true
	}, tell: func(_, after Facts) (string, []rule.Param) {
		c := after.Result.Chiller
		n := unit.PureNumber(float64(c.Units))
		return "take " + n.String() + " of chiller " + after.Input.Chiller.Code + ": " + c.Capacity.String() + " together, " + c.OneLess.String() + " with one standing",
			[]rule.Param{param("units", n)}
	}}
}

func unitsFor(f Facts, duty unit.Power) int {
	return int(math.Ceil(duty.W()/f.Result.Chiller.Each.Capacity.W() - 1e-9))
}

var (
	secondChiller = moreUnits(func(f Facts) int { return unitsFor(f, f.Result.Load.WithStore) })
	restChiller   = moreUnits(func(f Facts) int { return unitsFor(f, restful(f)) })
	spareChiller  = moreUnits(func(f Facts) int { return unitsFor(f, f.Result.Load.steady()) + 1 })
)

// staggerCrash lets the interlock postpone what would overlap.
var staggerCrash = option{kind: "stagger-crash", change: func(in *Input, f Facts) bool {
	if f.Result.Load.CrashAtOnce < 2 && f.Result.Hours[f.Result.Load.PeakHour].Crashing < 2 {
		return false
	}
	one := 1
	in.CrashAtOnce = &one
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	return "let the controller cool down one tank at a time: " + after.Result.Load.WithStore.String() + " in the highest hour",
		[]rule.Param{param("crash_at_once", unit.PureNumber(1))}
}}

// fix writes an assumed schedule into the input, so that a change of it holds.
func fix(in *Input, f Facts) {
	in.Batches = slices.Clone(f.Result.Batches)
	in.Stays, in.Refills = f.Result.Stays, f.Result.Refills
	if len(f.Input.Batches) == 0 {
		in.Horizon, in.Repeats = unit.Hours(float64(f.Result.Horizon)), true
	}
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

var bufferStore = option{kind: "buffer-store", plant: true, change: func(in *Input, f Facts) bool {
	if !f.Result.Chiller.Rated {
		return false
	}
	need := drawdown(designSeries(&f.Input, &f.Result, false), f.Result.Chiller.Capacity.W())
	return storeFor(in, f, unit.Joules(need*3600*1.01))
}, tell: tellStore}

var wortStore = option{kind: "buffer-store", plant: true, change: func(in *Input, f Facts) bool {
	return f.Result.Store.WortSettles && storeFor(in, f, f.Result.Store.WortNeed)
}, tell: tellStore}

var cyclingStore = option{kind: "buffer-store", plant: true, change: func(in *Input, f Facts) bool {
	built := f.Result.Store.Installed
	if in.Buffer != nil {
		built -= in.Buffer.Volume
	}
	return setBuffer(in, f, f.Result.Store.Cycling-built)
}, tell: tellStore}

// longerKnockOut draws the same heat from the glycol over twice the time.
var longerKnockOut = option{kind: "longer-knock-out", plant: false, change: func(in *Input, f Facts) bool {
	w := *f.Input.Wort
	w.Power, w.For = w.Power/2, w.For*2
	in.Wort = &w
	return w.For.H() <= 3
}, tell: func(_, after Facts) (string, []rule.Param) {
	w := after.Input.Wort
	return "run the wort out over " + w.For.String() + ": the second stage then draws " + w.Power.String(), []rule.Param{param("knock_out", w.For), param("second_stage", w.Power)}
}}

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
