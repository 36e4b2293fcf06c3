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
	days, need := 0.0, 0.0
	for i := range s.beers {
		b := &s.beers[i]
		if b.class == class {
			n := max(b.BrewsPerTank, 1)
			days += float64(batches(b, n, length) * b.days.InTank())
			need = math.Max(need, float64(n)*length.L()/(1-b.least))
		}
	}
	count := roundUp(days * s.Year.PeakFactor.Value() / (s.Year.TankDays.D() * s.Year.FillLimit.Value()))
	for range count {
		at := s.smallestCommon(need, length)
		if at < 0 || (s.common() == 1 && s.shared()) {
			return
		}
		s.Fermenters[at].Class = class
		if s.notes {
			s.assumptions = append(s.assumptions, Assumption{Field: "Fermenters.Class", Words: s.Fermenters[at].Tag + " is kept for " + class + " beers", Quantity: s.Fermenters[at].Gross})
		}
	}
}

// smallestCommon finds the smallest common tank that takes a gross volume and is not
// too large for one brew.
func (s *settled) smallestCommon(need float64, length unit.Volume) int {
	at := -1
	for i, t := range s.Fermenters {
		if t.Class == "" && fits(t.Gross.L(), need) && s.fullEnough(length.L(), t) && (at < 0 || t.Gross < s.Fermenters[at].Gross) {
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
