package plan

import (
	"math"

	"tunwright/catalog/unit"
)

// Room is the room the equipment is to stand in.
type Room struct {
	Outline Polygon
	// Clear is the height under the lowest beam, duct or sprinkler; nil is unknown.
	Clear   *unit.Length
	Columns []Column
	Doors   []Door
	Gullies []Gully
	Boards  []Board
	Low     []LowSpot
	Keep    []Zone
	// Persons who may be in the room; nil is unknown.
	Persons *int
}

// Column is a post or any other fixed obstacle.
type Column struct {
	Name  string
	At    Point // centre
	A, B  unit.Length
	Turn  unit.Angle
	Round bool // diameter A
}

// Door is a door leaf. A door that opens outwards sweeps nothing of the room.
type Door struct {
	Name    string
	Hinge   Point
	Latch   Point // the leaf's end when shut
	Height  unit.Length
	Inwards bool
	Exit    bool // counts as a way out
	// Swing is how far the leaf opens; 0 means 90°.
	Swing unit.Angle
}

// Width is the width of the leaf.
func (d Door) Width() unit.Length { return d.Hinge.Distance(d.Latch) }

// Middle is the middle of the shut leaf.
func (d Door) Middle() Point { return d.Hinge.Add(d.Latch).Scale(0.5) }

// Gully is a floor gully, or a channel that runs from At to To.
type Gully struct {
	Name string
	At   Point
	To   *Point // the far end of a channel; nil for a gully
	// Flow it takes with 20 mm of water above the grating; nil is unknown.
	Flow *unit.VolumeFlow
	// Depth of the gully body below the finished floor; nil is unknown.
	Depth *unit.Length
}

// Board is an electrical board, panel or switch that people work in front of.
type Board struct {
	Name   string
	At     Point // middle of its back
	Turn   unit.Angle
	Width  unit.Length
	Depth  unit.Length
	Before unit.Length // free depth wanted in front
}

// Zone is ground that must stay free, such as an escape way: a rectangle between two
// opposite corners.
type Zone struct {
	Name     string
	From, To Point
}

func (z Zone) shape() shape {
	d := z.To.Sub(z.From)
	return boxShape(newBox(z.From.Add(z.To).Scale(0.5), 0, math.Abs(d.X.M()), math.Abs(d.Y.M())))
}

// LowSpot is where something hangs lower than the room's clear height.
type LowSpot struct {
	Name  string
	Area  Polygon
	Clear unit.Length
}

// Clearance is the room wanted around a piece for work and service.
type Clearance struct{ Front, Side, Back, Above unit.Length }

// Place is where a piece stands. At Turn 0 its length lies along x and its front
// looks down the sheet, to −y.
type Place struct {
	At   Point
	Turn unit.Angle
}

// Item is a piece of equipment as the plan sees it.
type Item struct {
	Tag     string // such as FV1; unique
	Product string // order code
	Name    string
	// Group keeps pieces together in the first layout, such as "brewhouse" or "cellar".
	Group string
	// Set names the delivered set a piece is part of, such as the platform of a
	// brewhouse: its parts stand side by side, since pipes join them. Empty alone.
	Set       string
	Length    unit.Length // along x at Turn 0; the diameter when Round
	Width     unit.Length
	Height    unit.Length // standing, with everything on top
	Round     bool
	Clearance Clearance
	Wall      bool // hangs on a wall or ceiling: asks nothing of the floor
	Outside   bool // stands outside the room: left out of plan and floor
	Drain     bool // wants a gully near
	Fixed     bool // may not be moved by a suggestion
	// Mass in work, by which the first layout puts the heavy pieces first.
	Mass unit.Mass
	// Place is nil until somebody or FirstLayout has placed it.
	Place *Place
}

// width is the depth from front to back: a round piece has one size only.
func (it *Item) width() float64 {
	if it.Round {
		return it.Length.M()
	}
	return it.Width.M()
}

// Footprint is the area of the smallest square or rectangle it stands in.
func (it *Item) Footprint() unit.Area {
	return unit.SquareMetres(it.Length.M() * it.width())
}

// Base is the area it covers: a circle for a round piece.
func (it *Item) Base() unit.Area {
	if it.Round {
		return unit.SquareMetres(math.Pi / 4 * square(it.Length.M()))
	}
	return it.Footprint()
}

func (it *Item) body(p Place) shape {
	if it.Round {
		return circle(p.At, it.Length.M()/2)
	}
	return boxShape(newBox(p.At, p.Turn, it.Length.M(), it.width()))
}

// Gap is the distance from the edge of a piece at a place to a gully or channel; zero
// or less where it stands on it.
func (it *Item) Gap(at Place, g Gully) unit.Length {
	s := it.Standing(at)
	return s.Gap(g)
}

// Standing is a piece at a place, made once for many questions.
type Standing struct{ body shape }

// Standing puts a piece at a place.
func (it *Item) Standing(at Place) Standing { return Standing{it.body(at)} }

// Gap is the distance from the edge of the piece to a gully or channel; zero or less
// where it stands on it.
func (s *Standing) Gap(g Gully) unit.Length {
	b := &s.body
	end := g.At
	if g.To != nil {
		end = *g.To
	}
	switch {
	case b.round:
		return unit.Length(math.Sqrt(segmentDistance2(b.c, g.At, end)) - b.r)
	case g.To == nil:
		return unit.Length(b.gapPoint(g.At))
	}
	best := min(b.gapPoint(g.At), b.gapPoint(end))
	corners := b.corners()
	for i, c := range corners {
		best = min(best, math.Sqrt(segmentDistance2(c, g.At, end)))
		if _, cuts := crossing(g.At, end, c, corners[(i+1)%4]); cuts {
			return 0
		}
	}
	return unit.Length(best)
}

// zone is the body with its service clearances.
func (it *Item) zone(p Place) shape {
	c := it.Clearance
	b := newBox(p.At, p.Turn, it.Length.M()+2*c.Side.M(), it.width()+c.Front.M()+c.Back.M())
	return boxShape(b.shift(0, (c.Back.M()-c.Front.M())/2))
}

// Outline is the body's corners in the room; a circle has 24.
func (it *Item) Outline(p Place) Polygon {
	if !it.Round {
		return it.body(p).polygon()
	}
	g := make(Polygon, 24)
	for i := range g {
		s, c := math.Sincos(2 * math.Pi * float64(i) / 24)
		g[i] = p.At.Add(P(c*it.Length.M()/2, s*it.Length.M()/2))
	}
	return g
}

// ServiceZone is the outline of the body with its clearances.
func (it *Item) ServiceZone(p Place) Polygon { return it.zone(p).polygon() }

// Front is the middle of the working place before the piece.
func (it *Item) Front(p Place) Point {
	depth := it.width()/2 + max(it.Clearance.Front.M()/2, 0.45)
	return p.At.Add(P(0, -depth).Turned(p.Turn))
}

func (c Column) shape() shape {
	if c.Round {
		return circle(c.At, c.A.M()/2)
	}
	return boxShape(newBox(c.At, c.Turn, c.A.M(), c.B.M()))
}

// body of a board: its back lies on At, it faces −y at Turn 0.
func (b Board) body() box {
	return newBox(b.At, b.Turn, b.Width.M(), b.Depth.M()).shift(0, -b.Depth.M()/2)
}

func (b Board) workplace() shape {
	w := max(b.Width.M(), 0.7)
	return boxShape(newBox(b.At, b.Turn, w, b.Before.M()).shift(0, -b.Depth.M()-b.Before.M()/2))
}

// sweep is what the leaf sweeps of the room, and whether it sweeps any.
func (r *Room) sweep(d Door) (sector, bool) {
	if !d.Inwards {
		return sector{}, false
	}
	leaf := d.Latch.Sub(d.Hinge)
	s := sector{c: d.Hinge, r: d.Width().M(), from: math.Atan2(float64(leaf.Y), float64(leaf.X)), wide: math.Pi / 2}
	if d.Swing > 0 {
		s.wide = d.Swing.Rad()
	}
	mid := s.from + min(s.wide, math.Pi/2)/2
	if !r.Outline.Contains(d.Hinge.Add(P(math.Cos(mid), math.Sin(mid)).Scale(unit.Ratio(0.3 * s.r)))) {
		s.wide = -s.wide
	}
	return s, true
}

// threshold is the way through the door: as wide as the leaf, 0.9 m into the room.
func (r *Room) threshold(d Door) shape {
	leaf := d.Latch.Sub(d.Hinge)
	turn := unit.Radians(math.Atan2(float64(leaf.Y), float64(leaf.X)))
	b := newBox(d.Middle(), turn, d.Width().M(), 0.9)
	in := b.shift(0, 0.45)
	if !r.Outline.Contains(in.c) {
		in = b.shift(0, -0.45)
	}
	return boxShape(in)
}

// ClearAt is the height free over a piece at a place; nil when the room's is unknown.
func (r *Room) ClearAt(it *Item, p Place) (height *unit.Length, under string) {
	height = r.Clear
	body := it.body(p)
	for i := range r.Low {
		low := &r.Low[i]
		if (height == nil || low.Clear < *height) && (low.Area.Contains(p.At) || float64(low.Area.Edge(p.At)) < body.r) {
			height, under = &low.Clear, low.Name
		}
	}
	return height, under
}
