package electrical

import (
	"math"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

func threePhases(f Facts) []rule.Answer {
	need := 0
	for i := range f.Input.Loads {
		if f.Input.Loads[i].Phases == 3 {
			need++
		}
	}
	switch {
	case need == 0:
		return []rule.Answer{rule.Passes("", nil, nil, "no load needs three phases")}
	case f.Input.Supply.Phases == nil:
		return []rule.Answer{rule.Lacks("", count(need, "load needs", "loads need")+" three phases and the phases of the supply are unknown", "supply.phases")}
	case *f.Input.Supply.Phases == 3:
		return []rule.Answer{rule.Passes("", nil, nil, "the supply has three phases")}
	case f.Input.Converter != nil:
		return []rule.Answer{rule.Passes("", nil, nil, "a phase converter feeds the three-phase loads")}
	}
	words := count(need, "load needs", "loads need") + " three phases (" + f.threePhaseTags() + ") and the supply has one"
	return []rule.Answer{rule.Fails("", unit.Fraction(3), unit.Fraction(1), words, f.supplyRemedies()...)}
}

func (f Facts) threePhaseTags() string {
	text := ""
	for i := range f.Input.Loads {
		if f.Input.Loads[i].Phases != 3 {
			continue
		}
		if text != "" {
			text += ", "
		}
		text += f.Input.Loads[i].Tag
	}
	return text
}

func ratedVoltage(f Facts) []rule.Answer {
	var out []rule.Answer
	for i := range f.Input.Loads {
		l := &f.Input.Loads[i]
		if l.Voltage == nil {
			continue
		}
		at := f.Result.voltageOf(l)
		if f.Result.suitsVoltage(l) {
			continue
		}
		k := at.V() / l.Voltage.V()
		words := l.Tag + " is rated at " + unit.Fixed(*l.Voltage, 0) + " and gets " + unit.Fixed(at, 0)
		if l.Kind == Element {
			words += ": it heats with " + unit.Fixed(unit.Fraction(k*k), 0) + " of its power"
		}
		out = append(out, rule.Fails(l.Tag, *l.Voltage, at, words, f.voltageRemedies(i)...))
	}
	if out == nil {
		return []rule.Answer{rule.Passes("", nil, nil, "every load suits the voltage, or is rated for it")}
	}
	return out
}

// suitsVoltage tells whether the site's voltage lies within −10 % and +6 % of what a
// load is rated for.
func (r *Result) suitsVoltage(l *Load) bool {
	k := r.voltageOf(l).V() / l.Voltage.V()
	return k >= 0.9-1e-9 && k <= 1.06+1e-9
}

// voltageOf is the voltage across a load on this supply.
func (r *Result) voltageOf(l *Load) unit.Voltage {
	u, u0 := r.Supply.Voltage, r.Supply.PhaseVoltage
	if l.Phases == 3 || l.Voltage != nil && r.Supply.Lines > 1 && math.Abs(l.Voltage.V()-u.V()) < math.Abs(l.Voltage.V()-u0.V()) {
		return u
	}
	return u0
}

func placedLoads(f Facts) []rule.Answer {
	day := f.Input.day()
	var out []rule.Answer
	for i := range f.Input.Loads {
		l := &f.Input.Loads[i]
		if l.placed(day) {
			continue
		}
		out = append(out, rule.Fails(l.Tag, nil, nil, l.Tag+" is said to run in "+l.Runs[0].State+", which this day does not have: it is counted in every state"))
	}
	if out == nil {
		return []rule.Answer{rule.Passes("", nil, nil, "every load has its place in the day")}
	}
	return out
}

func manualInterlocks(f Facts) []rule.Answer {
	var out []rule.Answer
	for _, k := range f.Input.Interlocks {
		if !k.Manual || !f.Input.hasGroup(k.Group) {
			continue
		}
		out = append(out, rule.Fails(k.Group, nil, nil, "the loads of group "+k.Group+" are held apart by instruction only; the demand counts them together", f.wireInterlock(k.Group)...))
	}
	if out == nil {
		return []rule.Answer{rule.Passes("", nil, nil, "no interlock is left to people")}
	}
	return out
}

// manual tells whether a group is held apart by instruction only.
func (in *Input) manual(group string) bool {
	for _, k := range in.Interlocks {
		if k.Group == group && k.Manual {
			return true
		}
	}
	return false
}

func (in *Input) hasGroup(name string) bool {
	for i := range in.Loads {
		if in.Loads[i].Group == name {
			return true
		}
	}
	return false
}

// supplyCarries is the main question. Without a known existing load it can still
// fail, when even an otherwise idle supply would not do.
func supplyCarries(f Facts) []rule.Answer {
	s := &f.Input.Supply
	b := f.Result.Binding
	state := f.Result.States[b.State].Title
	subject := "L" + string(rune('0'+b.Line)) + ", " + state
	if s.Fuse == nil {
		return []rule.Answer{rule.Lacks(subject, "the brewery draws "+unit.Fixed(b.Demand, 1)+" on L"+string(rune('0'+b.Line))+" in "+state+"; the rating of the supply is unknown", missingSupply(s)...)}
	}
	if f.Result.Supply.Available == nil {
		if b.Demand > *s.Fuse {
			words := "needs " + unit.Fixed(b.Demand, 1) + " in " + state + "; the supply fuse is " + unit.Fixed(*s.Fuse, 0) + " before any existing load, which is unknown"
			return []rule.Answer{rule.Fails(subject, b.Demand, *s.Fuse, words)}
		}
		return []rule.Answer{rule.Lacks(subject, "the brewery draws "+unit.Fixed(b.Demand, 1)+" of "+unit.Fixed(*s.Fuse, 0)+"; the existing load is unknown", "supply.existing")}
	}
	have := f.Result.Supply.Available[b.Line-1]
	words := "needs " + unit.Fixed(b.Demand, 1) + " on L" + string(rune('0'+b.Line)) + " in " + state + "; the supply gives " + unit.Fixed(have, 1) +
		" (" + unit.Fixed(*s.Fuse, 0) + " less " + unit.Fixed(f.Result.Supply.Existing[b.Line-1], 1) + " existing)"
	if b.Margin.A() >= 0 {
		return []rule.Answer{rule.Passes(subject, b.Demand, have, words+"; "+unit.Fixed(*b.Margin, 1)+" to spare")}
	}
	return []rule.Answer{rule.Fails(subject, b.Demand, have, words+"; short by "+unit.Fixed(-*b.Margin, 1), f.supplyRemedies()...)}
}

func missingSupply(s *Supply) []string {
	var out []string
	if s.Fuse == nil {
		out = append(out, "supply.fuse")
	}
	if _, known := s.existing(); !known {
		out = append(out, "supply.existing")
	}
	return out
}

// spareShare of the fuse is to stay free (common practice, no source: 10 to 20 %).
const spareShare = 0.1

func spare(f Facts) []rule.Answer {
	m := f.Result.Binding.Margin
	if m == nil {
		return []rule.Answer{rule.Lacks("", "the margin of the supply is unknown", missingSupply(&f.Input.Supply)...)}
	}
	want := unit.Amperes(spareShare * f.Input.Supply.Fuse.A())
	words := "keeps " + unit.Fixed(*m, 1) + " free; a tenth of the fuse is " + unit.Fixed(want, 1)
	if m.A() >= want.A()-1e-6 {
		return []rule.Answer{rule.Passes("", want, *m, words)}
	}
	t := f.trial(want.A())
	t.spare = true
	t.night()
	t.offers()
	return []rule.Answer{rule.Fails("", want, *m, words, t.out...)}
}

// sensitivity answers once for all assumptions: the hardest sets need and have.
func sensitivity(f Facts) []rule.Answer {
	var hardest *Case
	words, reserve := "", 0.0
	for i := range f.Result.Cases {
		c := &f.Result.Cases[i]
		switch {
		case c.Margin == nil:
			return []rule.Answer{rule.Lacks("", "the supply is unknown", missingSupply(&f.Input.Supply)...)}
		case c.Passes || !c.ofSite():
			continue
		}
		words = joinBy(words, "; ", c.Name+": needs "+unit.Fixed(c.Demand, 1)+", the supply gives "+unit.Fixed(*c.Available, 1))
		if c.Key == "smaller-link" {
			words += " (have the marking of the fuse-link read before the order)"
		}
		reserve = max(reserve, f.Result.Binding.Margin.A()-c.Margin.A())
		if hardest == nil || *c.Margin < *hardest.Margin {
			hardest = c
		}
	}
	if hardest == nil {
		return []rule.Answer{rule.Passes("", nil, nil, "the supply carries the day under the less kind assumptions too")}
	}
	t := f.trial(reserve)
	t.cases = true
	t.limit(LimitLoads, "fit a load-limiting control")
	t.offers()
	return []rule.Answer{rule.Fails(hardest.Name, hardest.Demand, *hardest.Available, words, t.out...)}
}

// ofSite tells the cases that turn on facts of the site from those that turn on what
// is built.
func (c *Case) ofSite() bool { return c.Key != "derated" && c.Key != "no-interlocks" }

func imbalance(f Facts) []rule.Answer {
	if f.Result.Supply.Lines < 2 {
		return []rule.Answer{rule.DoesNotApply("the supply has one line")}
	}
	d := f.Result.States[f.Result.Binding.State]
	limit := unit.Percent(10)
	words := "in " + d.Title + " a line differs from the mean by " + unit.Fixed(d.Imbalance, 1)
	if d.Imbalance <= limit {
		return []rule.Answer{rule.Passes(d.Title, d.Imbalance, limit, words)}
	}
	return []rule.Answer{rule.Fails(d.Title, d.Imbalance, limit, words+"; the assignment is already the best on the worst line")}
}

func agreed(f Facts) []rule.Answer {
	s := &f.Input.Supply
	if f.Input.Rules == NEC && s.Agreed == nil {
		return []rule.Answer{rule.DoesNotApply("US utilities agree a service size rather than a capacity")}
	}
	if s.Agreed == nil {
		return []rule.Answer{rule.Lacks("", "the capacity agreed with the operator is unknown", "supply.agreed")}
	}
	need, ok := f.Result.agreedDemand(s)
	if !ok {
		return []rule.Answer{rule.Lacks("", "the existing load is unknown", "supply.existing")}
	}
	words := "brewery and existing load take " + unit.Fixed(need, 1) + "; " + unit.Fixed(*s.Agreed, 1) + " is agreed"
	if need <= *s.Agreed {
		return []rule.Answer{rule.Passes("", need, *s.Agreed, words)}
	}
	return []rule.Answer{rule.Fails("", need, *s.Agreed, words, f.capacityRemedies(need)...)}
}

// agreedDemand is the apparent power of the state that takes most, with the existing
// load added arithmetically.
func (r *Result) agreedDemand(s *Supply) (unit.ApparentPower, bool) {
	e, known := s.existing()
	if !known {
		return 0, false
	}
	top := unit.ApparentPower(0)
	for i := range r.States {
		top = max(top, r.States[i].Apparent)
	}
	for l := range r.Supply.Lines {
		top += unit.VoltAmperes(e[l] * r.Supply.PhaseVoltage.V())
	}
	return top, true
}
