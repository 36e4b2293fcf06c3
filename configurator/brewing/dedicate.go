package brewing

import (
	"math"
	"slices"

	"tunwright/catalog/unit"
)

// dedicate keeps tanks for beers of a class that no chosen tank belongs to, such as
// mixed-ferment sours: the smallest that take them, as many as the average asks for,
// and never the last tank of the others.
func (s *settled) dedicate(length unit.Volume) {
	if len(s.Fermenters) == 0 {
		return
	}
	copied := false
	for i := range s.beers {
		class := s.beers[i].class
		if class == "" || slices.ContainsFunc(s.Fermenters, func(t Tank) bool { return t.Class == class }) {
			continue
		}
		if !copied {
			s.Fermenters, copied = slices.Clone(s.Fermenters), true
		}
		s.keepTanks(class, length)
	}
}

func (s *settled) keepTanks(class string, length unit.Volume) {
	w := s.wanted(class, length, s.freeBrews)
	if s.smallestCommon(w) < 0 {
		w = s.wanted(class, length, func(b *settledBeer, _ unit.Volume) int { return max(b.BrewsPerTank, 1) })
	}
	for range w.count {
		at := s.smallestCommon(w)
		if at < 0 || (s.common() == 1 && s.shared()) {
			return
		}
		s.Fermenters[at].Class = class
		if s.notes {
			s.assumptions = append(s.assumptions, Assumption{Field: "Fermenters.Class", Words: s.Fermenters[at].Tag + " is kept for " + class + " beers", Quantity: s.Fermenters[at].Gross})
		}
	}
}

// wanted is what a class asks of its tanks, in litres.
type wanted struct {
	count       int
	fill, gross float64 // smallest and largest batch, the latter with its headspace
}

func (s *settled) wanted(class string, length unit.Volume, brews func(*settledBeer, unit.Volume) int) wanted {
	w, days := wanted{fill: math.Inf(1)}, 0.0
	for i := range s.beers {
		b := &s.beers[i]
		if b.class != class {
			continue
		}
		n := brews(b, length)
		days += float64(batches(b, n, length) * b.days.InTank())
		w.fill = min(w.fill, float64(n)*length.L())
		w.gross = max(w.gross, float64(n)*length.L()/(1-b.least))
	}
	w.count = roundUp(days * s.Year.PeakFactor.Value() / (s.Year.TankDays.D() * s.Year.FillLimit.Value()))
	return w
}

// smallestCommon finds the smallest common tank that takes the batches and is not too
// large for them.
func (s *settled) smallestCommon(w wanted) int {
	at := -1
	for i, t := range s.Fermenters {
		if t.Class == "" && fits(t.Gross.L(), w.gross) && s.fullEnough(w.fill, t) && (at < 0 || t.Gross < s.Fermenters[at].Gross) {
			at = i
		}
	}
	return at
}

// common counts the tanks that belong to no class; shared tells whether a beer needs one.
func (s *settled) common() int {
	n := 0
	for _, t := range s.Fermenters {
		if t.Class == "" {
			n++
		}
	}
	return n
}

func (s *settled) shared() bool {
	return slices.ContainsFunc(s.beers, func(b settledBeer) bool { return b.class == "" })
}
