package plan

import (
	"math"
	"slices"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

// ADB is the English guidance on means of escape.
var ADB = source.Doc{ID: "Approved Document B, volume 2", Title: "Fire safety: buildings other than dwellings", Edition: "England"}

// EscapeWidth is the least clear width of a way out for a number of persons: 750 mm
// up to 60, 850 mm up to 110, 1050 mm up to 220, and 5 mm a person beyond.
//
// Source: Approved Document B volume 2, table 2.3.
func EscapeWidth(persons int) (unit.Length, error) {
	if err := unit.InRange("persons", float64(persons), 0, 20000); err != nil {
		return 0, err
	}
	switch {
	case persons <= 60:
		return unit.Millimetres(750), nil
	case persons <= 110:
		return unit.Millimetres(850), nil
	case persons <= 220:
		return unit.Millimetres(1050), nil
	}
	return unit.Millimetres(5 * float64(persons)), nil
}

// Escape is what the search for ways out found.
type Escape struct {
	Width unit.Length // asked
	Exits int
	// CutOff names the pieces from whose front no way of that width leads to an exit.
	CutOff []string
	// Blocked names the exits that cannot be reached from any piece.
	Blocked []string
}

// step is the raster of the search for ways out.
const step = 0.1

// EscapeRoutes walks the floor on a 0.1 m raster, keeping half the asked width off
// every wall, column and piece, from the exits to each piece's front. The last 0.5 m
// at a piece and the door's own width are let out: there the width is that of the
// door or of the working place. The raster takes 0.05 m generously.
func EscapeRoutes(r *Room, items []Item, width unit.Length) Escape {
	out := Escape{Width: width}
	g := newRaster(r, items, width.M()/2-step/2)
	for i := range r.Doors {
		d := &r.Doors[i]
		if !d.Exit {
			continue
		}
		out.Exits++
		start := g.from(r, *d, width.M())
		if start < 0 {
			out.Blocked = append(out.Blocked, d.Name)
			continue
		}
		g.flood(start)
	}
	if out.Exits == 0 {
		return out
	}
	for i := range items {
		if it := &items[i]; standing(it) && !g.reaches(it) {
			out.CutOff = append(out.CutOff, it.Tag)
		}
	}
	return out
}

// raster is the floor in cells, with a blocked rim so that a walk needs no bounds.
type raster struct {
	x0, y0 float64 // centre of the first inner cell
	nx, ny int     // with the rim
	cell   []byte
	stack  []int32
}

const (
	blocked byte = iota
	free
	walked
)

func newRaster(r *Room, items []Item, keep float64) *raster {
	lo, hi := r.Outline.Bounds()
	g := &raster{x0: float64(lo.X) + step/2, y0: float64(lo.Y) + step/2}
	g.nx = int(math.Ceil(float64(hi.X-lo.X)/step)) + 2
	g.ny = int(math.Ceil(float64(hi.Y-lo.Y)/step)) + 2
	g.cell = make([]byte, g.nx*g.ny)
	g.fillInside(r.Outline)
	for i, a := range r.Outline {
		g.blockSegment(a, r.Outline[(i+1)%len(r.Outline)], keep)
	}
	for i := range r.Columns {
		g.block(r.Columns[i].shape(), keep)
	}
	for i := range r.Boards {
		g.block(boxShape(r.Boards[i].body()), keep)
	}
	for i := range items {
		if standing(&items[i]) {
			g.block(items[i].body(*items[i].Place), keep)
		}
	}
	return g
}

// fillInside frees the cells within the outline row by row.
func (g *raster) fillInside(outline Polygon) {
	var xs []float64
	for j := 1; j < g.ny-1; j++ {
		y := g.y0 + float64(j-1)*step
		xs = xs[:0]
		for i, a := range outline {
			b := outline[(i+1)%len(outline)]
			if (float64(a.Y) > y) != (float64(b.Y) > y) {
				xs = append(xs, float64(a.X)+float64(b.X-a.X)*(y-float64(a.Y))/float64(b.Y-a.Y))
			}
		}
		slices.Sort(xs)
		for k := 0; k+1 < len(xs); k += 2 {
			row := g.span(j, xs[k], xs[k+1])
			for i := range row {
				row[i] = free
			}
		}
	}
}

// span is the cells of a row whose centres lie between two abscissae.
func (g *raster) span(j int, from, to float64) []byte {
	i0 := max(1, int(math.Ceil((from-g.x0)/step))+1)
	i1 := min(g.nx-2, int(math.Floor((to-g.x0)/step))+1)
	if i1 < i0 {
		return nil
	}
	return g.cell[j*g.nx+i0 : j*g.nx+i1+1]
}

// rows are the rows whose centres lie between two ordinates.
func (g *raster) rows(from, to float64) (j0, j1 int) {
	return max(1, int(math.Ceil((from-g.y0)/step))+1), min(g.ny-2, int(math.Floor((to-g.y0)/step))+1)
}

func (g *raster) y(j int) float64 { return g.y0 + float64(j-1)*step }

func (g *raster) blockSegment(a, b Point, keep float64) {
	lo, hi := Point{min(a.X, b.X), min(a.Y, b.Y)}, Point{max(a.X, b.X), max(a.Y, b.Y)}
	j0, j1 := g.rows(float64(lo.Y)-keep, float64(hi.Y)+keep)
	for j := j0; j <= j1; j++ {
		row := g.span(j, float64(lo.X)-keep, float64(hi.X)+keep)
		if a.X == b.X || a.Y == b.Y {
			clear(row)
			continue
		}
		first := g.x0 + math.Ceil((max(float64(lo.X)-keep, g.x0)-g.x0)/step)*step
		for i := range row {
			if segmentDistance2(P(first+float64(i)*step, g.y(j)), a, b) < keep*keep {
				row[i] = blocked
			}
		}
	}
}

func (g *raster) block(s shape, keep float64) {
	x, y := s.c.xy()
	switch {
	case s.round:
		r := s.r + keep
		j0, j1 := g.rows(y-r, y+r)
		for j := j0; j <= j1; j++ {
			half := math.Sqrt(max(0, r*r-square(g.y(j)-y)))
			clear(g.span(j, x-half, x+half))
		}
	case math.Abs(s.ux*s.uy) < 1e-9: // square to the raster
		w, h := s.ha+keep, s.hb+keep
		if math.Abs(s.ux) < 0.5 {
			w, h = s.hb+keep, s.ha+keep
		}
		j0, j1 := g.rows(y-h, y+h)
		for j := j0; j <= j1; j++ {
			clear(g.span(j, x-w, x+w))
		}
	default:
		c := s.corners()
		for i := range c {
			g.blockSegment(c[i], c[(i+1)%4], keep)
		}
		g.block(circle(s.c, min(s.ha, s.hb)), 0)
	}
}

// from is a free cell before a door, at most the way's width into the room.
func (g *raster) from(r *Room, d Door, width float64) int {
	in := r.threshold(d).c.Sub(d.Middle())
	l := math.Sqrt(dot(in, in))
	for t := width / 2; t <= width+0.3; t += step / 2 {
		p := d.Middle().Add(in.Scale(unit.Ratio(t / l)))
		i, j := int(math.Round((float64(p.X)-g.x0)/step))+1, int(math.Round((float64(p.Y)-g.y0)/step))+1
		if i > 0 && j > 0 && i < g.nx-1 && j < g.ny-1 && g.cell[j*g.nx+i] != blocked {
			return j*g.nx + i
		}
	}
	return -1
}

// flood walks from a cell, a run of cells at a time.
func (g *raster) flood(start int) {
	g.stack = append(g.stack[:0], int32(start))
	for len(g.stack) > 0 {
		k := int(g.stack[len(g.stack)-1])
		g.stack = g.stack[:len(g.stack)-1]
		if g.cell[k] != free {
			continue
		}
		for g.cell[k-1] == free {
			k--
		}
		up, down := false, false
		for ; g.cell[k] == free; k++ {
			g.cell[k] = walked
			if open := g.cell[k-g.nx] == free; open != up {
				if up = open; open {
					g.stack = append(g.stack, int32(k-g.nx))
				}
			}
			if open := g.cell[k+g.nx] == free; open != down {
				if down = open; open {
					g.stack = append(g.stack, int32(k+g.nx))
				}
			}
		}
	}
}

// reaches tells whether the working place of a piece can be walked to: its front, or
// any side where no front is asked.
func (g *raster) reaches(it *Item) bool {
	if it.Clearance.Front > 0 {
		return g.reached(it.Front(*it.Place))
	}
	for q := range 4 {
		p := *it.Place
		p.Turn += unit.Degrees(90 * float64(q))
		side := it.Front(p)
		if !it.Round && q%2 == 1 { // the ends lie half a length away
			side = p.At.Add(P(0, -it.Length.M()/2-0.45).Turned(p.Turn))
		}
		if g.reached(side) {
			return true
		}
	}
	return false
}

// reached tells whether a walked cell lies within 0.5 m of the point.
func (g *raster) reached(p Point) bool {
	x, y := p.xy()
	j0, j1 := g.rows(y-0.5, y+0.5)
	for j := j0; j <= j1; j++ {
		half := math.Sqrt(max(0, 0.25-square(g.y(j)-y)))
		if slices.Contains(g.span(j, x-half, x+half), walked) {
			return true
		}
	}
	return false
}
