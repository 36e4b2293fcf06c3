package configurator

import (
	"strings"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/pressure"
)

// pressureInput carries every chamber that can be under pressure.
func pressureInput(p enquiry.Project, list []Piece, plan *brewing.Result) pressure.Input {
	in := pressure.Input{Country: pressure.Country(p.Site.Country), Scheme: p.Site.Scheme.Ptr()}
	for _, piece := range list {
		if v, ok := pressureVessel(piece, plan); ok {
			if v.Contents == pressure.BeerCO2 {
				v.GasMax = p.Site.CO2.Ptr()
			}
			in.Vessels = append(in.Vessels, v)
		}
	}
	return in
}

func pressureVessel(piece Piece, plan *brewing.Result) (pressure.Vessel, bool) {
	if s := piece.Chosen.Product.Steam; s != nil {
		return pressure.Vessel{Tag: piece.Tag, Kind: pressure.Generator, Contents: pressure.Steam, Volume: &s.Water, PS: &s.Pressure}, true
	}
	v := piece.Body.Vessel
	if v == nil {
		return pressure.Vessel{}, false
	}
	out := pressure.Vessel{
		Tag: piece.Tag, Kind: pressure.Tank, Volume: &v.Gross, Net: v.Nominal, PS: known(v.Pressure), Vented: v.Pressure == 0, Contents: contents(piece.Chosen.Product.Class, v),
		Jacket: pressureJacket(piece, v),
	}
	if v.Pressure > 0 {
		out.Relief = &pressure.Relief{Fitted: v.ReliefValve, Set: v.Pressure, Area: v.ReliefArea}
		out.Vacuum = &pressure.Vacuum{Fitted: v.VacuumValve, Area: v.VacuumArea}
		out.Papers = pressure.Papers{Conformity: &v.Declared, Body: &v.Certified, Marked: &v.Declared}
		out.PeakGas = peakGas(piece.Item, plan)
		out.BeerTemp = unit.Celsius(2)
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

// pressureJacket is the heated or cooled jacket: steam on a steam brewhouse's
// vessels and steam-heated liquor tanks, glycol elsewhere.
func pressureJacket(piece Piece, v *catalog.Vessel) *pressure.Jacket {
	if v.JacketPS == 0 {
		return nil
	}
	j := &pressure.Jacket{Contents: pressure.Coolant, PS: &v.JacketPS, Volume: known(v.JacketVol)}
	p := piece.Chosen.Product
	if p.Brewhouse != nil && p.Brewhouse.Heat == "steam" || strings.HasPrefix(p.Code, "HLT-S") {
		j.Contents = pressure.Steam
	}
	return j
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
