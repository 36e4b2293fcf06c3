package electrical

import (
	"fmt"
	"math"
	"sort"

	"tunwright/catalog/unit"
)

// study is the working copy of one Size: the day, the machines and who runs when.
type study struct {
	in     *Input
	sys    system
	day    []DayState
	loads  []machine
	share  [][]share // by state, by load
	groups []group
	lineOf []int // by load: 1..3, 0 for several lines, of a two-pole load the line left out
	shed   []float64
}

// group is a set of loads held apart by more than an instruction.
type group struct {
	name    string
	members []int
}

// newStudy reads the Input and says what is impossible in it.
func newStudy(in *Input) (*study, error) {
	if in.Rules != IEC && in.Rules != NEC {
		return nil, fmt.Errorf("rules is %q: it must be IEC or NEC", in.Rules)
	}
	if len(in.Loads) == 0 {
		return nil, fmt.Errorf("loads is empty: give at least one load")
	}
	if err := checkSupply(&in.Supply); err != nil {
		return nil, err
	}
	st := &study{in: in, sys: systemOf(in), day: in.day()}
	st.loads = make([]machine, len(in.Loads))
	for i := range in.Loads {
		if err := checkLoad(&in.Loads[i]); err != nil {
			return nil, err
		}
		m, err := machineOf(&in.Loads[i], st.sys, in.Converter)
		if err != nil {
			return nil, err
		}
		st.loads[i] = m
	}
	if err := st.checkDay(); err != nil {
		return nil, err
	}
	st.group()
	st.allot()
	return st, nil
}

// day is the brew day as given, or the usual one.
func (in *Input) day() []DayState {
	if len(in.Day) > 0 {
		return in.Day
	}
	return DefaultDay(in.Brews)
}

func checkSupply(s *Supply) error {
	if s.Phases != nil && (*s.Phases < 1 || *s.Phases == 2 || *s.Phases > 3) {
		return fmt.Errorf("supply.phases is %d: it must be 1 or 3", *s.Phases)
	}
	if err := positive("supply.voltage", s.Voltage); err != nil {
		return err
	}
	if err := positive("supply.fuse", s.Fuse); err != nil {
		return err
	}
	if err := positive("supply.fault", s.Fault); err != nil {
		return err
	}
	if err := positive("supply.ze", s.Ze); err != nil {
		return err
	}
	switch s.Earthing {
	case "", "TN-S", "TN-C-S", "TT":
	default:
		return fmt.Errorf("supply.earthing is %q: it must be TN-S, TN-C-S or TT, or empty where it is unknown", s.Earthing)
	}
	if s.Existing != nil {
		return unit.NotNegative("supply.existing", *s.Existing)
	}
	return nil
}

// positive checks a figure that may be unknown.
func positive[Q unit.Quantity](name string, q *Q) error {
	if q == nil {
		return nil
	}
	return unit.Positive(name, *q)
}

func checkLoad(l *Load) error {
	switch {
	case l.Tag == "":
		return fmt.Errorf("load %q has no tag: give each load a mark of its own", l.Name)
	case l.Phases != 1 && l.Phases != 3:
		return fmt.Errorf("load %s: phases is %d: it must be 1 or 3", l.Tag, l.Phases)
	case l.Line < 0 || l.Line > 3:
		return fmt.Errorf("load %s: line is %d: it must be 1, 2 or 3, or 0 where it is free", l.Tag, l.Line)
	}
	switch l.Kind {
	case Element, Motor, Electronics, Lighting, Socket:
	default:
		return fmt.Errorf("load %s: kind is %q: it must be element, motor, electronics, lighting or socket", l.Tag, l.Kind)
	}
	if l.Voltage != nil {
		if err := unit.Positive("voltage", *l.Voltage); err != nil {
			return fmt.Errorf("load %s: %w", l.Tag, err)
		}
	}
	if l.Length != nil {
		if err := unit.NotNegative("length", *l.Length); err != nil {
			return fmt.Errorf("load %s: %w", l.Tag, err)
		}
	}
	for _, r := range l.Runs {
		for _, q := range []*unit.Ratio{r.Duty, r.Peak} {
			if q == nil {
				continue
			}
			if err := unit.InRange("share in state "+r.State, q.Value(), 0, 1); err != nil {
				return fmt.Errorf("load %s: %w", l.Tag, err)
			}
		}
	}
	return nil
}

func (st *study) checkDay() error {
	total := 0.0
	for _, s := range st.day {
		if s.Key == "" || !(s.Hours.H() > 0) {
			return fmt.Errorf("day: state %q lasts %s: give each state a key and a length above 0 h", s.Key, s.Hours)
		}
		total += s.Hours.H()
	}
	if total > 24.0001 {
		return fmt.Errorf("day: the states last %s h together: a day has 24 h", unit.Digits(total, 4))
	}
	for i := range st.in.Loads {
		for k := range i {
			if st.in.Loads[k].Tag == st.in.Loads[i].Tag {
				return fmt.Errorf("load %s stands twice: give each load a mark of its own", st.in.Loads[i].Tag)
			}
		}
	}
	return nil
}

// group collects the interlocks that count. An instruction to people does not.
func (st *study) group() {
	manual := map[string]bool{}
	for _, k := range st.in.Interlocks {
		manual[k.Group] = k.Manual
	}
	at := map[string]int{}
	for i := range st.in.Loads {
		name := st.in.Loads[i].Group
		if name == "" || manual[name] {
			continue
		}
		k, ok := at[name]
		if !ok {
			k = len(st.groups)
			at[name] = k
			st.groups = append(st.groups, group{name: name})
		}
		st.groups[k].members = append(st.groups[k].members, i)
	}
}

// allot works out who runs when, and sheds elements to the limit.
func (st *study) allot() {
	n := len(st.loads)
	st.share = make([][]share, len(st.day))
	flat := make([]share, len(st.day)*n)
	st.shed = make([]float64, len(st.day))
	for s := range st.day {
		st.share[s] = flat[s*n : (s+1)*n]
		st.shed[s] = 1
	}
	for i := range st.in.Loads {
		l := &st.in.Loads[i]
		adrift := !l.placed(st.day)
		for s := range st.day {
			if adrift {
				// Its states are not of this day: on the safe side it runs in all of them.
				st.share[s][i] = l.share(Run{}, st.day[s].Key)
				continue
			}
			st.share[s][i] = l.at(&st.day[s])
		}
	}
	st.lineOf = make([]int, n)
}

// amps is the current of load i on each of its lines in state s.
func (st *study) amps(s, i int) float64 { return st.loads[i].ib * st.share[s][i].peak }

// takesLine tells whether load i loads line l (0..2) as assigned.
func (st *study) takesLine(i, l int) bool {
	switch st.loads[i].poles {
	case 3:
		return true
	case 2:
		return st.sys.lines < 3 || st.lineOf[i] != l+1
	}
	return st.lineOf[i] == l+1
}

// lines gives the line currents in a state. Of an interlocked group each line
// carries at most its largest member, whichever runs.
func (st *study) lines(s int) [3]float64 {
	var x [3]float64
	for i := range st.loads {
		if st.inGroup(i) {
			continue
		}
		a := st.amps(s, i)
		for l := range st.sys.lines {
			if st.takesLine(i, l) {
				x[l] += a
			}
		}
	}
	for _, g := range st.groups {
		for l := range st.sys.lines {
			most := 0.0
			for _, i := range g.members {
				if st.takesLine(i, l) {
					most = max(most, st.amps(s, i))
				}
			}
			x[l] += most
		}
	}
	return x
}

func (st *study) inGroup(i int) bool {
	name := st.in.Loads[i].Group
	if name == "" {
		return false
	}
	for _, g := range st.groups {
		if g.name == name {
			return true
		}
	}
	return false
}

// running picks the loads that count in a state: of an interlocked group the one
// that takes most power.
func (st *study) running(s int, each func(i int, sh share)) {
	for i := range st.loads {
		if st.share[s][i].peak > 0 && !st.beaten(s, i) {
			each(i, st.share[s][i])
		}
	}
}

func (st *study) beaten(s, i int) bool {
	name := st.in.Loads[i].Group
	if name == "" {
		return false
	}
	for _, g := range st.groups {
		if g.name != name {
			continue
		}
		for _, o := range g.members {
			mine, other := st.loads[i].watts*st.share[s][i].peak, st.loads[o].watts*st.share[s][o].peak
			if other > mine || (other == mine && o < i) {
				return true
			}
		}
	}
	return false
}

// assign gives each single-phase load its line: the optimum on the worst state.
func (st *study) assign(target float64) solution {
	base, pieces := st.pieces(false)
	sol := solve(st.sys.lines, base, pieces, target)
	for k, p := range pieces {
		for _, i := range p.members {
			st.lineOf[i] = sol.at[k] + 1
		}
	}
	return sol
}

// pieces sets the search up: what takes all lines or is tied to one goes to the base,
// the rest is to be placed. allOn reckons with all loads at once, the habit that
// Balance.Totals compares with.
func (st *study) pieces(allOn bool) (base [][3]float64, pieces []piece) {
	states := len(st.day)
	current := st.amps
	if allOn {
		states = 1
		current = func(_, i int) float64 { return st.loads[i].ib }
	}
	base = make([][3]float64, states)
	if per := st.in.Supply.PerLine; per != nil && !allOn {
		for s := range base {
			base[s] = [3]float64{per[0].A(), per[1].A(), per[2].A()}
		}
	}
	for i := range st.loads {
		if !allOn && st.inGroup(i) {
			continue
		}
		p := piece{members: []int{i}, poles: st.loads[i].poles, amps: make([]float64, states)}
		for s := range p.amps {
			p.amps[s] = current(s, i)
		}
		pieces = st.place(base, pieces, p, st.tied(i))
	}
	if !allOn {
		for _, g := range st.groups {
			pieces = st.placeGroup(base, pieces, g)
		}
	}
	return base, pieces
}

// tied is the line a load to neutral is connected to already, 0 where it is free.
func (st *study) tied(i int) int {
	if l := st.in.Loads[i].Line; st.loads[i].poles == 1 && l <= st.sys.lines {
		return l
	}
	return 0
}

// place adds a piece to the base where it has no choice of line, else to the pieces.
func (st *study) place(base [][3]float64, pieces []piece, p piece, tied int) []piece {
	switch {
	case p.poles == 3:
		for s, a := range p.amps {
			base[s][0] += a
			base[s][1] += a
			base[s][2] += a
		}
		return pieces
	case tied > 0:
		for _, i := range p.members {
			st.lineOf[i] = tied
		}
		for s, a := range p.amps {
			base[s][tied-1] += a
		}
		return pieces
	}
	for _, a := range p.amps {
		p.most = max(p.most, a)
	}
	return append(pieces, p)
}

// placeGroup places an interlocked group: its three-phase members as their largest;
// the others on one line together, which they load beyond that by what they exceed
// it. A tied member ties the others.
func (st *study) placeGroup(base [][3]float64, pieces []piece, g group) []piece {
	var parts [4]piece
	tied := 0
	for _, i := range g.members {
		p := &parts[st.loads[i].poles]
		if p.amps == nil {
			*p = piece{poles: st.loads[i].poles, amps: make([]float64, len(base))}
		}
		p.members = append(p.members, i)
		tied = max(tied, st.tied(i))
		for s := range p.amps {
			p.amps[s] = max(p.amps[s], st.amps(s, i))
		}
	}
	for poles := 1; poles <= 3; poles++ {
		p := parts[poles]
		if p.amps == nil {
			continue
		}
		if poles < 3 && parts[3].amps != nil {
			for s := range p.amps {
				p.amps[s] = max(0, p.amps[s]-parts[3].amps[s])
			}
		}
		line := tied
		if poles == 2 {
			line = 0
		}
		pieces = st.place(base, pieces, p, line)
	}
	return pieces
}

// shedTo lowers the elements of a state until no line carries more than the limit:
// solid-state ones to any share, others stage by stage, the last listed first.
func (st *study) shedTo(limit float64) {
	for s := range st.day {
		before, after := 0.0, 0.0
		for i := range st.loads {
			if st.in.Loads[i].Kind == Element {
				before += st.loads[i].watts * st.share[s][i].peak
			}
		}
		for _, i := range st.sheddable(s) {
			x := st.lines(s)
			over := max(x[0], x[1], x[2]) - limit
			if over <= 1e-9 {
				break
			}
			st.lowerShare(s, i, over)
		}
		for i := range st.loads {
			if st.in.Loads[i].Kind == Element {
				after += st.loads[i].watts * st.share[s][i].peak
			}
		}
		if before > 0 {
			st.shed[s] = after / before
		}
	}
}

// sheddable lists elements that run in a state, solid-state first, then the last
// listed first.
func (st *study) sheddable(s int) []int {
	var at []int
	for i := len(st.loads) - 1; i >= 0; i-- {
		if st.in.Loads[i].Kind == Element && st.share[s][i].peak > 0 {
			at = append(at, i)
		}
	}
	sort.SliceStable(at, func(a, b int) bool {
		return st.in.Loads[at[a]].Control == SolidState && st.in.Loads[at[b]].Control != SolidState
	})
	return at
}

func (st *study) lowerShare(s, i int, over float64) {
	sh := &st.share[s][i]
	l := &st.in.Loads[i]
	want := max(0, sh.peak-over/st.loads[i].ib)
	switch {
	case l.Control == SolidState:
	case l.Control == Staged && l.Stages > 1:
		want = math.Floor(want*float64(l.Stages)+1e-9) / float64(l.Stages)
	default:
		want = 0
	}
	sh.peak = want
	sh.mean = min(sh.mean, want)
}

// existing gives the existing load of each line, and whether it is known.
func (s *Supply) existing() ([3]float64, bool) {
	switch {
	case s.PerLine != nil:
		return [3]float64{s.PerLine[0].A(), s.PerLine[1].A(), s.PerLine[2].A()}, true
	case s.Existing != nil:
		e := s.Existing.A()
		return [3]float64{e, e, e}, true
	}
	return [3]float64{}, false
}
