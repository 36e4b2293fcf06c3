package configurator

import (
	"slices"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
)

// brewingInput carries brief, brewhouse, tanks and water to the brewer's plan.
func brewingInput(p enquiry.Project, chosen []Chosen, c *catalog.Catalogue) brewing.Input {
	in := brewing.Input{
		Year:    brewingYear(p),
		Country: p.Site.Country,
		Water:   brewing.Water{Winter: p.Site.Water.Winter.Ptr(), Summer: p.Site.Water.Summer.Ptr()},
	}
	for _, b := range p.Brief.Beers {
		in.Beers = append(in.Beers, brewingBeer(b))
	}
	if bh := first(chosen, catalog.ClassBrewhouse); bh != nil {
		in.Brewhouse = brewhouse(bh.Product, chosen)
		in.Practice.Efficiency = bh.Product.Brewhouse.BrewYield
		in.BrewhouseOptions = brewhouseOptions(c, bh.Product, chosen)
	} else {
		in.Lengths = brewLengths(c)
	}
	in.Fermenters = brewingTanks(chosen, catalog.ClassFermenter)
	in.Brights = brewingTanks(chosen, catalog.ClassBrightTank)
	in.FermenterOptions = tankOptions(c, catalog.ClassFermenter)
	in.BrightOptions = tankOptions(c, catalog.ClassBrightTank)
	in.Cooler = cooler(first(chosen, catalog.ClassWortCooler))
	in.Handling = handling(p.Site, first(chosen, catalog.ClassMill))
	return in
}

func brewingYear(p enquiry.Project) brewing.Year {
	y := brewing.Year{
		Weeks: p.Brief.Weeks, PeakFactor: p.Brief.Peak,
		BrewsPerWeek: unit.Fraction(p.Brief.BrewsWeek), BrewsPerDay: p.Brief.BrewsDay, Growth: p.Brief.Growth,
	}
	from := p.Date
	if p.Opening != nil {
		from = *p.Opening
	}
	// The plan begins on the first Monday of January after the brewery opens, so that
	// the peak of summer lies where the trade has it.
	t := enquiry.Date{Year: from.Year + 1, Month: 1, Day: 1}.Time()
	for t.Weekday() != 1 {
		t = t.AddDate(0, 0, 1)
	}
	y.First = t
	return y
}

func brewingBeer(b enquiry.Beer) brewing.Beer {
	return brewing.Beer{
		Name: b.Name, Kind: brewing.Kind(b.Kind), Yearly: b.Volume.Value, OE: b.OE, AE: b.AE,
		BrewsPerTank: b.Brews, Package: b.Package, Container: b.Keg, Natural: b.Natural,
		Pitch: b.Pitch, FermentDays: b.Ferment, MatureDays: b.Mature, ColdDays: b.Cold, CO2: b.CO2,
	}
}

func brewhouse(p *catalog.Product, chosen []Chosen) brewing.Brewhouse {
	d := p.Brewhouse
	loss := known(d.LossUA)
	b := brewing.Brewhouse{
		Code: p.Code, BrewLength: d.Length, MaxLoading: &d.MaxBed, KettleLeast: known(d.MinKettle), KettleMass: d.KettleSteel,
		Kettle: &brewing.HeatSource{Kind: brewing.HeatKind(d.Heat), Power: d.KettleHeat, Efficiency: d.Efficiency, Loss: loss},
	}
	if d.LiquorHeat > 0 {
		b.LiquorHeat = &d.LiquorHeat
	}
	for i := range p.Bodies {
		vesselDuties(&b, &p.Bodies[i])
	}
	liquorTanks(&b, chosen)
	return b
}

func vesselDuties(b *brewing.Brewhouse, body *catalog.Body) {
	v := body.Vessel
	if has(v, catalog.DutyMash) {
		b.MashVessel, b.TunGross = body.Part, &v.Gross
	}
	if has(v, catalog.DutyLauter) {
		b.LauterVessel, b.LauterArea = body.Part, known(v.LauterArea)
	}
	if has(v, catalog.DutyKettle) {
		b.KettleVessel, b.KettleGross = body.Part, &v.Gross
	}
	if has(v, catalog.DutyWhirlpool) {
		b.WhirlpoolVessel = body.Part
	}
	if has(v, catalog.DutyHotLiquor) {
		b.LiquorTank = &v.Nominal
	}
}

// liquorTanks adds hot and cold liquor tanks that are products of their own.
func liquorTanks(b *brewing.Brewhouse, chosen []Chosen) {
	for _, t := range all(chosen, catalog.ClassLiquorTank) {
		v := t.Product.Bodies[0].Vessel
		if has(v, catalog.DutyHotLiquor) {
			b.LiquorTank = sum(b.LiquorTank, v.Nominal)
			b.LiquorHeat = sum(b.LiquorHeat, elementPower(t.Product))
		}
		if has(v, catalog.DutyColdLiquor) {
			b.ColdLiquor = sum(b.ColdLiquor, v.Nominal)
		}
	}
}

func sum[Q ~float64](have *Q, more Q) *Q {
	if have != nil {
		more += *have
	}
	return &more
}

// elementPower adds up the heating elements of a product.
func elementPower(p *catalog.Product) unit.Power {
	var w unit.Power
	for _, l := range p.Loads {
		if l.Kind == "element" {
			w += l.Power
		}
	}
	return w
}

// brewhouseOptions are the brewhouses of the same heat that could be chosen instead.
func brewhouseOptions(c *catalog.Catalogue, now *catalog.Product, chosen []Chosen) []brewing.Brewhouse {
	var out []brewing.Brewhouse
	for _, p := range c.ByClass(catalog.ClassBrewhouse) {
		if p.Code != now.Code && p.Brewhouse.Heat == now.Brewhouse.Heat {
			out = append(out, brewhouse(p, chosen))
		}
	}
	return out
}

// brewLengths are the lengths that can be bought, for a plan without a brewhouse.
func brewLengths(c *catalog.Catalogue) []unit.Volume {
	var out []unit.Volume
	for _, p := range c.ByClass(catalog.ClassBrewhouse) {
		if !slices.Contains(out, p.Brewhouse.Length) {
			out = append(out, p.Brewhouse.Length)
		}
	}
	return out
}

func brewingTanks(chosen []Chosen, class catalog.Class) []brewing.Tank {
	var out []brewing.Tank
	for _, t := range all(chosen, class) {
		tank := brewingTank(t.Product)
		tank.Tag = t.Item.Tag
		out = append(out, tank)
	}
	return out
}

func brewingTank(p *catalog.Product) brewing.Tank {
	v := p.Bodies[0].Vessel
	t := brewing.Tank{Code: p.Code, Gross: v.Gross, Pressure: known(v.Pressure), Jacket: v.JacketBody+v.JacketCone > 0}
	if has(v, catalog.DutyServing) {
		t.Class = "serving"
	}
	return t
}

func tankOptions(c *catalog.Catalogue, class catalog.Class) []brewing.Tank {
	list := c.ByClass(class)
	out := make([]brewing.Tank, 0, len(list))
	for _, p := range list {
		out = append(out, brewingTank(p))
	}
	return out
}

func cooler(c *Chosen) brewing.Cooler {
	if c == nil {
		return brewing.Cooler{}
	}
	d := c.Product.WortCooler
	return brewing.Cooler{Stages: d.Stages, UA: &d.UA1, UA2: known(d.UA2)}
}

func handling(s enquiry.Site, mill *Chosen) brewing.Handling {
	h := brewing.Handling{UpperFloor: s.Level != 0}
	for _, r := range s.Routes {
		for _, step := range r.Steps {
			switch step.Kind {
			case "lift":
				h.LiftLoad = step.Rated.Ptr()
			case "stairs":
				h.Stairs = true
			}
		}
	}
	if mill != nil && mill.Product.Mill != nil {
		h.Hopper = &mill.Product.Mill.Tip
	}
	return h
}
