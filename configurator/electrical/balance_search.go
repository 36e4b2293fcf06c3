package electrical

import "math"

// attack finds a good assignment and then searches for the best: shortly at first,
// which settles small problems, and in earnest after a chase for the bound.
func (p *problem) attack(limit int) {
	p.greedy()
	p.improve()
	if p.met() || p.exhaust(limit/16) {
		return
	}
	p.chase()
	if !p.met() {
		p.exhaust(limit)
	}
}

// met tells whether nothing better by more than the slack is possible.
func (p *problem) met() bool { return p.worst <= p.bound+proofSlack }

// exhaust searches up to a number of nodes and tells whether the best is proven.
func (p *problem) exhaust(limit int) bool {
	p.limit = p.nodes + limit
	p.search(0)
	p.done = p.nodes < p.limit
	return p.done || p.met()
}

// kicks is how often chase starts anew from a shaken assignment.
const kicks = 48

// chase looks for an assignment that meets the bound, by lowering what exceeds it in
// all states together; where it gets stuck it moves a few pieces and tries again.
func (p *problem) chase() {
	best, worst := append([]int{}, p.best...), p.worst
	goal := p.bound + proofSlack/2
	excess := func() float64 {
		e := 0.0
		for s := range p.sum {
			for l := range p.lines {
				if d := p.sum[s][l] - goal; d > 0 {
					e += d * d
				}
			}
		}
		return e
	}
	shake := uint32(1)
	for range kicks {
		if worst <= p.bound+proofSlack || len(p.pieces) < 4 {
			break
		}
		p.descend(excess, 1e-9)
		if p.worst < worst {
			worst = p.worst
			copy(best, p.best)
		}
		for range 3 {
			shake = shake*1664525 + 1013904223
			k := int(shake>>8) % len(p.pieces)
			p.best[k] = (p.best[k] + 1) % p.choices(k)
		}
	}
	p.best, p.worst = best, worst
}

// greedy places each piece, largest first, where the worst line then carries least.
func (p *problem) greedy() {
	p.reset()
	for k := range p.pieces {
		at, least := 0, math.Inf(1)
		for c := range p.choices(k) {
			p.put(k, c, 1)
			// The even spread of the rest says nothing between places; the squares do.
			w := p.lower(k) + 1e-6*p.squares()
			p.put(k, c, -1)
			if w < least-1e-12 {
				at, least = c, w
			}
		}
		p.put(k, at, 1)
		p.at[k] = at
	}
	p.best = append([]int{}, p.at...)
	p.worst = p.worstOf(p.best)
}

func (p *problem) squares() float64 {
	t := 0.0
	for s := range p.sum {
		x := &p.sum[s]
		t += x[0]*x[0] + x[1]*x[1] + x[2]*x[2]
	}
	return t
}

func (p *problem) load(at []int) {
	p.reset()
	for k, c := range at {
		p.put(k, c, 1)
	}
}

func (p *problem) worstOf(at []int) float64 {
	p.load(at)
	return p.lower(len(p.pieces))
}

// improve moves and swaps pieces while the worst line gets lighter.
func (p *problem) improve() { p.descend(func() float64 { return p.lower(len(p.pieces)) }, 1e-9) }

// settle evens out the states among assignments that are equal on the worst line:
// first the spread within the states, then that of all loads at once.
func (p *problem) settle() {
	top := p.worstOf(p.best) + 1e-9
	p.descend(func() float64 {
		if p.lower(len(p.pieces)) > top {
			return math.Inf(1)
		}
		return p.spread()
	}, 1e-6)
}

// spread is the largest difference between lines over the states; a little of the
// sum of all differences settles ties.
func (p *problem) spread() float64 {
	worst, total := 0.0, 0.0
	for s := range p.sum {
		x := &p.sum[s]
		hi, lo := x[0], x[0]
		for l := 1; l < p.lines; l++ {
			hi, lo = max(hi, x[l]), min(lo, x[l])
		}
		worst, total = max(worst, hi-lo), total+hi-lo
	}
	return worst + 1e-3*total
}

// descend takes moves and swaps that lower a measure by more than eps, sweep by sweep,
// until none does.
func (p *problem) descend(measure func() float64, eps float64) {
	if p.lines < 2 {
		return
	}
	p.load(p.best)
	now := measure()
	for range 50 {
		before := now
		for k := range p.pieces {
			p.moves(k, measure, &now, eps)
			p.swaps(k, measure, &now, eps)
		}
		if now >= before {
			break
		}
	}
	p.worst = p.lower(len(p.pieces))
}

// moves tries the other places of piece k.
func (p *problem) moves(k int, measure func() float64, now *float64, eps float64) {
	for c := range p.choices(k) {
		if c == p.best[k] {
			continue
		}
		p.put(k, p.best[k], -1)
		p.put(k, c, 1)
		if m := measure(); m < *now-eps {
			*now, p.best[k] = m, c
			continue
		}
		p.put(k, c, -1)
		p.put(k, p.best[k], 1)
	}
}

// swaps tries to exchange piece k with a later one.
func (p *problem) swaps(k int, measure func() float64, now *float64, eps float64) {
	for o := k + 1; o < len(p.pieces); o++ {
		a, b := p.best[k], p.best[o]
		if a == b || p.pieces[k].poles != p.pieces[o].poles {
			continue
		}
		p.swap(k, o, a, b)
		if m := measure(); m < *now-eps {
			*now, p.best[k], p.best[o] = m, b, a
			continue
		}
		p.swap(k, o, b, a)
	}
}

func (p *problem) swap(a, b, ca, cb int) {
	p.put(a, ca, -1)
	p.put(b, cb, -1)
	p.put(a, cb, 1)
	p.put(b, ca, 1)
}

// search walks the tree of placements from piece k on; sum holds what is placed.
func (p *problem) search(k int) {
	if k == 0 {
		p.reset()
	}
	p.nodes++
	if p.nodes >= p.limit {
		return
	}
	if k == len(p.pieces) {
		if w := p.lower(k); w < p.worst {
			p.worst = w
			copy(p.best, p.at)
		}
		return
	}
	var order [3]int
	var bounds [3]float64
	n := 0
	for c := range p.choices(k) {
		if p.twin(c) {
			continue
		}
		p.put(k, c, 1)
		w := p.lower(k + 1)
		p.put(k, c, -1)
		at := n
		for at > 0 && bounds[at-1] > w {
			order[at], bounds[at] = order[at-1], bounds[at-1]
			at--
		}
		order[at], bounds[at] = c, w
		n++
	}
	for i := range n {
		if bounds[i] >= p.worst-proofSlack {
			return
		}
		p.put(k, order[i], 1)
		p.at[k] = order[i]
		p.search(k + 1)
		p.put(k, order[i], -1)
		if p.nodes >= p.limit || p.worst <= p.bound+proofSlack {
			return
		}
	}
}

// twin tells whether a line before c carries exactly the same in every state, so
// that the branch was already walked under another name.
func (p *problem) twin(c int) bool {
	for o := range c {
		same := true
		for s := range p.sum {
			if p.sum[s][o] != p.sum[s][c] {
				same = false
				break
			}
		}
		if same {
			return true
		}
	}
	return false
}
