// Package drawing is a small vector model of what stands in a figure: lines,
// polygons, circles, arcs, text, hatches and dimension lines, in millimetres on the
// sheet with the origin at the upper left and y running down. It is drawn by the
// PDF and the SVG writer alike, so that screen and paper show the same picture.
//
// A plan of a room is put together in world lengths through a View, which knows
// the scale. Charts (BarSchedule, StepChart, FillBars) return a finished Drawing.
//
// Nothing in a drawing may rest on colour alone: hatches, line patterns and labels
// carry the meaning, colour only helps.
package drawing

import "math"

// MM is a length on the sheet in millimetres.
type MM float64

// Point is a place on the sheet.
type Point struct{ X, Y MM }

// P is a point.
func P(x, y MM) Point { return Point{X: x, Y: y} }

// Add moves the point.
func (p Point) Add(dx, dy MM) Point { return Point{X: p.X + dx, Y: p.Y + dy} }

// Colour is a colour of light: red, green and blue.
type Colour struct{ R, G, B uint8 }

// The palette of the house: quiet, and well apart when printed in grey.
var (
	Black = Colour{}
	Ink   = Colour{R: 38, G: 43, B: 48}
	Grey  = Colour{R: 120, G: 126, B: 132}
	Pale  = Colour{R: 214, G: 218, B: 222}
	Mist  = Colour{R: 241, G: 243, B: 244}
	White = Colour{R: 255, G: 255, B: 255}
	Blue  = Colour{R: 38, G: 84, B: 124}
	Rust  = Colour{R: 156, G: 70, B: 32}
)

// Drawing is a picture of a fixed size.
type Drawing struct {
	Width, Height MM
	Title         string // for readers who can't see it
	Description   string // what it shows, in a sentence or two
	Items         []Item
}

// Add appends items.
func (d *Drawing) Add(items ...Item) { d.Items = append(d.Items, items...) }

// Item is a part of a drawing. The kinds are those in this package.
type Item interface{ item() }

// Dash is a line's pattern.
type Dash uint8

// The line patterns.
const (
	Solid Dash = iota
	Dashed
	Dotted
	Chain // long and short, as for centre lines
)

// Pattern is the lengths of stroke and gap in turn; nil is a solid line.
func (d Dash) Pattern() []MM {
	switch d {
	case Dashed:
		return []MM{1.6, 1}
	case Dotted:
		return []MM{0.3, 0.8}
	case Chain:
		return []MM{3, 0.8, 0.6, 0.8}
	}
	return nil
}

// Pen is how a line is drawn. A zero width draws no line.
type Pen struct {
	Width  MM
	Colour Colour
	Dash   Dash
}

// The pens of the house.
var (
	Hair   = Pen{Width: 0.13, Colour: Grey}
	Fine   = Pen{Width: 0.18, Colour: Ink}
	Medium = Pen{Width: 0.35, Colour: Ink}
	Heavy  = Pen{Width: 0.6, Colour: Ink}
)

// Fill is how an area is filled: with a colour, a hatch, both or nothing.
type Fill struct {
	Colour Colour
	Solid  bool
	Hatch  Hatch
}

// Tint is a plain fill.
func Tint(c Colour) Fill { return Fill{Colour: c, Solid: true} }

// Line is a straight line.
type Line struct {
	From, To Point
	Pen      Pen
}

// Polyline is an open run of lines.
type Polyline struct {
	Points []Point
	Pen    Pen
}

// Polygon is a closed area.
type Polygon struct {
	Points []Point
	Pen    Pen
	Fill   Fill
}

// Circle is a full circle.
type Circle struct {
	Centre Point
	Radius MM
	Pen    Pen
	Fill   Fill
}

// Arc is a part of a circle, from one angle to another in degrees clockwise from
// the right, as the sheet is seen.
type Arc struct {
	Centre   Point
	Radius   MM
	From, To Degrees
	Pen      Pen
}

// Degrees is an angle, clockwise as the sheet is seen.
type Degrees float64

// Anchor is where a text hangs on its point.
type Anchor uint8

// The anchors of text.
const (
	Start Anchor = iota
	Middle
	End
)

// Text is one line of lettering. Its point is on the base line.
type Text struct {
	At     Point
	Text   string
	Size   MM // height of the letter body; zero is Lettering
	Anchor Anchor
	Bold   bool
	Colour Colour
	Turn   Degrees // clockwise about the point
	Halo   bool    // on a white ground, for lettering over lines
}

// Sizes of lettering.
const (
	Lettering MM = 2.7
	SmallType MM = 2.3
	LargeType MM = 3.4
)

// Group is items that belong together; the name is for people who read the file.
type Group struct {
	Name  string
	Items []Item
}

func (Line) item()     {}
func (Polyline) item() {}
func (Polygon) item()  {}
func (Circle) item()   {}
func (Arc) item()      {}
func (Text) item()     {}
func (Group) item()    {}

// Rect is a rectangle by its upper left corner and size.
func Rect(x, y, w, h MM, pen Pen, fill Fill) Polygon {
	return Polygon{Points: []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, Pen: pen, Fill: fill}
}

// Points is the arc as a run of short lines.
func (a Arc) Points() []Point {
	span := float64(a.To - a.From)
	n := max(2, int(math.Ceil(math.Abs(span)/6)))
	points := make([]Point, n+1)
	for i := range points {
		t := (float64(a.From) + span*float64(i)/float64(n)) * math.Pi / 180
		points[i] = Point{a.Centre.X + a.Radius*MM(math.Cos(t)), a.Centre.Y + a.Radius*MM(math.Sin(t))}
	}
	return points
}

// Points is the circle as a polygon of short sides.
func (c Circle) Points() []Point {
	points := Arc{Centre: c.Centre, Radius: c.Radius, From: 0, To: 360}.Points()
	return points[:len(points)-1]
}

// Height is the size of the lettering, the usual one when none is given.
func (t Text) Height() MM {
	if t.Size == 0 {
		return Lettering
	}
	return t.Size
}
