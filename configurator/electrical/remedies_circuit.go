package electrical

import (
	"strconv"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// resized is an Input after a change, worked out again in full.
func resized(in Input) (Facts, bool) {
	r, err := Size(in)
	return Facts{in, r}, err == nil
}

// keep runs a check again on a changed Input and keeps the remedy where the subject
// no longer fails.
func keep(in Input, check func(Facts) []rule.Answer, subject string, r rule.Remedy) []rule.Remedy {
	g, ok := resized(in)
	if !ok {
		return nil
	}
	for _, a := range check(g) {
		if a.Outcome == rule.Unknown || a.Outcome == rule.Fail && a.Subject == subject {
			return nil
		}
	}
	return []rule.Remedy{r}
}

// quiet is an Input whose own remedies are not looked for again.
func (f Facts) quiet(i int, change func(*Load)) Input {
	in := withLoad(f.Input, i, change)
	in.Alternatives = nil
	return in
}

func forLoad(kind, words, tag string, params ...rule.Param) rule.Remedy {
	return rule.Remedy{Kind: kind, Words: words, Params: append([]rule.Param{{Name: "load", Text: tag}}, params...)}
}

func (f Facts) wireInterlock(group string) []rule.Remedy {
	return []rule.Remedy{{Kind: WireInterlock, Words: "wire the interlock of group " + group + " in the control panel", Params: []rule.Param{{Name: "group", Text: group}}}}
}

// voltageRemedies orders the load for the site's voltage.
func (f Facts) voltageRemedies(i int) []rule.Remedy {
	l := &f.Input.Loads[i]
	at := f.Result.voltageOf(l)
	return []rule.Remedy{forLoad(RatedVoltage, "order "+l.Tag+" for "+unit.Fixed(at, 0), l.Tag, rule.Param{Name: "voltage", Quantity: at})}
}

// capacityRemedies agrees the next full step of 5 kVA.
func (f Facts) capacityRemedies(need unit.ApparentPower) []rule.Remedy {
	step := unit.KilovoltAmperes(float64(int(need.KVA()/5)+1) * 5)
	return []rule.Remedy{{Kind: AgreeCapacity, Words: "agree " + unit.Fixed(step, 0) + " with the operator", Need: need, Have: step, Params: []rule.Param{{Name: "capacity", Quantity: step}}}}
}

// circuitRemedies divides an element among circuits.
func (f Facts) circuitRemedies(i int) []rule.Remedy {
	l := &f.Input.Loads[i]
	if l.Kind != Element {
		return nil
	}
	for n := 2; n <= 6; n++ {
		part := unit.Watts(l.Power.W() / float64(n))
		in := f.quiet(i, func(l *Load) { l.Power = part })
		words := "divide " + l.Tag + " among " + strconv.Itoa(n) + " circuits of " + unit.Fixed(part, 1)
		if r := keep(in, circuitsCompleteQuietly, l.Tag, forLoad(SplitLoad, words, l.Tag, rule.Param{Name: "circuits", Quantity: unit.Fraction(float64(n))})); r != nil {
			return r
		}
	}
	return nil
}

// circuitsCompleteQuietly is the check without its remedies, which would go round.
func circuitsCompleteQuietly(f Facts) []rule.Answer {
	var out []rule.Answer
	for i := range f.Result.Circuits {
		if c := &f.Result.Circuits[i]; c.Problem != "" {
			out = append(out, rule.Answer{Outcome: rule.Fail, Subject: c.Tag})
		}
	}
	return out
}

// failing makes a check without remedies out of a question to one circuit.
func failing(i int, fails func(*Circuit) bool) func(Facts) []rule.Answer {
	return func(f Facts) []rule.Answer {
		c := &f.Result.Circuits[i]
		if c.Problem != "" || fails(c) {
			return []rule.Answer{{Outcome: rule.Fail, Subject: c.Tag}}
		}
		return nil
	}
}

func dropFails(c *Circuit) bool { return c.DropTotal > c.DropLimit }

func loopFailsIn(c *Circuit) bool { return c.Zs != nil && *c.Zs > c.ZsMax }

func dipFails(c *Circuit) bool { return c.StartDip > unit.Percent(15) }

// dropRemedies moves the load nearer: the longest route that passes, in whole metres.
func (f Facts) dropRemedies(i int) []rule.Remedy {
	tag := f.Input.Loads[i].Tag
	have := f.Result.Circuits[i].Cable.Length.M()
	for _, share := range []float64{0.75, 0.5, 0.25} {
		length := unit.Metres(float64(int(have * share)))
		in := f.quiet(i, func(l *Load) { l.Length = &length })
		words := "bring the board nearer to " + tag + ": a route of " + unit.In(length, "m", 0)
		if r := keep(in, failing(i, dropFails), tag, forLoad(ShorterCable, words, tag, rule.Param{Name: "length", Quantity: length})); r != nil {
			return r
		}
	}
	return nil
}

// loopRemedies tries a soft starter with a C breaker, a B breaker's place for what
// does not start hard, and a residual current device as what cuts the fault off.
func (f Facts) loopRemedies(i int) []rule.Remedy {
	l := &f.Input.Loads[i]
	var out []rule.Remedy
	if l.Kind == Motor && l.Starter != SoftStart && l.Starter != VariableSpeed {
		in := f.quiet(i, func(l *Load) { l.Starter, l.StartMultiple, l.Curve = SoftStart, nil, CurveC })
		out = append(out, keep(in, failing(i, loopFailsIn), l.Tag, forLoad(UseSoftStart, "start "+l.Tag+" softly on a C breaker", l.Tag))...)
	}
	zs := f.Result.Circuits[i].Zs
	if residual := f.Result.Circuits[i].RCD.Residual; zs != nil && residual > 0 && zs.Ohm() <= 50/residual.A() {
		words := "let the residual current device of " + unit.In(residual, "ma", 0) + " cut the fault off (Zs up to " + unit.Fixed(unit.Ohms(50/residual.A()), 0) + ")"
		out = append(out, rule.Remedy{
			Kind: ResidualTrip, Words: words, Need: *zs, Have: unit.Ohms(50 / residual.A()),
			Params: []rule.Param{{Name: "load", Text: l.Tag}, {Name: "residual", Quantity: residual}},
		})
	}
	return out
}

// starterRemedies starts the motor more gently.
func (f Facts) starterRemedies(i int) []rule.Remedy {
	tag := f.Input.Loads[i].Tag
	var out []rule.Remedy
	for _, s := range []struct {
		starter Starter
		kind    string
		words   string
	}{
		{SoftStart, UseSoftStart, "start " + tag + " with a soft starter"},
		{VariableSpeed, UseDrive, "drive " + tag + " at variable speed"},
	} {
		in := f.quiet(i, func(l *Load) { l.Starter, l.StartMultiple, l.Curve = s.starter, nil, "" })
		out = append(out, keep(in, failing(i, dipFails), tag, forLoad(s.kind, s.words, tag))...)
	}
	return out
}

// deratingRemedies takes the next device, whose cable must follow.
func (f Facts) deratingRemedies(c *Circuit) []rule.Remedy {
	want := c.Ib.A() / f.derating()
	rating, ok := next(breakerMCB, want)
	if !ok {
		return nil
	}
	in := unit.Amperes(rating)
	words := "take " + string(c.Device.Curve) + unit.Digits(rating, 4) + " with a cable for it, or leave a free way beside " + c.Device.text()
	return []rule.Remedy{{
		Kind: NextDevice, Words: words, Need: c.Ib, Have: unit.Amperes(rating * f.derating()),
		Params: []rule.Param{{Name: "load", Text: c.Tag}, {Name: "device", Quantity: in}},
	}}
}

// leakageRemedies divides an element among circuits with a device each.
func (f Facts) leakageRemedies(i int) []rule.Remedy {
	l := &f.Input.Loads[i]
	if l.Kind != Element {
		return nil
	}
	c := &f.Result.Circuits[i]
	n := int(c.RCD.Leakage.A()/c.RCD.Allowed.A()) + 1
	return []rule.Remedy{forLoad(SplitLoad, "divide "+l.Tag+" among "+strconv.Itoa(n)+" circuits, each with its own device", l.Tag, rule.Param{Name: "circuits", Quantity: unit.Fraction(float64(n))})}
}

// placeRemedies lifts the terminal out of the hose's reach where that suffices.
func (f Facts) placeRemedies(i int) []rule.Remedy {
	l := f.Input.Loads[i]
	h := unit.Metres(2.2)
	up := l
	up.Height = &h
	if (l.Zone == Wet || l.Zone == "") && MeetsIP(l.IP, neededIP(&up)) {
		return []rule.Remedy{forLoad(OtherPlace, "set the terminal of "+l.Tag+" above 2 m", l.Tag, rule.Param{Name: "height", Quantity: h})}
	}
	return nil
}

// heatRemedies lengthens the states in which an element runs.
func (f Facts) heatRemedies(i int) []rule.Remedy {
	l := &f.Input.Loads[i]
	got, hours := f.Result.heatOf(i, f.Input.Brews)
	if got <= 0 || hours <= 0 {
		return nil
	}
	more := unit.Hours((l.Heat.KWh() - got.KWh()) / l.Power.KW())
	words := "switch " + l.Tag + " on " + unit.Fixed(more, 1) + " earlier, on a timer"
	return []rule.Remedy{forLoad(StartEarlier, words, l.Tag, rule.Param{Name: "hours", Quantity: more})}
}
