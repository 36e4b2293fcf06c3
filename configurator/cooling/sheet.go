package cooling

import (
	"strconv"

	"tunwright/catalog/unit"
)

// Sheet is what the refrigeration contractor is told, as rows ready to print. The
// hourly table is Result.Hours, the pipe table Result.Circuit.Sections, the schedule
// Result.Bars.
type Sheet struct {
	Loads       []LoadRow
	Chiller     []Datum // data sheet of the chiller at the design's conditions
	Connections []Connection
	SetPoints   []SetPoint
	Materials   []Material
	ByWhom      []Work
	Flags       []Flag
	Cautions    []string
	Notes       []string
}

// LoadRow is an item of the load table.
type LoadRow struct {
	Item      string
	Count     int
	Volume    unit.Volume
	From, To  unit.Temperature
	Mean      unit.Power    // while it runs
	Peak      unit.Power    // in its highest hour or at first
	For       unit.Duration // each time
	HoursWeek unit.Duration // of running in a week, all of them together
	AtOnce    int           // allowed for at the same time
	Gain      unit.Power    // of one, through its skin at its coldest
	Basis     string
}

// Datum is a line of a data sheet.
type Datum struct {
	Name     string
	Quantity unit.Quantity // nil where Text says it
	Text     string
}

// Connection is a pipe or air connection somebody has to make.
type Connection struct {
	At, Service, Size string
	Flow              unit.VolumeFlow
	Drop              unit.PressureDiff
	Temp              unit.Temperature
	Kv                unit.FlowCoefficient // control valve; zero: none
	BalanceKv         unit.FlowCoefficient // setting of the balancing valve; zero: open
	Rated             *unit.GaugePressure  // of the jacket; nil unknown
}

// SetPoint is a value the controls are set to.
type SetPoint struct {
	Name     string
	Quantity unit.Quantity
	Note     string
}

// Material is a quantity to be bought.
type Material struct {
	Item     string
	Quantity unit.Quantity
	Note     string
}

// Work says who does a piece of it.
type Work struct {
	Item string
	By   Party
	Note string
}

// Party is one of those who build the cooling.
type Party string

const (
	Supplier    Party = "brewery supplier"
	Contractor  Party = "refrigeration contractor"
	Electrician Party = "electrician"
	Builder     Party = "builder"
	Client      Party = "client"
)

func sheet(in *Input, res *Result) Sheet {
	return Sheet{
		Loads: loadRows(in, res), Chiller: chillerData(in, res), Connections: connections(in, res), SetPoints: setPoints(in, res),
		Materials: materials(in, res), ByWhom: byWhom(in, res), Flags: res.Siting.Flags, Cautions: Cautions(), Notes: notes(in, res),
	}
}

// loadRows sets out each kind of load; equal tanks share a row.
func loadRows(in *Input, res *Result) []LoadRow {
	rows := make([]LoadRow, 0, 8)
	weeks := float64(res.Horizon) / 168
	for i := range res.Batches {
		rows = addBatch(rows, res, &res.Batches[i], weeks)
	}
	for i := range res.Crashes {
		rows = addCrash(rows, res, &res.Crashes[i], weeks)
	}
	rows = append(rows, brightRow(res, weeks)...)
	rows = append(rows, liquorRow(in, res, weeks)...)
	if w := in.Wort; w != nil {
		rows = append(rows, LoadRow{
			Item: "wort cooler, second stage", Count: 1, Mean: w.Power, Peak: w.Power, For: w.For,
			HoursWeek: unit.Hours(w.For.H() * float64(len(w.Starts)) / weeks), AtOnce: 1, Basis: "from the store; not in the chiller's duty",
		})
	}
	s := &res.Load
	always := unit.Hours(168)
	return append(
		rows,
		LoadRow{Item: "pipe gains", Count: 1, From: res.Room, To: res.Fluid.Supply, Mean: s.Pipe, Peak: s.Pipe, For: always, HoursWeek: always, AtOnce: 1, Basis: "insulated pipes, room and outdoor air"},
		LoadRow{Item: "pump", Count: 1, Mean: s.Pump, Peak: s.Pump, For: always, HoursWeek: always, AtOnce: 1, Basis: "shaft power, all of it ends in the glycol"},
	)
}

func findRow(rows []LoadRow, item string, v unit.Volume) *LoadRow {
	for i := range rows {
		if rows[i].Item == item && rows[i].Volume == v {
			return &rows[i]
		}
	}
	return nil
}

func addBatch(rows []LoadRow, res *Result, b *Batch, weeks float64) []LoadRow {
	item := "fermentation, " + b.Beer
	t := findTank(res, b.Tank)
	until := b.End
	if b.Crash != nil {
		until = b.Crash.Start
	}
	span := until - b.Start
	if r := findRow(rows, item, t.Volume); r != nil {
		r.Count++
		r.HoursWeek += unit.Hours(span.H() / weeks)
		return rows
	}
	peak, _, _ := heatCourse(&tank{Tank: Tank{Volume: t.Volume}}, b)
	c := kindCourse(b.Lager)
	basis := "650 kJ/kg of real extract, course of an ale"
	if b.Lager {
		basis = "650 kJ/kg of real extract, course of a lager"
	}
	if b.Heat != nil {
		basis = "total heat from the brewing plan"
	}
	return append(rows, LoadRow{
		Item: item, Count: 1, Volume: t.Volume, From: fermentTemp(*b), To: fermentTemp(*b),
		Mean: unit.Watts(peak * c.whole / c.hour[len(c.hour)-1]), Peak: unit.Watts(peak), For: span, HoursWeek: unit.Hours(span.H() / weeks),
		AtOnce: 1, Gain: t.GainCold, Basis: basis,
	})
}

func addCrash(rows []LoadRow, res *Result, c *CrashResult, weeks float64) []LoadRow {
	item := "crash, " + c.Beer
	t := findTank(res, c.Tank)
	if r := findRow(rows, item, t.Volume); r != nil {
		r.Count++
		r.HoursWeek += unit.Hours(c.Ramped.H() / weeks)
		return rows
	}
	return append(rows, LoadRow{
		Item: item, Count: 1, Volume: t.Volume, From: c.From, To: c.To, Mean: c.Mean, Peak: c.Initial, For: c.Ramped,
		HoursWeek: unit.Hours(c.Ramped.H() / weeks), AtOnce: res.Load.CrashAtOnce, Gain: t.GainCold,
		Basis: "beer and steel over the time allowed; peak: valve fully open at first",
	})
}

func brightRow(res *Result, weeks float64) []LoadRow {
	if len(res.Stays) == 0 {
		return nil
	}
	hours := unit.Duration(0)
	for i := range res.Stays {
		hours += res.Stays[i].End - res.Stays[i].Start
	}
	s := &res.Stays[0]
	t := findTank(res, s.Tank)
	warm, over := orZeroQuiet(s.WarmUp, unit.Kelvins(2)), orZeroQuiet(s.Over, unit.Hours(12))
	pull := unit.Watts(orZeroQuiet(s.Volume, t.Volume).M3() * rhoBeer * cpBeer * warm.K() / over.S())
	return []LoadRow{{
		Item: "bright tanks", Count: len(res.Stays), Volume: t.Volume, From: unit.Celsius(t.Hold.C() + warm.K()), To: t.Hold, Mean: t.GainCold, Peak: pull + t.GainCold,
		For: s.End - s.Start, HoursWeek: unit.Hours(hours.H() / weeks), AtOnce: countUse(res, Bright), Gain: t.GainCold, Basis: "warming on the way in, taken out over " + over.String(),
	}}
}

func liquorRow(in *Input, res *Result, weeks float64) []LoadRow {
	if len(res.Refills) == 0 {
		return nil
	}
	r := &res.Refills[0]
	t := findTank(res, r.Tank)
	mains := unit.Celsius(assumedMains)
	if in.Mains != nil {
		mains = *in.Mains
	}
	over := orZeroQuiet(r.Over, unit.Hours(20))
	q, _ := LiquorDuty(r.Volume, mains, t.Hold, over)
	return []LoadRow{{
		Item: "cold liquor", Count: len(res.Refills), Volume: r.Volume, From: mains, To: t.Hold, Mean: q, Peak: q, For: over,
		HoursWeek: unit.Hours(over.H() * float64(len(res.Refills)) / weeks), AtOnce: 1, Gain: t.GainCold, Basis: "refill from the summer mains",
	}}
}

func findTank(res *Result, tag string) *TankResult {
	for i := range res.Tanks {
		if res.Tanks[i].Tag == tag {
			return &res.Tanks[i]
		}
	}
	return &TankResult{}
}

func countUse(res *Result, u Use) (n int) {
	for i := range res.Tanks {
		if res.Tanks[i].Use == u {
			n++
		}
	}
	return n
}

func chillerData(in *Input, res *Result) []Datum {
	c, s, f, site := &res.Chiller, &res.Load, &res.Fluid, &res.Siting
	d := make([]Datum, 0, 28)
	put := func(name string, q unit.Quantity) { d = append(d, Datum{Name: name, Quantity: q}) }
	d = append(d, Datum{Name: "chiller", Text: strconv.Itoa(max(c.Units, 1)) + " × " + in.Chiller.Code})
	put("duty with margin", s.Duty)
	put("duty with the store", s.WithStore)
	put("margin, applied once", s.Margin)
	put("output at these conditions", c.Capacity)
	put("electrical input at these conditions", c.Input)
	put("leaving glycol", f.Supply)
	put("entering glycol at design", f.Return)
	put("air at the condenser", res.Ambient)
	put("share of the catalogue's largest output", c.Factor)
	put("flow", res.Circuit.Flow)
	put("pressure drop of the evaporator", res.Circuit.ChillerDrop)
	put("net positive suction head at the pump", res.Circuit.NPSH)
	put("glycol by mass", f.Mass)
	put("glycol by volume", f.Volume)
	put("lowest leaving temperature", in.Chiller.MinLeaving)
	if in.Chiller.MinFlow != nil {
		put("least flow, one unit", *in.Chiller.MinFlow)
	}
	if in.Chiller.MaxFlow != nil {
		put("largest flow, one unit", *in.Chiller.MaxFlow)
	}
	if in.Chiller.MaxEntering != nil {
		put("highest entering temperature", *in.Chiller.MaxEntering)
	}
	put("running share over the weeks", c.Run)
	if r := site.Refrigerant; r != nil {
		d = append(d, Datum{Name: "refrigerant", Text: r.Name + ", class " + r.Class})
		put("warming potential", r.GWP)
	}
	if in.Chiller.Charge != nil {
		put("charge, one unit", *in.Chiller.Charge)
	}
	if site.CO2e != nil {
		put("charge as CO₂, one unit", *site.CO2e)
	}
	put("heat to the air", site.Rejected)
	put("air at 10 K", site.Air)
	if in.Chiller.Sound != nil {
		put("sound power, one unit", *in.Chiller.Sound)
	}
	if site.Sound != nil {
		put("sound pressure at the nearest window", *site.Sound)
	}
	return d
}

func connections(in *Input, res *Result) []Connection {
	c := &res.Circuit
	rows := make([]Connection, 0, len(c.Sections)+2)
	for i := range c.Sections {
		s := &c.Sections[i]
		switch s.Tag {
		case "M":
			rows = append(
				rows,
				Connection{At: "chiller", Service: "glycol flow", Size: s.Pipe.Size, Flow: c.Flow, Drop: c.ChillerDrop, Temp: res.Fluid.Supply},
				Connection{At: "chiller", Service: "glycol return", Size: s.Pipe.Size, Flow: c.Flow, Temp: res.Fluid.Return},
			)
		case "B":
			row := Connection{At: s.To, Service: "jacket flow and return", Size: s.Pipe.Size, Flow: s.Flow, Drop: s.Jacket, Temp: res.Fluid.Supply, Kv: s.Kv, BalanceKv: s.BalanceKv}
			for k := range in.Tanks {
				if in.Tanks[k].Tag == s.To {
					row.Rated = in.Tanks[k].JacketPS
				}
			}
			rows = append(rows, row)
		}
	}
	return rows
}
