package electrical

import (
	"math"
	"sort"
)

// piece is what goes to a line as one: a single-phase load, or interlocked ones that
// share a line because they never run together. amps holds its current in each state.
type piece struct {
	members []int
	poles   int // 1 to neutral, 2 between two lines
	amps    []float64
	most    float64 // greatest of amps
	from    int     // its place in the caller's list
}

// problem is the search for the assignment whose worst line in the worst state
// carries least.
type problem struct {
	lines  int
	states int
	base   [][3]float64 // what each line carries anyway in each state
	pieces []piece
	rest   [][]float64 // rest[k][s]: line currents of pieces k.. still to be placed

	limit int // nodes to visit before giving up the proof
	sum   [][3]float64
	at    []int
	best  []int
	worst float64
	bound float64
	nodes int
	done  bool // the search went through
}

// solution is an assignment with what is known of its quality.
type solution struct {
	at     []int // line (0..2) of each piece; of a two-pole piece the line it leaves out
	worst  float64
	bound  float64
	proven bool
	nodes  int
	// hopeless tells that no assignment meets the target: none was looked for.
	hopeless bool
}

// proofSlack is the current below which two assignments count as equal: half of the
// tenth of an ampere that is printed.
const proofSlack = 0.05

// nodeLimit bounds the search, so that a check stays live; what is not proven by
// then says so.
const nodeLimit = 8000

// solve finds the optimum by branch and bound: pieces in falling order, branches cut
// where even a perfectly even spread of what is left cannot beat the best so far.
// States that cannot bind, whatever is placed, are left out of the search. Where no
// assignment can meet the target none is looked for.
func solve(lines int, base [][3]float64, pieces []piece, target float64) solution {
	order := make([]int, len(pieces))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return pieces[order[a]].most > pieces[order[b]].most })
	full := problem{lines: lines, states: len(base), base: base, pieces: make([]piece, len(pieces))}
	for i, o := range order {
		full.pieces[i] = pieces[o]
		full.pieces[i].from = o
	}
	full.prepare()
	if full.bound > target+1e-9 {
		return solution{at: make([]int, len(pieces)), bound: full.bound, hopeless: true}
	}
	live := full.live()
	full.tighten(live)
	full.tightFirst(live)
	core, kept := full.restrict(live)
	core.attack(nodeLimit)
	full.best = make([]int, len(full.pieces))
	for i, k := range kept {
		full.best[k] = core.best[i]
	}
	full.settle()
	out := solution{at: make([]int, len(pieces)), worst: full.worstOf(full.best), nodes: core.nodes}
	out.proven = core.met() || core.done
	out.bound = full.bound
	if out.proven {
		out.bound = max(out.bound, out.worst-proofSlack)
	}
	for i := range full.pieces {
		out.at[full.pieces[i].from] = full.best[i]
	}
	return out
}

// tighten raises the bound by what each state by itself cannot go below: a state has
// few pieces, so that its own optimum is soon proven, and no assignment of all can be
// better than it.
func (p *problem) tighten(live []int) {
	if len(live) < 2 {
		return
	}
	one := make([]int, 1)
	for _, s := range live {
		one[0] = s
		q, _ := p.restrict(one)
		q.attack(nodeLimit / 10)
		if q.met() || q.done {
			p.bound = max(p.bound, q.worst-proofSlack)
		}
	}
}

// tightFirst puts the pieces of the states that are nearest the bound first, so that
// the search settles what decides before what does not.
func (p *problem) tightFirst(live []int) {
	if len(live) < 2 {
		return
	}
	weight := make([]float64, p.states)
	for _, s := range live {
		x := p.base[s]
		w := (x[0] + x[1] + x[2] + p.rest[0][s]) / float64(p.lines) / p.bound
		weight[s] = w * w * w * w
	}
	for k := range p.pieces {
		c := &p.pieces[k]
		c.most = 0
		for s, a := range c.amps {
			c.most = max(c.most, a*weight[s])
		}
	}
	sort.SliceStable(p.pieces, func(a, b int) bool { return p.pieces[a].most > p.pieces[b].most })
	p.prepare()
}

// live lists the states that may bind: those in which a line could carry more than
// the bound if everything went to it.
func (p *problem) live() []int {
	var at []int
	for s := range p.states {
		x := p.base[s]
		most := max(x[0], x[1], x[2])
		for k := range p.pieces {
			most += p.pieces[k].amps[s]
		}
		if most > p.bound {
			at = append(at, s)
		}
	}
	if at == nil && p.states > 0 {
		at = []int{0}
	}
	return at
}

// restrict is the problem with some of its states and the pieces that run in them,
// which it lists.
func (p *problem) restrict(states []int) (*problem, []int) {
	q := &problem{lines: p.lines, states: len(states), base: make([][3]float64, len(states))}
	var kept []int
	flat := make([]float64, len(states)*len(p.pieces))
	for k := range p.pieces {
		c := p.pieces[k]
		c.amps, c.most = flat[:len(states):len(states)], 0
		for i, s := range states {
			c.amps[i] = p.pieces[k].amps[s]
			c.most = max(c.most, c.amps[i])
		}
		if c.most > 0 {
			flat, kept, q.pieces = flat[len(states):], append(kept, k), append(q.pieces, c)
		}
	}
	for i, s := range states {
		q.base[i] = p.base[s]
	}
	q.bound = p.bound
	q.prepare()
	return q, kept
}

func (p *problem) prepare() {
	n := len(p.pieces)
	p.rest = make([][]float64, n+1)
	flat := make([]float64, (n+1)*p.states)
	for k := range p.rest {
		p.rest[k] = flat[k*p.states : (k+1)*p.states]
	}
	for k := n - 1; k >= 0; k-- {
		for s := range p.states {
			p.rest[k][s] = p.rest[k+1][s] + p.pieces[k].amps[s]*float64(p.pieces[k].poles)
		}
	}
	p.sum = make([][3]float64, p.states)
	p.at = make([]int, n)
	p.reset()
	p.bound = max(p.bound, p.lower(0))
	for k := range p.pieces {
		p.bound = max(p.bound, p.alone(k))
	}
}

func (p *problem) reset() { copy(p.sum, p.base) }

// alone is the least a line can carry that takes piece k on top of the base: no
// assignment is better than the largest piece by itself.
func (p *problem) alone(k int) float64 {
	least := math.Inf(1)
	for c := range p.choices(k) {
		w := 0.0
		for s := range p.states {
			for l := range p.lines {
				if p.takes(k, c, l) {
					w = max(w, p.base[s][l]+p.pieces[k].amps[s])
				}
			}
		}
		least = min(least, w)
	}
	return least
}

// choices is how many places a piece may go to.
func (p *problem) choices(k int) int {
	if p.pieces[k].poles == 2 && p.lines < 3 {
		return 1
	}
	return p.lines
}

// takes tells whether piece k in place c loads line l. A two-pole piece on three
// lines is placed by the line it leaves out.
func (p *problem) takes(k, c, l int) bool {
	switch {
	case p.pieces[k].poles == 1:
		return c == l
	case p.lines < 3:
		return true
	}
	return c != l
}

func (p *problem) put(k, c int, sign float64) {
	for l := range p.lines {
		if !p.takes(k, c, l) {
			continue
		}
		for s, a := range p.pieces[k].amps {
			p.sum[s][l] += sign * a
		}
	}
}

// lower is what the worst line must carry at least once pieces before k are placed.
func (p *problem) lower(k int) float64 {
	w := 0.0
	n := float64(p.lines)
	for s := range p.sum {
		x := &p.sum[s]
		w = max(w, x[0], x[1], x[2], (x[0]+x[1]+x[2]+p.rest[k][s])/n)
	}
	return w
}
