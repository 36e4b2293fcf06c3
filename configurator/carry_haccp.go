package configurator

import (
	"tunwright/catalog"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/haccp"
)

// haccpInput carries what the equipment and the beers bring with them to the food
// safety starter plan.
func haccpInput(p enquiry.Project, chosen []Chosen, plan *brewing.Result) haccp.Input {
	in := haccp.Input{
		Country: haccp.Country(p.Site.Country), Business: p.Client.Name, Coolant: "propylene-glycol", Gas: true,
		Mill: first(chosen, catalog.ClassMill) != nil, HotClean: first(chosen, catalog.ClassCIP) != nil, Air: first(chosen, catalog.ClassCompressor) != nil,
	}
	for i, b := range p.Brief.Beers {
		in.Beers = append(in.Beers, haccpBeer(b, i, plan))
		in.Glass = in.Glass || b.Package == "bottle"
		in.Cans = in.Cans || b.Package == "can"
		in.Kegs = in.Kegs || b.Package == "keg"
		in.Casks = in.Casks || b.Package == "cask"
		in.Dispense = in.Dispense || b.Package == "tank"
		in.Refermented = in.Refermented || b.Package == "cask"
	}
	return in
}

func haccpBeer(b enquiry.Beer, i int, plan *brewing.Result) haccp.Beer {
	out := haccp.Beer{Name: b.Name, Ingredients: b.Grist, Carbonation: b.CO2}
	if plan != nil && i < len(plan.Beers) {
		c := plan.Beers[i].Charge
		out.ABV, out.Carbonation = &c.Attenuation.ABV, &c.CO2
	}
	return out
}
