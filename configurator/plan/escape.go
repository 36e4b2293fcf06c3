package plan

import (
	"math"

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
// every wall, column and piece, from each piece's front to the exits. The last 0.5 m
// at a piece and the door's own width are let out: there the width is that of the
// door or of the working place. Diagonal corners are taken 0.05 m generously.
func EscapeRoutes(r *Room, items []Item, width unit.Length) Escape {
	out := Escape{Width: width}
	g := newRaster(r, items, width.M()/2-step/2)
	seen := make([]bool, len(g.free))
	for _, d := range r.Doors {
		if !d.Exit {
			continue
		}
		out.Exits++
		start := g.from(r, d, width.M())
		if start < 0 {
			out.Blocked = append(out.Blocked, d.Name)
			continue
		}
		g.flood(start, seen)
	}
	if out.Exits == 0 {
		return out
	}
	for i := range items {
		if it := &items[i]; standing(it) && !g.reached(it.Front(*it.Place), seen) {
			out.CutOff = append(out.CutOff, it.Tag)
		}
	}
	return out
}

type raster struct {
	x0, y0 float64
	nx, ny int
	free   []bool
	queue  []int32
}

func newRaster(r *Room, items []Item, keep float64) *raster {
	lo, hi := r.Outline.Bounds()
	g := &raster{x0: float64(lo.X) + step/2, y0: float64(lo.Y) + step/2}
	g.nx = int(math.Ceil(float64(hi.X-lo.X) / step))
	g.ny = int(math.Ceil(float64(hi.Y-lo.Y) / step))
	g.free = make([]bool, g.nx*g.ny)
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

// fillInside marks the cells within the outline row by row.
func (g *raster) fillInside(outline Polygon) {
	var xs []float64
	for j := range g.ny {
		y := g.y0 + float64(j)*step
		xs = xs[:0]
		for i, a := range outline {
			b := outline[(i+1)%len(outline)]
			if (float64(a.Y) > y) != (float64(b.Y) > y) {
				xs = append(xs, float64(a.X)+float64(b.X-a.X)*(y-float64(a.Y))/float64(b.Y-a.Y))
			}
		}
		for k := range xs { // insertion sort: a handful of crossings
			for m := k; m > 0 && xs[m] < xs[m-1]; m-- {
				xs[m], xs[m-1] = xs[m-1], xs[m]
			}
		}
		for k := 0; k+1 < len(xs); k += 2 {
			for i := g.col(xs[k]); i < g.nx && g.x0+float64(i)*step <= xs[k+1]; i++ {
				g.free[j*g.nx+i] = true
			}
		}
	}
}

func (g *raster) col(x float64) int { return max(0, int(math.Ceil((x-g.x0)/step))) }

func (g *raster) window(lo, hi Point, keep float64) (i0, i1, j0, j1 int) {
	i0 = max(0, int(math.Ceil((float64(lo.X)-keep-g.x0)/step)))
	j0 = max(0, int(math.Ceil((float64(lo.Y)-keep-g.y0)/step)))
	i1 = min(g.nx-1, int(math.Floor((float64(hi.X)+keep-g.x0)/step)))
	j1 = min(g.ny-1, int(math.Floor((float64(hi.Y)+keep-g.y0)/step)))
	return
}

func (g *raster) blockSegment(a, b Point, keep float64) {
	lo, hi := Point{min(a.X, b.X), min(a.Y, b.Y)}, Point{max(a.X, b.X), max(a.Y, b.Y)}
	i0, i1, j0, j1 := g.window(lo, hi, keep)
	upright := a.X == b.X || a.Y == b.Y
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			if k := j*g.nx + i; g.free[k] && (upright || segmentDistance2(g.at(i, j), a, b) < keep*keep) {
				g.free[k] = false
			}
		}
	}
}

func (g *raster) block(s shape, keep float64) {
	far := P(s.r, s.r)
	i0, i1, j0, j1 := g.window(s.c.Sub(far), s.c.Add(far), keep)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			k := j*g.nx + i
			if !g.free[k] {
				continue
			}
			p := g.at(i, j)
			if s.round {
				if d := p.Sub(s.c); dot(d, d) < square(s.r+keep) {
					g.free[k] = false
				}
			} else if s.gapPoint(p) < keep {
				g.free[k] = false
			}
		}
	}
}

func (g *raster) at(i, j int) Point { return P(g.x0+float64(i)*step, g.y0+float64(j)*step) }

// from is a free cell before a door, at most the way's width into the room.
func (g *raster) from(r *Room, d Door, width float64) int {
	way := r.threshold(d)
	in := way.c.Sub(d.Middle())
	l := math.Sqrt(dot(in, in))
	for t := width / 2; t <= width+0.3; t += step / 2 {
		p := d.Middle().Add(in.Scale(t / l))
		if k, ok := g.cell(p); ok && g.free[k] {
			return k
		}
	}
	return -1
}

func (g *raster) cell(p Point) (int, bool) {
	i, j := int(math.Round((float64(p.X)-g.x0)/step)), int(math.Round((float64(p.Y)-g.y0)/step))
	if i < 0 || j < 0 || i >= g.nx || j >= g.ny {
		return 0, false
	}
	return j*g.nx + i, true
}

func (g *raster) flood(start int, seen []bool) {
	if seen[start] {
		return
	}
	seen[start] = true
	g.queue = append(g.queue[:0], int32(start))
	for len(g.queue) > 0 {
		k := int(g.queue[len(g.queue)-1])
		g.queue = g.queue[:len(g.queue)-1]
		i := k % g.nx
		for _, n := range [4]int{k - 1, k + 1, k - g.nx, k + g.nx} {
			if n < 0 || n >= len(g.free) || (n == k-1 && i == 0) || (n == k+1 && i == g.nx-1) {
				continue
			}
			if g.free[n] && !seen[n] {
				seen[n] = true
				g.queue = append(g.queue, int32(n))
			}
		}
	}
}

// reached tells whether a walked cell lies within 0.5 m of the point.
func (g *raster) reached(p Point, seen []bool) bool {
	i0, i1, j0, j1 := g.window(p, p, 0.5)
	for j := j0; j <= j1; j++ {
		for i := i0; i <= i1; i++ {
			if seen[j*g.nx+i] && dot(g.at(i, j).Sub(p), g.at(i, j).Sub(p)) <= 0.25 {
				return true
			}
		}
	}
	return false
}
