// Package plumbing says what the plumber and the drainage authority are sent: the
// water drawn over the day, the incoming pipe and the pressure, protection against
// backflow at every outlet, treatment; the streams of waste water, the limits of the
// consent, the data of the application, gullies and drains; compressed air and gases.
//
// It prints figures of the water's result and decides none. Begin with Sections and
// Day.
package plumbing

import (
	"fmt"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/water"
	"tunwright/pricing/pack/lines"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// Title is the paper's own.
const Title = "Water, drainage, air and gases"

// Sections is what the plumber is asked to design and fit.
func Sections(r configurator.Report) []paper.Section {
	if r.Water == nil {
		return trade.Gap(r, configurator.Water, Title)
	}
	w := r.Water
	last := trade.Blocks(
		chosenTable(r), trade.Facts(r, "water-facts", "site.water", "site.drainage", "site.floor_above_street_m", "site.room.drains"),
		trade.Open(r, configurator.Water, "water-open"), byWhom(),
	)
	if src := trade.Sources(r, configurator.Water); len(src.Items) > 0 {
		last = append(last, say.Heading("Rules and sources of the checks"), src)
	}
	return []paper.Section{
		{Title: Title, NewPage: true, Blocks: trade.Blocks(
			paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(lead(w))},
			say.Para("Worked out for planning from the busiest day of the brewing plan, draws of one moment added at their full flow. A licensed plumber designs, the undertaker and the drainage authority decide."),
			paper.Caution{Title: "Water, hot liquor and drains", Lines: say.Texts(water.Cautions())},
			dayFigure(r), drawTable(w), lines.Table("water-supply", "Incoming water", w.Supply.Schedule), fixtureTable(w), lines.Table("water-treatment", "Treatment", w.Treat),
		)},
		{Title: "Protection against backflow and points of use", NewPage: true, Wide: true, Blocks: trade.Blocks(
			backflowTable(r), lines.Points(r, "water-points", "Connections that must stand ready", "cold-water", "hot-liquor", "chilled-liquor", "drain"),
		)},
		{Title: "Waste water", Wide: true, Blocks: trade.Blocks(streamTable(r))},
		{Title: "Consent, gullies and drains", NewPage: true, Blocks: trade.Blocks(
			consentTable(w), lines.Table("waste-schedule", "Waste water of the busiest day", w.Waste.Schedule), gullyTable(w), drainTable(w),
			lines.Table("discharge-application", "Data for the application to discharge", w.Waste.Apply),
		)},
		{Title: "Compressed air and gases", Blocks: trade.Blocks(airTable(w), lines.Table("gas-supply", "Supply of air and gases", gases(w)), lines.Points(r, "gas-points", "Connections that must stand ready", "compressed-air", "co2", "gas"))},
		{Title: "Facts, open questions and who does what", Blocks: last},
	}
}

// lead is the sentence that matters most.
func lead(w *water.Result) string {
	words := fmt.Sprintf("The main must give %s at once and %s on the busiest day", unit.In(w.Supply.Needed, "l_s", 2), unit.In(w.Demand.Day, "m3", 1))
	if w.Supply.Capacity > 0 {
		words += fmt.Sprintf("; it gives %s by %s", unit.In(w.Supply.Capacity, "l_s", 2), w.Supply.CapacityBy)
	} else {
		words += "; what it gives is not known"
	}
	return words + fmt.Sprintf(". %s go to the drain, at most %s at once.", unit.In(w.Waste.Day, "m3", 1), unit.In(w.Waste.PeakRate, "l_s", 2))
}

func dayFigure(r configurator.Report) paper.Block {
	fig, err := Day(r)
	if err != nil {
		return say.Note("The day's draws could not be drawn: %s.", err)
	}
	return paper.Figure{Drawing: fig, Caption: "Water drawn on the busiest day, draws of one moment on top of one another. People's fixtures come on top by chance and are not drawn."}
}

func drawTable(w *water.Result) paper.Table {
	n := trade.Quantity
	t := paper.Table{
		Name: "water-draws", Title: "Draws of the busiest day",
		Columns: []paper.Column{trade.Text("draw", "Draw"), trade.Text("from", "From"), trade.Text("to", "To"), n("volume", "Volume", "L"), n("flow", "Flow", "L/s"), n("flowmin", "Flow", "L/min"), trade.Text("fed", "Fed from")},
	}
	for _, d := range w.Demand.Draws {
		fed := "main"
		if d.Break {
			fed = "break tank"
		}
		t.Rows = append(t.Rows, say.Row(paper.W(d.Name), paper.W(clock(d.Start)), paper.W(clock(d.End)), say.Number(d.Volume, "l", 0), say.Number(d.Flow, "l_s", 2), say.Number(d.Flow, "l_min", 0), paper.W(fed)))
	}
	if len(t.Rows) > 0 {
		t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W("Process water"), {}, {}, say.Number(w.Demand.Process, "l", 0).WithFormula("SUM({volume:items})"), {}, {}, {}}})
	}
	return t
}

// clock is a time of the day; a draw that ends after midnight ends on the next day.
func clock(d unit.Duration) string {
	m := int(d.Min() + 0.5)
	words := fmt.Sprintf("%02d:%02d", m/60%24, m%60)
	if m > 24*60 {
		words += " next day"
	}
	return words
}

func fixtureTable(w *water.Result) paper.Table {
	n := trade.Quantity
	t := paper.Table{
		Name: "water-fixtures", Title: "Fixtures of the people",
		Columns: []paper.Column{trade.Text("fixture", "Fixture"), n("count", "Number", ""), n("each", "Draw-off of one", "L/s"), n("units", "Loading units", "LU"), n("sum", "Together", "L/s")},
	}
	for _, f := range w.Demand.Fixtures {
		t.Rows = append(t.Rows, say.Row(paper.W(strings.ReplaceAll(f.Kind, "-", " ")), paper.I(f.Count), say.Number(f.Each, "l_s", 2), say.Number(f.Units, "lu", 1), say.Number(f.Sum, "l_s", 2)))
	}
	return t
}

// backflowTable is every outlet with its category and device; in the United States
// the devices bear other names.
func backflowTable(r configurator.Report) paper.Table {
	us := r.Project.Site.Country == "US"
	t := paper.Table{
		Name: "backflow", Title: "Outlets",
		Columns: []paper.Column{
			trade.Text("outlet", "Outlet"), trade.Quantity("category", "Fluid category", ""), trade.Text("device", "Device proposed"), trade.Text("has", "As planned"), trade.Text("why", "Why"), trade.Text("basis", "Basis"),
			trade.Text("connection", "Connection"), trade.Text("flow", "Flow"), trade.Text("day", "In a day"), trade.Text("needs", "Asks for"), trade.Text("drain", "Waste to"),
		},
		Notes: []string{"Categories 1 (wholesome) to 5 (serious hazard to health). The undertaker may ask for more; devices with moving parts are tested yearly."},
	}
	for _, b := range r.Water.Backflow {
		needs := device(b.Needs)
		if us {
			needs = b.NeedsUS
		}
		has := "not known"
		switch {
		case b.Has == "none":
			has = "none"
		case b.Has != "":
			has = fmt.Sprintf("%s, up to category %d", b.Has, b.HasUpTo)
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(b.Outlet), paper.I(b.Category), paper.W(needs), paper.W(has), paper.W(b.Why), paper.W(basis(b.Basis)),
			paper.W(b.Point.Connection), asked(b.Point.Flow, "l_min", 0), asked(b.Point.Day, "l", 0), paper.W(point(b.Point)), paper.W(b.Point.Drain)))
	}
	return trade.Dense(t)
}

// device is a device's words with its letters.
func device(code string) string {
	words := water.DeviceName(code)
	if strings.Contains(words, code) {
		return words
	}
	return words + " (" + code + ")"
}

// basis says where the category of a use was found.
func basis(word string) string {
	switch word {
	case "read":
		return "read in the regulations"
	case "memory":
		return "from memory"
	}
	return "common practice"
}

// asked is a quantity with its unit where one is told.
func asked(q unit.Quantity, key string, decimals int) paper.Cell {
	if q.SI() == 0 {
		return paper.Cell{}
	}
	return paper.W(unit.In(q, key, decimals))
}

// point is the temperature and the pressure that an outlet asks for.
func point(o water.Outlet) string {
	words := ""
	if o.Pressure > 0 {
		words = unit.Fixed(o.Pressure, 1)
	}
	if o.Temp != nil {
		words = say.Join(words, unit.Fixed(*o.Temp, 0))
	}
	return words
}

func airTable(w *water.Result) paper.Table {
	n, x := trade.Quantity, trade.Text
	t := paper.Table{
		Name: "compressed-air", Title: "Users of compressed air",
		Columns: []paper.Column{x("user", "User"), n("flow", "Free air at work", "m³/h"), n("mean", "Mean", "m³/h"), n("pressure", "Pressure", "bar(g)"), x("class", "Purity, ISO 8573-1"), x("words", "Remark")},
	}
	for _, a := range w.Gas.Air {
		t.Rows = append(t.Rows, say.Row(paper.W(a.Name), say.Number(a.Flow, "m3_h", 1), say.Number(a.Mean, "m3_h", 1), say.Number(a.Pressure, "bar_g", 1), paper.W(a.Class), paper.W(a.Words)))
	}
	return t
}

// gases is the schedule of air and gases; a receiver of nought bar·L means that the
// maker did not state its volume.
func gases(w *water.Result) []water.Line {
	return lines.Unknown(w.Gas.Schedule, func(q unit.Quantity) bool {
		_, pv := q.(unit.PressureEnergy)
		return pv
	}, "not known: volume of the compressor's receiver from its maker; written scheme in Great Britain from 250 bar·L")
}

func byWhom() paper.Table {
	return trade.ByWhom(
		"water-by-whom",
		trade.Task{What: "Measurement of flow and pressure at the stopcock; hardness and chlorine of the supply", Who: "plumber, undertaker's report"},
		trade.Task{What: "Notice to the undertaker and consent before any fitting is connected", Who: "licensed plumber"},
		trade.Task{What: "Incoming pipe, meter, backflow devices and their test, pipes to the connection points", Who: "licensed plumber"},
		trade.Task{What: "Break tank, booster, softener, filters", Who: "plumber; us, where chosen in the quotation"},
		trade.Task{What: "Application to discharge, with drain plan, safety data sheets and these figures", Who: "client signs, we give the figures"},
		trade.Task{What: "Gullies, channels, drains, sampling chamber, falls of the floor", Who: "builder and flooring contractor"},
		trade.Task{What: "Balance tank, dosing, yeast and trub to the side stream", Who: "us, where chosen in the quotation; collector named by the client"},
		trade.Task{What: "Compressed air and gas pipes, regulators, relief valves, store for cylinders", Who: "fitter and gas supplier; see the gas safety and pressure sheets"},
		trade.Task{What: "Hoses and connections from the points to our equipment", Who: "our fitters"},
	)
}

// Workings show how each figure came about.
func Workings(r configurator.Report) []paper.Section {
	if r.Water == nil {
		return nil
	}
	return []paper.Section{{Title: "Workings: water and drainage", NewPage: true, Blocks: []paper.Block{say.Working("", r.Water.Trace)}}}
}
