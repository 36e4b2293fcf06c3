package configurator

import (
	"math"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/water"
)

// Times and amounts of a brewery day that no product states: common practice, no
// source.
const (
	hoseFlow    = 20.0 // L/min at the floor hose
	hoseMinutes = 30.0 // after the brew
	fillMinutes = 60.0 // liquor tank filled over
	yeastShare  = 0.02 // of the wort in the tank
	yeastRate   = 20.0 // L/min, yeast drawn off by a throttled valve
	trubRate    = 30.0 // L/min, hosed out of the whirlpool
	dripRate    = 10.0 // L/min, a lauter tun draining
	cleanRate   = 60.0 // L/min, cleaning pump or a throttled outlet
	pipeLosses  = 30.0 // m of service pipe where nobody measured it
	washbasins  = 1
	co2PerHL    = 2.0 // kg/hL sold, purging and packing included
)

// waterInput carries the brew day's draws and discharges, the main and the drains.
func waterInput(p enquiry.Project, chosen []Chosen, c *catalog.Catalogue, plan *brewing.Result) water.Input {
	in := water.Input{
		Country: water.Country(p.Site.Country), Supply: waterSupply(p.Site), Fixtures: []water.Fixture{{Kind: "washbasin", Count: washbasins}},
		Outlets: outlets(chosen), Gullies: gullies(p.Site), Consent: water.Consent{Planned: p.Site.Drains.Consent.Ptr()}, Yeast: p.Site.Drains.Yeast,
		ColdWater: p.Site.Water.Summer.Ptr(),
	}
	if bh := first(chosen, catalog.ClassBrewhouse); bh != nil {
		in.Heating = bh.Product.Brewhouse.Heat
	}
	if bore := p.Site.Drains.Pipe.Ptr(); bore != nil {
		in.Drains = []water.Drain{{Name: "drain", Bore: *bore}}
	}
	if plan != nil && len(plan.Beers) > 0 {
		draws(&in, p, plan, chosen)
		discharges(&in, p, plan)
		in.BeerPerDay = unit.Litres(plan.BrewLength.L() * float64(max(p.Brief.BrewsDay, 1)))
		in.BeerWeek = unit.Litres(plan.Totals.Packaged.L() / float64(max(p.Brief.Weeks, 1)))
	}
	in.Air = airSupply(chosen, c)
	return in
}

func waterSupply(s enquiry.Site) water.Supply {
	return water.Supply{
		Pressure: s.Water.Pressure.Ptr(), Flow: s.Water.Flow.Ptr(), Run: unit.Metres(pipeLosses), Rise: s.Rise.Ptr(), Hardness: s.Water.Hardness.Ptr(),
	}
}

// outlets are the points where water leaves the pipe, each with its backflow risk.
func outlets(chosen []Chosen) []water.Outlet {
	out := []water.Outlet{{Name: "floor hose", Use: "hose"}, {Name: "washbasin", Use: "washbasin"}}
	for i := range chosen {
		tag := chosen[i].Item.Tag
		switch chosen[i].Product.Class {
		case catalog.ClassBrewhouse:
			out = append(out, water.Outlet{Name: tag + " mash-in", Use: "mash-in"})
		case catalog.ClassLiquorTank:
			use := "hot-liquor"
			if has(chosen[i].Product.Bodies[0].Vessel, catalog.DutyColdLiquor) {
				use = "cold-liquor"
			}
			out = append(out, water.Outlet{Name: tag, Use: use})
		case catalog.ClassWortCooler:
			out = append(out, water.Outlet{Name: tag, Use: "wort-cooler"})
		case catalog.ClassCIP:
			out = append(out, water.Outlet{Name: tag, Use: "cip"})
		case catalog.ClassKegWasher:
			out = append(out, water.Outlet{Name: tag, Use: "keg-washer"})
		case catalog.ClassSteam:
			out = append(out, water.Outlet{Name: tag, Use: "boiler-feed"})
		case catalog.ClassCondenser:
			out = append(out, water.Outlet{Name: tag, Use: "condenser"})
		}
	}
	return out
}

func gullies(s enquiry.Site) []water.Gully {
	var out []water.Gully
	for i, d := range s.Room.Drains {
		g := water.Gully{Name: gullyName(i), Size: "DN100", Flow: d.Flow.Ptr(), Traffic: "trolley", Class: s.Drains.Grating}
		if s.Drains.Pipe.Known() {
			g.Drain = "drain"
		}
		out = append(out, g)
	}
	return out
}

// draws are the uses of water on the busiest day, put to the clock by the brew day.
func draws(in *water.Input, p enquiry.Project, plan *brewing.Result, chosen []Chosen) {
	start := p.Brief.DayStart
	heaviest := plan.Beers[0]
	for _, b := range plan.Beers[1:] {
		if b.Brew.HotLiquor > heaviest.Brew.HotLiquor {
			heaviest = b
		}
	}
	for n := range max(p.Brief.BrewsDay, 1) {
		shift := unit.Duration(0)
		if n > 0 && len(plan.BrewDays) > n {
			shift = unit.Seconds(plan.BrewDays[n].Cycle.S() * float64(n))
		}
		in.Draws = append(in.Draws, water.Draw{Name: "fill the hot liquor tank", Start: start + shift, Length: unit.Minutes(fillMinutes), Volume: heaviest.Brew.HotLiquor})
		if k := heaviest.Summer; k != nil && k.Time > 0 {
			volume := unit.Litres(heaviest.Charge.Wort.L() / float64(max(heaviest.BrewsPerTank, 1)) * k.Ratio.Value())
			in.Draws = append(in.Draws, water.Draw{Name: "wort cooler", Start: start + shift + knockOutStart(plan), Length: k.Time, Volume: volume, Fixed: true, Reused: k.HotWater})
		}
	}
	clean := start + unit.Hours(8)
	if len(plan.BrewDays) > 0 {
		clean = start + plan.BrewDays[0].Length
	}
	in.Draws = append(in.Draws, water.Draw{Name: "floor hose", Start: clean, Length: unit.Minutes(hoseMinutes), Flow: unit.LitresPerMinute(hoseFlow)})
	for i := range chosen {
		if class := chosen[i].Product.Class; class == catalog.ClassCIP || class == catalog.ClassKegWasher {
			if flow := coldWater(chosen[i].Product); flow > 0 {
				in.Draws = append(in.Draws, water.Draw{Name: chosen[i].Product.Name, Start: clean, Length: unit.Minutes(fillMinutes / 2), Flow: flow})
			}
		}
	}
	// A day of many brews can run past midnight; the plan of water counts on the clock.
	for i := range in.Draws {
		in.Draws[i].Start = unit.Hours(math.Mod(in.Draws[i].Start.H(), 24))
	}
}

func coldWater(p *catalog.Product) unit.VolumeFlow {
	for _, c := range p.Connects {
		if c.Service == "cold-water" {
			return c.Flow
		}
	}
	return 0
}

// discharges are the streams of the busiest day.
func discharges(in *water.Input, p enquiry.Project, plan *brewing.Result) {
	gully, drain := "", ""
	if len(in.Gullies) > 0 {
		gully = in.Gullies[0].Name
	}
	if len(in.Drains) > 0 {
		drain = in.Drains[0].Name
	}
	add := func(d water.Discharge) {
		d.Gully, d.Drain = gully, drain
		in.Discharges = append(in.Discharges, d)
	}
	add(water.Discharge{Name: "yeast of one tank", Kind: "yeast", Volume: unit.Litres(plan.BrewLength.L() * yeastShare), Flow: unit.LitresPerMinute(yeastRate)})
	for _, d := range plan.Dumps {
		if d.Volume > 0 && daily(d, plan) {
			add(dumped(d, max(p.Brief.BrewsDay, 1)))
		}
	}
	var most brewing.Cleaning
	for _, c := range plan.Clean {
		if c.Rinse > most.Rinse {
			most = c
		}
	}
	if most.Rinse > 0 {
		temp := most.Temp
		add(water.Discharge{Name: "caustic of " + most.Item, Kind: "caustic", Volume: most.Solution, Temp: &temp, Flow: unit.LitresPerMinute(cleanRate), Source: "cleaning set"})
		add(water.Discharge{Name: "rinse of " + most.Item, Kind: "rinse", Volume: most.Rinse, Flow: unit.LitresPerMinute(cleanRate), Source: "cleaning set"})
	}
	add(water.Discharge{Name: "floor washing", Kind: "floor", Volume: unit.Litres(hoseFlow * hoseMinutes), Flow: unit.LitresPerMinute(hoseFlow)})
}

// daily tells whether a dump belongs to an ordinary brewing day: not one of a failure,
// nor one of a few times in the year.
func daily(d brewing.Dump, plan *brewing.Result) bool {
	return d.Year > 0 && d.Year >= plan.Totals.Brews
}

// dumped is a dump of the brew day as a stream; what comes with each brew counts for
// each brew of the day. Where the valve decides the flow, it takes the practice's.
func dumped(d brewing.Dump, brews int) water.Discharge {
	temp := d.Temp
	out := water.Discharge{Name: d.Name, Volume: d.Volume, Times: brews, Temp: &temp}
	rate := cleanRate
	switch d.Name {
	case "trub and hops":
		out.Kind, rate = "trub", trubRate
	case "last runnings and drips of the tun":
		out.Kind, rate = "last-runnings", dripRate
	case "kettle cleaning solution":
		out.Kind, out.Times = "caustic", 1
	default:
		out.Kind = "hot-liquor"
	}
	out.Flow = unit.LitresPerMinute(rate)
	if d.Flow != nil {
		out.Flow = *d.Flow
	}
	return out
}

// airSupply lists who uses compressed air, the compressor and the gas bought.
func airSupply(chosen []Chosen, c *catalog.Catalogue) water.GasSupply {
	g := water.GasSupply{CO2PerHL: unit.KgPerHL(co2PerHL)}
	for i := range chosen {
		p := chosen[i].Product
		if p.Class == catalog.ClassCompressor {
			x := compressor(p)
			g.Compressor = &x
			continue
		}
		for _, conn := range p.Connects {
			if flow := conn.Flow + conn.AirFlow; conn.Service == "compressed-air" && flow > 0 {
				g.Users = append(g.Users, water.AirUser{Name: chosen[i].Item.Tag, Flow: flow, Pressure: conn.Pressure})
			}
		}
	}
	for _, p := range c.ByClass(catalog.ClassCompressor) {
		g.Others = append(g.Others, compressor(p))
	}
	return g
}

func compressor(p *catalog.Product) water.Compressor {
	x := water.Compressor{Name: p.Code}
	for _, conn := range p.Connects {
		if conn.Service == "compressed-air" {
			x.Flow, x.Pressure = conn.AirFlow, conn.Pressure
		}
	}
	return x
}
