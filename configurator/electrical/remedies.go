package electrical

import (
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// supplyRemedies tries every way to make the brew day fit the supply. Combinations are
// tried only where no single change of the way of working does.
func (f Facts) supplyRemedies() []rule.Remedy {
	if f.Result.Supply.Available == nil {
		return nil
	}
	t := f.trial(0)
	t.lines()
	t.stages()
	t.interlocks()
	t.night()
	t.limit(LimitLoads, "fit a load-limiting control")
	if len(t.out) == 0 {
		t.managed()
	}
	t.limit(SolidStateLimit, "fit solid-state control to the elements and a load-limiting control")
	t.onePhase()
	t.offers()
	t.alternatives()
	return t.out
}

// trial tries remedies that leave a reserve on the worst line.
func (f Facts) trial(reserve float64) *trial { return &trial{f: f, reserve: reserve} }

// trial collects the remedies that pass.
type trial struct {
	f       Facts
	reserve float64
	spare   bool // a tenth of the fuse, also of a new one, must stay free
	cases   bool // the less kind assumptions of the site must be met too
	out     []rule.Remedy
}

func text(name, s string) rule.Param { return rule.Param{Name: name, Text: s} }

func figure(name string, q unit.Quantity) rule.Param { return rule.Param{Name: name, Quantity: q} }

// try applies a remedy and tells whether the brewery's supply questions are all
// settled by it.
func (t *trial) try(kind string, p ...rule.Param) (rule.Remedy, Result, bool) {
	rem := rule.Remedy{Kind: kind, Params: p}
	in, err := Apply(t.f.Input, rem)
	if err != nil {
		return rem, Result{}, false
	}
	st, r, ok := demandOf(&in, t.reserve)
	if !ok || r.Binding.Margin == nil || r.Binding.Margin.A() < t.reserve-1e-9 {
		return rem, r, false
	}
	if t.spare && r.Binding.Margin.A() < spareShare*in.Supply.Fuse.A()-1e-6 {
		return rem, r, false
	}
	if t.cases && st.casesFail(&r) {
		return rem, r, false
	}
	if kind == LargerSupply && t.f.mismatched(&in, &r) {
		return rem, r, false
	}
	lacking := in.Supply.Phases == nil || *in.Supply.Phases != 3 && in.Converter == nil && in.threePhase()
	return rem, r, !lacking || !in.threePhase()
}

func (in *Input) threePhase() bool {
	return slices.ContainsFunc(in.Loads, func(l Load) bool { return l.Phases == 3 })
}

// keep words a remedy that passes, with its effect on demand.
func (t *trial) keep(rem rule.Remedy, r *Result, words string, more ...rule.Param) {
	b := r.Binding
	have := r.Supply.Available[b.Line-1]
	rem.Need, rem.Have = b.Demand, have
	rem.Words = words + " (" + unit.Fixed(b.Demand, 1) + " of " + unit.Fixed(have, 1) + ", " + unit.Fixed(*b.Margin, 1) + " to spare)"
	rem.Params = append(append(rem.Params, more...), figure("demand", b.Demand), figure("margin", *b.Margin))
	t.out = append(t.out, rem)
}

// lines frees loads that are tied to a line.
func (t *trial) lines() {
	tied := ""
	for i := range t.f.Input.Loads {
		if t.f.Input.Loads[i].Line != 0 {
			tied = join(tied, t.f.Input.Loads[i].Tag)
		}
	}
	if tied == "" {
		return
	}
	if rem, r, ok := t.try(OtherLine, text("loads", tied)); ok {
		t.keep(rem, &r, "connect "+tied+" to the lines of the schedule")
	}
}

func join(list, tag string) string { return joinBy(list, ", ", tag) }

func joinBy(list, by, next string) string {
	if list == "" {
		return next
	}
	return list + by + next
}

// stages caps one staged or solid-state element at the largest share that passes.
func (t *trial) stages() {
	for _, i := range t.f.Input.elements() {
		l := &t.f.Input.Loads[i]
		steps := l.Stages
		if l.Control == SolidState {
			steps = 10
		}
		if l.Control == OnOff || l.Control == "" || steps < 2 {
			continue
		}
		for k := steps - 1; k > 0; k-- {
			share := unit.Fraction(float64(k) / float64(steps))
			rem, r, ok := t.try(StageLoads, text("load", l.Tag), figure("cap", share))
			if !ok {
				continue
			}
			longer := t.f.hoursAbove(i, share.Value())
			t.keep(rem, &r, "let at most "+unit.Fixed(share, 0)+" of "+l.Tag+" run at once; its heating takes "+unit.Fixed(longer, 1)+" longer", figure("time", longer))
			return
		}
	}
}

// hoursAbove is how much longer a load runs when held to a share: the energy it
// misses in the states where it would run above the share.
func (f Facts) hoursAbove(i int, share float64) unit.Duration {
	extra := 0.0
	for s := range f.Result.States {
		for _, run := range f.Result.States[s].Runs {
			if run.Load == i && run.Mean.Value() > share {
				extra += f.Result.States[s].Hours.H() * (run.Mean.Value()/share - 1)
			}
		}
	}
	return unit.Hours(extra)
}

// elements lists the heating elements, the largest first.
func (in *Input) elements() []int {
	var at []int
	for i := range in.Loads {
		if in.Loads[i].Kind == Element {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(a, b int) int {
		switch pa, pb := in.Loads[a].Power, in.Loads[b].Power; {
		case pa > pb:
			return -1
		case pa < pb:
			return 1
		}
		return 0
	})
	return at
}

// interlocks holds two elements apart that now run together: of the largest six, the
// pair that gives up least power.
func (t *trial) interlocks() {
	running := t.f.Result.States[t.f.Result.Binding.State].Runs
	at := slices.DeleteFunc(t.f.Input.elements(), func(i int) bool {
		return t.f.Input.Loads[i].Group != "" || !slices.ContainsFunc(running, func(r Running) bool { return r.Load == i })
	})
	at = at[:min(len(at), 6)]
	for b := len(at) - 1; b > 0; b-- {
		for a := b - 1; a >= 0; a-- {
			tags := t.f.Input.Loads[at[a]].Tag + ", " + t.f.Input.Loads[at[b]].Tag
			rem, r, ok := t.try(InterlockLoads, text("loads", tags))
			if !ok {
				continue
			}
			hours := t.f.hoursTogether(at[a], at[b])
			t.keep(rem, &r, "interlock "+tags+" by wiring, so that they never heat together; the day grows by up to "+unit.Fixed(hours, 1), figure("time", hours))
			return
		}
	}
}

// hoursTogether is how long two loads run in the same states: what the day grows by
// when one must wait for the other.
func (f Facts) hoursTogether(x, y int) unit.Duration {
	total := 0.0
	for s := range f.Result.States {
		both := [2]float64{}
		for _, run := range f.Result.States[s].Runs {
			switch run.Load {
			case x:
				both[0] = run.Mean.Value()
			case y:
				both[1] = run.Mean.Value()
			}
		}
		total += f.Result.States[s].Hours.H() * min(both[0], both[1])
	}
	return unit.Hours(total)
}

// nightDuty is the share of the night in which an element that heats by day, other
// than the kettle's own, would give the same heat; false where the night is too
// short or there is none.
func (f Facts) nightDuty(i int) (unit.Ratio, bool) {
	l := &f.Input.Loads[i]
	if len(l.Runs) == 0 || l.atKey("strike").peak == 0 || l.atKey("heat-up").peak > 0 {
		return 0, false
	}
	night, hours := 0.0, 0.0
	for s := range f.Result.States {
		d := &f.Result.States[s]
		if d.Key == "night" {
			night += d.Hours.H()
		}
		for _, run := range d.Runs {
			if run.Load == i {
				hours += run.Mean.Value() * d.Hours.H()
			}
		}
	}
	if night <= 0 || hours > night {
		return 0, false
	}
	return unit.Fraction(hours / night), true
}

// night heats the hot liquor at night.
func (t *trial) night() {
	for _, i := range t.f.Input.elements() {
		duty, ok := t.f.nightDuty(i)
		if !ok {
			continue
		}
		tag := t.f.Input.Loads[i].Tag
		if rem, r, ok := t.try(NightLiquor, text("load", tag), figure("duty", duty)); ok {
			t.keep(rem, &r, "heat the liquor of "+tag+" at night for the next day, on a timer, with an insulated tank")
			return
		}
	}
}
