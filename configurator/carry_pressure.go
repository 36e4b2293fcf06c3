package configurator

import (
	"math"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/pressure"
)

// pressureInput carries every chamber that can be under pressure.
func pressureInput(p enquiry.Project, list []Piece, chosen []Chosen, plan *brewing.Result) pressure.Input {
	in := pressure.Input{Country: pressure.Country(p.Site.Country), Scheme: p.Site.Scheme.Ptr()}
	cip := first(chosen, catalog.ClassCIP) != nil
	for _, piece := range list {
		v, ok := pressureVessel(piece, plan)
		if !ok {
			continue
		}
		if v.Jacket != nil && v.Jacket.Contents == pressure.Steam {
			v.Jacket.Supply = steamSupply(list)
		}
		if v.Contents == pressure.BeerCO2 {
			gasSupply(&v, piece, p.Site)
			cleaned(&v, piece.Item, cip, p.Site.Clean, plan)
		}
		in.Vessels = append(in.Vessels, v)
	}
	return in
}

// gasSupply is the line that fills a tank: none where the tank has no connection for it.
func gasSupply(v *pressure.Vessel, piece Piece, s enquiry.Site) {
	for _, c := range piece.Chosen.Product.Connects {
		if c.Service == "co2" {
			v.GasMax, v.GasFlow = s.CO2.Ptr(), s.CO2Flow.Value
			return
		}
	}
	none := unit.GaugePressure(0)
	v.GasMax = &none
}

// cleaned tells how a tank is cleaned: hot where a cleaning set is chosen, unknown
// where none is. Rinses that nobody counted are one of cold water, the worst.
func cleaned(v *pressure.Vessel, tag string, cip bool, how enquiry.Cleaning, plan *brewing.Result) {
	v.CausticCO2, v.RinseSteps = how.CausticCO2.Ptr(), how.Rinses.Value
	if !cip {
		return
	}
	v.HotClean = &cip
	if plan == nil {
		return
	}
	for _, c := range plan.Clean {
		if c.Item == tag {
			v.CleanTemp = c.Temp
		}
	}
}

// steamSupply is the most that the steam generators chosen can put on a jacket; nil
// where steam comes from elsewhere.
func steamSupply(list []Piece) *unit.GaugePressure {
	var most *unit.GaugePressure
	for _, piece := range list {
		if s := piece.Chosen.Product.Steam; s != nil && (most == nil || s.Pressure > *most) {
			most = &s.Pressure
		}
	}
	return most
}

func pressureVessel(piece Piece, plan *brewing.Result) (pressure.Vessel, bool) {
	if s := piece.Chosen.Product.Steam; s != nil {
		return pressure.Vessel{
			Tag: piece.Tag, Kind: pressure.Generator, Contents: pressure.Steam, Volume: &s.Water, PS: &s.Pressure,
			Relief: &pressure.Relief{Fitted: s.ReliefValve, Set: s.Pressure}, Papers: pressure.Papers{Conformity: &s.Declared, Body: &s.Certified, Marked: &s.Declared},
		}, true
	}
	v := piece.Body.Vessel
	if v == nil {
		return pressure.Vessel{}, false
	}
	out := pressure.Vessel{
		Tag: piece.Tag, Kind: pressure.Tank, Volume: &v.Gross, Net: v.Nominal, PS: known(v.Pressure), Vented: v.Pressure == 0, Contents: contents(piece.Chosen.Product.Class, v),
		Jacket: pressureJacket(v),
	}
	if v.Pressure > 0 || v.JacketPS > 0 {
		out.Papers = pressure.Papers{Conformity: &v.Declared, Body: &v.Certified, Marked: &v.Declared}
	}
	if v.Pressure > 0 {
		out.Relief = &pressure.Relief{Fitted: v.ReliefValve, Set: v.Pressure, Area: v.ReliefArea}
		out.Vacuum = &pressure.Vacuum{Fitted: v.VacuumValve, Area: v.VacuumArea}
		out.PeakGas = peakGas(piece.Item, plan)
		carbonated(&out, piece.Item, plan)
	}
	return out, true
}

func contents(class catalog.Class, v *catalog.Vessel) pressure.Contents {
	switch {
	case class == catalog.ClassCIP:
		return pressure.Caustic
	case class == catalog.ClassBuffer:
		return pressure.Coolant
	case has(v, catalog.DutyFerment), has(v, catalog.DutyBright), has(v, catalog.DutyServing):
		return pressure.BeerCO2
	}
	return pressure.Atmosphere
}

func pressureJacket(v *catalog.Vessel) *pressure.Jacket {
	if v.JacketPS == 0 {
		return nil
	}
	j := &pressure.Jacket{Contents: pressure.Coolant, PS: &v.JacketPS, Volume: known(v.JacketVol)}
	if v.JacketMedium == "steam" {
		j.Contents = pressure.Steam
	}
	return j
}

// carbonated is the beer that asks the most of a tank: in a bright tank at its cold
// temperature, in a fermenter where it is shut in at the end of fermentation. Beer
// beyond the table of solubility goes before any other: nobody can say what it asks.
func carbonated(v *pressure.Vessel, tag string, plan *brewing.Result) {
	if plan == nil {
		return
	}
	most := unit.GaugePressure(0)
	take := func(b *brewing.BeerPlan, t unit.Temperature) {
		p, err := pressure.EquilibriumPressure(b.Charge.CO2, t)
		if err != nil {
			p = unit.GaugePressure(math.Inf(1))
		}
		if p > most {
			co2 := b.Charge.CO2
			most, v.Carbonation, v.BeerTemp = p, &co2, t
		}
	}
	for _, b := range plan.Batches {
		beer := &plan.Beers[b.Beer]
		if beer.Charge.TankNeeds != nil && b.Fermenter >= 0 && plan.Fermenters[b.Fermenter].Tank.Tag == tag {
			take(beer, beer.Ferment)
		}
		for _, i := range b.Brights {
			if plan.Brights[i].Tank.Tag == tag {
				take(beer, beer.Cold)
			}
		}
	}
}

func peakGas(tag string, plan *brewing.Result) unit.MassFlow {
	if plan == nil {
		return 0
	}
	most := unit.MassFlow(0)
	for _, b := range plan.Batches {
		if b.Fermenter >= 0 && plan.Fermenters[b.Fermenter].Tank.Tag == tag {
			most = max(most, plan.Beers[b.Beer].Charge.PeakCO2)
		}
	}
	return most
}
