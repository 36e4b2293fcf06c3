// Package plan is the room seen from above: its outline, columns, doors, gullies
// and boards, the pieces of equipment placed in it, the gaps between them, whether
// people get out, a first layout, and the figure that a drawing shows.
//
// Coordinates are metres in the room's own frame, x to the right and y up the
// sheet; angles turn anticlockwise. Begin with Room, Item and Conflicts; FirstLayout
// proposes places; Draw gives the figure. What the floor carries is not decided here:
// FirstLayout takes the judgement of loads as a function.
package plan

import (
	"math"

	"tunwright/catalog/unit"
)

// Point is a place in plan.
type Point struct{ X, Y unit.Length }

// P makes a point of two coordinates in metres, as unit.Metres makes a length.
func P(x, y float64) Point { return Point{unit.Metres(x), unit.Metres(y)} }

func (p Point) xy() (float64, float64) { return float64(p.X), float64(p.Y) }

// Add shifts a point.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub is the vector from q to p.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Scale multiplies both coordinates.
func (p Point) Scale(k unit.Ratio) Point {
	return Point{unit.Metres(p.X.M() * k.Value()), unit.Metres(p.Y.M() * k.Value())}
}

// Turned rotates a point about the origin.
func (p Point) Turned(by unit.Angle) Point {
	s, c := math.Sincos(by.Rad())
	x, y := p.xy()
	return P(x*c-y*s, x*s+y*c)
}

// Distance is the straight distance between two points.
func (p Point) Distance(q Point) unit.Length {
	return unit.Length(math.Sqrt(square(float64(p.X-q.X)) + square(float64(p.Y-q.Y))))
}

func square(x float64) float64 { return x * x }

func dot(a, b Point) float64   { return float64(a.X)*float64(b.X) + float64(a.Y)*float64(b.Y) }
func cross(a, b Point) float64 { return float64(a.X)*float64(b.Y) - float64(a.Y)*float64(b.X) }

// Polygon is a closed outline; the last corner joins the first.
type Polygon []Point

// Area is the enclosed area by the shoelace formula, whichever way the corners run.
func (g Polygon) Area() unit.Area {
	return unit.SquareMetres(math.Abs(g.signed()))
}

func (g Polygon) signed() float64 {
	sum := 0.0
	for i, p := range g {
		sum += cross(p, g[(i+1)%len(g)])
	}
	return sum / 2
}

// Centroid is the centre of area.
func (g Polygon) Centroid() Point {
	a := g.signed()
	if len(g) == 0 || a == 0 {
		return Point{}
	}
	x, y := 0.0, 0.0
	for i, p := range g {
		q := g[(i+1)%len(g)]
		k := cross(p, q)
		x += (float64(p.X) + float64(q.X)) * k
		y += (float64(p.Y) + float64(q.Y)) * k
	}
	return P(x/(6*a), y/(6*a))
}

// Contains tells whether a point lies inside the outline.
func (g Polygon) Contains(p Point) bool {
	in := false
	for i, a := range g {
		b := g[(i+1)%len(g)]
		if (a.Y > p.Y) != (b.Y > p.Y) &&
			float64(p.X) < float64(b.X-a.X)*float64(p.Y-a.Y)/float64(b.Y-a.Y)+float64(a.X) {
			in = !in
		}
	}
	return in
}

// Edge is the distance from a point to the nearest side.
func (g Polygon) Edge(p Point) unit.Length {
	best := math.Inf(1)
	for i, a := range g {
		best = min(best, segmentDistance2(p, a, g[(i+1)%len(g)]))
	}
	return unit.Length(math.Sqrt(best))
}

// Bounds is the smallest upright rectangle around the outline.
func (g Polygon) Bounds() (lo, hi Point) {
	if len(g) == 0 {
		return
	}
	lo, hi = g[0], g[0]
	for _, p := range g[1:] {
		lo = Point{min(lo.X, p.X), min(lo.Y, p.Y)}
		hi = Point{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	return lo, hi
}

// segmentDistance2 is the squared distance from p to the segment ab.
func segmentDistance2(p, a, b Point) float64 {
	ab, ap := b.Sub(a), p.Sub(a)
	t := 0.0
	if l2 := dot(ab, ab); l2 > 0 {
		t = max(0, min(1, dot(ap, ab)/l2))
	}
	d := ap.Sub(ab.Scale(unit.Ratio(t)))
	return dot(d, d)
}

// box is a rectangle turned in plan: centre, unit vector of its first axis, half sizes.
type box struct {
	c      Point
	ux, uy float64
	ha, hb float64
}

func newBox(c Point, turn unit.Angle, a, b float64) box {
	s, co := 0.0, 1.0
	if turn != 0 {
		s, co = math.Sincos(turn.Rad())
	}
	return box{c: c, ux: co, uy: s, ha: a / 2, hb: b / 2}
}

// shift moves the box along its own axes.
func (r box) shift(a, b float64) box {
	r.c = r.c.Add(P(a*r.ux-b*r.uy, a*r.uy+b*r.ux))
	return r
}

// local gives a point in the box's own axes.
func (r box) local(p Point) (float64, float64) {
	dx, dy := float64(p.X-r.c.X), float64(p.Y-r.c.Y)
	return dx*r.ux + dy*r.uy, -dx*r.uy + dy*r.ux
}

func (r box) corners() [4]Point {
	var out [4]Point
	for i, k := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		out[i] = r.shift(k[0]*r.ha, k[1]*r.hb).c
	}
	return out
}

func (r box) polygon() Polygon {
	c := r.corners()
	return Polygon(c[:])
}

// gapPoint is the distance from the box to a point; negative inside, by the depth.
func (r box) gapPoint(p Point) float64 {
	x, y := r.local(p)
	dx, dy := math.Abs(x)-r.ha, math.Abs(y)-r.hb
	if dx <= 0 && dy <= 0 {
		return max(dx, dy)
	}
	dx, dy = max(dx, 0), max(dy, 0)
	return math.Sqrt(dx*dx + dy*dy)
}

// gapBox is the distance between two boxes; negative when they overlap, by the
// least separating shift (separating axis theorem).
func gapBox(a, b box) float64 {
	depth := math.Inf(-1)
	for _, axis := range [4][2]float64{{a.ux, a.uy}, {-a.uy, a.ux}, {b.ux, b.uy}, {-b.uy, b.ux}} {
		d := math.Abs(float64(b.c.X-a.c.X)*axis[0] + float64(b.c.Y-a.c.Y)*axis[1])
		depth = max(depth, d-a.reach(axis)-b.reach(axis))
	}
	if depth <= 0 {
		return depth
	}
	best := math.Inf(1)
	ca, cb := a.corners(), b.corners()
	for i := range 4 {
		best = min(best, min(a.gapPoint(cb[i]), b.gapPoint(ca[i])))
	}
	return best
}

func (r box) reach(axis [2]float64) float64 {
	return r.ha*math.Abs(r.ux*axis[0]+r.uy*axis[1]) + r.hb*math.Abs(-r.uy*axis[0]+r.ux*axis[1])
}

// shape is a body in plan: a circle where round, else a box.
type shape struct {
	box
	round bool
	r     float64 // radius of the circle, or of the circle around the box
}

func circle(c Point, r float64) shape {
	return shape{box: box{c: c, ux: 1, ha: r, hb: r}, round: true, r: r}
}

func boxShape(b box) shape { return shape{box: b, r: math.Sqrt(b.ha*b.ha + b.hb*b.hb)} }

// near tells cheaply whether two shapes could be closer than d.
func near(a, b shape, d float64) bool {
	return square(float64(a.c.X-b.c.X))+square(float64(a.c.Y-b.c.Y)) <= square(a.r+b.r+d)
}

// gap is the clear distance between two shapes; negative when they overlap.
func gap(a, b shape) float64 {
	switch {
	case a.round && b.round:
		return math.Sqrt(square(float64(a.c.X-b.c.X))+square(float64(a.c.Y-b.c.Y))) - a.r - b.r
	case a.round:
		return b.gapPoint(a.c) - a.r
	case b.round:
		return a.gapPoint(b.c) - b.r
	}
	return gapBox(a.box, b.box)
}

// inside is the distance from the body to the outline; negative when it crosses it.
func inside(g Polygon, s shape) float64 {
	if s.round {
		d := float64(g.Edge(s.c))
		if !g.Contains(s.c) {
			return -d - s.r
		}
		return d - s.r
	}
	best := math.Inf(1)
	for _, c := range s.corners() {
		d := float64(g.Edge(c))
		if d > 1e-9 && !g.Contains(c) {
			d = -d
		}
		best = min(best, d)
	}
	if best < 0 {
		return best
	}
	for _, p := range g { // a corner of the room that reaches into the body
		best = min(best, s.gapPoint(p))
	}
	return best
}

// sector is the area a door leaf sweeps.
type sector struct {
	c          Point
	r          float64
	from, wide float64 // radians; wide may be negative
}

// gap is the distance from a shape to the sector, found on the arc, the two edges
// and the hinge; 5° steps on the arc are finer than any margin used here.
func (s sector) gap(b shape) float64 {
	best := math.Inf(1)
	measure := func(p Point) {
		if b.round {
			best = min(best, float64(p.Distance(b.c))-b.r)
		} else {
			best = min(best, b.gapPoint(p))
		}
	}
	steps := int(math.Ceil(math.Abs(s.wide)/(math.Pi/36))) + 1
	for i := range steps {
		a := s.from + s.wide*float64(i)/float64(steps-1)
		sin, cos := math.Sincos(a)
		for _, k := range [3]float64{1.0 / 3, 2.0 / 3, 1} {
			measure(s.c.Add(P(cos*s.r*k, sin*s.r*k)))
		}
	}
	measure(s.c)
	return best
}
