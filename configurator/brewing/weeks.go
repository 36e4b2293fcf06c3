package brewing

import (
	"fmt"
	"slices"
	"sort"

	"tunwright/catalog/unit"
)

// weeks sums the schedule by week and finds the busiest.
func (s *settled) weeks(r *Result) {
	open := openWeeks(s.Year.Weeks, s.Year.PeakWeek)
	r.Weeks = make([]Week, 52)
	for i := range r.Weeks {
		r.Weeks[i].Number, r.Weeks[i].Closed = i+1, !open[i]
	}
	for i := range r.Batches {
		b := &r.Batches[i]
		if b.Fermenter < 0 {
			continue
		}
		p := &r.Beers[b.Beer]
		for _, d := range b.Brews {
			r.Weeks[min(d/7, 51)].addBrew(p, r.BrewLength)
		}
		w := &r.Weeks[min(b.BrightEnd/7, 51)]
		w.Packaged += p.Charge.Packaged
		addGas(r.Weeks, b, &p.Charge)
	}
	s.occupancy(r)
	for i, w := range r.Weeks {
		if busier(w, r.Weeks[r.Busiest]) {
			r.Busiest = i
		}
	}
	for i, w := range r.Weeks {
		if w.Brews == r.Weeks[r.Busiest].Brews {
			r.PeakWeeks = append(r.PeakWeeks, i)
		}
	}
}

func (w *Week) addBrew(p *BeerPlan, length unit.Volume) {
	w.Brews++
	w.Wort += length
	w.Malt += p.Brew.Malt
	w.Grain += p.Brew.WetGrain
	w.Hops += p.Brew.Hops
	w.Yeast += p.Brew.Yeast
	w.Bags += p.Brew.Bags
	w.Water += p.Brew.HotLiquor
	w.Energy += p.Brew.Energy
}

// addGas gives each week its part of the CO2 by the curve of fermentation.
func addGas(weeks []Week, b *Batch, c *Charge) {
	before := unit.Mass(0)
	for _, q := range c.Curve {
		weeks[min((b.Start+q.Day-1)/7, 51)].CO2 += q.Given - before
		before = q.Given
	}
}

// busier puts more brews first, then more tanks taken.
func busier(a, b Week) bool {
	if a.Brews != b.Brews {
		return a.Brews > b.Brews
	}
	return a.Fermenters+a.Brights > b.Fermenters+b.Brights
}

// occupancy counts the most tanks taken and cooling down on a day of each week.
func (s *settled) occupancy(r *Result) {
	var fv, bt, crash [yearDays + 1]int
	count := func(days *[yearDays + 1]int, from, to int) {
		days[min(from, yearDays)]++
		days[min(to, yearDays)]--
	}
	crashDays := max(roundUp(s.Practice.CrashTime.D()), 1)
	for i := range r.Batches {
		b := &r.Batches[i]
		if b.Fermenter < 0 {
			continue
		}
		count(&fv, b.Start, b.Free)
		count(&crash, b.CrashStart, b.CrashStart+crashDays)
		for range b.Brights {
			count(&bt, b.Rack, b.BrightEnd)
		}
	}
	f, t, c := 0, 0, 0
	for d := range yearDays {
		f, t, c = f+fv[d], t+bt[d], c+crash[d]
		w := &r.Weeks[d/7]
		w.Fermenters, w.Brights, w.Crashing = max(w.Fermenters, f), max(w.Brights, t), max(w.Crashing, c)
	}
}

// bottleneck ranks what is fullest in the peak.
func (s *settled) bottleneck(r *Result) Bottleneck {
	limits := []Limit{{Name: "brew days", Full: unit.Fraction(r.Totals.BrewsPeak.N() / s.Year.BrewsPerWeek.Value())}}
	limits = append(limits, s.tankLimits(r)...)
	sort.SliceStable(limits, func(i, j int) bool { return limits[i].Full > limits[j].Full })
	b := Bottleneck{Name: limits[0].Name, Full: limits[0].Full, Ranked: limits}
	b.Words = b.Name + " fill first: " + unit.Fixed(b.Full, 0) + " taken in the peak"
	return b
}

// tankLimits gives for every class how much of its tank-days the peak takes. Tanks
// that several classes can use are counted to the class whose batches they fit best.
func (s *settled) tankLimits(r *Result) []Limit {
	var out []Limit
	for _, c := range r.Classes {
		n := tanksFor(r, c)
		if n == 0 {
			continue
		}
		name := "fermenters " + c.Name
		if c.Bright {
			name = "bright tanks " + c.Name
		}
		out = append(out, Limit{Name: name, Full: unit.Fraction(float64(c.TankDays) * s.Year.PeakFactor.Value() / (s.Year.TankDays.D() * n))})
	}
	return out
}

// tanksFor counts the tanks of a class: those on which its batches lie, shared by
// the days that they take there, and idle ones of its size.
func tanksFor(r *Result, c TankClass) float64 {
	tanks := r.Fermenters
	if c.Bright {
		tanks = r.Brights
	}
	n := 0.0
	for _, t := range tanks {
		mine, all := 0, 0
		for _, sp := range t.Spans {
			p := &r.Beers[r.Batches[sp.Batch].Beer]
			days := sp.End - sp.Start
			all += days
			if p.Class == c.Name && !c.Bright || p.BrightClass == c.Name && c.Bright {
				mine += days
			}
		}
		switch {
		case all > 0:
			n += float64(mine) / float64(all)
		case spareFor(r, t.Tank, c.Bright) == c.Name:
			n++
		}
	}
	return n
}

// spareFor names the class that an idle tank can serve: the largest that it holds.
func spareFor(r *Result, t Tank, bright bool) string {
	name, most := "", unit.Volume(0)
	for _, c := range r.Classes {
		if c.Bright == bright && c.Dedicated == t.Class && fits(t.Gross.L(), c.Gross.L()) && c.Gross > most {
			name, most = c.Name, c.Gross
		}
	}
	return name
}

// growth works out what a larger year needs, by the average formula on this mix.
func (s *settled) growth(r *Result) []Growth {
	steps := []float64{0.10, 0.25, 0.50}
	if asked := s.askedGrowth(); !slices.Contains(steps, asked) {
		steps = append(steps, asked)
		slices.Sort(steps)
	}
	out := make([]Growth, 0, len(steps))
	for _, by := range steps {
		out = append(out, s.grow(r, by))
	}
	return out
}

// askedGrowth is the growth the client wants room for.
func (s *settled) askedGrowth() float64 {
	if s.Year.Growth > 0 {
		return s.Year.Growth.Value()
	}
	return 0.10
}

func (s *settled) grow(r *Result, by float64) Growth {
	g := Growth{By: unit.Fraction(by), Fits: true, Classes: make([]GrowthClass, len(r.Classes))}
	for i, c := range r.Classes {
		g.Classes[i] = GrowthClass{Name: c.Name, Now: s.classTanks(r, c)}
	}
	days := make([]int, len(r.Classes))
	for i := range r.Beers {
		p, b := &r.Beers[i], s.beers[i]
		b.Yearly = unit.Volume(1+by) * b.Yearly
		n := batches(&b, p.BrewsPerTank, r.BrewLength)
		g.Brews += n * p.BrewsPerTank
		g.Packaged += unit.Volume(float64(n)/float64(max(p.Batches, 1))) * p.Packaged
		for k, c := range r.Classes {
			switch {
			case !c.Bright && c.Name == p.Class:
				days[k] += n * p.Days.InTank()
			case c.Bright && c.Name == p.BrightClass:
				days[k] += n * p.Days.Bright
			}
		}
	}
	g.BrewsPeak = unit.PureNumber(float64(g.Brews) / float64(s.Year.Weeks) * s.Year.PeakFactor.Value())
	short := ""
	if g.BrewsPeak.N() > s.Year.BrewsPerWeek.Value() {
		g.Fits = false
		short = fmt.Sprintf("%s brews in the peak week where %s are allowed", unit.Digits(g.BrewsPeak.N(), 3), unit.Digits(s.Year.BrewsPerWeek.Value(), 3))
	}
	for k := range g.Classes {
		c := &g.Classes[k]
		c.Needs = roundUp(float64(days[k]) * s.Year.PeakFactor.Value() / (s.Year.TankDays.D() * s.Year.FillLimit.Value()))
		if c.Needs > c.Now {
			g.Fits = false
			short = joinWords(short, fmt.Sprintf("%d more of %s", c.Needs-c.Now, c.Name))
		}
	}
	g.Words = "fits as it is"
	if !g.Fits {
		g.Words = "needs " + short
	}
	return g
}

func joinWords(a, b string) string {
	if a == "" {
		return b
	}
	return a + ", " + b
}

// classTanks is the whole number of tanks a class has.
func (s *settled) classTanks(r *Result, c TankClass) int {
	if r.ProposedTanks {
		return c.Needed
	}
	return int(tanksFor(r, c) + 0.5)
}
