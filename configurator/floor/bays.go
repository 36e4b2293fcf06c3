package floor

import (
	"fmt"
	"math"
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/plan"
)

// BayLoad is the equipment in one bay of the floor, as uniform load.
type BayLoad struct {
	Name                   string
	Outline                plan.Polygon
	Area                   unit.Area
	Empty, Operating, Test unit.AreaLoad
	// Available is what the added build-up leaves of the bay's own figure, or of the
	// floor's where it has none; nil where none was given. Settled says an engineer
	// stands behind it.
	Available *unit.AreaLoad
	Settled   bool
	// Use is equipment at work and people over what is available; 0 where none was given.
	Use unit.Ratio
}

func (r *Result) bays(in *Input, w *work) {
	bays := in.Bays
	if len(bays) == 0 {
		bays = w.deck.between()
	}
	r.Bays = make([]BayLoad, len(bays))
	for k := range bays {
		b := &r.Bays[k]
		b.Name, b.Outline, b.Area = bays[k].Name, bays[k].Outline, bays[k].Outline.Area()
		lo, hi := b.Outline.Bounds()
		e, o, t := 0.0, 0.0, 0.0
		for n := range w.bearings {
			p := &w.bearings[n]
			if p.p.X < lo.X || p.p.X > hi.X || p.p.Y < lo.Y || p.p.Y > hi.Y || !b.Outline.Contains(p.p) {
				continue
			}
			e += p.f * w.weights[wEmpty][p.item]
			o += p.f * w.weights[wOperating][p.item]
			t += p.f * w.weights[wTest][p.item]
			if row := &r.Items[p.item]; !slices.Contains(row.Bays, b.Name) {
				row.Bays = append(row.Bays, b.Name)
			}
		}
		if a := b.Area.M2(); a > 0 {
			b.Empty, b.Operating, b.Test = unit.AreaLoad(e/a), unit.AreaLoad(o/a), unit.AreaLoad(t/a)
		}
		allow := in.Allow
		if bays[k].Allow != nil {
			allow = bays[k].Allow
		}
		if allow == nil {
			continue
		}
		left := allow.Value - r.AddedLoad
		b.Available, b.Settled = &left, allow.Settled()
		if left > 0 {
			b.Use = unit.Fraction(float64(b.Operating+r.People.Value) / float64(left))
		}
	}
}

// between makes the bays between neighbouring members of one direction.
func (d *deck) between() []Bay {
	var bays []Bay
	for i := range d.lines {
		a := &d.lines[i]
		if a.m.Primary {
			continue
		}
		next, dist := -1, math.Inf(1)
		mx, my := a.x+a.ux*a.length/2, a.y+a.uy*a.length/2
		for j := range d.lines {
			b := &d.lines[j]
			if j == i || b.m.Primary || !a.parallel(b) {
				continue
			}
			if t, across := b.local(mx, my); t >= -onEnd && t <= b.length+onEnd && across > onEnd && across < dist {
				next, dist = j, across
			}
		}
		if next < 0 {
			continue
		}
		b := &d.lines[next]
		bays = append(bays, Bay{Name: fmt.Sprintf("%s–%s", b.m.Name, a.m.Name), Outline: plan.Polygon{b.start(), a.start(), a.end(), b.end()}})
	}
	slices.SortStableFunc(bays, func(p, q Bay) int {
		a, b := p.Outline.Centroid(), q.Outline.Centroid()
		if a.Y != b.Y && math.Abs(a.Y.M()-b.Y.M()) > 1e-6 {
			return sign(a.Y.M() - b.Y.M())
		}
		return sign(a.X.M() - b.X.M())
	})
	return bays
}

func sign(x float64) int {
	switch {
	case x < 0:
		return -1
	case x > 0:
		return 1
	}
	return 0
}

func (ln *line) start() plan.Point { return plan.P(ln.x, ln.y) }
func (ln *line) end() plan.Point {
	return plan.P(ln.x+ln.ux*ln.length, ln.y+ln.uy*ln.length)
}

// five fills in what needs the whole: the room's, the bay's and the member's answer.
func (r *Result) five(in *Input, w *work) {
	if a := r.RoomArea.M2(); a > 0 {
		r.RoomAverage = unit.AreaLoad(float64(Weight(r.Operating)) / a)
	}
	for i := range r.Items {
		row := &r.Items[i]
		row.Room = r.RoomAverage
		for _, name := range row.Bays {
			for k := range r.Bays {
				if r.Bays[k].Name == name {
					row.Bay = max(row.Bay, r.Bays[k].Operating)
				}
			}
		}
	}
	for k := range r.Members {
		m := &r.Members[k]
		for _, i := range w.on(k) {
			row := &r.Items[i]
			row.Members = append(row.Members, m.Name)
			row.Member = max(row.Member, m.Operating.Equivalent())
		}
	}
}
