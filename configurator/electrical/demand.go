package electrical

import (
	"math"
	"sort"
)

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
