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
	ready   depth = iota // the input with its defaults
	sheets               // and brews, charges and vessels
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
	if to == ready {
		return r, &s, nil
	}
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
	s.totals(&r)
	if to == sheets {
		r.Fermenters, r.Brights = tankPlans(s.Fermenters, false), tankPlans(s.Brights, true)
		return r, &s, nil
	}
	reqs := s.layOut(&r, to >= whole)
	r.Totals.CellarCapacity = s.cellarCapacity(&r)
	if to == dated {
		return r, &s, nil
	}
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
