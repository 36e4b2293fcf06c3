package brewing

import (
	"tunwright/catalog/unit"
)

// VesselRow is one line of the vessel schedule.
type VesselRow struct {
	Tag, Duty string
	Net       unit.Volume // largest working volume
	State     string      // of the net volume
	Gross     unit.Volume // chosen, or the least where none is
	Chosen    bool
	Headspace unit.Ratio // left above Net in Gross
	Pressure  *unit.GaugePressure
	Jacket    unit.Power // heat the jacket must take: the larger of fermentation and crash; 0 without
	Working   unit.Mass  // contents at Net
	Brim      unit.Mass  // water to the brim: the case for the floor
}

// wort12 is the density in kg/L of the wort of 12 °P that tanks are weighed with
// where the beer is not known: relative density 1.04838 on 0.9982.
const wort12 = 1.0465

// vesselRows lists the brewhouse, then the fermenters, then the bright tanks.
func (s *settled) vesselRows(r *Result) []VesselRow {
	rows := make([]VesselRow, 0, 4+len(r.Fermenters)+len(r.Brights))
	tun, _, kettle, _ := s.vessels()
	strong, _ := ends(*r)
	full := fullestKettle(*r)
	b, k := &r.Beers[strong].Brew, &r.Beers[full].Brew
	h := s.Brewhouse
	rows = append(rows,
		vessel(tun, "mash and run-off of "+r.Beers[strong].Beer.Name, b.MashVolume, "mash at the rest", h.TunGross, b.TunGross, unit.Kilograms(b.Malt.Kg()+b.MashLiquor.L())),
		vessel(kettle, "wort boil of "+r.Beers[full].Beer.Name, k.KettleFull, "hot, 100 °C, before the boil", h.KettleGross, k.KettleGross, k.KettleMass),
		vessel("hot-liquor tank", "mash and sparge liquor", b.HotLiquor, "cold, 20 °C", h.LiquorTank, b.HotLiquor, unit.Kilograms(b.HotLiquor.L())))
	if h.ColdLiquor != nil {
		rows = append(rows, vessel("cold-liquor tank", "wort cooling", *h.ColdLiquor, "chilled", h.ColdLiquor, *h.ColdLiquor, unit.Kilograms(h.ColdLiquor.L())))
	}
	rows = append(rows, s.tankRows(r, r.Fermenters, "fermenter", "cold, 20 °C, wort")...)
	return append(rows, s.tankRows(r, r.Brights, "bright tank", "cold, beer")...)
}

// fullestKettle is the beer that asks for the largest kettle.
func fullestKettle(r Result) int {
	at := 0
	for i := range r.Beers {
		if r.Beers[i].Brew.KettleGross > r.Beers[at].Brew.KettleGross {
			at = i
		}
	}
	return at
}

func vessel(tag, duty string, net unit.Volume, state string, chosen *unit.Volume, least unit.Volume, mass unit.Mass) VesselRow {
	v := VesselRow{Tag: tag, Duty: duty, Net: net, State: state, Gross: or(chosen, least), Chosen: chosen != nil, Working: mass}
	v.Headspace = unit.Fraction(1 - net.L()/v.Gross.L())
	v.Brim = unit.Kilograms(v.Gross.L() * rho20)
	return v
}

func (s *settled) tankRows(r *Result, tanks []TankPlan, duty, state string) []VesselRow {
	rows := make([]VesselRow, len(tanks))
	for i := range tanks {
		t := &tanks[i]
		mass, heat := unit.Kilograms(t.Fill.L()*wort12), unit.Power(0)
		for _, sp := range t.Spans {
			c := &r.Beers[r.Batches[sp.Batch].Beer].Charge
			if !t.Bright {
				mass = max(mass, c.WortMass)
				heat = max(heat, c.PeakHeat, c.CrashPower)
			}
		}
		gross := t.Tank.Gross
		rows[i] = vessel(t.Tank.Tag, duty, t.Fill, state, &gross, gross, mass)
		rows[i].Chosen, rows[i].Pressure, rows[i].Jacket = !r.ProposedTanks, t.Tank.Pressure, heat
		if t.Tank.Class != "" {
			rows[i].Duty += ", " + t.Tank.Class
		}
	}
	return rows
}

// DayEffect shows what a week more or less in the tank does to the tanks of a class.
type DayEffect struct {
	Beer  string
	Days  int // change of the cold days
	Class string
	Now   int
	Needs int
	Peak  unit.Ratio // of the tank-days with the tanks of now
}

// dayEffects works the average formula for beers with more than a week of cold.
func (s *settled) dayEffects(r *Result) []DayEffect {
	var out []DayEffect
	for i := range r.Beers {
		p := &r.Beers[i]
		if p.Days.Cold < 8 {
			continue
		}
		for _, d := range [...]int{-7, 7} {
			out = append(out, s.dayEffect(r, p, d))
		}
	}
	return out
}

func (s *settled) dayEffect(r *Result, p *BeerPlan, d int) DayEffect {
	e := DayEffect{Beer: p.Beer.Name, Days: d, Class: p.Class}
	for _, c := range r.Classes {
		if c.Name != p.Class {
			continue
		}
		days := float64(c.TankDays+p.Batches*d) * s.Year.PeakFactor.Value()
		e.Now = s.classTanks(r, c)
		e.Needs = roundUp(days / (s.Year.TankDays.D() * s.Year.FillLimit.Value()))
		e.Peak = unit.Fraction(days / (s.Year.TankDays.D() * float64(max(e.Now, 1))))
	}
	return e
}
