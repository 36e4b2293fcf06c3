package brewing

import (
	"fmt"

	"tunwright/catalog/unit"
)

// Assumption is a default that was taken because the input did not say.
type Assumption struct {
	Field    string // of Input, such as "Practice.Efficiency"
	Words    string
	Quantity unit.Quantity
}

// Stages are the days of a batch in a fermenter and after it.
type Stages struct{ Ferment, Mature, Cold, Turn, Bright int }

// InTank is the days a fermenter is taken, from filling to ready for the next batch.
func (s Stages) InTank() int { return s.Ferment + s.Mature + s.Cold + s.Turn }

// untilRacked is the days until the beer may leave its fermenter.
func (s Stages) untilRacked() int { return s.Ferment + s.Mature + s.Cold }

// settled is an input with every default filled in.
type settled struct {
	Input
	beers                     []settledBeer
	trub, bright, pack, moist float64
	relative                  float64 // specific heat of malt against water
	slaking                   float64
	assumptions               []Assumption
	notes                     bool
}

type settledBeer struct {
	Beer
	kind                        KindDefaults
	days                        Stages
	pitch, ferment, cold        unit.Temperature
	headspace, loss, eff, yield float64
	kettleSpace                 float64
	least                       float64 // headspace below which no fermenter is filled
	co2                         unit.Carbonation
	hops                        unit.Density
	class                       string
	kettleDays                  int
	serving                     bool
}

// settle fills the defaults in; notes asks for the list of those taken.
func settle(in Input, notes bool) (settled, error) {
	s := settled{Input: in, notes: notes}
	if notes {
		s.assumptions = make([]Assumption, 0, 48)
	}
	if len(in.Beers) == 0 {
		return s, fmt.Errorf("no beer is planned: name at least one beer with its yearly volume")
	}
	if in.Year.Weeks < 1 || in.Year.Weeks > 53 {
		return s, fmt.Errorf("brewing weeks are %d: a year has 1 to 52 of them", in.Year.Weeks)
	}
	s.Year.Weeks = min(in.Year.Weeks, 52)
	if err := s.practice(); err != nil {
		return s, err
	}
	if err := s.year(); err != nil {
		return s, err
	}
	s.cooler()
	if err := s.equipment(); err != nil {
		return s, err
	}
	s.beers = make([]settledBeer, len(in.Beers))
	for i, b := range in.Beers {
		if at, ok := named(in.Beers[:i], b.Name); ok || b.Name == "" {
			return s, nameError(i, at, b.Name)
		}
		sb, err := s.beer(b)
		if err != nil {
			return s, fmt.Errorf("beer %d (%s): %w", i+1, b.Name, err)
		}
		s.beers[i] = sb
	}
	return s, nil
}

func named(beers []Beer, name string) (int, bool) {
	for i := range beers {
		if beers[i].Name == name {
			return i, true
		}
	}
	return 0, false
}

func nameError(at, other int, name string) error {
	if name == "" {
		return fmt.Errorf("beer %d has no name: give every beer one", at+1)
	}
	return fmt.Errorf("beers %d and %d are both called %q: give each a name of its own", other+1, at+1, name)
}

// take sets a field to its default where it is zero, and notes that.
func take[Q interface {
	~float64
	unit.Quantity
}](s *settled, field *Q, def Q, name, words string) {
	if *field != 0 {
		return
	}
	*field = def
	if !s.notes {
		return
	}
	s.assumptions = append(s.assumptions, Assumption{Field: name, Words: words, Quantity: def})
}

// takeRatio is take for a share that may be zero on purpose.
func takeRatio(s *settled, given *unit.Ratio, def float64, name, words string) float64 {
	if given != nil {
		return given.Value()
	}
	if s.notes {
		s.assumptions = append(s.assumptions, Assumption{Field: name, Words: words, Quantity: unit.Fraction(def)})
	}
	return def
}

func (s *settled) practice() error {
	p := &s.Practice
	// The density of water at 100 °C over that at 20 °C: ContractionFactor(100 °C).
	take(s, &p.Contraction, unit.Fraction(958.35/998.21), "Practice.Contraction", "cold volume of one hot volume, from the density of water")
	s.trub = takeRatio(s, p.TrubLoss, 0.03, "Practice.TrubLoss", "wort left with trub and hops")
	s.bright = takeRatio(s, p.BrightLoss, 0.02, "Practice.BrightLoss", "beer left in the bright tank")
	s.pack = takeRatio(s, p.PackLoss, 0.02, "Practice.PackLoss", "beer lost in packaging")
	s.moist = takeRatio(s, p.MaltMoisture, 0.04, "Practice.MaltMoisture", "moisture of the malt")
	take(s, &p.Evaporation, unit.Fraction(0.06), "Practice.Evaporation", "planned evaporation, of cast volume in an hour")
	take(s, &p.BoilTime, unit.Minutes(60), "Practice.BoilTime", "time of boiling")
	take(s, &p.BrightSpace, unit.Fraction(0.10), "Practice.BrightSpace", "headspace of bright tanks, of gross volume")
	take(s, &p.LeastSpace, unit.Fraction(0.20), "Practice.LeastSpace", "least headspace of a fermenter, of gross volume")
	take(s, &p.LabExtract, unit.Fraction(0.785), "Practice.LabExtract", "laboratory extract of malt as it is")
	take(s, &p.Efficiency, unit.Fraction(0.88), "Practice.Efficiency", "brewhouse efficiency on laboratory extract")
	take(s, &p.GrainMoisture, unit.Fraction(0.78), "Practice.GrainMoisture", "moisture of the spent grain")
	take(s, &p.MashRatio, unit.LitresPerKg(2.7), "Practice.MashRatio", "liquor on grist")
	take(s, &p.MashRest, unit.Celsius(66), "Practice.MashRest", "rest of the mash")
	take(s, &p.Grist, unit.Celsius(15), "Practice.Grist", "temperature of the grist")
	take(s, &p.LauterOut, unit.Celsius(74), "Practice.LauterOut", "wort into the kettle")
	take(s, &p.Cast, unit.Celsius(96), "Practice.Cast", "wort into the cooler")
	take(s, &p.LiquorTemp, unit.Celsius(78), "Practice.LiquorTemp", "hot liquor")
	take(s, &p.TunFreeboard, unit.Fraction(0.12), "Practice.TunFreeboard", "freeboard above the mash, of gross volume")
	take(s, &p.MaxLoading, unit.KgPerM2(165), "Practice.MaxLoading", "highest grain loading of the lauter floor")
	take(s, &p.MinBed, unit.Metres(0.15), "Practice.MinBed", "least grain bed that rakes and filters")
	take(s, &p.FermentHeat, unit.KilojoulesPerKg(FermentHeat), "Practice.FermentHeat", "heat of each kilogram of extract fermented")
	take(s, &p.WaterUse, unit.Fraction(7), "Practice.WaterUse", "water of the whole site for each volume of wort")
	take(s, &p.LeastFill, unit.Fraction(0.35), "Practice.LeastFill", "least fill of a fermenter, of gross volume")
	take(s, &p.Room, unit.Celsius(20), "Practice.Room", "temperature of the brewhouse")
	take(s, &p.BagMass, unit.Kilograms(25), "Practice.BagMass", "a bag of malt")
	take(s, &p.CIPShare, unit.Fraction(0.05), "Practice.CIPShare", "volume of one cleaning solution, of the tank's gross volume")
	take(s, &p.CrashTime, unit.Hours(24), "Practice.CrashTime", "time to cool from fermenting to cold")
	return s.checkPractice()
}

func (s *settled) checkPractice() error {
	p := s.Practice
	for _, c := range []struct {
		name      string
		x, lo, hi float64
	}{
		{"contraction", p.Contraction.Value(), 0.9, 1},
		{"trub loss", s.trub, 0, 0.3},
		{"bright tank loss", s.bright, 0, 0.3},
		{"packaging loss", s.pack, 0, 0.3},
		{"malt moisture", s.moist, 0, 0.08},
		{"evaporation in an hour", p.Evaporation.Value(), 0, 0.2},
		{"boiling time in h", p.BoilTime.H(), 0.1, 6},
		{"kettle headspace", p.KettleSpace.Value(), 0, 0.6},
		{"bright tank headspace", p.BrightSpace.Value(), 0, 0.5},
		{"least headspace of a fermenter", p.LeastSpace.Value(), 0, 0.5},
		{"mash rest in °C", p.MashRest.C(), 40, 76},
		{"wort into the kettle in °C", p.LauterOut.C(), 40, 100},
		{"wort into the cooler in °C", p.Cast.C(), 60, 100},
		{"heat of fermentation in kJ/kg", p.FermentHeat.KJKg(), 380, 750},
		{"bag in kg", p.BagMass.Kg(), 1, 1500},
		{"fill of a fermenter", p.LeastFill.Value(), 0, 0.8},
	} {
		if err := unit.InRange(c.name, c.x, c.lo, c.hi); err != nil {
			return fmt.Errorf("practice: %w", err)
		}
	}
	rel, sl, err := MaltHeat(unit.Fraction(s.moist))
	if err != nil {
		return fmt.Errorf("practice: %w", err)
	}
	s.relative, s.slaking = rel.Value(), sl.K()
	return nil
}

func (s *settled) year() error {
	y := &s.Year
	if y.BrewsPerDay == 0 {
		y.BrewsPerDay = 1
	}
	if y.BrewDays == 0 {
		y.BrewDays = 5
	}
	if y.PeakWeek == 0 {
		y.PeakWeek = 28
	}
	take(s, &y.PeakFactor, unit.Fraction(1.25), "Year.PeakFactor", "busiest week over the mean week")
	take(s, &y.BrewsPerWeek, unit.Fraction(float64(y.BrewsPerDay*y.BrewDays)), "Year.BrewsPerWeek", "most brews in a week")
	take(s, &y.TankDays, unit.Days(350), "Year.TankDays", "days a year that tanks are in use")
	take(s, &y.FillLimit, unit.Fraction(0.9), "Year.FillLimit", "most of the tank-days that are planned")
	take(s, &y.LateLimit, unit.Days(7), "Year.LateLimit", "how late a batch may start")
	take(s, &y.DayLength, unit.Hours(10), "Year.DayLength", "longest brew day")
	for _, c := range []struct {
		name      string
		x, lo, hi float64
	}{
		{"peak factor", y.PeakFactor.Value(), 1, 3},
		{"brews in a week", y.BrewsPerWeek.Value(), 0.2, 100},
		{"brews in a day", float64(y.BrewsPerDay), 1, 8},
		{"brewing days in a week", float64(y.BrewDays), 1, 7},
		{"peak week", float64(y.PeakWeek), 1, 52},
		{"days a year in use", y.TankDays.D(), 1, 366},
		{"fill limit", y.FillLimit.Value(), 0.1, 1},
	} {
		if err := unit.InRange(c.name, c.x, c.lo, c.hi); err != nil {
			return fmt.Errorf("year: %w", err)
		}
	}
	return nil
}

func (s *settled) cooler() {
	c := &s.Cooler
	if c.Stages == 0 {
		c.Stages = 1
	}
	take(s, &c.Approach, unit.Kelvins(3), "Cooler.Approach", "wort above water after the first stage")
	take(s, &c.WaterOut, unit.Celsius(75), "Cooler.WaterOut", "hot liquor won from the wort")
	take(s, &c.Time, unit.Minutes(45), "Cooler.Time", "time of knock-out")
	take(s, &c.ChilledIn, unit.Celsius(3), "Cooler.ChilledIn", "chilled liquor to the cooler")
	take(s, &c.ChilledOut, unit.Celsius(16), "Cooler.ChilledOut", "chilled liquor from the cooler")
	h := &s.Handling
	take(s, &h.Bin, unit.Litres(240), "Handling.Bin", "bin for spent grain")
	take(s, &h.Trolley, unit.Kilograms(40), "Handling.Trolley", "trolley in the lift")
	take(s, &h.Person, unit.Kilograms(90), "Handling.Person", "person in the lift with the load")
}

func (s *settled) equipment() error {
	if s.Brewhouse.BrewLength != 0 && unit.Positive("brew length", s.Brewhouse.BrewLength) != nil {
		return fmt.Errorf("brew length is %s: it must be greater than 0 L, or 0 to have one proposed", s.Brewhouse.BrewLength)
	}
	for _, list := range [][]Tank{s.Fermenters, s.Brights} {
		for i := range list {
			if t := &list[i]; unit.Positive("gross volume", t.Gross) != nil {
				return unit.Positive("gross volume of tank "+t.Tag, t.Gross)
			}
		}
	}
	return nil
}
