package electrical

import (
	"math"
	"slices"
	"strconv"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// checked applies a remedy and keeps it where the question it answers is in order
// after it.
func (f Facts) checked(rem rule.Remedy, inOrder func(*study) bool) []rule.Remedy {
	in, err := Apply(f.Input, rem)
	if err != nil {
		return nil
	}
	st, err := newStudy(&in)
	if err != nil || !inOrder(st) {
		return nil
	}
	return []rule.Remedy{rem}
}

// circuitIs works the circuits out again, feeder and all, and asks one of them.
func circuitIs(tag string, inOrder func(*Circuit) bool) func(*study) bool {
	return func(st *study) bool {
		i := slices.IndexFunc(st.in.Loads, func(l Load) bool { return l.Tag == tag })
		if i < 0 {
			return false
		}
		st.settleLines(math.Inf(1))
		r := Result{Supply: st.supply()}
		st.demand(&r)
		st.cables(&r)
		return r.Circuits[i].Problem == "" && inOrder(&r.Circuits[i])
	}
}

func dropHolds(c *Circuit) bool { return c.DropTotal <= c.DropLimit }

func loopHolds(c *Circuit) bool { return c.Zs != nil && c.Zs.Ohm() <= c.ZsMax.Ohm()+1e-12 }

var dipLimit = unit.Percent(15) // common practice, no source: dip at the terminals up to 10 to 15 %

func dipHolds(c *Circuit) bool { return c.StartDip <= dipLimit }

func leakHolds(c *Circuit) bool {
	return c.RCD.Residual == 0 || c.RCD.Leakage.A() <= c.RCD.Allowed.A()+1e-9
}

func forLoad(kind, tag, words string, more ...rule.Param) rule.Remedy {
	return rule.Remedy{Kind: kind, Words: words, Params: append([]rule.Param{text("load", tag)}, more...)}
}

func (f Facts) wireInterlock(group string) []rule.Remedy {
	rem := rule.Remedy{Kind: WireInterlock, Words: "wire the interlock of group " + group + " in the control panel", Params: []rule.Param{text("group", group)}}
	return f.checked(rem, func(st *study) bool { return !st.in.manual(group) })
}

// voltageRemedies orders the load for the site's voltage.
func (f Facts) voltageRemedies(i int) []rule.Remedy {
	l := &f.Input.Loads[i]
	at := f.Result.voltageOf(l)
	rem := forLoad(RatedVoltage, l.Tag, "order "+l.Tag+" for "+unit.Fixed(at, 0), figure("voltage", at))
	return f.checked(rem, func(st *study) bool { return f.Result.suitsVoltage(&st.in.Loads[i]) })
}

// capacityRemedies agrees the next full step of 5 kVA.
func (f Facts) capacityRemedies(need unit.ApparentPower) []rule.Remedy {
	step := unit.KilovoltAmperes(math.Ceil(need.KVA()/5) * 5)
	rem := rule.Remedy{Kind: AgreeCapacity, Words: "agree " + unit.Fixed(step, 0) + " with the operator", Need: need, Have: step, Params: []rule.Param{figure("capacity", step)}}
	return f.checked(rem, func(st *study) bool { return need <= *st.in.Supply.Agreed })
}

// divided is the remedy of dividing an element among the fewest circuits that serve.
func (f Facts) divided(i int, inOrder func(*Circuit) bool) []rule.Remedy {
	l := &f.Input.Loads[i]
	if l.Kind != Element {
		return nil
	}
	for n := 2; n <= 6; n++ {
		words := "divide " + l.Tag + " among " + strconv.Itoa(n) + " circuits of " + unit.Fixed(unit.Watts(l.Power.W()/float64(n)), 1)
		rem := forLoad(SplitLoad, l.Tag, words, figure("circuits", unit.Fraction(float64(n))))
		if got := f.checked(rem, circuitIs(l.Tag+".1", inOrder)); got != nil {
			return got
		}
	}
	return nil
}

func (f Facts) circuitRemedies(i int) []rule.Remedy {
	return f.divided(i, func(*Circuit) bool { return true })
}

func (f Facts) leakageRemedies(i int) []rule.Remedy { return f.divided(i, leakHolds) }

// dropRemedies moves the board nearer: the longest of three routes that passes.
func (f Facts) dropRemedies(i int) []rule.Remedy {
	tag := f.Input.Loads[i].Tag
	have := f.Result.Circuits[i].Cable.Length.M()
	for _, share := range []float64{0.75, 0.5, 0.25} {
		length := unit.Metres(math.Floor(have * share))
		rem := forLoad(ShorterCable, tag, "bring the board nearer to "+tag+": a route of "+unit.In(length, "m", 0), figure("length", length))
		if got := f.checked(rem, circuitIs(tag, dropHolds)); got != nil {
			return got
		}
	}
	return nil
}

// loopRemedies tries a soft starter with a C breaker, and a residual current device
// as what cuts the fault off.
func (f Facts) loopRemedies(i int) []rule.Remedy {
	l := &f.Input.Loads[i]
	var out []rule.Remedy
	if l.Kind == Motor && l.Starter != SoftStart && l.Starter != VariableSpeed {
		out = f.checked(forLoad(UseSoftStart, l.Tag, "start "+l.Tag+" softly on a C breaker"), circuitIs(l.Tag, loopHolds))
	}
	rem := forLoad(ResidualTrip, l.Tag, "let a residual current device cut off an earth fault of "+l.Tag)
	return append(out, f.checked(rem, circuitIs(l.Tag, loopHolds))...)
}

// starterRemedies starts the motor more gently.
func (f Facts) starterRemedies(i int) []rule.Remedy {
	tag := f.Input.Loads[i].Tag
	soft := f.checked(forLoad(UseSoftStart, tag, "start "+tag+" with a soft starter"), circuitIs(tag, dipHolds))
	return append(soft, f.checked(forLoad(UseDrive, tag, "drive "+tag+" at variable speed"), circuitIs(tag, dipHolds))...)
}

// deratingRemedies spaces the breakers; where only one is concerned, the next device
// with a cable for it does as well.
func (f Facts) deratingRemedies(tags string, c *Circuit) []rule.Remedy {
	spaced := rule.Remedy{Kind: SpaceDevices, Words: "leave a free way beside each of " + tags, Params: []rule.Param{text("loads", tags)}}
	out := f.checked(spaced, func(st *study) bool { return st.in.Install.Spaced })
	rating, ok := next(breakerMCB, c.Ib.A()/f.derating())
	if !ok || tags != c.Tag {
		return out
	}
	rem := forLoad(NextDevice, c.Tag, "take "+string(c.Device.Curve)+unit.Digits(rating, 4)+" with a cable for it", figure("device", unit.Amperes(rating)))
	rem.Need, rem.Have = c.Ib, unit.Amperes(rating*f.derating())
	return append(out, f.checked(rem, circuitIs(c.Tag, func(c *Circuit) bool { return !c.Device.Derated }))...)
}

// placeRemedies lifts the terminal out of the hose's reach where that suffices.
func (f Facts) placeRemedies(i int) []rule.Remedy {
	l := &f.Input.Loads[i]
	if l.Zone != Wet && l.Zone != "" {
		return nil
	}
	rem := forLoad(OtherPlace, l.Tag, "set the terminal of "+l.Tag+" at 2.2 m or above", figure("height", unit.Metres(2.2)))
	return f.checked(rem, func(st *study) bool { return MeetsIP(st.in.Loads[i].IP, neededIP(&st.in.Loads[i])) })
}

// heatRemedies switches an element on earlier.
func (f Facts) heatRemedies(i int) []rule.Remedy {
	l := &f.Input.Loads[i]
	got, _ := f.Result.heatOf(i, f.Input.Brews)
	brews := float64(max(f.Input.Brews, 1))
	more := unit.Hours(math.Ceil(brews*(l.Heat.KWh()-got.KWh())/l.Power.KW()*10) / 10)
	words := "switch " + l.Tag + " on " + unit.Fixed(more, 1) + " earlier, on a timer"
	return f.checked(forLoad(StartEarlier, l.Tag, words, figure("hours", more)), func(st *study) bool {
		kwh := 0.0
		for s := range st.day {
			kwh += st.share[s][i].mean * st.loads[i].watts / 1000 * st.day[s].Hours.H()
		}
		return kwh/brews >= l.Heat.KWh()*(1-1e-9)
	})
}
