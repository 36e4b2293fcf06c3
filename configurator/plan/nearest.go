package plan

import (
	"math"

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
