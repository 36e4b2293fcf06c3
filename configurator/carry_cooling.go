package configurator

import (
	"tunwright/catalog"
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/configurator/cooling"
	"tunwright/configurator/enquiry"
)

// designDays is the length of the stretch of the plan that the cooling is designed
// on: two weeks hold a whole ale batch and both ends of a lager.
const designDays = 14

// Hours of the day at which a plan that counts in days is put to the clock: a tank
// is full when the brew day ends, it is crashed and emptied in the morning.
const (
	fillHour  = 16
	crashHour = 8
	rackHour  = 8
)

// coolingInput carries tanks, the busiest fortnight of the plan and the site to the
// refrigeration.
func coolingInput(p enquiry.Project, chosen []Chosen, c *catalog.Catalogue, plan *brewing.Result) cooling.Input {
	s := p.Site
	in := cooling.Input{
		Country: s.Country, Room: s.Climate.Room.Ptr(), Ambient: s.Climate.Summer.Ptr(), Winter: s.Climate.Winter.Ptr(), Mains: s.Water.Summer.Ptr(),
		Route: cooling.Route{Header: s.Chiller.Distance.Ptr(), Rise: s.Chiller.Rise.Ptr()},
		Siting: cooling.Siting{
			Where: s.Chiller.Where, Neighbour: s.Chiller.Neighbour.Ptr(), Walled: s.Chiller.Walled.Ptr(), OpeningDist: s.Chiller.Openings.Ptr(),
		},
	}
	if p.Brief.CrashPerDay > 0 {
		in.CrashAtOnce = &p.Brief.CrashPerDay
	}
	for _, panel := range all(chosen, catalog.ClassPanel) {
		if panel.Product.Panel.Ramps {
			ramps := true
			in.Ramped = &ramps
		}
	}
	if s.Chiller.Where != "inside" {
		in.Route.Outdoor = unit.Metres(s.Chiller.Distance.Value.M() / 2)
	}
	in.Tanks = coolingTanks(chosen)
	if ch := first(chosen, catalog.ClassChiller); ch != nil {
		in.Chiller = chiller(ch.Product)
		for _, other := range all(chosen, catalog.ClassChiller) {
			if other.Product.Code == ch.Product.Code {
				in.Units++
			}
		}
	}
	for _, alt := range c.ByClass(catalog.ClassChiller) {
		if alt.Code != in.Chiller.Code {
			in.Alternatives = append(in.Alternatives, chiller(alt))
		}
	}
	coolantBuffer(&in, chosen)
	coolantPump(&in, chosen, c)
	if plan != nil {
		coolingPlan(&in, plan, p)
	}
	return in
}

func coolingTanks(chosen []Chosen) []cooling.Tank {
	var tanks []cooling.Tank
	for _, piece := range pieces(chosen) {
		v := piece.Body.Vessel
		use, cooled := coolingUse(v)
		if !cooled {
			continue
		}
		tank := coolingTank(piece.Item, v, use)
		tank.Steel = &piece.Body.Empty
		tanks = append(tanks, tank)
	}
	return tanks
}

func coolingUse(v *catalog.Vessel) (cooling.Use, bool) {
	switch {
	case v == nil || v.JacketBody+v.JacketCone == 0:
		return "", false
	case has(v, catalog.DutyFerment):
		return cooling.Ferment, true
	case has(v, catalog.DutyBright), has(v, catalog.DutyServing):
		return cooling.Bright, true
	case has(v, catalog.DutyColdLiquor):
		return cooling.ColdLiquor, true
	}
	return "", false
}

func coolingTank(tag string, v *catalog.Vessel, use cooling.Use) cooling.Tank {
	return cooling.Tank{
		Tag: tag, Use: use, Volume: v.Nominal, Gross: v.Gross, Diameter: v.Diameter, Cylinder: v.Cylinder,
		Bottom: coolingEnd(v.Bottom), Angle: v.Cone, Top: coolingEnd(v.Top),
		JacketBody: v.JacketBody, JacketCone: v.JacketCone, JacketPS: known(v.JacketPS), JacketDrop: known(v.JacketDrop),
		JacketFlow: known(v.JacketFlow), JacketHeld: v.JacketVol, Insulation: known(v.Insulation),
	}
}

func coolingEnd(shape string) cooling.End {
	switch shape {
	case "cone":
		return cooling.Cone
	case "dished":
		return cooling.Dished
	}
	return cooling.Flat
}

func chiller(p *catalog.Product) cooling.Chiller {
	d := p.Chiller
	ch := cooling.Chiller{
		Code: p.Code, Glycol: d.Glycol, Stages: d.Stages, MinLeaving: d.MinLeaving, MaxEntering: &d.MaxEntering,
		MinFlow: &d.MinFlow, MaxFlow: &d.MaxFlow, PumpHead: known(d.PumpHead), ShutOff: known(d.ShutOff), Tank: d.Tank,
		Refrigerant: d.Refrigerant, Charge: &d.Charge, Sound: &d.Sound, AirFlow: &d.AirFlow,
	}
	ch.Ratings = make([]cooling.Rating, len(d.Ratings))
	for i, r := range d.Ratings {
		ch.Ratings[i] = cooling.Rating{Leaving: r.Leaving, Ambient: r.Ambient, Capacity: r.Capacity, Input: r.Input}
	}
	return ch
}

func coolantBuffer(in *cooling.Input, chosen []Chosen) {
	for _, b := range all(chosen, catalog.ClassBuffer) {
		if in.Buffer == nil {
			in.Buffer = &cooling.Buffer{}
		}
		in.Buffer.Volume += b.Product.Bodies[0].Vessel.Nominal
	}
	if in.Buffer != nil {
		keeps := true
		in.Bypass = &keeps
	}
}

func coolantPump(in *cooling.Input, chosen []Chosen, c *catalog.Catalogue) {
	for _, p := range all(chosen, catalog.ClassPump) {
		if p.Product.Pump.For == "coolant" {
			pump := circulator(p.Product)
			in.Pump = &pump
		}
	}
	for _, p := range c.ByClass(catalog.ClassPump) {
		if p.Pump.For == "coolant" {
			in.Pumps = append(in.Pumps, circulator(p))
		}
	}
}

func circulator(p *catalog.Product) cooling.Pump {
	return cooling.Pump{Code: p.Code, Flow: p.Pump.Flow, Head: p.Pump.Head, ShutOff: p.Pump.ShutOff}
}

// coolingPlan puts the busiest fortnight of the plan to the clock.
func coolingPlan(in *cooling.Input, plan *brewing.Result, p enquiry.Project) {
	from := coolingFrom(plan)
	in.Horizon = unit.Days(designDays)
	for _, b := range plan.Batches {
		if b.Fermenter < 0 || b.Start >= from+designDays || b.Rack <= from {
			continue
		}
		in.Batches = append(in.Batches, coolingBatch(plan, b, from))
	}
	for _, b := range plan.Batches {
		for _, i := range b.Brights {
			if b.Rack < from+designDays && b.BrightEnd > from {
				in.Stays = append(in.Stays, cooling.Stay{
					Tank: plan.Brights[i].Tank.Tag, Start: clock(b.Rack, from, rackHour), End: clock(b.BrightEnd, from, rackHour),
					Volume: unit.Litres(b.Racked.L() / float64(len(b.Brights))),
				})
			}
		}
	}
	wort, refills := wortLoad(plan, from, p.Brief.DayStart)
	// A cold-liquor tank takes the second stage over: what the wort gives off in an
	// hour is made good through the night.
	if clt := coldLiquorTank(in.Tanks); clt != "" {
		for i := range refills {
			refills[i].Tank = clt
		}
		in.Refills = refills
		return
	}
	in.Wort = wort
}

func coldLiquorTank(tanks []cooling.Tank) string {
	for _, t := range tanks {
		if t.Use == cooling.ColdLiquor {
			return t.Tag
		}
	}
	return ""
}

// coolingFrom begins the design stretch half a week before the day on which the
// plan's fermentations and coolings-down give off the most heat. The week with the
// most brews need not be that one.
func coolingFrom(plan *brewing.Result) int {
	heat := make([]float64, len(plan.Weeks)*7)
	add := func(day int, p unit.Power) {
		if day >= 0 && day < len(heat) {
			heat[day] += p.W()
		}
	}
	for _, b := range plan.Batches {
		c := &plan.Beers[b.Beer].Charge
		for day := range c.Curve {
			add(b.Start+day, c.Curve[day].Heat)
		}
		if b.CrashStart < b.Rack {
			add(b.CrashStart, c.CrashPower)
		}
	}
	most := 0
	for day := range heat {
		if heat[day] > heat[most] {
			most = day
		}
	}
	return max(most-designDays/2, 0)
}

func coolingBatch(plan *brewing.Result, b brewing.Batch, from int) cooling.Batch {
	beer := &plan.Beers[b.Beer]
	heat, peak := beer.Charge.Mass.Heat, beer.Charge.PeakHeat
	out := cooling.Batch{
		Tank: plan.Fermenters[b.Fermenter].Tank.Tag, Beer: beer.Beer.Name, Start: clock(b.Start, from, fillHour), End: clock(b.Rack, from, rackHour),
		Volume: b.Wort, Lager: beer.Beer.Kind == brewing.Lager, Original: beer.Beer.OE, Final: beer.Beer.AE, Ferment: beer.Ferment, Heat: &heat, Peak: &peak,
	}
	if b.CrashStart < b.Rack {
		out.Crash = &cooling.Crash{Start: clock(b.CrashStart, from, crashHour), To: beer.Cold}
	}
	return out
}

// clock is the time from the start of the stretch to an hour of a day of the plan.
func clock(day, from, hour int) unit.Duration {
	return unit.Hours(float64((day-from)*24 + hour))
}

// wortLoad is the second stage of the wort cooler: the heaviest beer's power, at
// each brew of the stretch that needs it, and the same as cold liquor to be made.
func wortLoad(plan *brewing.Result, from int, dayStart unit.Duration) (*cooling.Wort, []cooling.Refill) {
	var w cooling.Wort
	var refills []cooling.Refill
	knockOut := knockOutStart(plan)
	for _, b := range plan.Batches {
		beer := &plan.Beers[b.Beer]
		if beer.Summer == nil || beer.Summer.Stage2 == nil {
			continue
		}
		for _, day := range b.Brews {
			if day < from || day >= from+designDays {
				continue
			}
			start := unit.Hours(float64((day-from)*24)) + dayStart + knockOut
			w.Starts = append(w.Starts, start)
			w.Power, w.For = max(w.Power, beer.Summer.Stage2.Power), max(w.For, beer.Summer.Time)
			refills = append(refills, cooling.Refill{Start: start + beer.Summer.Time, Volume: unit.Litres(beer.Summer.Stage2.Chilled.Kg())})
		}
	}
	if len(w.Starts) == 0 {
		return nil, nil
	}
	return &w, refills
}

// knockOutStart is when the wort of a day's first brew goes through the cooler, from
// the first mash.
func knockOutStart(plan *brewing.Result) unit.Duration {
	if len(plan.BrewDays) == 0 {
		return 0
	}
	return plan.BrewDays[0].KnockOut
}
