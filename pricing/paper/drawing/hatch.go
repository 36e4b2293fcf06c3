package drawing

import (
	"math"
	"slices"
)

// Hatch is a pattern of lines that tells areas apart without colour.
type Hatch uint8

// The hatches.
const (
	NoHatch Hatch = iota
	Rising        // lines from lower left to upper right
	Falling       // lines from upper left to lower right
	Crossed       // both
	Level         // lying lines
	Upright       // standing lines
	Dense         // rising lines close together
)

// Spacing of hatch lines.
const (
	hatchSpacing MM = 1.6
	denseSpacing MM = 0.8
)

// HatchPen is the pen that hatches are drawn with.
var HatchPen = Pen{Width: 0.13, Colour: Ink}

type ruling struct {
	angle   float64 // degrees, counter-clockwise as seen
	spacing MM
}

func (h Hatch) rulings() []ruling {
	switch h {
	case Rising:
		return []ruling{{45, hatchSpacing}}
	case Falling:
		return []ruling{{-45, hatchSpacing}}
	case Crossed:
		return []ruling{{45, hatchSpacing}, {-45, hatchSpacing}}
	case Level:
		return []ruling{{0, hatchSpacing}}
	case Upright:
		return []ruling{{90, hatchSpacing}}
	case Dense:
		return []ruling{{45, denseSpacing}}
	}
	return nil
}

// Lines rules the polygon with the hatch: each line's two ends, inside the polygon.
// The lines of neighbouring areas run through, since they are counted from the
// sheet's corner.
func (h Hatch) Lines(polygon []Point) [][2]Point {
	var out [][2]Point
	for _, r := range h.rulings() {
		out = append(out, rule(polygon, r)...)
	}
	return out
}

// rule turns the polygon until the ruling lies level, cuts it with level lines
// (even-odd rule) and turns the cuts back.
func rule(polygon []Point, r ruling) [][2]Point {
	if len(polygon) < 3 {
		return nil
	}
	sin, cos := math.Sincos(r.angle * math.Pi / 180)
	turned := make([]Point, len(polygon))
	top, bottom := MM(math.Inf(1)), MM(math.Inf(-1))
	for i, p := range polygon {
		turned[i] = Point{p.X*MM(cos) - p.Y*MM(sin), p.X*MM(sin) + p.Y*MM(cos)}
		top, bottom = min(top, turned[i].Y), max(bottom, turned[i].Y)
	}
	var out [][2]Point
	for k := math.Ceil(float64(top / r.spacing)); MM(k)*r.spacing < bottom; k++ {
		y := MM(k) * r.spacing
		xs := crossings(turned, y)
		for i := 0; i+1 < len(xs); i += 2 {
			a, b := Point{xs[i], y}, Point{xs[i+1], y}
			out = append(out, [2]Point{turnBack(a, sin, cos), turnBack(b, sin, cos)})
		}
	}
	return out
}

func turnBack(p Point, sin, cos float64) Point {
	return Point{p.X*MM(cos) + p.Y*MM(sin), -p.X*MM(sin) + p.Y*MM(cos)}
}

// crossings are the places where the level y cuts the polygon's sides, in order.
func crossings(polygon []Point, y MM) []MM {
	var xs []MM
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		if (p.Y <= y) == (q.Y <= y) {
			continue
		}
		xs = append(xs, p.X+(y-p.Y)/(q.Y-p.Y)*(q.X-p.X))
	}
	slices.Sort(xs)
	return xs
}
