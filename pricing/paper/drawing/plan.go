package drawing

import (
	"fmt"
	"math"
	"strconv"

	"tunwright/catalog/unit"
)

// View places world lengths on the sheet: at a scale of 1:50 a metre is 20 mm. The
// world's y runs up, as on a plan; the sheet's runs down.
type View struct {
	Scale  Scale
	Origin Point // where the world's origin lies on the sheet
}

// Scale is how many times larger the world is than the sheet: 50 for 1:50.
type Scale float64

// String names the scale: "1:50".
func (s Scale) String() string { return "1:" + strconv.FormatFloat(float64(s), 'f', -1, 64) }

// MM is how long a world length is on the sheet.
func (v View) MM(l unit.Length) MM { return MM(l.MM() / float64(v.Scale)) }

// At is where a place in the world lies on the sheet.
func (v View) At(x, y unit.Length) Point {
	return Point{v.Origin.X + v.MM(x), v.Origin.Y - v.MM(y)}
}

// Rect is a rectangle in the world by its lower left corner and its size.
func (v View) Rect(x, y, w, h unit.Length, pen Pen, fill Fill) Polygon {
	p := v.At(x, y)
	return Rect(p.X, p.Y-v.MM(h), v.MM(w), v.MM(h), pen, fill)
}

// Circle is a circle in the world.
func (v View) Circle(x, y, radius unit.Length, pen Pen, fill Fill) Circle {
	return Circle{Centre: v.At(x, y), Radius: v.MM(radius), Pen: pen, Fill: fill}
}

// scales are the scales that building drawings use (ISO 5455:1979, 4 gives 1:20,
// 1:50, 1:100, 1:200; 1:25 and 1:75 are common practice, no source).
var scales = [...]Scale{10, 20, 25, 50, 75, 100, 200, 500}

// Fit is the view of a room of so much width and depth in a space on the sheet, at
// the largest of the usual scales, and the error when none is small enough. The
// room's lower left corner is the origin; the room stands in the middle.
func Fit(width, depth unit.Length, space Drawing, margin MM) (View, error) {
	w, h := space.Width-2*margin, space.Height-2*margin
	for _, s := range scales {
		v := View{Scale: s}
		rw, rh := v.MM(width), v.MM(depth)
		if rw <= w && rh <= h {
			v.Origin = Point{margin + (w-rw)/2, margin + (h-rh)/2 + rh}
			return v, nil
		}
	}
	return View{}, fmt.Errorf("a room of %.1f m by %.1f m does not fit %.0f mm by %.0f mm at %s or any larger scale", width.M(), depth.M(), w, h, scales[len(scales)-1])
}

// ScaleBar is a bar of alternate black and white metres with its figures and the
// scale, its left end at a point. It stays true when a print is made smaller.
func (v View) ScaleBar(at Point, metres int) Group {
	const thick MM = 1.6
	step := v.MM(unit.Metres(1))
	g := Group{Name: "scale bar"}
	for i := range metres {
		fill := Tint(White)
		if i%2 == 0 {
			fill = Tint(Black)
		}
		g.Items = append(g.Items, Rect(at.X+step*MM(i), at.Y, step, thick, Fine, fill))
	}
	every := max(1, int(math.Ceil(float64(6/step))))
	for i := 0; i <= metres; i++ {
		if i%every != 0 && i != metres {
			continue
		}
		label := strconv.Itoa(i)
		if i == metres {
			label += " m"
		}
		g.Items = append(g.Items, Text{At: at.Add(step*MM(i), thick+3), Text: label, Size: SmallType, Anchor: Middle, Colour: Ink})
	}
	g.Items = append(g.Items, Text{At: at.Add(step*MM(metres)+6, thick), Text: v.Scale.String(), Size: SmallType, Bold: true, Colour: Ink})
	return g
}

// NorthArrow points north; turn is north's direction clockwise from the top of the
// sheet.
func NorthArrow(at Point, turn Degrees) Group {
	const r MM = 5
	tip := polar(at, r, turn-90)
	tail := polar(at, r, turn+90)
	left, right := polar(at, r*0.55, turn+130), polar(at, r*0.55, turn+50)
	name := polar(at, r+2.6, turn-90)
	return Group{Name: "north arrow", Items: []Item{
		Circle{Centre: at, Radius: r, Pen: Hair},
		Polygon{Points: []Point{tip, left, at}, Pen: Fine, Fill: Tint(Black)},
		Polygon{Points: []Point{tip, right, at}, Pen: Fine, Fill: Tint(White)},
		Line{From: at, To: tail, Pen: Fine},
		Text{At: name.Add(0, 1), Text: "N", Bold: true, Anchor: Middle, Colour: Ink},
	}}
}

// Dimension is a dimension line from p to q, moved to its right-hand side by off (to
// the left when off is negative), with ticks and its words above the line.
func Dimension(p, q Point, off MM, words string) Group {
	length := distance(p, q)
	if length == 0 {
		return Group{Name: "dimension"}
	}
	dx, dy := (q.X-p.X)/length, (q.Y-p.Y)/length
	nx, ny := -dy, dx
	a, b := p.Add(nx*off, ny*off), q.Add(nx*off, ny*off)
	const over, tick, lift MM = 1.2, 0.9, 0.9
	side := MM(math.Copysign(1, float64(off)))
	turn := Degrees(math.Atan2(float64(dy), float64(dx)) * 180 / math.Pi)
	// Words read from the foot or from the right of the sheet (ISO 129-1).
	const hair = 1e-6
	switch {
	case turn >= 90-hair:
		turn -= 180
	case turn < -90-hair:
		turn += 180
	}
	sin, cos := math.Sincos(float64(turn) * math.Pi / 180)
	middle := Point{(a.X+b.X)/2 + lift*MM(sin), (a.Y+b.Y)/2 - lift*MM(cos)}
	slant := func(at Point) Line {
		return Line{From: at.Add(-(dx+nx)*tick, -(dy+ny)*tick), To: at.Add((dx+nx)*tick, (dy+ny)*tick), Pen: Medium}
	}
	return Group{Name: "dimension", Items: []Item{
		Line{From: p.Add(nx*side, ny*side), To: a.Add(nx*side*over, ny*side*over), Pen: Hair},
		Line{From: q.Add(nx*side, ny*side), To: b.Add(nx*side*over, ny*side*over), Pen: Hair},
		Line{From: a, To: b, Pen: Fine},
		slant(a), slant(b),
		Text{At: middle, Text: words, Size: SmallType, Anchor: Middle, Turn: turn, Colour: Ink, Halo: true},
	}}
}

// polar is the point at a distance and a direction, clockwise from the right.
func polar(from Point, r MM, direction Degrees) Point {
	sin, cos := math.Sincos(float64(direction) * math.Pi / 180)
	return from.Add(r*MM(cos), r*MM(sin))
}
