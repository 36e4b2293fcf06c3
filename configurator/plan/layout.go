package plan

import (
	"cmp"
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// What a place costs in the first layout, in metres of distance (common practice,
// no source: the habits of people who set out breweries).
const (
	costApart   = 1.0 // per metre from the group's other pieces
	costKin     = 0.7 // per metre from the other pieces of the same product
	costSet     = 4.0 // per metre from the nearest other part of the same set
	costDrain   = 0.8 // per metre beyond 0.5 m from a gully
	costIsland  = 2.5 // for standing free in the room
	costMember  = 12  // per unit of member use beyond 0.85
	costOver    = 100 // and more per unit beyond 0.97
	costUse     = 1.0 // per unit of member use
	costCutOff  = 6   // per piece that cannot be reached with a way out
	costNoPlace = 100 // per piece left over
)

// short is how many of the best places are judged by loads and ways out.
const short = 24

type spot struct {
	at   Place
	cost float64
}

// FirstLayout places every piece that has no place yet: against the walls first,
// groups together, pieces with a drain near a gully, clearances, doors, boards, ground
// to keep clear and ceiling kept, ways out open, heavy pieces where the members use least. Pieces that
// have a place keep it. judge gives the use of the worst member of an arrangement
// (see floor.Judge) and may be nil. What finds no place keeps none. The same input
// gives the same places: several orders are tried and the cheapest taken.
func FirstLayout(r *Room, items []Item, judge func([]Item) float64) []Item {
	if len(r.Outline) < 3 {
		return slices.Clone(items)
	}
	var best *layout
	bestCost := math.Inf(1)
	for _, order := range orders(items) {
		l := newLayout(r, items, judge)
		for _, i := range order {
			l.place(i)
		}
		for _, i := range order {
			l.improve(i)
		}
		if c := l.total(); c < bestCost-1e-9 {
			best, bestCost = l, c
		}
	}
	if judge != nil {
		best.ease(orders(items)[0])
	}
	return best.scene.items
}

// orders gives the sequences tried: groups as they come, groups backwards, and the
// largest pieces first; the largest first within each group.
func orders(items []Item) [][]int {
	var open []int
	group := map[string]int{}
	for i := range items {
		if items[i].Place == nil && !items[i].Wall && !items[i].Outside {
			open = append(open, i)
			if _, ok := group[items[i].Group]; !ok {
				group[items[i].Group] = len(group)
			}
		}
	}
	size := func(i int) float64 { return items[i].zoneArea() }
	by := func(key func(i int) float64) []int {
		o := slices.Clone(open)
		slices.SortStableFunc(o, func(a, b int) int {
			if c := cmp.Compare(key(a), key(b)); c != 0 {
				return c
			}
			return cmp.Compare(size(b), size(a))
		})
		return o
	}
	return [][]int{
		by(func(i int) float64 { return float64(group[items[i].Group]) }),
		by(func(i int) float64 { return -float64(group[items[i].Group]) }),
		by(func(int) float64 { return 0 }),
	}
}

func (it *Item) zoneArea() float64 {
	c := it.Clearance
	return (it.Length + 2*c.Side).M() * (it.width() + c.Front.M() + c.Back.M())
}

type layout struct {
	scene *scene
	judge func([]Item) float64
	width unit.Length
	walls []spot // wall places for a piece of no size, turned to face the room
}

// wallStep is the distance of the places tried along a wall and across the room.
const wallStep, islandStep = 0.2, 0.4

func newLayout(r *Room, items []Item, judge func([]Item) float64) *layout {
	items = slices.Clone(items)
	l := &layout{scene: newScene(r, items), judge: judge, width: unit.Millimetres(750)}
	if r.Persons != nil {
		if w, err := EscapeWidth(*r.Persons); err == nil {
			l.width = w
		}
	}
	for i, a := range r.Outline {
		b := r.Outline[(i+1)%len(r.Outline)]
		v := b.Sub(a)
		long := v.Distance(Point{}).M()
		if long < 0.3 {
			continue
		}
		in := P(-v.Y.M()/long, v.X.M()/long)
		if !r.Outline.Contains(a.Add(b).Scale(0.5).Add(in.Scale(0.01))) {
			in = in.Scale(-1)
		}
		turn := unit.Radians(math.Atan2(in.Y.M(), in.X.M()) + math.Pi/2) // front looks to −y at turn 0
		for t := 0.1; t < long; t += wallStep {
			l.walls = append(l.walls, spot{at: Place{At: a.Add(v.Scale(unit.Ratio(t / long))), Turn: turn}})
		}
	}
	return l
}

// place gives a piece its best place, if it has one.
func (l *layout) place(i int) {
	it := &l.scene.items[i]
	spots := l.spots(i)
	if len(spots) == 0 {
		return
	}
	best, bestCost := -1, math.Inf(1)
	for k := range min(short, len(spots)) {
		p := spots[k].at
		l.set(i, &p)
		if c := spots[k].cost + l.loads(); c < bestCost-1e-9 {
			if c += l.ways(); c < bestCost-1e-9 {
				best, bestCost = k, c
			}
		}
		l.set(i, nil)
	}
	p := spots[best].at
	it.Place = nil
	l.set(i, &p)
}

func (l *layout) set(i int, p *Place) {
	l.scene.items[i].Place = p
	if p != nil {
		l.scene.put(i, *p)
	}
}

// improve takes a piece out and places it again, now that all others stand.
func (l *layout) improve(i int) {
	old := l.scene.items[i].Place
	before := math.Inf(1)
	if old != nil {
		before = l.own(i, *old) + l.common()
	}
	l.set(i, nil)
	l.place(i)
	if now := l.scene.items[i].Place; old != nil && (now == nil || l.own(i, *now)+l.common() > before-1e-9) {
		l.set(i, old)
	}
}

// few wall places make it worth while to look at places free in the room.
const few = 6

// spots lists places where a piece fits, the cheapest first: along the walls, and free
// in the room where the walls have little left.
func (l *layout) spots(i int) []spot {
	out := l.alongWalls(i, nil)
	if len(out) < few {
		out = l.free(i, islandStep, out)
	}
	slices.SortStableFunc(out, func(a, b spot) int { return cmp.Compare(a.cost, b.cost) })
	return spread(out)
}

// try adds a place, rounded to a centimetre, if the piece fits there.
func (l *layout) try(i int, p Place, extra float64, out []spot) []spot {
	p.At = Point{unit.Metres(math.Round(p.At.X.M()*100) / 100), unit.Metres(math.Round(p.At.Y.M()*100) / 100)}
	if !l.scene.fits(i, p) {
		return out
	}
	return append(out, spot{p, l.own(i, p) + extra})
}

func (l *layout) alongWalls(i int, out []spot) []spot {
	it := &l.scene.items[i]
	off := it.width()/2 + max(wallGap, it.Clearance.Back.M()) + margin
	for _, w := range l.walls {
		out = l.try(i, Place{At: w.at.At.Add(P(0, -off).Turned(w.at.Turn)), Turn: w.at.Turn}, 0, out)
	}
	return out
}

func (l *layout) free(i int, every float64, out []spot) []spot {
	lo, hi := l.scene.room.Outline.Bounds()
	for x := lo.X.M() + every; x < hi.X.M(); x += every {
		for y := lo.Y.M() + every; y < hi.Y.M(); y += every {
			for q := range 4 {
				out = l.try(i, Place{At: P(x, y), Turn: unit.Degrees(90 * float64(q))}, costIsland, out)
			}
		}
	}
	return out
}

// eased is how often a piece is moved for the members' sake, at most.
const eased = 8

// ease moves single pieces to where the members use less, each time the one move that
// lowers the cost of the whole most.
func (l *layout) ease(order []int) {
	for range eased {
		if l.judge(l.scene.items) <= 0.85 {
			return
		}
		now := l.loads()
		gain, who, where := 1e-6, -1, Place{}
		for _, i := range order {
			old := l.scene.items[i].Place
			if old == nil {
				continue
			}
			before := now + l.own(i, *old)
			spots := l.free(i, 1, l.alongWalls(i, nil))
			for n := range 24 { // and a little way off
				s, c := math.Sincos(2 * math.Pi * float64(n%8) / 8)
				spots = l.try(i, Place{At: old.At.Add(P(c, s).Scale(unit.Ratio(0.3 * float64(n/8+1)))), Turn: old.Turn}, 0, spots)
			}
			for k := range spots {
				l.set(i, &spots[k].at)
				if g := before - spots[k].cost - l.loads(); g > gain {
					if l.ways() == 0 {
						gain, who, where = g, i, spots[k].at
					}
				}
			}
			l.set(i, old)
		}
		if who < 0 {
			return
		}
		l.set(who, &where)
	}
}

// spread keeps the cheapest places that differ by at least 0.6 m, so that the short
// list does not hold one place ten times.
func spread(all []spot) []spot {
	var out []spot
	for _, s := range all {
		if len(out) == short {
			break
		}
		if !slices.ContainsFunc(out, func(o spot) bool { return o.at.At.Distance(s.at.At).M() < 0.6 }) {
			out = append(out, s)
		}
	}
	return out
}

// own is what a place costs the piece by itself.
func (l *layout) own(i int, p Place) float64 {
	it := &l.scene.items[i]
	body := it.body(p)
	cost, near, kin, set := 0.0, math.Inf(1), math.Inf(1), math.Inf(1)
	for j := range l.scene.items {
		o := &l.scene.items[j]
		if j == i || !standing(o) || o.Group != it.Group {
			continue
		}
		g := gap(body, l.scene.bodies[j])
		near = min(near, g)
		if it.Product != "" && o.Product == it.Product {
			kin = min(kin, g)
		}
		if it.Set != "" && o.Set == it.Set {
			set = min(set, g)
		}
	}
	if !math.IsInf(set, 1) {
		cost += costSet * set
	}
	if !math.IsInf(kin, 1) {
		cost += costKin * kin
	}
	if !math.IsInf(near, 1) {
		cost += costApart * near
	} else { // the group's first piece goes to a corner, away from the other groups
		cost += 0.3 * cornerDistance(l.scene.room.Outline, p.At)
	}
	if it.Drain && len(l.scene.room.Gullies) > 0 {
		way := math.Inf(1)
		for k := range l.scene.room.Gullies {
			way = min(way, it.Gap(p, l.scene.room.Gullies[k]).M())
		}
		cost += costDrain * max(0, way-0.5)
	}
	return cost
}

func cornerDistance(g Polygon, p Point) float64 {
	best := math.Inf(1)
	for _, c := range g {
		best = min(best, p.Distance(c).M())
	}
	return best
}

// common is what an arrangement costs as a whole: member use and ways out.
func (l *layout) common() float64 { return l.loads() + l.ways() }

func (l *layout) loads() float64 {
	if l.judge == nil {
		return 0
	}
	use := l.judge(l.scene.items)
	if math.IsInf(use, 0) {
		use = 10
	}
	return costUse*use + costMember*max(0, use-0.85) + costOver*max(0, use-0.97)
}

func (l *layout) ways() float64 {
	e := EscapeRoutes(l.scene.room, l.scene.items, l.width)
	return costCutOff * float64(len(e.CutOff)+len(e.Blocked))
}

func (l *layout) total() float64 {
	cost := l.common()
	for i := range l.scene.items {
		it := &l.scene.items[i]
		switch {
		case it.Wall || it.Outside:
		case it.Place == nil:
			cost += costNoPlace
		default:
			cost += l.own(i, *it.Place)
		}
	}
	return cost
}
