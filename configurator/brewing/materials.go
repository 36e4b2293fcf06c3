package brewing

import (
	"math"
	"sync"

	"tunwright/catalog/unit"
)

// Material is one line of the materials list.
type Material struct {
	Name     string
	PerBrew  unit.Quantity // mean of the year's brews
	PeakWeek unit.Quantity
	Year     unit.Quantity
	Note     string
}

// materials lists what is bought and what leaves, per brew, busiest week and year.
func (s *settled) materials(r *Result) {
	t, w := r.Totals, r.Weeks[r.Busiest]
	n := float64(max(t.Brews, 1))
	mass := func(name string, year, week unit.Mass, note string) {
		r.Materials = append(r.Materials, Material{Name: name, PerBrew: unit.Kilograms(year.Kg() / n), PeakWeek: week, Year: year, Note: note})
	}
	volume := func(name string, year, week unit.Volume, note string) {
		r.Materials = append(r.Materials, Material{Name: name, PerBrew: unit.Litres(year.L() / n), PeakWeek: week, Year: year, Note: note})
	}
	peak := float64(w.Brews) / n
	mass("malt", t.Malt, w.Malt, "from laboratory extract and brewhouse efficiency")
	mass("hops", t.Hops, w.Hops, "by kind of beer, common practice")
	mass("dried yeast", t.Yeast, w.Yeast, "pitched fresh each brew; repitching takes less; common practice")
	co2 := s.boughtCO2(r)
	mass("CO2 to be bought", co2, unit.Mass(peak)*co2, "carbonation by tank and 2 kg/hL for purging and packing, common practice")
	volume("brewing liquor", t.BrewingLiquor, w.Water, "mash and sparge, cold volume")
	volume("water in all", t.Water, unit.Volume(peak)*t.Water, "brewing, cooling, cleaning and people")
	mass("wet spent grain", t.WetGrain, w.Grain, "leaves within 24 to 48 hours")
	mass("CO2 from fermentation", t.CO2, w.CO2, "to the room or the vent")
	energy := Material{Name: "heat for wort", PerBrew: unit.KilowattHours(t.Energy.KWh() / n), PeakWeek: w.Energy, Year: t.Energy, Note: "hot liquor, heat-up and boil, at the source"}
	r.Materials = append(r.Materials, energy)
}

// purgeCO2 is the CO2 for purging and packing a litre, in kg: 2 kg/hL, common practice.
const purgeCO2 = 0.02

func (s *settled) boughtCO2(r *Result) unit.Mass {
	kg := 0.0
	for i := range r.Beers {
		p := &r.Beers[i]
		if p.Beer.Package == "cask" {
			continue // racked, conditioned and drawn without gas
		}
		kg += float64(p.Batches) * (p.Charge.AddedCO2.Kg() + purgeCO2*p.Charge.Racked.L())
	}
	return unit.Kilograms(kg)
}

// WaterStep is the water of one step of the brewery, for each volume of beer.
type WaterStep struct {
	Step            string
	Mean, Low, High unit.Ratio  // hL/hL, as published for industry
	Year            unit.Volume // of this plan: its share of Practice.WaterUse
}

// waterUse reads the published steps once; they cannot change.
var waterUse = sync.OnceValue(func() []WaterStep {
	steps := make([]WaterStep, waterUseTable.Len())
	for i := range steps {
		num := func(col string) unit.Ratio { x, _ := waterUseTable.Number(i, col); return unit.Fraction(x) }
		steps[i] = WaterStep{Step: waterUseTable.Text(i, "step"), Mean: num("mean"), Low: num("low"), High: num("high")}
	}
	return steps
})

// waterSteps shares the site's water out by the published steps.
func (s *settled) waterSteps(r *Result) {
	r.WaterSteps = append([]WaterStep{}, waterUse()...)
	sum := unit.Ratio(0)
	for _, w := range r.WaterSteps {
		sum += w.Mean
	}
	for i := range r.WaterSteps {
		r.WaterSteps[i].Year = unit.Volume(r.WaterSteps[i].Mean/sum) * r.Totals.Water
	}
}

// Dump is hot or strong water that goes to a drain at once.
type Dump struct {
	Name   string
	Volume unit.Volume
	Temp   unit.Temperature
	Flow   *unit.VolumeFlow // while it lasts; nil where the valve decides
	When   string
	Year   int // times in a year
}

// Cleaning is one vessel's cleaning in place.
type Cleaning struct {
	Item     string
	Solution unit.Volume // of one cleaning or sterilising solution
	Rinse    unit.Volume // of all rinses
	Temp     unit.Temperature
	Year     int // times in a year
	PeakWeek int
}

// waste lists hot dumps and cleaning for drains and heat.
func (s *settled) waste(r *Result) {
	s.waterSteps(r)
	s.dumps(r)
	s.cleaning(r)
}

// drips is the share of the water held in the grain that runs out before it is dug
// out: common practice.
const drips = 0.3

func (s *settled) dumps(r *Result) {
	at := longestBrew(r)
	if at < 0 {
		return
	}
	p, brews := &r.Beers[at], r.Totals.Brews
	hot := s.Practice.LiquorTemp
	if k := p.Summer; k != nil && k.HotWater > 0 {
		flow := unit.LitresPerMinute(k.HotWater.L() / k.Time.Min())
		surplus := k.Surplus
		if h := s.Brewhouse.LiquorTank; h != nil {
			surplus = max(surplus, k.HotWater-*h)
		}
		r.Dumps = append(r.Dumps,
			Dump{Name: "hot liquor won beyond the next brew's", Volume: max(0, surplus), Temp: s.Cooler.WaterOut, Flow: &flow, When: "each knock-out", Year: brews},
			Dump{Name: "hot liquor of a whole knock-out, tank full or valve wrong", Volume: k.HotWater, Temp: s.Cooler.WaterOut, Flow: &flow, When: "on a failure"})
	}
	last := unit.Litres(math.Max(0, drips*p.Brew.HeldWater.Kg()))
	r.Dumps = append(r.Dumps,
		Dump{Name: "last runnings and drips of the tun", Volume: last, Temp: s.Practice.LauterOut, When: "after run-off", Year: brews},
		Dump{Name: "trub and hops", Volume: unit.Litres(p.Brew.ColdKettle.L() * s.trub), Temp: unit.Celsius(80), When: "after knock-out", Year: brews})
	if h := s.Brewhouse.LiquorTank; h != nil {
		r.Dumps = append(r.Dumps, Dump{Name: "hot-liquor tank emptied", Volume: *h, Temp: hot, When: "for cleaning", Year: 12})
	}
	kettle := or(s.Brewhouse.KettleGross, p.Brew.KettleGross)
	r.Dumps = append(r.Dumps, Dump{Name: "kettle cleaning solution", Volume: unit.Litres(kettle.L() * 0.15), Temp: hot, When: "after the last brew", Year: brews})
}

// cleaning gives each tank two solutions of a share of its volume, and rinses of
// three times that share: before, between and after. Common practice.
func (s *settled) cleaning(r *Result) {
	share := s.Practice.CIPShare.Value()
	from, to := r.Busiest*7, r.Busiest*7+7
	add := func(tanks []TankPlan, stage string) {
		for i := range tanks {
			t := &tanks[i]
			c := Cleaning{Item: t.Tank.Tag, Solution: unit.Litres(share * t.Tank.Gross.L()), Rinse: unit.Litres(3 * share * t.Tank.Gross.L()), Temp: unit.Celsius(70)}
			for _, sp := range t.Spans {
				if sp.Stage != stage {
					continue
				}
				c.Year++
				if sp.End > from && sp.End <= to {
					c.PeakWeek++
				}
			}
			r.Clean = append(r.Clean, c)
		}
	}
	add(r.Fermenters, "turn")
	add(r.Brights, "bright")
}
