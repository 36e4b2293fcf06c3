package electrical

import (
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// supplyRemedies tries every way to make the brew day fit the supply.
func (f Facts) supplyRemedies() []rule.Remedy { return f.remediesWith(0) }

// remediesWith asks for a reserve on top. Combinations are tried only where no
// single change of the way of working does.
func (f Facts) remediesWith(reserve float64) []rule.Remedy {
	if f.Result.Supply.Available == nil {
		return nil
	}
	t := trial{f: f, reserve: reserve}
	t.lines()
	t.stages()
	t.interlocks()
	t.night()
	t.limit(LimitLoads, "fit a load-limiting control")
	if len(t.out) == 0 {
		t.managed()
	}
	t.limit(SolidStateLimit, "fit solid-state control to the elements and a load-limiting control")
	t.converter()
	t.offers()
	t.alternatives()
	return t.out
}

// trial collects the remedies that pass.
type trial struct {
	f       Facts
	reserve float64
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
	r, ok := demandOf(&in, t.reserve)
	if !ok || r.Binding.Margin == nil || r.Binding.Margin.A() < t.reserve-1e-9 {
		return rem, r, false
	}
	if kind == LargerSupply && t.f.mismatched(&in, &r) {
		return rem, r, false
	}
	lacking := in.Supply.Phases == nil || *in.Supply.Phases != 3 && in.Converter == nil && in.threePhase()
	return rem, r, !lacking || !in.threePhase()
}

// mismatched tells whether a supply has another voltage than a load is rated for
// that suits the present one.
func (f Facts) mismatched(in *Input, r *Result) bool {
	for i := range in.Loads {
		l := &in.Loads[i]
		if l.Voltage != nil && f.Result.suitsVoltage(l) && !r.suitsVoltage(l) {
			return true
		}
	}
	return false
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

func join(list, tag string) string {
	if list == "" {
		return tag
	}
	return list + ", " + tag
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

// setting is what a load-limiting control is set to: what the least supplied line has.
func (t *trial) setting() unit.Current {
	a := t.f.Result.Supply.Available
	least := a[0]
	for l := 1; l < t.f.Result.Supply.Lines; l++ {
		least = min(least, a[l])
	}
	return unit.Amperes(least.A() - t.reserve)
}

// limit fits a load-limiting control set to what the supply gives.
func (t *trial) limit(kind, words string, more ...rule.Param) bool {
	set := t.setting()
	if t.f.Input.Limit != nil || set <= 0 || len(t.f.Input.elements()) == 0 {
		return false
	}
	rem, r, ok := t.try(kind, append(more, figure("limit", set))...)
	if !ok {
		return false
	}
	grows, where, ok := t.growth(&r)
	if !ok || where == "" {
		return false
	}
	t.keep(rem, &r, words+" set to "+unit.Fixed(set, 0)+": "+where+"; the day grows by "+unit.Fixed(grows, 1), figure("time", grows))
	return true
}

// growth is how much longer the day takes because of shed heat, and in which states.
// A state that keeps a fifth of its heat takes longer itself; otherwise the loads
// make up for it in the state where they run most. Without such a state the limit is
// no remedy.
func (t *trial) growth(r *Result) (unit.Duration, string, bool) {
	hours, where := 0.0, ""
	for s := range r.States {
		d := &r.States[s]
		shed := d.Shed.Value()
		if shed >= 1-1e-9 {
			continue
		}
		where = join(where, d.Title+" at "+unit.Fixed(d.Shed, 0)+" of its heat")
		if shed >= 0.2 {
			hours += d.Hours.H() * (1/shed - 1)
			continue
		}
		lost, left := t.elsewhere(r, s)
		if left <= 0 {
			return 0, "", false
		}
		hours += lost * d.Hours.H() / left
	}
	return unit.Hours(hours), where, true
}

// elsewhere is the mean power the elements of a state lose, W, and the most that the
// same elements have in any one other state.
func (t *trial) elsewhere(r *Result, s int) (lost, left float64) {
	var losers []int
	for _, run := range t.f.Result.States[s].Runs {
		l := &t.f.Input.Loads[run.Load]
		if l.Kind != Element {
			continue
		}
		after := r.States[s].shareOf(l.Tag)
		if after < run.Mean.Value() {
			lost += l.Power.W() * (run.Mean.Value() - after)
			losers = append(losers, run.Load)
		}
	}
	for o := range r.States {
		if o == s {
			continue
		}
		p := 0.0
		for _, i := range losers {
			p += t.f.Input.Loads[i].Power.W() * r.States[o].shareOf(t.f.Input.Loads[i].Tag)
		}
		left = max(left, p)
	}
	return lost, left
}

func (d *StateDemand) shareOf(tag string) float64 {
	for _, run := range d.Runs {
		if run.Tag == tag {
			return run.Mean.Value()
		}
	}
	return 0
}

// managed heats liquor at night and limits the rest.
func (t *trial) managed() {
	for _, i := range t.f.Input.elements() {
		duty, ok := t.f.nightDuty(i)
		if !ok {
			continue
		}
		tag := t.f.Input.Loads[i].Tag
		if t.limit(ManagedDay, "heat the liquor of "+tag+" at night and fit a load-limiting control", text("load", tag), figure("duty", duty)) {
			return
		}
	}
}

// usualConverter is the efficiency of a phase converter (common practice, no source).
const usualConverter = 0.9

// converter feeds three-phase loads from one phase.
func (t *trial) converter() {
	if t.f.Result.Supply.Phases != 1 || t.f.Input.Converter != nil || !t.f.Input.threePhase() {
		return
	}
	if rem, r, ok := t.try(PhaseConverter, figure("efficiency", unit.Fraction(usualConverter))); ok {
		t.keep(rem, &r, "feed "+t.f.threePhaseTags()+" through a phase converter; the makers must agree")
	}
}

// offers are the supplies an operator can give: as told, or the usual steps.
func (in *Input) offers() []Offer {
	if in.Supply.Offers != nil {
		return in.Supply.Offers
	}
	return usualOffers[in.Rules]
}

var usualOffers = func() map[RuleSet][]Offer {
	m := map[RuleSet][]Offer{}
	for r := range offerTable.Len() {
		p, _ := offerTable.Number(r, "phases")
		a, _ := offerTable.Number(r, "a")
		set := RuleSet(offerTable.Text(r, "rules"))
		m[set] = append(m[set], Offer{Phases: int(p), Fuse: unit.Amperes(a)})
	}
	return m
}()

// offers asks for the smallest larger supply that passes.
func (t *trial) offers() {
	offers := slices.Clone(t.f.Input.offers())
	slices.SortStableFunc(offers, func(a, b Offer) int {
		switch x, y := a.lineAmps(), b.lineAmps(); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	for _, o := range offers {
		if f := t.f.Input.Supply.Fuse; f != nil && o.Fuse <= *f && o.Phases <= t.f.Result.Supply.Phases {
			continue
		}
		rem, r, ok := t.try(LargerSupply, figure("phases", unit.Fraction(float64(o.Phases))), figure("fuse", o.Fuse))
		if ok {
			words := "ask the operator for " + o.words()
			if t.f.Input.Rules == IEC {
				words += "; works take some 6 to 16 weeks after acceptance"
			}
			t.keep(rem, &r, words, figure("capacity", *r.Supply.Power))
			return
		}
	}
}

func (o Offer) lineAmps() float64 { return float64(o.Phases) * o.Fuse.A() }

func (o Offer) words() string {
	w := "three phases of "
	if o.Phases == 1 {
		w = "one phase of "
	}
	w += unit.Fixed(o.Fuse, 0)
	if o.Note != "" {
		w += " (" + o.Note + ")"
	}
	return w
}

// alternatives puts other equipment in the place of this.
func (t *trial) alternatives() {
	for _, a := range t.f.Input.Alternatives {
		if rem, r, ok := t.try(a.Kind, text("code", a.Code)); ok {
			t.keep(rem, &r, "take "+a.Words)
		}
	}
}
