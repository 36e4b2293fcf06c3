package plan

import (
	"cmp"
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// Nearest finds the place nearest to a piece's own, in rings of 0.25 m up to 3 m and
// sixteen directions, at which it keeps every clearance while the others stay.
func Nearest(r *Room, items []Item, which int) (Place, bool) {
	if items[which].Place == nil {
		return Place{}, false
	}
	s := newScene(r, items)
	from := *items[which].Place
	for ring := 1; ring <= 12; ring++ {
		for k := range 16 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 16)
			at := P(float64(from.At.X)+cos*0.25*float64(ring), float64(from.At.Y)+sin*0.25*float64(ring))
			to := Place{At: Point{unit.Metres(math.Round(at.X.M()*100) / 100), unit.Metres(math.Round(at.Y.M()*100) / 100)}, Turn: from.Turn}
			if s.fits(which, to) {
				return to, true
			}
		}
	}
	return Place{}, false
}

// Free finds a place for a piece that has none: the cheapest along the walls, else the
// cheapest free in the room on a 0.6 m raster, as the first layout would.
func Free(r *Room, items []Item, which int) (Place, bool) {
	if len(r.Outline) < 3 {
		return Place{}, false
	}
	l := newLayout(r, items, nil)
	spots := l.alongWalls(which, nil)
	if len(spots) == 0 {
		spots = l.free(which, 0.6, nil)
	}
	if len(spots) == 0 {
		return Place{}, false
	}
	best := slices.MinFunc(spots, func(a, b spot) int { return cmp.Compare(a.cost, b.cost) })
	return best.at, true
}
