package production

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// batchSheet is one beer from grist to package.
func batchSheet(plan *brewing.Result, at int) []paper.Block {
	b := &plan.Beers[at]
	return []paper.Block{
		beerFacts(plan, b), processTable(plan, b), volumeTable(b), knockoutTable(b), fermentTable(b), needTable(plan, b),
	}
}

func beerFacts(plan *brewing.Result, b *brewing.BeerPlan) paper.Facts {
	c, d := &b.Charge, b.Days
	fact := func(name, value string) paper.Fact { return paper.Fact{Name: name, Value: paper.W(value)} }
	return paper.Facts{Columns: 2, Facts: []paper.Fact{
		fact("Kind of beer", b.Label),
		fact("Sold as", say.Or(b.Beer.Package, "keg")+container(b)),
		fact("Original extract", unit.Fixed(b.Beer.OE, 1)+", "+b.Brew.Gravity.String()),
		fact("Apparent final extract", unit.Fixed(b.Beer.AE, 1)),
		fact("Alcohol", unit.Fixed(c.Attenuation.ABV, 1)+", real attenuation "+unit.In(c.Attenuation.RDF, "pct", 0)),
		fact("Carbonation", c.CO2.String()+carbonated(b)),
		fact("One fermenter", filled(b)),
		fact("Fermenter", say.Words("class %s, gross at least %s", b.Class, unit.In(b.TankGross, "l", 0)).Text),
		fact("Pitched, fermented, stored cold at", celsius(b.Pitch)+", "+celsius(b.Ferment)+", "+celsius(b.Cold)),
		fact("Days in the fermenter", say.Words("%d fermenting, %d maturing, %d cold, %d to clean", d.Ferment, d.Mature, d.Cold, d.Turn).Text),
		fact("Bright tank", say.Words("%d days, class %s", d.Bright, say.Or(b.BrightClass, "none")).Text),
		fact("In the year", say.Words("%d batches, %d brews, %s packaged", b.Batches, b.Brews, unit.In(b.Packaged, "hl", 1)).Text),
		fact("Heat of a brew, at the source", unit.In(b.Brew.Energy, "kwh", 0)+", "+unit.Fixed(b.Brew.EnergyPerHL, 1)),
		fact("Liquor of a brew, cold", unit.In(b.Brew.Water, "l", 0)+", "+unit.Digits(b.Brew.LiquorShare.Value(), 3)+" L/L of wort"),
	}}
}

// filled says how many brews fill a fermenter, and to what.
func filled(b *brewing.BeerPlan) string {
	wort := unit.In(b.Charge.Wort, "hl", 1) + " of cold wort"
	if b.BrewsPerTank == 1 {
		return "one brew, " + wort
	}
	return say.Words("%d brews, %s", b.BrewsPerTank, wort).Text
}

func celsius(t unit.Temperature) string { return t.String() }

func container(b *brewing.BeerPlan) string {
	if b.Beer.Package == "tank" || b.Beer.Package == "bottle" || b.Beer.Package == "can" || b.Beer.Container <= 0 {
		return ""
	}
	return " of " + b.Beer.Container.String()
}

func carbonated(b *brewing.BeerPlan) string {
	switch {
	case b.Beer.Natural:
		return ", natural, by closing the tank"
	case b.Charge.AddedCO2 > 0:
		return ", " + unit.In(b.Charge.AddedCO2, "kg", 1) + " of CO₂ added to a tank"
	}
	return ""
}

// processTable is the brew as it is done, each line with its state.
func processTable(plan *brewing.Result, b *brewing.BeerPlan) paper.Table {
	s, p := &b.Brew, plan.Settled.Practice
	t := paper.Table{
		Name: "brew-" + say.Slug(b.Beer.Name), Title: "One brew",
		Columns: []paper.Column{
			{Title: "Step"},
			number("Volume", "L"),
			{Title: "State"},
			number("Mass", "kg"), number("At", "°C"),
			number("Heat", "kWh"), number("Time", "min"),
			{Title: "Remark"},
		},
	}
	add := func(step string, volume paper.Cell, state string, mass, temp, heat, time paper.Cell, remark string) {
		t.Rows = append(t.Rows, say.Row(paper.W(step), volume, paper.W(state), mass, temp, heat, time, paper.W(remark)))
	}
	none := paper.Cell{}
	litres := func(v unit.Volume) paper.Cell { return say.Number(v, "l", 0) }
	add("Malt", none, "", say.Number(s.Malt, "kg", 1), say.Number(p.Grist, "c", 0), none, none, say.Words("%d bags of %s", s.Bags, p.BagMass).Text)
	add("Hot liquor in all", litres(s.HotLiquor), "cold, 20 °C", none, say.Number(p.LiquorTemp, "c", 0), say.Number(s.LiquorHeat, "kwh", 1), none, saved(s))
	add("Mash liquor", litres(s.MashLiquor), "cold, 20 °C", none, say.Number(s.Strike, "c", 1), none, none, "strike temperature, "+p.MashRatio.String())
	add("Mash", litres(s.MashVolume), "at the rest", none, say.Number(p.MashRest, "c", 0), none, none, "in the tun")
	add("Sparge", litres(s.Sparge), "cold, 20 °C", none, say.Number(p.LiquorTemp, "c", 0), none, none, "")
	add("Spent grain, wet", none, "", say.Number(s.WetGrain, "kg", 0), none, none, none, "holds "+unit.In(s.HeldWater, "kg", 0)+" of water")
	add("Kettle full", litres(s.KettleFull), "hot, before the boil", say.Number(s.KettleMass, "kg", 0), say.Number(p.LauterOut, "c", 0), none, none, unit.Fixed(s.KettleExtract, 1))
	add("Heat to the boil", none, "", none, none, say.Number(s.HeatUp, "kwh", 1), minutes(s.HeatUpTime), heatUpWords(plan, s))
	boil := s.BoilTime
	add("Boil", none, "", say.Number(s.Evaporated, "kg", 0), none, none, minutes(&boil), "mass is what evaporates; takes "+unit.In(s.BoilPower, "kw", 1))
	add("Hops", none, "", say.Number(s.Hops, "kg", 2), none, none, none, "by kind of beer; the recipe decides")
	add("Cast out", litres(s.HotCast), "hot, 100 °C", none, say.Number(unit.Celsius(100), "c", 0), none, none, unit.In(s.ColdKettle, "l", 0)+" when cold")
	add("Dried yeast", none, "", say.Number(s.Yeast, "kg", 2), say.Number(b.Pitch, "c", 0), none, none, "fresh; repitching takes less")
	t.Notes = []string{"Volumes carry their state: the same wort is larger hot than cold. Kettle at the least " + unit.In(s.KettleGross, "l", 0) + " gross; headspace now " + unit.In(s.KettleSpace, "pct", 0) + "."}
	return t
}

func saved(s *brewing.BrewSheet) string {
	if s.LiquorSaved <= 0 {
		return "from the mains in winter"
	}
	return "from the mains in winter; " + unit.In(s.LiquorSaved, "kwh", 0) + " less with the hot liquor of the last knock-out"
}

func heatUpWords(plan *brewing.Result, s *brewing.BrewSheet) string {
	k := plan.Settled.Brewhouse.Kettle
	if k == nil {
		return "heat source unknown"
	}
	if s.HeatUpTime == nil {
		return "the source never brings it to the boil"
	}
	return string(k.Kind) + ", " + unit.In(k.Power, "kw", 1)
}

func minutes(d *unit.Duration) paper.Cell {
	if d == nil {
		return paper.W("—")
	}
	return say.Number(*d, "min", 0)
}

func volumeTable(b *brewing.BeerPlan) paper.Table {
	t := paper.Table{
		Name: "volumes-" + say.Slug(b.Beer.Name), Title: "Volumes with their state, one brew",
		Columns: []paper.Column{{Title: "Where"}, {Title: "State"}, number("Volume", "L"), number("Lost from the line above", "%"), {Title: "Why"}},
	}
	for _, s := range b.Brew.Chain {
		loss := paper.Cell{}
		if s.Loss > 0 {
			loss = say.Number(s.Loss, "pct", 1)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(s.Place), paper.W(s.State), say.Number(s.Volume, "l", 0), loss, paper.W(s.Why)))
	}
	return t
}

func knockoutTable(b *brewing.BeerPlan) paper.Table {
	t := paper.Table{
		Name: "knock-out-" + say.Slug(b.Beer.Name), Title: "Knock-out of one brew",
		Columns: []paper.Column{
			{Title: "Water"},
			number("Mains", "°C"), number("Coolant", "°C"), number("Takes", "min"), number("Heat", "kWh"), number("Stage 1", "kW"), number("down to", "°C"),
			number("Needs", "kW/K"), number("Stage 2", "kW"), number("Hot liquor won", "L"), number("Beyond a brew's", "L"),
			{Title: "Reaches pitching"},
		},
	}
	for _, row := range []struct {
		name string
		k    *brewing.Knockout
	}{{"winter", b.Winter}, {"summer", b.Summer}} {
		if row.k == nil {
			t.Notes = append(t.Notes, "The "+row.name+" temperature of the mains water is not known.")
			continue
		}
		t.Rows = append(t.Rows, knockoutRow(row.name, row.k))
	}
	t.Notes = append(t.Notes, "Needs is the conductance (UA) of the exchanger's first stage. Stage 2 runs on chilled liquor or glycol; — where stage 1 reaches the pitching temperature.")
	return t
}

func knockoutRow(name string, k *brewing.Knockout) paper.Row {
	second := paper.W("—")
	if k.Stage2 != nil {
		second = say.Number(k.Stage2.Power, "kw", 1)
	}
	return say.Row(
		paper.W(name), say.Number(k.Mains, "c", 0), say.Number(k.Coolant, "c", 0), say.Number(k.Time, "min", 0), say.Number(k.Total, "kwh", 0),
		say.Number(k.Stage1.Power, "kw", 0), say.Number(k.Stage1To, "c", 1), say.Number(k.Stage1.UA, "kw_k", 2), second,
		say.Number(k.HotWater, "l", 0), say.Number(k.Surplus, "l", 0), paper.W(say.YesNo(k.Reaches)),
	)
}

func fermentTable(b *brewing.BeerPlan) paper.Table {
	c := &b.Charge
	t := paper.Table{
		Name: "fermentation-" + say.Slug(b.Beer.Name), Title: "One fermenter, day by day",
		Columns: []paper.Column{number("Day", ""), number("Fermented", "%"), number("Apparent extract", "°P"), number("Heat, mean", "kW"), number("CO₂", "kg/h"), number("CO₂ since pitching", "kg")},
		Notes: []string{
			"Highest heat " + unit.In(c.PeakHeat, "kw", 2) + ", highest CO₂ " + unit.In(c.PeakCO2, "kg_h", 2) + ". Cooling down takes " + unit.In(c.CrashHeat, "kwh", 1) + ", " + unit.In(c.CrashPower, "kw", 2) + " as a mean.",
			pressureWords(b),
		},
	}
	for _, p := range c.Curve {
		t.Rows = append(t.Rows, say.Row(paper.I(p.Day), say.Number(p.Fermented, "pct", 0), say.Number(p.Extract, "plato", 1), say.Number(p.Heat, "kw", 2), say.Number(p.CO2, "kg_h", 2), say.Number(p.Given, "kg", 1)))
	}
	return t
}

// pressureWords says what pressure holds the carbonation; a tank is never closed
// beyond what its plate says.
func pressureWords(b *brewing.BeerPlan) string {
	c := &b.Charge
	if c.Hold <= 0 {
		return "The carbonation is held without pressure at " + celsius(b.Cold) + "."
	}
	words := "Held at " + celsius(b.Cold) + " the carbonation needs " + unit.Fixed(c.Hold, 2) + "; at " + celsius(b.Ferment) + " it would need " + unit.Fixed(c.Spunding, 2)
	if c.TankNeeds != nil {
		words += ", with the beer's own head " + unit.Fixed(*c.TankNeeds, 2)
	}
	return words + ". No tank is closed beyond the pressure on its plate."
}

func needTable(plan *brewing.Result, b *brewing.BeerPlan) paper.Table {
	s, h := &b.Brew, plan.Settled.Brewhouse
	t := paper.Table{
		Name: "sizes-" + say.Slug(b.Beer.Name), Title: "Least sizes for this beer against what is chosen",
		Columns: []paper.Column{{Title: "What"}, {Title: "Needed", Align: paper.Right}, {Title: "Chosen", Align: paper.Right}},
	}
	add := func(what, need, have string) {
		t.Rows = append(t.Rows, say.Row(paper.W(what), paper.W(need), paper.W(have)))
	}
	add("Mash vessel, gross", unit.In(s.TunGross, "l", 0)+" or more", litresOf(h.TunGross))
	add("Lauter floor at the highest loading", unit.In(s.LauterArea, "m2", 2)+" or more", areaOf(h.LauterArea))
	add("Grain on the floor", "at most "+unit.In(plan.Settled.Practice.MaxLoading, "kg_m2", 0), unit.In(s.Loading, "kg_m2", 0))
	add("Depth of the grain bed", "at least "+unit.In(plan.Settled.Practice.MinBed, "mm", 0), unit.In(s.Bed, "mm", 0))
	add("Kettle, gross", unit.In(s.KettleGross, "l", 0)+" or more", litresOf(h.KettleGross))
	add("Hot liquor at once", unit.In(s.HotLiquor, "l", 0), litresOf(h.LiquorTank))
	add("Fermenter, gross", unit.In(b.TankGross, "l", 0)+" or more", "class "+b.Class)
	add("Shortest brew worth making, cold wort", unit.In(b.LeastBrew, "l", 0), unit.In(plan.BrewLength, "l", 0))
	return t
}

func litresOf(v *unit.Volume) string {
	if v == nil {
		return "unknown"
	}
	return unit.In(*v, "l", 0)
}

func areaOf(a *unit.Area) string {
	if a == nil {
		return "unknown"
	}
	return unit.In(*a, "m2", 2)
}
