package configurator

import (
	"math"

	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/air"
	"tunwright/configurator/brewing"
	"tunwright/configurator/enquiry"
)

// Humidity that outdoor and room air are reckoned with where nobody measured it:
// common practice, no source.
const (
	winterHumidity = 90.0
	summerHumidity = 60.0
	roomHumidity   = 60.0
)

// airInput carries the kettle's vapour and the cellar's carbon dioxide to the
// ventilation.
func airInput(p enquiry.Project, chosen []Chosen, list []Piece, c *catalog.Catalogue, plan *brewing.Result) air.Input {
	room := airRoom(p.Site)
	in := air.Input{Country: air.Country(p.Site.Country)}
	in.Noise = noise(p.Site, chosen)
	in.Boils = first(chosen, catalog.ClassBrewhouse) != nil
	in.Burners, in.GasSupply = burners(chosen), p.Site.Gas.Ptr()
	in.Gas = []air.GasSpace{gasSpace(p, chosen, list, c, plan, room)}
	if in.Steam = steam(p, chosen, list, c, plan, room); in.Steam != nil && in.Gas[0].Fan != nil {
		in.Steam.OtherDraw = *in.Gas[0].Fan
	}
	return in
}

// burners are the chosen products with a gas connection that states a heat input.
func burners(chosen []Chosen) []air.Burner {
	var out []air.Burner
	for i := range chosen {
		var heat unit.Power
		for _, c := range chosen[i].Product.Connects {
			heat += c.Gas
		}
		if heat > 0 {
			out = append(out, air.Burner{Tag: chosen[i].Item.Tag, Heat: heat})
		}
	}
	return out
}

// Between these distances the spreading of sound from a point holds.
var (
	nearestHeard  = unit.Metres(3)
	furthestHeard = unit.Metres(100)
)

// noise is what the nearest neighbour hears of the chillers outdoors. A neighbour
// further off than the formula holds is reckoned at its end, which is louder than
// what is heard; a nearer one is a gap of the report. Where nobody measured, the
// distance is unknown.
func noise(s enquiry.Site, chosen []Chosen) []air.Noise {
	near := s.Chiller.Neighbour
	if s.Chiller.Where == "inside" || near.Known() && near.Value < nearestHeard {
		return nil
	}
	distance := unit.Length(0)
	if near.Known() {
		distance = min(near.Value, furthestHeard)
	}
	n := air.Noise{Neighbour: "nearest window", Background: s.Quiet.Ptr(), On: true}
	for _, c := range all(chosen, catalog.ClassChiller) {
		n.Sources = append(n.Sources, air.Sound{Name: c.Item.Tag, Power: &c.Product.Chiller.Sound, Distance: distance})
	}
	if len(n.Sources) == 0 {
		return nil
	}
	return []air.Noise{n}
}

func airRoom(s enquiry.Site) air.Room {
	return air.Room{
		Name: s.Name, Area: unit.SquareMetres(outlineArea(s.Room.Outline)), Height: s.Room.Height.Value, LowPoint: lowPoint(s),
	}
}

// lowPoint tells whether heavy gas finds a place to stay: below the ground around, or
// in what the room has of pits and stairs down; nil where nobody said.
func lowPoint(s enquiry.Site) *bool {
	if s.Level < 0 || s.Rise.Known() && s.Rise.Value < 0 {
		below := true
		return &below
	}
	return s.Low.Ptr()
}

func outlineArea(ps []enquiry.Point) float64 {
	sum := 0.0
	for i, p := range ps {
		q := ps[(i+1)%len(ps)]
		sum += p.X.M()*q.Y.M() - q.X.M()*p.Y.M()
	}
	return math.Abs(sum) / 2
}

func steam(p enquiry.Project, chosen []Chosen, list []Piece, c *catalog.Catalogue, plan *brewing.Result, room air.Room) *air.Steam {
	bh := first(chosen, catalog.ClassBrewhouse)
	if bh == nil || plan == nil || len(plan.Beers) == 0 {
		return nil
	}
	s := &air.Steam{
		Room: room, Heat: bh.Product.Brewhouse.Heat,
		Indoor:    air.AirState{Temp: p.Site.Climate.Room.Value, Humidity: unit.Percent(roomHumidity)},
		Winter:    air.AirState{Temp: p.Site.Climate.Winter.Value, Humidity: unit.Percent(winterHumidity)},
		Summer:    air.AirState{Temp: p.Site.Climate.Summer.Value, Humidity: unit.Percent(summerHumidity)},
		SteamFree: steamFree(p.Site),
		Makeup:    air.MakeUp{Openings: p.Site.Air.Makeup.Ptr()},
	}
	for _, b := range plan.Beers {
		flow := b.Brew.Evaporation
		if b.Brew.EvapFullFlow != nil {
			flow = *b.Brew.EvapFullFlow
		}
		if flow > s.Evaporation {
			s.Evaporation, s.Kettle = flow, b.Brew.KettleFull
		}
	}
	for _, piece := range list {
		if has(piece.Body.Vessel, catalog.DutyKettle) {
			d := piece.Body.Vessel.Diameter.M()
			s.PlanArea = unit.SquareMetres(math.Pi * d * d / 4)
		}
	}
	extraction(s, chosen, c, p)
	return s
}

func steamFree(s enquiry.Site) *bool {
	if !s.Air.Steam.Known() {
		return nil
	}
	free := !s.Air.Steam.Value
	return &free
}

func extraction(s *air.Steam, chosen []Chosen, c *catalog.Catalogue, p enquiry.Project) {
	if x := first(chosen, catalog.ClassCanopy); x != nil {
		canopy := airCanopy(x.Product)
		canopy.Above = p.Site.Air.Outlet.Ptr()
		s.Canopy = &canopy
	}
	if x := first(chosen, catalog.ClassCondenser); x != nil {
		condenser := airCondenser(x.Product, p)
		s.Condenser = &condenser
	}
	for _, x := range c.ByClass(catalog.ClassCanopy) {
		s.Canopies = append(s.Canopies, airCanopy(x))
	}
	for _, x := range c.ByClass(catalog.ClassCondenser) {
		s.Condenses = append(s.Condenses, airCondenser(x, p))
	}
}

func airCanopy(p *catalog.Product) air.Canopy {
	x := p.Extract
	return air.Canopy{Name: p.Code, Length: x.Length, Width: x.Width, Flow: x.AirFlow, Duct: x.Duct, Head: x.Head, Drained: true, Insulated: true}
}

func airCondenser(p *catalog.Product, project enquiry.Project) air.Condenser {
	x := p.Condenser
	return air.Condenser{Name: p.Code, Vapour: x.Vapour, Water: x.Water, WaterIn: project.Site.Water.Summer.Value, WaterOut: unit.Celsius(80)}
}

func gasSpace(p enquiry.Project, chosen []Chosen, list []Piece, c *catalog.Catalogue, plan *brewing.Result, room air.Room) air.GasSpace {
	g := air.GasSpace{Room: room, Fan: p.Site.Air.Extract.Ptr()}
	for _, piece := range list {
		v := piece.Body.Vessel
		if !has(v, catalog.DutyFerment) && !has(v, catalog.DutyBright) && !has(v, catalog.DutyServing) {
			continue
		}
		g.Tanks = append(g.Tanks, air.GasTank{Name: piece.Tag, Gross: v.Gross, Filled: v.Nominal, Pressure: v.Pressure, Temp: unit.Celsius(2), Dissolved: unit.CO2GramsPerLitre(5)})
	}
	g.Alarm = gasAlarm(chosen)
	g.Stored, g.Stores = gasStores(p.Site.Store)
	for _, fan := range all(chosen, catalog.ClassFan) {
		g.Fan = sum(g.Fan, fan.Product.Fan.AirFlow)
		low := true
		g.Low = &low
	}
	for _, fan := range c.ByClass(catalog.ClassFan) {
		g.Fans = append(g.Fans, fan.Fan.AirFlow)
	}
	if plan != nil {
		g.Batches = gasBatches(plan)
	}
	g.Unplanned = plan == nil && ferments(list)
	return g
}

func ferments(list []Piece) bool {
	for _, piece := range list {
		if has(piece.Body.Vessel, catalog.DutyFerment) {
			return true
		}
	}
	return false
}

// gasAlarm counts the heads of all alarms chosen; each must warn outside for the room
// to be warned.
func gasAlarm(chosen []Chosen) air.Alarm {
	var a air.Alarm
	for i, alarm := range all(chosen, catalog.ClassGasAlarm) {
		d := alarm.Product.GasAlarm
		if i == 0 {
			a = air.Alarm{Detectors: new(int), Outside: true, FanSwitch: true}
		}
		*a.Detectors += d.Detectors * alarm.Item.Quantity()
		a.Outside, a.FanSwitch = a.Outside && d.Outside, a.FanSwitch && d.FanSwitch
	}
	return a
}

// gasStores are the cylinders or the bulk vessel; unknown where either its content or
// its place is.
func gasStores(s enquiry.GasStore) (stored *bool, list []air.Store) {
	known := s.Content.Known() && (s.Content.Value == 0 || s.Outdoors.Known())
	if !known {
		return nil, nil
	}
	kept := s.Content.Value > 0
	if kept {
		list = []air.Store{{Name: "stored carbon dioxide", Content: s.Content.Value, Count: max(s.Count, 1), Outdoor: s.Outdoors.Value}}
	}
	return &kept, list
}

// gasBatches are the fermentations that give off gas in the week in which the cellar
// gives off the most; that need not be the week of the most brews.
func gasBatches(plan *brewing.Result) []air.Batch {
	all := make([]air.Batch, 0, len(plan.Batches))
	starts := make([]*brewing.Batch, 0, len(plan.Batches))
	last := 0
	for i := range plan.Batches {
		b := &plan.Batches[i]
		if b.Fermenter < 0 {
			continue
		}
		beer := &plan.Beers[b.Beer]
		all = append(all, air.Batch{
			Tank: plan.Fermenters[b.Fermenter].Tank.Tag, Start: clock(b.Start, 0, fillHour), Volume: b.Wort,
			Original: beer.Beer.OE, Final: beer.Beer.AE, CO2: beer.Charge.Mass.CO2, PeakGas: beer.Charge.PeakCO2, Retained: beer.Charge.Residual,
		})
		starts = append(starts, b)
		last = max(last, b.FermentEnd)
	}
	monday := air.BusiestWeek(all, last/7+1) * 7
	out := all[:0]
	for i, b := range starts {
		if b.Start < monday+7 && b.FermentEnd > monday {
			all[i].Start = clock(b.Start, monday, fillHour)
			out = append(out, all[i])
		}
	}
	return out
}
