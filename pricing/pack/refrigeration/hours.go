package refrigeration

import (
	"slices"
	"strconv"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/cooling"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// series are the loads of an hour in the order they are stacked.
var series = []struct {
	name, head string // in the chart's key, over the table's column
	of         func(*cooling.Hour) unit.Power
}{
	{"pipes and pump", "Pipes, pump", func(h *cooling.Hour) unit.Power { return h.Fixed }},
	{"gain of fermenters", "Gain", func(h *cooling.Hour) unit.Power { return h.Gain }},
	{"bright tanks", "Bright", func(h *cooling.Hour) unit.Power { return h.Bright }},
	{"cold liquor", "Liquor", func(h *cooling.Hour) unit.Power { return h.Liquor }},
	{"fermentation", "Ferment", func(h *cooling.Hour) unit.Power { return h.Ferment }},
	{"cooling down", "Crash", func(h *cooling.Hour) unit.Power { return h.Crash }},
}

// HourTable is the load of every hour of the design weeks, for a spreadsheet; the
// paper prints the day of the highest hour alone.
func HourTable(r configurator.Report) paper.Table {
	if r.Cooling == nil {
		return hourTable(&cooling.Result{}, 0, 0)
	}
	t := hourTable(r.Cooling, 0, len(r.Cooling.Hours))
	t.Name, t.Title = "cooling-hours", "Load of every hour of the design weeks"
	return t
}

// dayTable is the day of the highest hour.
func dayTable(c *cooling.Result) paper.Table {
	from := c.Load.PeakHour / 24 * 24
	t := hourTable(c, from, min(from+24, len(c.Hours)))
	t.Name, t.Title = "cooling-peak-day", "Hour by hour on day "+strconv.Itoa(c.Load.PeakHour/24+1)+", the day of the highest hour"
	t.Notes = []string{"Means over the hour. Gain is through the skins of fermenters; bright, liquor, ferment and crash are bright tanks, cold liquor, fermentation and cooling down; crashing is how many tanks are being cooled down. Cellar is all of them together, without the wort. Bold: the highest hour. Every hour of the design weeks is in the table of hours, as data."}
	return t
}

func hourTable(c *cooling.Result, from, to int) paper.Table {
	t := paper.Table{Columns: []paper.Column{{Title: "Day", Kind: paper.Number}, {Title: "Hour"}}}
	for _, s := range series {
		t.Columns = append(t.Columns, number(s.head, "kW"))
	}
	t.Columns = append(t.Columns, number("Cellar", "kW"), number("Wort", "kW"), number("Crashing", "tanks"))
	for h := from; h < to; h++ {
		hour := &c.Hours[h]
		cells := []paper.Cell{paper.I(h/24 + 1), paper.W(clock(h))}
		for _, s := range series {
			cells = append(cells, say.Number(s.of(hour), "kw", 2))
		}
		cells = append(cells, say.Number(hour.Cellar, "kw", 2), say.Number(hour.Wort, "kw", 2), paper.I(hour.Crashing))
		for k := range cells {
			cells[k].Strong = h == c.Load.PeakHour
		}
		t.Rows = append(t.Rows, paper.Row{Cells: cells})
	}
	return t
}

func tankTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "cooled-tanks", Title: "Cooled tanks",
		Columns: []paper.Column{
			{Title: "Tank"},
			{Title: "Use"},
			number("Holds", "L"), number("Skin", "m²"), number("U", "W/(m²·K)"), number("Coldest", "°C"), number("Gain", "W"),
			number("Jacket", "m²"), number("Flow", "L/min"), number("Drop", "kPa"), number("Held", "L"), number("Ferments", "kW"), number("3 K warmer", "h"),
		},
		Notes: []string{"U is through the insulation; gain is at the coldest. Flow, drop and held are of the jacket. Ferments is the highest heat of fermentation. 3 K warmer is the time from standstill of the chiller at the tank's worst hour. — for a tank that stands empty throughout the design weeks."},
	}
	for i := range c.Tanks {
		k := &c.Tanks[i]
		busy := !idle(c, k.Tag)
		t.Rows = append(t.Rows, say.Row(
			paper.W(k.Tag), paper.W(useName(k.Use)), say.Number(k.Volume, "l", 0), say.Number(k.Body.Surface, "m2", 1), say.Number(k.U, "w_m2k", 2), dash(say.Number(k.Hold, "c", 0), busy), dash(say.Number(k.GainCold, "w", 0), busy),
			say.Number(k.Jacket, "m2", 2), say.Number(k.JacketFlow, "l_min", 1), say.Number(k.JacketDrop, "kpa", 0), say.Number(k.JacketHeld, "l", 0), dash(say.Number(k.PeakHeat, "kw", 2), k.PeakHeat > 0), dash(say.Number(k.ToWarm, "h", 0), busy && k.ToWarm > 0),
		))
	}
	return t
}

// idle tells whether a tank stands empty throughout the design weeks. A cold-liquor
// tank is always cold.
func idle(c *cooling.Result, tag string) bool {
	for i := range c.Tanks {
		if c.Tanks[i].Tag == tag && c.Tanks[i].Use == cooling.ColdLiquor {
			return false
		}
	}
	return !slices.ContainsFunc(c.Bars, func(b cooling.Bar) bool { return b.Tank == tag })
}

func useName(u cooling.Use) string {
	switch u {
	case cooling.Ferment:
		return "fermenter"
	case cooling.Bright:
		return "bright tank"
	case cooling.ColdLiquor:
		return "cold liquor"
	}
	return string(u)
}

func crashTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "crash-cooling", Title: "Cooling down after fermentation",
		Columns: []paper.Column{
			{Title: "Tank"},
			{Title: "Beer"},
			number("From", "°C"), number("To", "°C"), number("Allowed", "h"), number("By ramp", "h"), number("Valve open", "h"),
			number("Mean", "kW"), number("With gain", "kW"), number("First draw", "kW"), number("Glycol warms", "K"),
		},
		Notes: []string{"By ramp: the set point falls evenly over the time allowed; longer than allowed where the jacket limits. Valve open: fully open throughout. First draw and warming of the glycol are those of the first minute with the valve open."},
	}
	for i := range c.Crashes {
		k := &c.Crashes[i]
		ramped, opened := paper.W("never"), paper.W("never")
		if k.Reached {
			ramped, opened = say.Number(k.Ramped, "h", 0), say.Number(k.Open, "h", 1)
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(k.Tank), paper.W(k.Beer), say.Number(k.From, "c", 0), say.Number(k.To, "c", 0), say.Number(k.Wish, "h", 0), ramped, opened,
			say.Number(k.Mean, "kw", 2), say.Number(k.WithGain, "kw", 2), say.Number(k.Initial, "kw", 1), say.Number(k.Rise, "k", 1),
		))
	}
	if len(c.Crashes) == 0 {
		t.Rows = append(t.Rows, say.Row(paper.W("none"), paper.W("no batch is cooled down in these weeks"), paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Cell{}))
	}
	return t
}

func fluidTable(c *cooling.Result) paper.Table {
	f := &c.Fluid
	t := paper.Table{
		Name: "glycol", Title: "Glycol of the circuit",
		Columns: []paper.Column{{Title: "At"}, number("Temperature", "°C"), number("Density", "kg/m³"), number("Heat", "kJ/(kg·K)"), number("Conducts", "W/(m·K)"), number("Viscosity", "mPa·s")},
		Notes: []string{
			"Propylene glycol " + unit.In(f.Mass, "pct", 0) + " by mass, " + unit.In(f.Volume, "pct", 1) + " by volume; first ice at " + unit.Fixed(f.Freeze, 1) + ", " + unit.In(f.Below, "k", 1) + " below the supply. Coldest beer or liquor served: " + f.Coldest.String() + "; the beer most easily frozen freezes at " + unit.Fixed(f.BeerFreeze, 1) + ".",
		},
	}
	for _, row := range []struct {
		at string
		f  *cooling.Fluid
	}{{"supply", &f.AtSupply}, {"mean of supply and return", &f.AtMean}} {
		t.Rows = append(t.Rows, say.Row(paper.W(row.at), say.Number(row.f.Temp, "c", 1), say.Number(row.f.Density, "kg_m3", 0), say.Number(row.f.Heat, "kj_kgk", 2), say.Number(row.f.Conductivity, "w_mk", 3), say.Number(row.f.Viscosity, "mpa_s", 2)))
	}
	return t
}

func storeTable(c *cooling.Result) paper.Table {
	s := &c.Store
	rows := [][2]string{
		{"Store and built-in reservoir", shown(s.Installed)},
		{"Needed against short running and too many starts", shown(s.Cycling)},
		{"Swing of the store", shown(s.Swing)},
		{"Energy it gives within the swing", unit.In(s.Energy, "kwh", 1)},
		{"Filling of the whole circuit", shown(s.Fill)},
		{"Pure glycol in it", shown(s.GlycolL) + ", " + unit.In(s.Glycol, "kg", 0)},
		{"Swelling from cold to warm", unit.In(s.Expansion, "pct", 1) + ", " + shown(s.Swell)},
	}
	if s.Mass > 0 {
		rows = append(rows, [2]string{"Mass of the glycol in the store, for the floor", unit.In(s.Mass, "kg", 0)})
	}
	if s.Vessel > 0 {
		rows = append(rows, [2]string{"Expansion vessel, closed circuit", shown(s.Vessel)})
	} else {
		rows = append(rows,
			[2]string{"Open reservoir: stands above it and drains back", shown(s.DrainBack)},
			[2]string{"Open reservoir: space left free above the level", shown(s.Freeboard)})
	}
	if s.WortEnergy > 0 {
		rows = append(rows,
			[2]string{"Second stage of one knock-out", unit.In(s.WortEnergy, "kwh", 1)},
			[2]string{"Store for it", shown(s.WortVolume)},
			[2]string{"Restored by the chiller within the weeks", say.YesNo(s.WortSettles)})
	}
	return data("glycol-store", "Store, filling and expansion", rows...)
}
