package electrical

import (
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

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

// setting is what a load-limiting control is set to: what the least supplied line has.
func (t *trial) setting() unit.Current {
	a := t.f.Result.Supply.Available
	least := a[0]
	for l := 1; l < t.f.Result.Supply.Lines; l++ {
		least = min(least, a[l])
	}
	return unit.Amperes(least.A() - t.reserve)
}

// mostGrowth is how much longer a brew day may get before a limit stops being a
// remedy (common practice, no source: three quarters of a shift).
var mostGrowth = unit.Hours(6)

// limit fits a load-limiting control set to what the supply gives.
func (t *trial) limit(kind, words string, more ...rule.Param) bool {
	set := t.setting()
	if t.f.Input.Limit != nil || set <= 0 || len(t.f.Input.elements()) == 0 {
		return false
	}
	rem, r, ok := t.try(kind, append(slices.Clone(more), figure("limit", set))...)
	if !ok {
		return false
	}
	grows, where, ok := t.growth(&r)
	if !ok || where == "" || grows > mostGrowth {
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

// onePhase makes do with a single-phase supply: elements are ordered for one phase,
// three-phase motors are fed by a converter; where that is too much at once, with a
// load limit on top.
func (t *trial) onePhase() {
	if t.f.Result.Supply.Phases != 1 || t.f.Input.Converter != nil || !t.f.Input.threePhase() {
		return
	}
	elements, motors := "", ""
	for i := range t.f.Input.Loads {
		switch l := &t.f.Input.Loads[i]; {
		case l.Phases != 3:
		case l.Kind == Element:
			elements = join(elements, l.Tag)
		default:
			motors = join(motors, l.Tag)
		}
	}
	kind, words, params := OnePhase, "order "+elements+" for one phase", []rule.Param(nil)
	if motors != "" {
		kind, params = PhaseConverter, []rule.Param{figure("efficiency", unit.Fraction(usualConverter))}
		words = "feed " + motors + " through a phase converter, with the makers' consent"
		if elements != "" {
			words += ", order " + elements + " for one phase"
		}
	}
	if rem, r, ok := t.try(kind, params...); ok {
		t.keep(rem, &r, words)
		return
	}
	t.limit(kind, words+" and fit a load-limiting control", params...)
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
