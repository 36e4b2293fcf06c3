package floor

import (
	"fmt"
	"math"

	"tunwright/configurator/plan"
)

// onEnd is how near a member's end must lie to another's line to rest on it, and how
// far a foot may stand beyond the outermost line and still count as on it.
const onEnd = 0.05

// deck is the members made ready: their axes, and what they carry.
type deck struct {
	lines []line
	order []int // secondary members first, then the primary ones they rest on
}

type line struct {
	m         *Member
	ux, uy    float64 // along the member
	length    float64
	width     float64 // tributary
	onA, onB  int     // member that carries the end, or -1
	atA, atB  float64 // where along that member
	x, y, off float64 // first end; signed distance of the line from the origin
}

func newDeck(members []Member) (*deck, error) {
	d := &deck{lines: make([]line, len(members)), order: make([]int, 0, len(members))}
	for i := range members {
		m := &members[i]
		v := m.To.Sub(m.From)
		l := float64(m.From.Distance(m.To))
		if l < 0.05 || l > 60 || math.IsNaN(l) {
			return nil, fmt.Errorf("member %s is %.2f m long: it must be 0.05 to 60 m", m.Name, l)
		}
		ln := line{m: m, length: l, ux: v.X.M() / l, uy: v.Y.M() / l, x: m.From.X.M(), y: m.From.Y.M(), onA: -1, onB: -1}
		if ln.ux < -1e-9 || (math.Abs(ln.ux) <= 1e-9 && ln.uy < 0) { // one sense for all parallel lines
			ln.ux, ln.uy, ln.x, ln.y = -ln.ux, -ln.uy, m.To.X.M(), m.To.Y.M()
		}
		ln.off = -ln.x*ln.uy + ln.y*ln.ux
		d.lines[i] = ln
	}
	for _, primary := range []bool{false, true} {
		for i := range members {
			if members[i].Primary == primary {
				d.order = append(d.order, i)
			}
		}
	}
	for i := range d.lines {
		d.rest(i)
		d.lines[i].width = d.tributary(i)
	}
	return d, nil
}

// rest finds the primary members that carry the ends of a secondary one.
func (d *deck) rest(i int) {
	ln := &d.lines[i]
	if ln.m.Primary {
		return
	}
	for j := range d.lines {
		p := &d.lines[j]
		if !p.m.Primary {
			continue
		}
		if t, off := p.local(ln.x, ln.y); math.Abs(off) <= onEnd && t >= -onEnd && t <= p.length+onEnd {
			ln.onA, ln.atA = j, clamp(t, p.length)
		}
		if t, off := p.local(ln.x+ln.ux*ln.length, ln.y+ln.uy*ln.length); math.Abs(off) <= onEnd && t >= -onEnd && t <= p.length+onEnd {
			ln.onB, ln.atB = j, clamp(t, p.length)
		}
	}
}

func clamp(t, l float64) float64 { return max(0, min(l, t)) }

// local gives the distance along the member and across it.
func (ln *line) local(x, y float64) (along, across float64) {
	dx, dy := x-ln.x, y-ln.y
	return dx*ln.ux + dy*ln.uy, -dx*ln.uy + dy*ln.ux
}

func (ln *line) parallel(o *line) bool { return math.Abs(ln.ux*o.uy-ln.uy*o.ux) < 0.01 }

// tributary is half the way to the next parallel member on either side, at mid-span.
func (d *deck) tributary(i int) float64 {
	ln := &d.lines[i]
	if ln.m.Tributary > 0 {
		return ln.m.Tributary.M()
	}
	if ln.m.Primary {
		return 0 // carries ends, not floor
	}
	mx, my := ln.x+ln.ux*ln.length/2, ln.y+ln.uy*ln.length/2
	below, above := math.Inf(1), math.Inf(1)
	for j := range d.lines {
		o := &d.lines[j]
		if j == i || o.m.Primary || !ln.parallel(o) {
			continue
		}
		t, across := o.local(mx, my)
		if t < -onEnd || t > o.length+onEnd {
			continue
		}
		if across > onEnd {
			below = min(below, across)
		} else if across < -onEnd {
			above = min(above, -across)
		}
	}
	w := 0.0
	for _, side := range []float64{below, above} {
		if !math.IsInf(side, 1) {
			w += side / 2
		}
	}
	return w
}

// carry is how one point of the floor is carried: by one member or two.
type carry struct {
	a, b       int // members, or -1
	fa, fb     float64
	ta, tb     float64
	stray      bool // no member on one side: the share of the other is not certain
	unassigned bool // no member at all
}

// carried finds the members on either side of a point whose spans reach it.
func (d *deck) carried(p plan.Point) carry {
	px, py := p.X.M(), p.Y.M()
	c := carry{a: -1, b: -1}
	da, db := math.Inf(1), math.Inf(1)
	for i := range d.lines {
		ln := &d.lines[i]
		if ln.m.Primary {
			continue
		}
		dx, dy := px-ln.x, py-ln.y
		t := dx*ln.ux + dy*ln.uy
		if t < -1e-9 || t > ln.length+1e-9 {
			continue
		}
		across := -dx*ln.uy + dy*ln.ux
		if across >= 0 && across < da {
			c.a, da, c.ta = i, across, clamp(t, ln.length)
		}
		if across < 0 && -across < db {
			c.b, db, c.tb = i, -across, clamp(t, ln.length)
		}
	}
	switch {
	case c.a < 0 && c.b < 0:
		c.unassigned, c.stray = true, true
	case c.b < 0:
		c.fa, c.stray = 1, da > onEnd
	case c.a < 0:
		c.a, c.ta, c.b = c.b, c.tb, -1
		c.fa, c.stray = 1, db > onEnd
	default:
		s := da + db
		c.fa, c.fb = db/s, da/s
		c.stray = !d.lines[c.a].parallel(&d.lines[c.b])
	}
	return c
}
