package electrical

import (
	"math"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Facts is what the rules look at.
type Facts struct {
	Input  Input
	Result Result
}

// Rules are the checks of the discipline in print order.
func Rules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		{
			ID: "EL-001", Severity: rule.Blocker, Title: "A load needs three phases and the supply has one",
			Why:      "A three-phase machine does not run on one phase; changing the supply takes weeks to months and must be known before the order.",
			Compares: "phases of the loads against phases of the supply",
			Source:   source.Derivation("a three-phase load needs three lines"), Check: threePhases,
		},
		{
			ID: "EL-002", Severity: rule.Warning, Title: "A load is rated for another voltage",
			Why:      "An element on a lower voltage heats with the square of it less, so the brew day grows; on a higher one it and its breaker overload. Motors overheat on both.",
			Compares: "site voltage against rated voltage, band −10 % to +6 %",
			Source:   source.Doc{ID: "IEC 60038", Title: "Standard voltages"}.Recalled("Table 1"), Check: ratedVoltage,
		},
		{
			ID: "EL-003", Severity: rule.Warning, Title: "An interlock is only an instruction",
			Why:      "What people are told not to do together is done together one day, and the fuse opens in the middle of a brew. Only a wired interlock or a certified load control counts.",
			Compares: "interlock groups against their means",
			Source:   source.Practice("demand may only be reduced by an automatic means"), Check: manualInterlocks,
		},
		{
			ID: "EL-004", Severity: rule.Warning, Title: "A load runs in a state the brew day does not have",
			Why:      "Nobody knows when it runs, so it is reckoned to run all day; the supply looks fuller than it is.",
			Compares: "states of the loads against states of the brew day",
			Source:   source.Derivation("what is not placed in the day counts in all of it"), Check: placedLoads,
		},
		{
			ID: "EL-010", Severity: rule.Blocker, Title: "The supply does not carry the brew day",
			Why:      "Elements run for hours, so there is no grace: the supply fuse opens and the brew in the kettle is lost.",
			Compares: "greatest line current of any state against fuse less existing load, line by line",
			Source:   bs7671.At("311.1, 433.1"), DependsOn: []string{"EL-001"}, Check: supplyCarries,
		},
		{
			ID: "EL-011", Severity: rule.Notice, Title: "The supply has no spare",
			Why:      "With less than a tenth to spare the next pump or tank needs a new supply.",
			Compares: "margin of the worst line against 10 % of the fuse",
			Source:   source.Practice("keep 10 to 20 % of the supply free"), DependsOn: []string{"EL-010"}, Check: spare,
		},
		{
			ID: "EL-012", Severity: rule.Warning, Title: "The verdict turns on a figure nobody has measured",
			Why:      "Behind a 100 A carrier an 80 A link is common, and elements draw a tenth more at the top of the voltage band: what fits on paper may not fit on site.",
			Compares: "greatest line current against the supply under less kind assumptions",
			Source:   source.Practice("sensitivity of the verdict"), DependsOn: []string{"EL-010"}, Check: sensitivity,
		},
		{
			ID: "EL-013", Severity: rule.Notice, Title: "The lines are loaded unevenly",
			Why:      "Uneven lines waste the supply and unbalance the voltage.",
			Compares: "deviation from the mean line in the binding state against 10 %",
			Source:   source.Practice("imbalance up to 10 %"), DependsOn: []string{"EL-001"}, Check: imbalance,
		},
		{
			ID: "EL-014", Severity: rule.Warning, Title: "The demand is above the capacity agreed with the operator",
			Why:      "Above the agreed capacity the operator may refuse the connection, and charges every kVA in excess.",
			Compares: "apparent power of brewery and existing load against the agreed capacity",
			Source:   source.Doc{ID: "Electricity Safety, Quality and Continuity Regulations", Edition: "2002"}.Recalled("reg. 25"), DependsOn: []string{"EL-001"}, Check: agreed,
		},
		{
			ID: "EL-020", Severity: rule.Blocker, Title: "A circuit cannot be made from the tables",
			Why:      "A conductor that does not carry its device's rating overheats before the device opens.",
			Compares: "Ib ≤ In ≤ Iz",
			Source:   bs7671.Recalled("433.1.1"), DependsOn: []string{"EL-001"}, Check: circuitsComplete,
		},
		{
			ID: "EL-021", Severity: rule.Warning, Title: "The voltage drop is too large",
			Why:      "Motors start hard and elements heat less at the end of a long cable.",
			Compares: "drop from the origin against 3 % for lighting, 5 % for other uses",
			Source:   bs7671.At("525, Appendix 4 Table 4Ab"), DependsOn: []string{"EL-020"}, Check: voltageDrops,
		},
		{
			ID: "EL-022", Severity: rule.Blocker, Title: "A fault to earth is not cut off in time",
			Why:      "Until the device opens, the metal of a vessel stands at a dangerous voltage in a wet room.",
			Compares: "earth fault loop Zs against the limit of the device",
			Source:   bs7671.At("411.4.4, Table 41.3"), DependsOn: []string{"EL-020"}, Check: faultLoops,
		},
		{
			ID: "EL-023", Severity: rule.Warning, Title: "A motor pulls the voltage down when it starts",
			Why:      "The motor may not start, contactors drop out and controllers reset.",
			Compares: "dip at the terminals at starting against 15 %",
			Source:   source.Practice("dip at the terminals up to 10 to 15 %"), DependsOn: []string{"EL-020"}, Check: startDips,
		},
		{
			ID: "EL-024", Severity: rule.Notice, Title: "Breakers stand side by side under full load for hours",
			Why:      "Neighbouring breakers warm each other and trip below their rating.",
			Compares: "Ib against the board's rated diversity factor times In",
			Source:   source.Doc{ID: "IEC 61439-1"}.At("rated diversity factor"), DependsOn: []string{"EL-020"}, Check: deratings,
		},
		{
			ID: "EL-025", Severity: rule.Warning, Title: "Leakage trips the residual current device",
			Why:      "Elements and drives leak in good order; above a third of the rating the device trips without a fault.",
			Compares: "standing leakage against 30 % of the residual current",
			Source:   bs7671.Recalled("531.3.2"), DependsOn: []string{"EL-020"}, Check: leakages,
		},
		{
			ID: "EL-026", Severity: rule.Blocker, Title: "Devices cannot break the fault current",
			Why:      "A breaker that cannot break the current bursts.",
			Compares: "prospective fault current against the largest breaking capacity offered",
			Source:   bs7671.At("434.5.1, 536.4.203"), Check: breakingCapacity,
		},
		{
			ID: "EL-027", Severity: rule.Warning, Title: "A terminal is not tight enough for its place",
			Why:      "Water or dust gets in and the earth fault comes with it.",
			Compares: "protection of the terminal against that of its zone",
			Source:   iec60529.At("clause 6"), Check: protections,
		},
		{
			ID: "EL-028", Severity: rule.Warning, Title: "The heating time is longer than the day gives",
			Why:      "The brewer waits for hot liquor, or starts in the night after the first brew.",
			Compares: "heat of one brew over power against hours in which the element runs",
			Source:   source.Derivation("energy over power"), Check: heatingTimes,
		},
	}
}

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
