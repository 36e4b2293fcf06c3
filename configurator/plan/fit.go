package plan

import (
	"math"

	"tunwright/catalog/unit"
)

// Kind names what a piece is in the way of.
type Kind string

const (
	KindUnplaced Kind = "unplaced"   // nobody has placed it
	KindOutline  Kind = "wall"       // too near a wall, or through it
	KindOverlap  Kind = "body"       // two bodies in one place
	KindService  Kind = "service"    // stands in another's service space
	KindFront    Kind = "front"      // its own working place is cut by a wall or column
	KindColumn   Kind = "column"     // too near a column
	KindSwing    Kind = "swing"      // in the sweep of a door leaf
	KindDoorway  Kind = "doorway"    // before a door
	KindBoard    Kind = "board"      // in the working space of an electrical board
	KindKeep     Kind = "keep-clear" // on ground that must stay free
	KindCeiling  Kind = "ceiling"    // higher than the room
	KindAbove    Kind = "above"      // no room over it for service
	KindNoHeight Kind = "no-height"  // the room's height is unknown
)

// Conflict is one clash in the plan: what is wanted, and what there is.
type Conflict struct {
	Kind       Kind
	A, B       string // the piece, and what it clashes with
	Need, Have unit.Length
}

// Margin is how much nearer than asked two bodies may stand before it counts:
// the width of a drawn line.
const margin = 0.001

// wallGap is the room for a hand and a cleaning lance when no clearance is asked
// (common practice, no source).
const wallGap = 0.05

// scene is the room and its pieces made ready for many checks.
type scene struct {
	room    *Room
	items   []Item
	bodies  []shape
	zones   []shape
	columns []shape
	sweeps  []sector
	ways    []shape
	boards  []shape
	works   []shape
	keeps   []shape
}

func newScene(r *Room, items []Item) *scene {
	s := &scene{room: r, items: items, bodies: make([]shape, len(items)), zones: make([]shape, len(items))}
	for i := range items {
		if it := &items[i]; it.Place != nil {
			s.put(i, *it.Place)
		}
	}
	for i := range r.Columns {
		s.columns = append(s.columns, r.Columns[i].shape())
	}
	for i := range r.Doors {
		sweep, ok := r.sweep(r.Doors[i])
		if !ok {
			sweep.r = 0
		}
		s.sweeps = append(s.sweeps, sweep)
		s.ways = append(s.ways, r.threshold(r.Doors[i]))
	}
	for i := range r.Boards {
		s.boards = append(s.boards, boxShape(r.Boards[i].body()))
		s.works = append(s.works, r.Boards[i].workplace())
	}
	for i := range r.Keep {
		s.keeps = append(s.keeps, r.Keep[i].shape())
	}
	return s
}

func (s *scene) put(i int, p Place) {
	s.bodies[i] = s.items[i].body(p)
	s.zones[i] = s.items[i].zone(p)
}

func standing(it *Item) bool { return it.Place != nil && !it.Wall && !it.Outside }

// Conflicts lists every clash in the plan, piece by piece in the order given.
func Conflicts(r *Room, items []Item) []Conflict {
	s := newScene(r, items)
	var out []Conflict
	add := func(k Kind, a, b string, need, have float64) bool {
		out = append(out, Conflict{Kind: k, A: a, B: b, Need: unit.Length(need), Have: unit.Length(have)})
		return true
	}
	for i := range items {
		switch {
		case items[i].Wall || items[i].Outside:
		case items[i].Place == nil:
			add(KindUnplaced, items[i].Tag, "", 0, 0)
		default:
			s.fixed(i, add)
			for j := range items[:i] {
				if standing(&items[j]) {
					s.pair(i, j, add)
				}
			}
			s.height(i, add)
		}
	}
	return out
}

// Fits tells whether one piece could stand at a place while the others stay.
func Fits(r *Room, items []Item, which int, at Place) bool {
	s := newScene(r, items)
	return s.fits(which, at)
}

// Chooser answers Fits for many places of one arrangement.
type Chooser struct{ s *scene }

// NewChooser prepares an arrangement.
func NewChooser(r *Room, items []Item) Chooser { return Chooser{newScene(r, items)} }

// Fits tells whether the piece could stand there.
func (c Chooser) Fits(which int, at Place) bool { return c.s.fits(which, at) }

func (s *scene) fits(i int, at Place) bool {
	body, zone := s.bodies[i], s.zones[i]
	s.put(i, at)
	ok := s.clear(i, at)
	s.bodies[i], s.zones[i] = body, zone
	return ok
}

func (s *scene) clear(i int, at Place) bool {
	ok := true
	stop := func(Kind, string, string, float64, float64) bool { ok = false; return false }
	for j := range s.items {
		if j == i || !standing(&s.items[j]) {
			continue
		}
		if s.pair(i, j, stop); !ok {
			return false
		}
	}
	if s.fixed(i, stop); !ok {
		return false
	}
	if s.items[i].Height > 0 {
		if have, _ := s.room.ClearAt(&s.items[i], at); have != nil && s.items[i].Height+s.items[i].Clearance.Above > *have+margin {
			return false
		}
	}
	return ok
}

// fixed sets one piece against walls, columns, doors, boards and ground that must stay
// free. The callback says whether to go on.
func (s *scene) fixed(i int, add func(Kind, string, string, float64, float64) bool) {
	it, body := &s.items[i], s.bodies[i]
	want := max(wallGap, min(it.Clearance.Side.M(), it.Clearance.Back.M()))
	if g := inside(s.room.Outline, body); g < want-margin && !add(KindOutline, it.Tag, "", want, g) {
		return
	}
	if f := it.Clearance.Front.M(); f > 0 {
		if g := s.reach(i, f); g < f-margin && !add(KindFront, it.Tag, "", f, g) {
			return
		}
	}
	for k := range s.columns {
		if !near(body, s.columns[k], want) {
			continue
		}
		if g := gap(body, s.columns[k]); g < want-margin && !add(KindColumn, it.Tag, s.room.Columns[k].Name, want, g) {
			return
		}
	}
	for k := range s.room.Doors {
		if s.sweeps[k].r > 0 && float64(body.c.Distance(s.sweeps[k].c)) < body.r+s.sweeps[k].r {
			if g := s.sweeps[k].gap(body); g < -margin && !add(KindSwing, it.Tag, s.room.Doors[k].Name, 0, g) {
				return
			}
		}
		if near(body, s.ways[k], 0) {
			if g := gap(body, s.ways[k]); g < -margin && !add(KindDoorway, it.Tag, s.room.Doors[k].Name, 0, g) {
				return
			}
		}
	}
	for k := range s.works {
		if near(body, s.works[k], 0) {
			if g := gap(body, s.works[k]); g < -margin && !add(KindBoard, it.Tag, s.room.Boards[k].Name, s.room.Boards[k].Before.M(), s.room.Boards[k].Before.M()+g) {
				return
			}
		}
		if near(body, s.boards[k], 0) {
			if g := gap(body, s.boards[k]); g < -margin && !add(KindOverlap, it.Tag, s.room.Boards[k].Name, 0, g) {
				return
			}
		}
	}
	for k := range s.keeps {
		if near(body, s.keeps[k], 0) {
			if g := gap(body, s.keeps[k]); g < -margin && !add(KindKeep, it.Tag, s.room.Keep[k].Name, 0, g) {
				return
			}
		}
	}
}

// reach is how deep the working place before a piece is, up to the depth asked,
// before a wall or a column cuts it.
func (s *scene) reach(i int, asked float64) float64 {
	b := s.bodies[i].box
	if s.items[i].Round { // a round body faces where it is turned to
		b = newBox(s.items[i].front(s.zones[i]), 0, 0, 0)
		b.ux, b.uy = s.zones[i].ux, s.zones[i].uy
		b.ha, b.hb = s.bodies[i].ha, s.bodies[i].hb
	}
	best := asked
	for _, k := range [3]float64{-0.8, 0, 0.8} {
		from := b.shift(k*b.ha, -b.hb).c
		to := b.shift(k*b.ha, -b.hb-asked).c
		for n, p := range s.room.Outline {
			if t, ok := crossing(from, to, p, s.room.Outline[(n+1)%len(s.room.Outline)]); ok {
				best = min(best, t*asked)
			}
		}
	}
	strip := boxShape(b.shift(0, -b.hb-asked/2))
	strip.ha, strip.hb = b.ha, asked/2
	strip.r = math.Sqrt(strip.ha*strip.ha + strip.hb*strip.hb)
	for k := range s.columns {
		if near(strip, s.columns[k], 0) && gap(strip, s.columns[k]) < -margin {
			best = min(best, max(0, gap(s.bodies[i], s.columns[k])))
		}
	}
	return best
}

// front is the centre of the body, found back from its zone, which is turned.
func (it *Item) front(zone shape) Point {
	return zone.shift(0, (it.Clearance.Front.M()-it.Clearance.Back.M())/2).c
}

// crossing gives where along a–b the segment c–d cuts it.
func crossing(a, b, c, d Point) (float64, bool) {
	r, q := b.Sub(a), d.Sub(c)
	den := cross(r, q)
	if den == 0 {
		return 0, false
	}
	t, u := cross(c.Sub(a), q)/den, cross(c.Sub(a), r)/den
	return t, t >= 0 && t <= 1 && u >= 0 && u <= 1
}

// pair sets two pieces against each other: bodies, then each body against the
// other's service space. Two service spaces may share the same floor.
func (s *scene) pair(i, j int, add func(Kind, string, string, float64, float64) bool) {
	if !near(s.zones[i], s.zones[j], 0) {
		return
	}
	a, b := &s.items[i], &s.items[j]
	if near(s.bodies[i], s.bodies[j], 0) {
		if g := gap(s.bodies[i], s.bodies[j]); g < -margin {
			add(KindOverlap, a.Tag, b.Tag, 0, g)
			return
		}
	}
	if near(s.bodies[i], s.zones[j], 0) {
		if g := gap(s.bodies[i], s.zones[j]); g < -margin && !add(KindService, a.Tag, b.Tag, 0, g) {
			return
		}
	}
	if near(s.zones[i], s.bodies[j], 0) {
		if g := gap(s.bodies[j], s.zones[i]); g < -margin {
			add(KindService, b.Tag, a.Tag, 0, g)
		}
	}
}

func (s *scene) height(i int, add func(Kind, string, string, float64, float64) bool) {
	it := &s.items[i]
	have, under := s.room.ClearAt(it, *it.Place)
	switch {
	case it.Height == 0:
	case have == nil:
		add(KindNoHeight, it.Tag, "", it.Height.M(), 0)
	case it.Height > *have+margin:
		add(KindCeiling, it.Tag, under, it.Height.M(), have.M())
	case it.Height+it.Clearance.Above > *have+margin:
		add(KindAbove, it.Tag, under, (it.Height + it.Clearance.Above).M(), have.M())
	}
}
