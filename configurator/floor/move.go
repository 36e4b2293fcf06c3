package floor

import (
	"math"
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

// Move is a new place for one piece, and what it does to the members.
type Move struct {
	Tag   string
	From  plan.Place
	To    plan.Place
	Worst unit.Ratio // highest use of any member afterwards, estimated masses at their upper end
}

// mover answers quickly what the members carry when one piece stands elsewhere.
type mover struct {
	w      *work
	item   int
	limits []limits
	rest   [][]PointLoad // per member: everything but the piece
	alone  []float64     // use of each member without the piece
	before []float64     // and with it where it stands now
	rel    []bearing     // its bearings about its own place
	own    []share
	merged []PointLoad
	uses   []float64
}

func newMover(w *work, item int) *mover {
	n := len(w.deck.lines)
	mv := &mover{w: w, item: item, limits: make([]limits, n), rest: make([][]PointLoad, n), alone: make([]float64, n), uses: make([]float64, n)}
	for i := range n {
		var m MemberLoad
		mv.limits[i] = w.limits(i, &m)
		for k := w.start[i]; k < w.start[i+1]; k++ {
			s := &w.shares[k]
			p := PointLoad{At: unit.Length(s.at)}
			switch {
			case int(s.item) == item:
				continue
			case s.item < 0:
				p.P = unit.Force(s.f * mv.limits[i].uniform)
			default:
				p.P = unit.Force(s.f * w.weights[wOperatingUpper][s.item])
			}
			mv.rest[i] = append(mv.rest[i], p)
		}
		mv.alone[i] = mv.use(i, mv.rest[i])
	}
	if p := w.in.Items[item].Place; p != nil {
		it := w.in.Items[item]
		it.Place = &plan.Place{Turn: p.Turn}
		mv.rel = it.bearings(item, nil)
		mv.before = slices.Clone(mv.at(*p))
	}
	return mv
}

func (mv *mover) use(i int, loads []PointLoad) float64 {
	lim, ln := &mv.limits[i], &mv.w.deck.lines[i]
	if !lim.known {
		return 0
	}
	if lim.moment <= 0 || lim.shear <= 0 {
		return math.Inf(1)
	}
	s := beam(ln.length, loads, lim.uniform*ln.width)
	return max(float64(s.Moment)/lim.moment, float64(s.Shear())/lim.shear)
}

// at gives the use of every member with the piece at a place, turned as it is; nil where a foot would
// stand on no known member.
func (mv *mover) at(p plan.Place) []float64 {
	sub := work{deck: mv.w.deck, shares: mv.own[:0]}
	for _, b := range mv.rel {
		c := sub.deck.carried(b.p.Add(p.At))
		if c.stray {
			return nil
		}
		sub.add(c.a, b.item, c.ta, b.f*c.fa)
		sub.add(c.b, b.item, c.tb, b.f*c.fb)
	}
	mv.own = sub.shares
	copy(mv.uses, mv.alone)
	weight := mv.w.weights[wOperatingUpper][mv.item]
	for k := range mv.own {
		m := int(mv.own[k].member)
		if slices.ContainsFunc(mv.own[:k], func(s share) bool { return int(s.member) == m }) {
			continue
		}
		mv.merged = append(mv.merged[:0], mv.rest[m]...)
		for _, s := range mv.own[k:] {
			if int(s.member) == m {
				mv.insert(PointLoad{P: unit.Force(s.f * weight), At: unit.Length(s.at)})
			}
		}
		mv.uses[m] = mv.use(m, mv.merged)
	}
	return mv.uses
}

// insert keeps the merged loads in order of place.
func (mv *mover) insert(p PointLoad) {
	mv.merged = append(mv.merged, p)
	for k := len(mv.merged) - 1; k > 0 && mv.merged[k].At < mv.merged[k-1].At; k-- {
		mv.merged[k], mv.merged[k-1] = mv.merged[k-1], mv.merged[k]
	}
}

// betters tells whether a member comes within its limit while no other member goes
// over its own or gets worse beyond it.
func (mv *mover) betters(uses []float64, member int) bool {
	if uses == nil || uses[member] > 1 {
		return false
	}
	for i, u := range uses {
		if u > max(1, mv.before[i])+1e-9 {
			return false
		}
	}
	return true
}

// The rules try few steps: eight ways by half metres up to 4 m.
const (
	moveStep  = 0.5
	moveSteps = 8
)

// relieve finds the nearest place of a piece that relieves a member and keeps every
// clearance.
func (w *work) relieve(member, item int, room plan.Chooser) (Move, bool) {
	it := &w.in.Items[item]
	if it.Place == nil || it.Fixed {
		return Move{}, false
	}
	mv := newMover(w, item)
	if mv.before == nil {
		return Move{}, false
	}
	ln := &w.deck.lines[member]
	for n := 1; n <= moveSteps; n++ {
		for _, dir := range [8][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
			along, across := dir[0]*moveStep*float64(n), dir[1]*moveStep*float64(n)
			to := plan.Place{At: it.Place.At.Add(plan.P(along*ln.ux-across*ln.uy, along*ln.uy+across*ln.ux)), Turn: it.Place.Turn}
			uses := mv.at(to)
			if mv.betters(uses, member) && room.Fits(item, to) {
				return Move{Tag: it.Tag, From: *it.Place, To: to, Worst: unit.Fraction(slices.Max(uses))}, true
			}
		}
	}
	return Move{}, false
}

// Suggest looks for moves, at most the given number, that bring every member within
// what was given: each time the worst member is relieved by the piece and place that
// lower the highest use most. It is for a person who asks; the rules try less.
func Suggest(in Input, most int) ([]Move, error) {
	in.Items = slices.Clone(in.Items)
	var out []Move
	for range most {
		d, err := newDeck(in.Members)
		if err != nil {
			return nil, err
		}
		r := Result{People: in.people()}
		r.build(&in)
		if err := r.masses(&in); err != nil {
			return nil, err
		}
		w := newWork(&in, &r, d)
		m, ok := w.best()
		if !ok {
			break
		}
		out = append(out, m)
		i := slices.IndexFunc(in.Items, func(it Item) bool { return it.Tag == m.Tag })
		to := m.To
		in.Items[i].Place = &to
		if m.Worst <= 1 {
			break
		}
	}
	return out, nil
}

// best is the single move that lowers the highest use most.
func (w *work) best() (Move, bool) {
	room := plan.NewChooser(&w.in.Room, w.planned)
	lo, hi := w.in.Room.Outline.Bounds()
	best, found := Move{Worst: unit.Fraction(math.Inf(1))}, false
	for i := range w.in.Items {
		it := &w.in.Items[i]
		if it.Place == nil || it.Fixed || it.Wall || it.Outside {
			continue
		}
		mv := newMover(w, i)
		if mv.before == nil || slices.Max(append(mv.before, 0)) <= 1 {
			continue
		}
		now := slices.Max(mv.before)
		for x := lo.X.M() + 0.25; x < hi.X.M(); x += 0.25 {
			for y := lo.Y.M() + 0.25; y < hi.Y.M(); y += 0.25 {
				to := plan.Place{At: plan.P(x, y), Turn: it.Place.Turn}
				uses := mv.at(to)
				if uses == nil {
					continue
				}
				worst := slices.Max(uses)
				if worst < now-1e-6 && worst < best.Worst.Value()-1e-6 && room.Fits(i, to) {
					best, found = Move{Tag: it.Tag, From: *it.Place, To: to, Worst: unit.Fraction(worst)}, true
				}
			}
		}
	}
	return best, found
}

// Judge gives the first layout a measure of an arrangement: the highest use of any
// member with estimated masses at their upper end, plus 10 for each piece with a foot
// on no known member. It is 0 where nothing is known. The function is for one caller
// at a time.
func Judge(in Input) func([]plan.Item) float64 {
	none := func([]plan.Item) float64 { return 0 }
	d, err := newDeck(in.Members)
	if err != nil || len(in.Members) == 0 {
		return none
	}
	in.Items = slices.Clone(in.Items)
	r := Result{People: in.people()}
	r.build(&in)
	if err := r.masses(&in); err != nil {
		return none
	}
	for i := range in.Items {
		in.Items[i].Place = nil
	}
	w := newWork(&in, &r, d)
	lims := make([]limits, len(d.lines))
	for i := range lims {
		var m MemberLoad
		lims[i] = w.limits(i, &m)
	}
	return func(items []plan.Item) float64 {
		w.bearings, r.Stray = w.bearings[:0], r.Stray[:0]
		for i := range in.Items {
			in.Items[i].Place = items[i].Place
			r.Items[i].Stray = false
			w.bearings = in.Items[i].bearings(i, w.bearings)
		}
		w.share()
		worst := 0.0
		for i := range lims {
			if !lims[i].known {
				continue
			}
			_, all, _ := w.gather(i, lims[i], wOperatingUpper, wOperatingUpper, -1)
			s := beam(d.lines[i].length, all, lims[i].uniform*d.lines[i].width)
			worst = max(worst, float64(s.Moment)/lims[i].moment, float64(s.Shear())/lims[i].shear)
		}
		return worst + 10*float64(len(r.Stray))
	}
}
