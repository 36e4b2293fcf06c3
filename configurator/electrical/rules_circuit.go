package electrical

import (
	"strconv"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// eachCircuit asks every completed circuit and answers once where all are in order.
func eachCircuit(f Facts, inOrder string, ask func(*Circuit) (rule.Answer, bool)) []rule.Answer {
	var out []rule.Answer
	for i := range f.Result.Circuits {
		c := &f.Result.Circuits[i]
		if c.Problem != "" {
			continue
		}
		if a, fails := ask(c); fails {
			out = append(out, a)
		}
	}
	if out == nil {
		return []rule.Answer{rule.Passes("", nil, nil, inOrder)}
	}
	return out
}

func circuitsComplete(f Facts) []rule.Answer {
	var out []rule.Answer
	for i := range f.Result.Circuits {
		c := &f.Result.Circuits[i]
		if c.Problem != "" {
			out = append(out, rule.Fails(c.Tag, c.Ib, nil, c.Tag+": "+c.Problem, f.circuitRemedies(i)...))
		}
	}
	if fe := f.Result.Feeder; fe != nil && fe.Problem != "" {
		out = append(out, rule.Fails("feeder", nil, nil, "feeder: "+fe.Problem))
	}
	if out == nil {
		return []rule.Answer{rule.Passes("", nil, nil, "every circuit has a device and a cable of the tables")}
	}
	return out
}

func voltageDrops(f Facts) []rule.Answer {
	return eachCircuit(f, "every drop is within its limit", func(c *Circuit) (rule.Answer, bool) {
		if dropHolds(c) {
			return rule.Answer{}, false
		}
		words := c.Tag + ": the drop from the origin is " + unit.Fixed(c.DropTotal, 2) + ", allowed " + unit.Fixed(c.DropLimit, 0)
		return rule.Fails(c.Tag, c.DropTotal, c.DropLimit, words, f.dropRemedies(c.Load)...), true
	})
}

func faultLoops(f Facts) []rule.Answer {
	if f.Input.Rules == NEC {
		return []rule.Answer{rule.DoesNotApply("the NEC sets no loop impedance; grounding conductors follow 250.122")}
	}
	if f.Input.Supply.Ze == nil {
		return []rule.Answer{rule.Lacks("", "the external earth fault loop is unknown: ask the operator or measure", "supply.ze")}
	}
	return eachCircuit(f, "every device cuts off an earth fault in time", func(c *Circuit) (rule.Answer, bool) {
		if loopHolds(c) {
			return rule.Answer{}, false
		}
		words := c.Tag + ": the loop is " + unit.Fixed(*c.Zs, 3) + ", the limit of " + c.Device.Text() + " is " + unit.Fixed(c.ZsMax, 3)
		return rule.Fails(c.Tag, *c.Zs, c.ZsMax, words, f.loopRemedies(c.Load)...), true
	})
}

func startDips(f Facts) []rule.Answer {
	if f.Input.Rules == NEC {
		return []rule.Answer{rule.DoesNotApply("not reckoned by the NEC tables; large motors are asked of the utility")}
	}
	return eachCircuit(f, "every motor starts with a dip of at most 15 %", func(c *Circuit) (rule.Answer, bool) {
		if dipHolds(c) {
			return rule.Answer{}, false
		}
		words := c.Tag + ": starting with " + unit.Fixed(c.StartCurrent, 0) + " pulls the voltage down by " + unit.Fixed(c.StartDip, 0)
		return rule.Fails(c.Tag, c.StartDip, dipLimit, words, f.starterRemedies(c.Load)...), true
	})
}

// deratings answers once for the board, since its breakers stand side by side.
func deratings(f Facts) []rule.Answer {
	tags, most := "", (*Circuit)(nil)
	for i := range f.Result.Circuits {
		c := &f.Result.Circuits[i]
		if !c.Device.Derated || c.Problem != "" {
			continue
		}
		tags = join(tags, c.Tag)
		if most == nil || c.Device.Loading > most.Device.Loading {
			most = c
		}
	}
	if most == nil {
		return []rule.Answer{rule.Passes("", nil, nil, "no loaded breaker is above the board's factor")}
	}
	have := unit.Amperes(most.Device.Rating.A() * f.derating())
	words := tags + ": above " + unit.Fixed(unit.Fraction(f.derating()), 0) + " of their breakers; the most is " + most.Tag + " with " + unit.Fixed(most.Ib, 1) + " on " + most.Device.Text() + ", which side by side carries " + unit.Fixed(have, 1)
	return []rule.Answer{rule.Fails("", most.Ib, have, words, f.deratingRemedies(tags, most)...)}
}

func (f Facts) derating() float64 {
	if d := f.Input.Install.Derating; d != nil {
		return d.Value()
	}
	return 0.8
}

func leakages(f Facts) []rule.Answer {
	return eachCircuit(f, "no residual current device is loaded above its share", func(c *Circuit) (rule.Answer, bool) {
		if leakHolds(c) {
			return rule.Answer{}, false
		}
		words := c.Tag + ": leaks " + unit.In(c.RCD.Leakage, "ma", 1) + ", a device of " + unit.In(c.RCD.Residual, "ma", 0) + " takes " + unit.In(c.RCD.Allowed, "ma", 0)
		return rule.Fails(c.Tag, c.RCD.Leakage, c.RCD.Allowed, words, f.leakageRemedies(c.Load)...), true
	})
}

func breakingCapacity(f Facts) []rule.Answer {
	fault := f.Input.Supply.Fault
	if fault == nil {
		return []rule.Answer{rule.Lacks("", "the prospective fault current is unknown: ask the operator or measure", "supply.fault")}
	}
	largest := unit.Amperes(50000)
	if f.Input.Rules == NEC {
		largest = unit.Amperes(65000)
	}
	words := "the fault current is " + unit.Digits(fault.A()/1000, 3) + " kA"
	if *fault <= largest {
		return []rule.Answer{rule.Passes("", *fault, largest, words+"; devices of that breaking capacity are shown")}
	}
	return []rule.Answer{rule.Fails("", *fault, largest, words+", above every device offered: the designer limits it by fuses")}
}

func protections(f Facts) []rule.Answer {
	var out []rule.Answer
	asked := false
	for i := range f.Input.Loads {
		l := &f.Input.Loads[i]
		if l.IP == "" {
			continue
		}
		asked = true
		need := neededIP(l)
		if !MeetsIP(l.IP, need) {
			out = append(out, rule.Fails(l.Tag, nil, nil, l.Tag+": the terminal is "+l.IP+", the "+ZoneWords(*l)+" asks for "+need, f.placeRemedies(i)...))
		}
	}
	switch {
	case out != nil:
		return out
	case !asked:
		return []rule.Answer{rule.Lacks("", "no load tells the protection of its terminal", "loads.ip")}
	}
	return []rule.Answer{rule.Passes("", nil, nil, "every terminal whose protection is told suits its place")}
}

func heatingTimes(f Facts) []rule.Answer {
	var out []rule.Answer
	asked := false
	for i := range f.Input.Loads {
		l := &f.Input.Loads[i]
		if l.Heat == nil {
			continue
		}
		asked = true
		got, hours := f.Result.heatOf(i, f.Input.Brews)
		if got >= *l.Heat*(1-1e-9) {
			continue
		}
		need := unit.Hours(l.Heat.KWh() / l.Power.KW())
		words := l.Tag + ": the brew asks for " + unit.Fixed(*l.Heat, 0) + ", the day's states give " + unit.Fixed(got, 0) + " in " + unit.Fixed(hours, 1) + "; at full power it takes " + unit.Fixed(need, 1)
		out = append(out, rule.Fails(l.Tag, *l.Heat, got, words, f.heatRemedies(i)...))
	}
	switch {
	case out != nil:
		return out
	case !asked:
		return []rule.Answer{rule.DoesNotApply("no element tells the heat it must give")}
	}
	return []rule.Answer{rule.Passes("", nil, nil, "every element gives its heat in the hours it runs")}
}

// heatedAtAll finds elements that are never let run in any state of the day.
func heatedAtAll(f Facts) []rule.Answer {
	var out []rule.Answer
	asked := false
	for i := range f.Input.Loads {
		l := &f.Input.Loads[i]
		if l.Heat == nil || *l.Heat <= 0 {
			continue
		}
		asked = true
		if got, hours := f.Result.heatOf(i, f.Input.Brews); got <= 0 {
			words := l.Tag + ": the brew asks for " + unit.Fixed(*l.Heat, 0) + ", the day's states give none in " + unit.Fixed(hours, 1)
			out = append(out, rule.Fails(l.Tag, *l.Heat, got, words, f.heatRemedies(i)...))
		}
	}
	switch {
	case out != nil:
		return out
	case !asked:
		return []rule.Answer{rule.DoesNotApply("no element tells the heat it must give")}
	}
	return []rule.Answer{rule.Passes("", nil, nil, "every element runs in some state of the day")}
}

// heatOf is the energy a load puts in during one brew day per brew, and the hours it
// runs.
func (r *Result) heatOf(i, brews int) (unit.Energy, unit.Duration) {
	hours := 0.0
	for s := range r.States {
		for _, run := range r.States[s].Runs {
			if run.Load == i && run.Mean > 0 {
				hours += r.States[s].Hours.H()
			}
		}
	}
	return unit.Joules(r.Energy.Loads[i].J() / float64(max(brews, 1))), unit.Hours(hours)
}

// Text is a device in short, such as C20.
func (d Device) Text() string {
	n := unit.Digits(d.Rating.A(), 5)
	if d.Curve != "" && d.Standard == "IEC 60898" {
		return string(d.Curve) + n
	}
	return n + " A"
}
