package brewing

import (
	"fmt"
	"math"

	"tunwright/catalog/unit"
)

// Size plans the year. It returns an error only for an input that cannot be, such
// as a beer without a volume; what does not fit is for Rules to say.
func Size(in Input) (Result, error) {
	r, s, err := plan(in, printed)
	if err != nil {
		return Result{}, fmt.Errorf("brewing: %w", err)
	}
	s.materials(&r)
	s.waste(&r)
	r.Vessels = s.vesselRows(&r)
	r.DayEffects = s.dayEffects(&r)
	r.Trace = s.working(&r)
	r.Assumptions = s.assumptions
	return r, nil
}

// depth is how far a plan is worked out: remedies go as far as their rule looks.
type depth int

const (
	sheets  depth = iota // brews, charges and vessels
	dated                // and the schedule of the year
	whole                // and what follows from it
	printed              // and what papers say of it
)

// plan is the part of Size that rules look at, so that remedies can run it again.
func plan(in Input, to depth) (Result, *settled, error) {
	s, err := settle(in, to == printed)
	if err != nil {
		return Result{}, nil, err
	}
	r := Result{first: in.Year.First, BrewLength: s.Brewhouse.BrewLength, Settled: s.Input}
	if r.BrewLength == 0 {
		r.ProposedLength = true
		r.BrewLength, r.Trials, _ = s.chooseLength()
	} else {
		r.Trials = []LengthTrial{s.tryLength(r.BrewLength)}
	}
	s.dedicate(r.BrewLength)
	r.Settled.Fermenters = s.Fermenters
	if err := s.beerPlans(&r); err != nil {
		return Result{}, nil, err
	}
	r.Classes = s.classes(r.Beers, r.BrewLength)
	r.BrewDays = s.brewDays(&r)
	if to == sheets {
		r.Fermenters, r.Brights = tankPlans(s.Fermenters, false), tankPlans(s.Brights, true)
		s.totals(&r)
		return r, &s, nil
	}
	reqs := s.layOut(&r, to >= whole)
	if to == dated {
		return r, &s, nil
	}
	s.totals(&r)
	s.weeks(&r)
	s.overlaps(&r, reqs)
	r.Growth = s.growth(&r)
	r.Bottleneck = s.bottleneck(&r)
	r.Handling = s.handling(&r)
	r.Duty = s.duty(&r)
	return r, &s, nil
}

func (s *settled) beerPlans(r *Result) error {
	brews := s.chooseBrews(r.BrewLength)
	r.Beers = make([]BeerPlan, len(s.beers))
	for i := range s.beers {
		p, err := s.beerPlan(&s.beers[i], brews[i], r.BrewLength)
		if err != nil {
			return fmt.Errorf("beer %d (%s): %w", i+1, s.beers[i].Name, err)
		}
		r.Beers[i] = p
	}
	return nil
}

func (s *settled) beerPlan(b *settledBeer, n int, length unit.Volume) (BeerPlan, error) {
	count := batches(b, n, length)
	p := BeerPlan{
		Beer: b.Beer, Label: b.kind.Label, Pitch: b.pitch, Ferment: b.ferment, Cold: b.cold, Dedicated: b.class, Days: b.days, KettleDays: b.kettleDays, BrewsPerTank: n, Batches: count, Brews: count * n,
		Packaged: unit.Litres(float64(count*n) * length.L() * b.yield), Headspace: unit.Fraction(b.headspace), LeastSpace: unit.Fraction(b.least),
		TankGross:   unit.Litres(float64(n) * length.L() / (1 - b.headspace)),
		BrightGross: unit.Litres(float64(n) * length.L() * (1 - b.loss) / (1 - s.Practice.BrightSpace.Value())),
	}
	var err error
	if p.Brew, err = s.brewSheet(b, length); err != nil {
		return p, err
	}
	if p.Charge, err = s.charge(b, n, length); err != nil {
		return p, err
	}
	p.LeastBrew = s.leastBrew(&p, length)
	p.PureAlcohol = unit.Litres(p.Packaged.L() * p.Charge.Attenuation.ABV.Pct() / 100)
	if b.Package == "tank" && b.BrightDays == nil {
		// A serving tank is taken until its beer is drunk.
		p.Days.Bright = servingDays(count)
	}
	// An exchanger that cannot reach its temperatures leaves the sheet empty: a rule says so.
	p.Winter = s.knockoutOn(b, &p.Brew, length, s.Water.Winter)
	p.Summer = s.knockoutOn(b, &p.Brew, length, s.Water.Summer)
	return p, nil
}

// leastBrew is the shortest brew of a beer: its grain bed is the least that filters
// and its wort at cast-out just covers the heater.
func (s *settled) leastBrew(p *BeerPlan, length unit.Volume) unit.Volume {
	share := or(s.Brewhouse.MinBed, s.Practice.MinBed).M() / p.Brew.Bed.M()
	if s.Brewhouse.KettleLeast != nil {
		share = math.Max(share, s.Brewhouse.KettleLeast.L()/p.Brew.HotCast.L())
	}
	return unit.Volume(share) * length
}

// servingDays is how long a batch is on sale when a year's batches follow each other,
// with a day to clean the tank.
func servingDays(batches int) int { return roundUp(365/float64(max(batches, 1))) + 1 }

func (s *settled) knockoutOn(b *settledBeer, sh *BrewSheet, length unit.Volume, mains *unit.Temperature) *Knockout {
	if mains == nil {
		return nil
	}
	k, err := s.knockout(b, sh, length, *mains)
	if err != nil {
		return &Knockout{Mains: *mains, Coolant: *mains}
	}
	return k
}

// layOut dates every batch. Where the tanks are Size's own choice it adds one of
// the class whose batches are late until none is.
func (s *settled) layOut(r *Result, bars bool) []request {
	open := openWeeks(s.Year.Weeks, s.Year.PeakWeek)
	cum := demand(open, s.Year.PeakWeek, s.Year.PeakFactor.Value())
	reqs := requests(r.Beers, &cum)
	r.ProposedTanks = s.Fermenters == nil && s.Brights == nil
	for i := range r.Classes {
		r.Classes[i].Needed = r.Classes[i].Tanks
	}
	for range 40 {
		fv, bt := s.Fermenters, s.Brights
		if r.ProposedTanks {
			fv, bt = s.proposeTanks(r.Classes)
		}
		for _, limit := range s.weekLimits(r) {
			c := s.newSchedule(r.Beers, fv, bt, len(reqs))
			c.limit = limit
			c.run(reqs, &open)
			s.record(r, c)
			if len(r.Late)+len(r.Unplaced) == 0 {
				break
			}
		}
		if !r.ProposedTanks || !s.addTank(r) {
			break
		}
	}
	if bars {
		s.layBars(r)
	}
	return reqs
}

// weekLimits gives the brews in a week to try: first as few as the mean of the peak
// needs, so that the weeks are even, then what the client allows.
func (s *settled) weekLimits(r *Result) []float64 {
	most := s.Year.BrewsPerWeek.Value()
	brews := 0
	for i := range r.Beers {
		brews += r.Beers[i].Brews
	}
	even := float64(roundUp(float64(brews)/float64(s.Year.Weeks)*s.Year.PeakFactor.Value())) + 0.5
	if even < most {
		return []float64{even, most}
	}
	return []float64{most}
}

// addTank enlarges the class whose batches wait most for a tank among those that are
// late; it tells whether that can help.
func (s *settled) addTank(r *Result) bool {
	if len(r.Late)+len(r.Unplaced) == 0 {
		return false
	}
	waits := make([]int, len(r.Classes))
	for _, list := range [...][]int{r.Late, r.Unplaced} {
		for _, i := range list {
			b := &r.Batches[i]
			addWait(r, waits, r.Beers[b.Beer].Class, b.TankWait)
		}
	}
	for i := range r.Batches {
		b := &r.Batches[i]
		addWait(r, waits, r.Beers[b.Beer].BrightClass, max(0, b.BrightWait-leadDays))
	}
	at := 0
	for i, w := range waits {
		if w > waits[at] {
			at = i
		}
	}
	if waits[at] == 0 {
		return false
	}
	r.Classes[at].Needed++
	return true
}

func addWait(r *Result, waits []int, class string, days int) {
	for i := range r.Classes {
		if r.Classes[i].Name == class {
			waits[i] += days
		}
	}
}

// overlaps counts the most batches of each class that stand at a time when each
// starts on its day; on equal days release goes before fill.
func (s *settled) overlaps(r *Result, reqs []request) {
	var taken [yearDays + 1200]int32
	for k := range r.Classes {
		c := &r.Classes[k]
		clear(taken[:])
		for _, q := range reqs {
			p := &r.Beers[q.beer]
			from, days, name := q.day, p.Days.InTank(), p.Class
			if c.Bright {
				from, days, name = q.day+days-p.Days.Turn, p.Days.Bright, p.BrightClass
			}
			if name == c.Name && from+days < len(taken) {
				taken[from]++
				taken[from+days]--
			}
		}
		now, most := int32(0), int32(0)
		for _, d := range taken {
			now += d
			most = max(most, now)
		}
		c.Overlap = int(most)
	}
}

// record carries a schedule into the result.
func (s *settled) record(r *Result, c *schedule) {
	r.Batches, r.Unplaced, r.Late = c.batches, c.missing, r.Late[:0]
	limit := int(s.Year.LateLimit.D() + 0.5)
	for i, b := range r.Batches {
		if b.Fermenter >= 0 && b.Late() > limit {
			r.Late = append(r.Late, i)
		}
	}
	r.Fermenters = tankPlans(c.fv, false)
	r.Brights = tankPlans(c.bt, true)
}

// layBars draws the batches as bars on their tanks.
func (s *settled) layBars(r *Result) {
	reserveSpans(r)
	for i := range r.Batches {
		b := &r.Batches[i]
		if b.Fermenter < 0 {
			continue
		}
		f := &r.Fermenters[b.Fermenter]
		f.Spans = appendSpans(f.Spans, b, i)
		f.Fill = max(f.Fill, b.Wort)
		gross := unit.Volume(0)
		for _, t := range b.Brights {
			gross += r.Brights[t].Tank.Gross
		}
		for _, t := range b.Brights {
			r.Brights[t].Spans = append(r.Brights[t].Spans, Span{Start: b.Rack, End: b.BrightEnd, Batch: i, Stage: "bright"})
			r.Brights[t].Fill = max(r.Brights[t].Fill, b.Racked*(r.Brights[t].Tank.Gross/gross))
		}
	}
	s.utilise(r.Fermenters)
	s.utilise(r.Brights)
}

func tankPlans(tanks []Tank, bright bool) []TankPlan {
	out := make([]TankPlan, len(tanks))
	for i, t := range tanks {
		out[i] = TankPlan{Tank: t, Bright: bright, Brim: t.Gross}
	}
	return out
}

// reserveSpans counts the bars of each tank, so that they are laid out at once.
func reserveSpans(r *Result) {
	fv, bt := make([]int, len(r.Fermenters)), make([]int, len(r.Brights))
	for i := range r.Batches {
		b := &r.Batches[i]
		if b.Fermenter >= 0 {
			fv[b.Fermenter] += 4
		}
		for _, t := range b.Brights {
			bt[t]++
		}
	}
	for i, n := range fv {
		r.Fermenters[i].Spans = make([]Span, 0, n)
	}
	for i, n := range bt {
		r.Brights[i].Spans = make([]Span, 0, n)
	}
}

func appendSpans(spans []Span, b *Batch, i int) []Span {
	for _, sp := range [...]Span{{b.Start, b.FermentEnd, i, "ferment"}, {b.FermentEnd, b.CrashStart, i, "mature"}, {b.CrashStart, b.Rack, i, "cold"}, {b.Rack, b.Free, i, "turn"}} {
		if sp.End > sp.Start {
			spans = append(spans, sp)
		}
	}
	return spans
}

// utilise counts the days taken in the year and in the 13 weeks about the peak.
func (s *settled) utilise(tanks []TankPlan) {
	from := (s.Year.PeakWeek - 7) * 7
	to := from + 13*7
	for i := range tanks {
		t := &tanks[i]
		peak := 0
		for _, sp := range t.Spans {
			t.Days += overlap(sp.Start, sp.End, 0, yearDays)
			peak += overlap(sp.Start, sp.End, from, to)
		}
		t.Util = unit.Fraction(float64(t.Days) / s.Year.TankDays.D())
		t.UtilPeak = unit.Fraction(float64(peak) / (13 * 7))
	}
}

func overlap(a, b, from, to int) int { return max(0, min(b, to)-max(a, from)) }

func (s *settled) totals(r *Result) {
	t := &r.Totals
	for i := range r.Beers {
		p := &r.Beers[i]
		n := float64(p.Brews)
		t.Brews += p.Brews
		t.Batches += p.Batches
		t.Bags += p.Brews * p.Brew.Bags
		t.Wort += unit.Litres(n * r.BrewLength.L())
		t.Packaged += p.Packaged
		t.Asked += p.Beer.Yearly
		t.Malt += unit.Mass(n) * p.Brew.Malt
		t.WetGrain += unit.Mass(n) * p.Brew.WetGrain
		t.CO2 += unit.Mass(float64(p.Batches)) * p.Charge.Mass.CO2
		t.Hops += unit.Mass(n) * p.Brew.Hops
		t.Yeast += unit.Mass(n) * p.Brew.Yeast
		t.BrewingLiquor += unit.Volume(n) * p.Brew.HotLiquor
		t.PureAlcohol += p.PureAlcohol
		t.Heat += unit.Energy(n) * (p.Brew.HeatUp + unit.KilowattHours(p.Brew.BoilPower.KW()*p.Brew.BoilTime.H()))
		t.Energy += unit.Energy(n) * p.Brew.Energy
	}
	t.BrewsWeek = unit.PureNumber(float64(t.Brews) / float64(s.Year.Weeks))
	t.BrewsPeak = unit.PureNumber(t.BrewsWeek.N() * s.Year.PeakFactor.Value())
	t.Water = unit.Litres(t.Packaged.L() * s.Practice.WaterUse.Value())
	t.EnergyPerHL = unit.KWhPerHL(t.Energy.KWh() / t.Packaged.HL())
	t.WaterPerHL = s.Practice.WaterUse
	yield := t.Packaged.L() / t.Wort.L()
	t.BrewhouseCapacity = unit.Litres(float64(s.Year.Weeks) * s.Year.BrewsPerWeek.Value() * r.BrewLength.L() * yield)
	t.CellarCapacity = s.cellarCapacity(r)
}

// cellarCapacity is what the fermenters give at the fill limit with this mix of beers.
func (s *settled) cellarCapacity(r *Result) unit.Volume {
	days, packaged := 0.0, 0.0
	for i := range r.Beers {
		days += float64(r.Beers[i].Batches * r.Beers[i].Days.InTank())
		packaged += r.Beers[i].Packaged.L()
	}
	room := float64(len(r.Fermenters)) * s.Year.TankDays.D() * s.Year.FillLimit.Value()
	return unit.Litres(packaged * room / math.Max(days, 1))
}
