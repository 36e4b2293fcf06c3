package cooling

import (
	"math"
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

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

var rampSetPoints = option{kind: "ramp-set-points", plant: true, change: func(in *Input, _ Facts) bool {
	yes := true
	in.Ramped = &yes
	return true
}, tell: func(_, after Facts) (string, []rule.Param) {
	return "let the controller lower set points by a ramp over the time allowed", []rule.Param{param("crash_over", after.Result.Crashes[0].Wish)}
}}

var oneCrashMore = option{kind: "more-crashes-at-once", change: func(in *Input, f Facts) bool {
	for n := f.Result.Load.CrashAtOnce + 1; n <= f.Result.Load.CrashAtOnce+4; n++ {
		in.CrashAtOnce = &n
		if r, err := resize(*in, f.Result, false); err == nil && r.Load.Postponed.H() <= longestWait {
			return true
		}
	}
	return false
}, tell: func(_, after Facts) (string, []rule.Param) {
	n := unit.PureNumber(float64(after.Result.Load.CrashAtOnce))
	return "let the controller cool down " + n.String() + " tanks at once: " + after.Result.Load.WithStore.String() + " in the highest hour",
		[]rule.Param{param("crash_at_once", n)}
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
