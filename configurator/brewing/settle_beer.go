package brewing

import (
	"fmt"

	"tunwright/catalog/unit"
)

func (s *settled) beer(b Beer) (settledBeer, error) {
	k, err := DefaultsOf(b.Kind)
	if err != nil {
		return settledBeer{}, err
	}
	if err := unit.Positive("yearly volume", b.Yearly); err != nil {
		return settledBeer{}, err
	}
	if b.BrewsPerTank < 0 || b.BrewsPerTank > 6 {
		return settledBeer{}, fmt.Errorf("brews for a tank are %d: use 1 to 6, or 0 to choose", b.BrewsPerTank)
	}
	d := settledBeer{Beer: b, kind: k, class: b.Class}
	if d.class == "" {
		d.class = k.Class
	}
	if d.class == "common" {
		d.class = ""
	}
	if d.Package == "" {
		d.Package = "keg"
	}
	if d.Container == 0 {
		d.Container = unit.Litres(50)
		if d.Package == "cask" {
			d.Container = unit.Litres(40.915)
		}
	}
	d.pitch, d.ferment, d.cold = or(b.Pitch, k.PitchTemp), or(b.Ferment, k.FermentTemp), or(b.Cold, k.ColdTemp)
	if b.Ferment == nil && d.ferment < d.pitch {
		d.ferment = d.pitch
	}
	d.headspace, d.loss = or(b.Headspace, k.Headspace).Value(), or(b.FermenterLoss, k.Loss).Value()
	d.kettleDays, d.serving = wholeDays(b.KettleDays, k.KettleDays), d.Package == "tank"
	d.least = min(d.headspace, s.Practice.LeastSpace.Value())
	if b.Headspace != nil {
		d.least = d.headspace
	}
	d.kettleSpace = k.KettleSpace.Value()
	if s.Practice.KettleSpace > 0 {
		d.kettleSpace = s.Practice.KettleSpace.Value()
	}
	d.co2, d.hops = or(b.CO2, k.CO2), or(b.Hops, k.Hops)
	d.eff = s.efficiency(b)
	d.days, err = stagesOf(b, k)
	if err != nil {
		return d, err
	}
	if s.notes {
		s.assumeKind(&d)
	}
	d.yield = (1 - d.loss) * (1 - s.bright) * (1 - s.pack)
	for _, c := range []struct {
		name      string
		x, lo, hi float64
	}{{"headspace", d.headspace, 0, 0.6}, {"fermenter loss", d.loss, 0, 0.4}, {"pitching temperature in °C", d.pitch.C(), 0, 40}} {
		if err := unit.InRange(c.name, c.x, c.lo, c.hi); err != nil {
			return d, err
		}
	}
	return d, nil
}

// assumeKind notes what was taken from the kind of beer.
func (s *settled) assumeKind(b *settledBeer) {
	note := func(field, words string, q unit.Quantity) {
		s.assumptions = append(s.assumptions, Assumption{Field: "Beers." + field, Words: b.Name + ": " + words + ", by kind of beer", Quantity: q})
	}
	if b.FermentDays == nil || b.MatureDays == nil || b.ColdDays == nil || b.TurnDays == nil {
		d := b.days
		note("FermentDays", fmt.Sprintf("%d days fermenting, %d maturing, %d cold, %d to clean", d.Ferment, d.Mature, d.Cold, d.Turn), unit.Days(float64(d.InTank())))
	}
	if b.BrightDays == nil && b.Package != "tank" {
		note("BrightDays", fmt.Sprintf("%d days in the bright tank", b.days.Bright), unit.Days(float64(b.days.Bright)))
	}
	if b.Pitch == nil {
		note("Pitch", "pitching temperature", b.pitch)
	}
	if b.Headspace == nil {
		note("Headspace", "headspace of the fermenter, of gross", unit.Fraction(b.headspace))
	}
	if b.FermenterLoss == nil {
		note("FermenterLoss", "beer left with the yeast", unit.Fraction(b.loss))
	}
	if b.Beer.CO2 == nil {
		note("CO2", "carbonation", b.co2)
	}
}

// efficiency falls by a point for each °P above 14: common practice.
func (s *settled) efficiency(b Beer) float64 {
	e := s.Practice.Efficiency.Value()
	switch {
	case b.Efficiency != nil:
		return b.Efficiency.Value()
	case b.OE.P() > 14:
		e -= 0.01 * (b.OE.P() - 14)
		if !s.notes {
			return e
		}
		s.assumptions = append(s.assumptions, Assumption{Field: "Beers.Efficiency", Words: b.Name + ": efficiency less a point for each °P above 14", Quantity: unit.Fraction(e)})
	}
	return e
}

func stagesOf(b Beer, k KindDefaults) (Stages, error) {
	s := Stages{
		Ferment: wholeDays(b.FermentDays, k.Ferment), Mature: wholeDays(b.MatureDays, k.Mature),
		Cold: wholeDays(b.ColdDays, k.Cold), Turn: wholeDays(b.TurnDays, k.Turn), Bright: wholeDays(b.BrightDays, k.Bright),
	}
	for _, d := range []int{s.Ferment, s.Mature, s.Cold, s.Turn, s.Bright} {
		if d < 0 || d > 730 {
			return s, fmt.Errorf("days of a stage are %d: use 0 to 730", d)
		}
	}
	if s.InTank() < 1 {
		return s, fmt.Errorf("the batch takes no day in a fermenter: give days of fermentation")
	}
	return s, nil
}

func wholeDays(d *unit.Duration, def int) int {
	if d == nil {
		return def
	}
	return roundUp(d.D())
}

func or[T any](p *T, def T) T {
	if p == nil {
		return def
	}
	return *p
}
