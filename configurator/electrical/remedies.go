package electrical

import (
	"math"
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Kinds of remedy, stable for those who apply them.
const (
	StageLoads     = "stage-loads"     // cap: share of power that may run (load: tag)
	InterlockLoads = "interlock-loads" // loads: two tags that never run together
	NightLiquor    = "night-liquor"    // load: tag moved to the night
	LimitLoads     = "load-limit"      // limit: setting of a load-limiting control
	ManagedDay     = "managed-day"     // load moved to the night, and limit
	OtherLine      = "other-line"      // loads already connected are moved to other lines
	LargerSupply   = "larger-supply"   // phases, fuse
	PhaseConverter = "phase-converter" // efficiency
	WireInterlock  = "wire-interlock"  // group
	UseSoftStart   = "soft-start"      // load
	UseDrive       = "variable-speed"  // load
	ShorterCable   = "shorter-cable"   // load, length
	ResidualTrip   = "residual-trip"   // load: a residual current device cuts the fault off
	NextDevice     = "next-device"     // load, device rating
	OtherPlace     = "other-place"     // load, height
	RatedVoltage   = "rated-voltage"   // load, voltage
	SplitLoad      = "split-load"      // load, number of circuits
	AgreeCapacity  = "agree-capacity"  // capacity
	StartEarlier   = "start-earlier"   // load, hours
)

// fits tells what is left on the worst line with an Input, beyond a reserve in
// amperes, and whether the brewery's supply questions are all settled by it.
func fits(in *Input, reserve float64) (Result, bool) {
	r, err := demandOf(in)
	if err != nil || r.Binding.Margin == nil || r.Binding.Margin.A() < reserve-1e-9 {
		return r, false
	}
	if threePhases(Facts{*in, r})[0].Outcome != rule.Pass {
		return r, false
	}
	return r, true
}

// supplyRemedies tries every way to make the brew day fit the supply.
func (f Facts) supplyRemedies() []rule.Remedy { return f.remediesWith(0) }

// remediesWith asks for a reserve on top. Combinations are tried only where no
// single change of the way of working does.
func (f Facts) remediesWith(reserve float64) []rule.Remedy {
	if f.Result.Supply.Available == nil {
		return nil
	}
	var out []rule.Remedy
	add := func(r rule.Remedy, ok bool) {
		if ok {
			out = append(out, r)
		}
	}
	add(f.tryLines(reserve))
	add(f.tryStages(reserve))
	add(f.tryInterlock(reserve))
	add(f.tryNight(reserve))
	add(f.tryLimit(f.Input, LimitLoads, "", reserve))
	if len(out) == 0 {
		add(f.tryManaged(reserve))
	}
	add(f.tryConverter(reserve))
	add(f.tryOffers(reserve))
	return append(out, f.tryAlternatives(reserve)...)
}

// done words a change that passes and carries its effect on demand.
func (f Facts) done(kind, words string, r *Result, params ...rule.Param) (rule.Remedy, bool) {
	b := r.Binding
	have := r.Supply.Available[b.Line-1]
	params = append(params, rule.Param{Name: "demand", Quantity: b.Demand}, rule.Param{Name: "margin", Quantity: *b.Margin})
	return rule.Remedy{
		Kind: kind, Need: b.Demand, Have: have, Params: params,
		Words: words + " (" + unit.Fixed(b.Demand, 1) + " of " + unit.Fixed(have, 1) + ", " + unit.Fixed(*b.Margin, 1) + " to spare)",
	}, true
}

// withLoad copies an Input with one load changed.
func withLoad(in Input, i int, change func(*Load)) Input {
	in.Loads = slices.Clone(in.Loads)
	change(&in.Loads[i])
	return in
}

// tryLines frees loads that are tied to a line.
func (f Facts) tryLines(reserve float64) (rule.Remedy, bool) {
	tied := ""
	in := f.Input
	in.Loads = slices.Clone(in.Loads)
	for i := range in.Loads {
		if in.Loads[i].Line != 0 {
			in.Loads[i].Line = 0
			tied = join(tied, in.Loads[i].Tag)
		}
	}
	if tied == "" {
		return rule.Remedy{}, false
	}
	r, ok := fits(&in, reserve)
	if !ok {
		return rule.Remedy{}, false
	}
	return f.done(OtherLine, "connect "+tied+" to the lines of the schedule", &r, rule.Param{Name: "loads", Text: tied})
}

func join(list, tag string) string {
	if list == "" {
		return tag
	}
	return list + ", " + tag
}

// tryStages caps one staged or solid-state element at the largest share that passes.
func (f Facts) tryStages(reserve float64) (rule.Remedy, bool) {
	for _, i := range f.Input.byPower(Element) {
		l := &f.Input.Loads[i]
		steps := l.Stages
		if l.Control == SolidState {
			steps = 10
		}
		if l.Control == OnOff || l.Control == "" || steps < 2 {
			continue
		}
		for k := steps - 1; k > 0; k-- {
			share := unit.Fraction(float64(k) / float64(steps))
			in := withLoad(f.Input, i, func(l *Load) { l.Cap = &share })
			r, ok := fits(&in, reserve)
			if !ok {
				continue
			}
			longer := unit.Hours(f.hoursAbove(i, share.Value()))
			words := "let at most " + unit.Fixed(share, 0) + " of " + l.Tag + " run at once; its heating takes " + unit.Fixed(longer, 1) + " longer"
			return f.done(StageLoads, words, &r, rule.Param{Name: "load", Text: l.Tag}, rule.Param{Name: "cap", Quantity: share}, rule.Param{Name: "time", Quantity: longer})
		}
	}
	return rule.Remedy{}, false
}

// hoursAbove is how much longer a load runs when held to a share: the energy it
// misses in the states where it would run above the share.
func (f Facts) hoursAbove(i int, share float64) float64 {
	extra := 0.0
	for s := range f.Result.States {
		for _, run := range f.Result.States[s].Runs {
			if run.Load == i && run.Mean.Value() > share {
				extra += f.Result.States[s].Hours.H() * (run.Mean.Value()/share - 1)
			}
		}
	}
	return extra
}

// byPower lists the loads of a kind, the largest first.
func (in *Input) byPower(k Kind) []int {
	var at []int
	for i := range in.Loads {
		if in.Loads[i].Kind == k {
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

// tryInterlock holds two elements apart that now run together; of the pairs that
// pass, the one that gives up least power.
func (f Facts) tryInterlock(reserve float64) (rule.Remedy, bool) {
	at := f.Input.byPower(Element)
	running := f.Result.States[f.Result.Binding.State].Runs
	at = slices.DeleteFunc(at, func(i int) bool {
		return f.Input.Loads[i].Group != "" || !slices.ContainsFunc(running, func(r Running) bool { return r.Load == i })
	})
	if len(at) > 6 {
		at = at[:6]
	}
	for b := len(at) - 1; b > 0; b-- {
		for a := b - 1; a >= 0; a-- {
			x, y := at[a], at[b]
			group := f.Input.Loads[x].Tag + "/" + f.Input.Loads[y].Tag
			in := withLoad(f.Input, x, func(l *Load) { l.Group = group })
			in.Loads[y].Group = group
			r, ok := fits(&in, reserve)
			if !ok {
				continue
			}
			hours := f.hoursTogether(x, y)
			words := "interlock " + f.Input.Loads[x].Tag + " and " + f.Input.Loads[y].Tag + " by wiring, so that they never heat together; the day grows by up to " + unit.Fixed(hours, 1)
			return f.done(InterlockLoads, words, &r, rule.Param{Name: "loads", Text: f.Input.Loads[x].Tag + ", " + f.Input.Loads[y].Tag}, rule.Param{Name: "time", Quantity: hours})
		}
	}
	return rule.Remedy{}, false
}

// hoursTogether is how long two loads run in the same states: what the day grows by
// when one must wait for the other.
func (f Facts) hoursTogether(x, y int) unit.Duration {
	t := 0.0
	for s := range f.Result.States {
		mean := [2]float64{}
		for _, run := range f.Result.States[s].Runs {
			if run.Load == x {
				mean[0] = run.Mean.Value()
			}
			if run.Load == y {
				mean[1] = run.Mean.Value()
			}
		}
		t += f.Result.States[s].Hours.H() * min(mean[0], mean[1])
	}
	return unit.Hours(t)
}

// nightMove gives the Input with one element, which runs by day besides the kettle's
// own heating, heating at night instead.
func (f Facts) nightMove(i int) (Input, bool) {
	night := -1
	for s := range f.Result.States {
		if f.Result.States[s].Key == "night" {
			night = s
		}
	}
	l := &f.Input.Loads[i]
	if night < 0 || !l.runsIn("strike") || l.runsIn("heat-up") {
		return Input{}, false
	}
	hours := f.Result.States[night].Hours
	if f.Result.Energy.Loads != nil && f.Result.Energy.Loads[i].KWh() > l.Power.KW()*hours.H() {
		return Input{}, false // the night is too short for it
	}
	return withLoad(f.Input, i, func(l *Load) {
		duty := unit.Fraction(1)
		if f.Result.Energy.Loads != nil {
			duty = unit.Fraction(f.Result.Energy.Loads[i].KWh() / (l.Power.KW() * hours.H()))
		}
		peak := unit.Fraction(1)
		l.Runs = []Run{{State: "night", Duty: &duty, Peak: &peak}}
	}), true
}

func (l *Load) runsIn(key string) bool { return l.atKey(key).peak > 0 && len(l.Runs) > 0 }

// tryNight heats the hot liquor at night.
func (f Facts) tryNight(reserve float64) (rule.Remedy, bool) {
	for _, i := range f.Input.byPower(Element) {
		in, ok := f.nightMove(i)
		if !ok {
			continue
		}
		r, ok := fits(&in, reserve)
		if !ok {
			continue
		}
		tag := f.Input.Loads[i].Tag
		return f.done(NightLiquor, "heat the liquor of "+tag+" at night for the next day, on a timer, with an insulated tank", &r, rule.Param{Name: "load", Text: tag})
	}
	return rule.Remedy{}, false
}

// tryLimit fits a load-limiting control set to what the supply gives.
func (f Facts) tryLimit(in Input, kind, first string, reserve float64) (rule.Remedy, bool) {
	if in.Limit != nil || len(in.byPower(Element)) == 0 {
		return rule.Remedy{}, false
	}
	a := f.Result.Supply.Available
	limit := unit.Amperes(min(a[0].A(), a[1].A(), a[2].A()) - reserve)
	if limit <= 0 {
		return rule.Remedy{}, false
	}
	in.Limit = &limit
	r, ok := fits(&in, reserve)
	if !ok {
		return rule.Remedy{}, false
	}
	longer, where := 0.0, ""
	for s := range r.States {
		shed := r.States[s].Shed.Value()
		if shed >= 1-1e-9 {
			continue
		}
		if shed < 0.2 {
			return rule.Remedy{}, false // a state without its heat is no brew day
		}
		longer += r.States[s].Hours.H() * (1/shed - 1)
		where = join(where, r.States[s].Title+" at "+unit.Fixed(r.States[s].Shed, 0)+" of its heat")
	}
	grows := unit.Hours(longer)
	words := first + "fit a load-limiting control set to " + unit.Fixed(limit, 0) + ": " + where + "; the day grows by " + unit.Fixed(grows, 1)
	return f.done(kind, words, &r, rule.Param{Name: "limit", Quantity: limit}, rule.Param{Name: "time", Quantity: grows})
}

// tryManaged heats liquor at night and limits the rest.
func (f Facts) tryManaged(reserve float64) (rule.Remedy, bool) {
	for _, i := range f.Input.byPower(Element) {
		in, ok := f.nightMove(i)
		if !ok {
			continue
		}
		tag := f.Input.Loads[i].Tag
		if r, ok := f.tryLimit(in, ManagedDay, "heat the liquor of "+tag+" at night and ", reserve); ok {
			r.Params = append(r.Params, rule.Param{Name: "load", Text: tag})
			return r, true
		}
	}
	return rule.Remedy{}, false
}

// usualConverter is the efficiency of a phase converter (common practice, no source).
const usualConverter = 0.9

// tryConverter feeds three-phase loads from one phase.
func (f Facts) tryConverter(reserve float64) (rule.Remedy, bool) {
	if f.Result.Supply.Phases != 1 || f.Input.Converter != nil || f.threePhaseTags() == "" {
		return rule.Remedy{}, false
	}
	in := f.Input
	eta := unit.Fraction(usualConverter)
	in.Converter = &eta
	r, ok := fits(&in, reserve)
	if !ok {
		return rule.Remedy{}, false
	}
	return f.done(PhaseConverter, "feed "+f.threePhaseTags()+" through a phase converter; the makers must agree", &r, rule.Param{Name: "efficiency", Quantity: eta})
}

// Offers are the supplies an operator can give: as told, or the usual steps.
func (in *Input) offers() []Offer {
	if in.Supply.Offers != nil {
		return in.Supply.Offers
	}
	var out []Offer
	for r := range offerTable.Len() {
		if offerTable.Text(r, "rules") != string(in.Rules) {
			continue
		}
		p, _ := offerTable.Number(r, "phases")
		a, _ := offerTable.Number(r, "a")
		out = append(out, Offer{Phases: int(p), Fuse: unit.Amperes(a)})
	}
	return out
}

// tryOffers asks for the smallest larger supply that passes. An existing load of a
// single-phase supply stays on one line.
func (f Facts) tryOffers(reserve float64) (rule.Remedy, bool) {
	offers := slices.Clone(f.Input.offers())
	slices.SortStableFunc(offers, func(a, b Offer) int {
		return int(math.Copysign(1, power(a)-power(b)))
	})
	for _, o := range offers {
		in := f.Input
		s := &in.Supply
		if f.Input.Supply.Fuse != nil && o.Fuse <= *s.Fuse && o.Phases <= f.Result.Supply.Phases {
			continue
		}
		if o.Phases != f.Result.Supply.Phases {
			e, _ := s.existing()
			s.PerLine = &[3]unit.Current{unit.Amperes(e[0])}
			s.Voltage, s.PhaseVoltage, s.Agreed = nil, nil, nil
		}
		phases, fuse := o.Phases, o.Fuse
		s.Phases, s.Fuse = &phases, &fuse
		r, ok := fits(&in, reserve)
		if !ok {
			continue
		}
		words := "ask the operator for " + supplyWords(o)
		return f.done(LargerSupply, words, &r, rule.Param{Name: "phases", Quantity: unit.Fraction(float64(phases))}, rule.Param{Name: "fuse", Quantity: fuse},
			rule.Param{Name: "capacity", Quantity: *r.Supply.Power})
	}
	return rule.Remedy{}, false
}

func power(o Offer) float64 {
	if o.Phases == 3 {
		return 3 * o.Fuse.A()
	}
	return o.Fuse.A()
}

func supplyWords(o Offer) string {
	p := "three phases of "
	if o.Phases == 1 {
		p = "one phase of "
	}
	w := p + unit.Fixed(o.Fuse, 0)
	if o.Note != "" {
		w += " (" + o.Note + ")"
	}
	return w
}

// tryAlternatives puts other equipment in the place of this.
func (f Facts) tryAlternatives(reserve float64) []rule.Remedy {
	var out []rule.Remedy
	for _, a := range f.Input.Alternatives {
		in := f.Input
		in.Loads, in.Alternatives = a.Loads, nil
		r, ok := fits(&in, reserve)
		if !ok {
			continue
		}
		rem, _ := f.done(a.Kind, "take "+a.Words, &r, rule.Param{Name: "code", Text: a.Code})
		out = append(out, rem)
	}
	return out
}
