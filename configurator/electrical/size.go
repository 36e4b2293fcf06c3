package electrical

import (
	"math"

	"tunwright/catalog/unit"
)

// boardFigures are what the brewery's board hands on to each circuit.
type boardFigures struct {
	ze        *unit.Impedance
	dropShare float64
}

// Size works the whole out: who runs when, which line each load goes to, what flows
// in each state, the feeder, each circuit, the energy, and the verdict under other
// assumptions. It fails only on an Input that cannot be; "does not fit" is for the
// rules.
func Size(in Input) (Result, error) {
	st, err := newStudy(&in)
	if err != nil {
		return Result{}, err
	}
	sol := st.settleLines(math.Inf(1))
	r := Result{Supply: st.supply()}
	st.demand(&r)
	st.balanceFigures(&r, sol)
	st.cables(&r)
	st.energy(&r)
	st.cases(&r)
	st.actions(&r)
	st.trace(&r)
	return r, nil
}

// settleLines assigns lines, then sheds to the limit where one is set.
func (st *study) settleLines(target float64) solution {
	if st.in.Limit != nil {
		target = math.Inf(1)
	}
	sol := st.assign(target)
	if st.in.Limit != nil {
		st.shedTo(st.in.Limit.A())
	}
	return sol
}

// demandOf is Size as far as demand: what remedies try. It is false where no
// assignment of lines can keep the reserve.
func demandOf(in *Input, reserve float64) (*study, Result, bool) {
	st, err := newStudy(in)
	if err != nil || st.settleLines(st.target(reserve)).hopeless {
		return nil, Result{}, false
	}
	r := Result{Supply: st.supply()}
	st.demand(&r)
	return st, r, true
}

// target is what the worst line may carry as the assignment sees it, which has the
// existing load in its base where that is known by line.
func (st *study) target(reserve float64) float64 {
	s := &st.in.Supply
	existing, known := s.existing()
	switch {
	case s.Fuse == nil || !known:
		return math.Inf(1)
	case s.PerLine != nil:
		return s.Fuse.A() - reserve
	}
	return s.Fuse.A() - existing[0] - reserve
}

// supply gathers the figures of the supply.
func (st *study) supply() SupplyFigures {
	s := &st.in.Supply
	f := SupplyFigures{
		Lines: st.sys.lines, Phases: st.sys.lines, Voltage: unit.Volts(st.sys.u), PhaseVoltage: unit.Volts(st.sys.u0),
		Split: st.sys.split, PhasesKnown: s.Phases != nil, BoardZe: s.Ze,
	}
	if st.sys.split {
		f.Phases = 1
	}
	existing, known := s.existing()
	for l := range existing {
		f.Existing[l] = unit.Amperes(existing[l])
	}
	if s.Fuse == nil {
		return f
	}
	va := SupplyPower(f.Phases, f.Voltage, *s.Fuse)
	f.Power = &va
	if known {
		var a [3]unit.Current
		for l := range existing {
			a[l] = unit.Amperes(s.Fuse.A() - existing[l])
		}
		f.Available = &a
	}
	return f
}

// demand works out each state and finds the binding one: the least margin where the
// supply is known, else the greatest current.
func (st *study) demand(r *Result) {
	r.States = make([]StateDemand, len(st.day))
	runs := make([]Running, 0, len(st.day)*len(st.loads))
	start := 6.0
	if st.in.DayStart != nil {
		start = st.in.DayStart.H()
	}
	for s := range st.day {
		d := &r.States[s]
		d.Key, d.Title, d.Hours = st.day[s].Key, st.day[s].Title, st.day[s].Hours
		d.Start = unit.Hours(math.Mod(start, 24))
		start += d.Hours.H()
		from := len(runs)
		runs = st.stateFigures(s, d, runs, &r.Supply)
		d.Runs = runs[from:len(runs):len(runs)]
		d.Shed = unit.Fraction(st.shed[s])
	}
	for i := range st.loads {
		r.Connected += unit.Watts(st.loads[i].watts)
	}
	st.bind(r)
}

func (st *study) stateFigures(s int, d *StateDemand, runs []Running, sup *SupplyFigures) []Running {
	x := st.lines(s)
	sum, most, at := 0.0, -math.MaxFloat64, 0
	for l := range st.sys.lines {
		d.Line[l] = unit.Amperes(x[l])
		d.Max = max(d.Max, d.Line[l])
		sum += x[l]
		if y := x[l] + sup.Existing[l].A(); y > most+1e-9 {
			most, at = y, l
		}
	}
	d.Worst = at + 1
	if mean := sum / float64(st.sys.lines); mean > 0 {
		dev := 0.0
		for l := range st.sys.lines {
			dev = max(dev, math.Abs(x[l]-mean))
		}
		d.Imbalance = unit.Fraction(dev / mean)
	}
	if sup.Available != nil {
		m := unit.Amperes(sup.Available[at].A() - x[at])
		if math.Abs(m.A()) < 1e-6 {
			m = 0 // a load limit set to what is there leaves nothing, not less
		}
		d.Margin = &m
	}
	p, q, mean := 0.0, 0.0, 0.0
	var re, im float64
	st.running(s, func(i int, sh share) {
		m := &st.loads[i]
		p += m.watts * sh.peak
		q += m.vars * sh.peak
		mean += m.watts * sh.mean
		runs = append(runs, Running{Load: i, Tag: m.load.Tag, Peak: unit.Fraction(sh.peak), Mean: unit.Fraction(sh.mean)})
		if m.poles == 1 {
			a := -math.Acos(min(m.pf, 1)) - float64(st.lineOf[i]-1)*st.turn()
			re += m.ib * sh.peak * math.Cos(a)
			im += m.ib * sh.peak * math.Sin(a)
		}
	})
	d.Power, d.Apparent, d.Mean = unit.Watts(p), unit.VoltAmperes(math.Hypot(p, q)), unit.Watts(mean)
	d.Neutral = unit.Amperes(math.Hypot(re, im))
	return runs
}

// turn is the angle between lines.
func (st *study) turn() float64 {
	switch {
	case st.sys.split:
		return math.Pi
	case st.sys.lines == 3:
		return 2 * math.Pi / 3
	}
	return 0
}

func (st *study) bind(r *Result) {
	best := 0
	for s := range r.States {
		d, b := &r.States[s], &r.States[best]
		if d.Margin != nil && d.Margin.A() < b.Margin.A()-1e-9 || d.Margin == nil && d.Max > b.Max {
			best = s
		}
	}
	d := &r.States[best]
	r.Binding = Binding{State: best, Line: d.Worst, Demand: d.Line[d.Worst-1], Margin: d.Margin}
	top := 0.0
	for s := range r.States {
		top = max(top, r.States[s].Power.W())
	}
	if r.Connected > 0 {
		r.Factor = unit.Fraction(top / r.Connected.W())
	}
}

// balanceFigures tells what the assignment is worth beside the habit of balancing
// the totals.
func (st *study) balanceFigures(r *Result, sol solution) {
	b := &r.Balance
	b.Line = make([]int, len(st.loads))
	for i := range st.loads {
		if st.loads[i].poles == 1 {
			b.Line[i] = st.lineOf[i]
		}
	}
	b.Worst, b.Bound, b.Proven, b.Nodes = unit.Amperes(sol.worst), unit.Amperes(sol.bound), sol.proven, sol.nodes
	b.Slack = unit.Amperes(proofSlack)
	var on [3]float64
	for i := range st.loads {
		for l := range st.sys.lines {
			if st.takesLine(i, l) {
				on[l] += st.loads[i].ib
			}
		}
	}
	b.AllOn = unit.Amperes(max(on[0], on[1], on[2]))
	for s := range r.States {
		b.Neutral = max(b.Neutral, r.States[s].Neutral)
	}
	b.Totals = unit.Amperes(st.byTotals())
}

// byTotals is what the worst state would carry had all loads at once been balanced
// by placing the largest first, the habit of the trade.
func (st *study) byTotals() float64 {
	keep := append([]int{}, st.lineOf...)
	base, pieces := st.pieces(true)
	p := problem{lines: st.sys.lines, states: 1, base: base, pieces: pieces}
	p.prepare()
	p.greedy()
	for k := range pieces {
		st.lineOf[pieces[k].members[0]] = p.best[k] + 1
	}
	worst := 0.0
	for s := range st.day {
		x := st.lines(s)
		worst = max(worst, x[0], x[1], x[2])
	}
	st.lineOf = keep
	return worst
}
