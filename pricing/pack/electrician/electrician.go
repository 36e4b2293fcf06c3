// Package electrician says what the electrician is sent to price and to design from:
// supply, demand by state and line, the circuit schedule, the single-line diagram, the
// connection points with their location plan, emergency stop and bonding, energy, what
// the network operator must hear, cautions.
//
// It is information for design, not a design; it prints figures of the electrical
// result and decides none. Begin with Sections.
package electrician

import (
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator"
	"tunwright/configurator/electrical"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/structure"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// The space of a figure on a page turned sideways, and upright for the diagram, of A4
// and of US letter.
const (
	chartWidth    drawing.MM = 240
	chartHeight   drawing.MM = 60
	diagramWidth  drawing.MM = 171
	diagramHeight drawing.MM = 204
)

// Sections is what the electrician prices and designs from.
func Sections(r configurator.Report) []paper.Section {
	if r.Electrical == nil {
		return trade.Gap(r, configurator.Electrical, "Electrical load schedule")
	}
	f := Facts(r)
	return []paper.Section{
		{Title: "Electrical load schedule", Blocks: trade.Blocks(
			paper.Paragraph{Voice: paper.Lead, Text: paper.Plain("Utility schedule for pricing and for design by a licensed electrician. Information for design, not a design.")},
			verdict(f),
			say.Heading("Supply"), lines(2, header(r, f)), say.Heading("Demand and verdict"), lines(1, without(f.Footer(), "Network operator")),
		)},
		{Title: "Demand in the states of the brew day", NewPage: true, Wide: true, Blocks: demand(r, f)},
		{Title: "Circuit schedule", NewPage: true, Wide: true, Blocks: printedSchedule(f)},
		{Title: "Single-line diagram", NewPage: true, Blocks: diagram(r)},
		{Title: "Connection points", NewPage: true, Wide: true, Blocks: points(r, f)},
		{Title: "Protection of people", NewPage: true, Blocks: trade.Blocks(zoneTable(f), residualTable(f), stopTable(f), bondTable(f))},
		{Title: EnergyTitle, Blocks: energy(r, f)},
		{Title: "Network operator, open points and cautions", NewPage: true, Blocks: last(r, f)},
	}
}

// verdict says whether the supply carries the brewery as far as it is known.
func verdict(f electrical.Facts) paper.Block {
	b := f.Result.Binding
	state := f.Result.States[b.State].Title
	switch {
	case b.Margin == nil:
		return say.Note("Whether the supply carries it is not known: fuse or existing load is missing. The brewery asks for %s on L%d, in %s.", unit.Fixed(b.Demand, 1), b.Line, state)
	case *b.Margin < 0:
		return say.Note("The supply as known does not carry it: %s on L%d, in %s, is %s more than is left. What would mend it stands under the open points.", unit.Fixed(b.Demand, 1), b.Line, state, unit.Fixed(-*b.Margin, 1))
	}
	return say.Note("The supply as known carries it with %s to spare on L%d, in %s. Unconfirmed until the network operator confirms it in writing.", unit.Fixed(*b.Margin, 1), b.Line, state)
}

func demand(r configurator.Report, f electrical.Facts) []paper.Block {
	var out []paper.Block
	if d, err := DemandChart(r, chartWidth, chartHeight); err == nil {
		out = append(out, paper.Figure{Drawing: d, Caption: "Current of each line in each state, at any moment. The figure stands over the fullest line; bold is the state that decides."})
	} else {
		out = append(out, say.Note("The chart could not be drawn: %s.", err))
	}
	return append(out, stateTable(f), caseTable(f))
}

func caseTable(f electrical.Facts) paper.Table {
	t := table("supply-cases", f.CaseTable())
	t.Title = "If a fact turns out otherwise"
	t.Notes = []string{"Needs: greatest line current of the brewery. Gives: what is left of the fuse on that line."}
	return t
}

func diagram(r configurator.Report) []paper.Block {
	sheets, err := Diagram(r, diagramWidth, diagramHeight)
	if err != nil {
		return []paper.Block{say.Note("The diagram could not be drawn: %s.", err)}
	}
	var out []paper.Block
	for i, d := range sheets {
		caption := "Signs by IEC 60617. Devices, cables and ratings as suggested; lines as assigned to balance the worst state."
		if i > 0 {
			caption = "Continued."
		}
		out = append(out, paper.Figure{Drawing: d, Caption: caption})
	}
	return out
}

func points(r configurator.Report, f electrical.Facts) []paper.Block {
	var out []paper.Block
	if d, err := LocationPlan(r, structure.PlanWidth, structure.PlanHeight); err == nil {
		out = append(out, paper.Figure{Drawing: d, Caption: "Location plan. Triangles: connection points by their refs, at the middle of the piece they serve (of several, the first); +: height of the terminals over the floor, in metres. Hatched: the switchboard. Axes in metres."})
	} else {
		out = append(out, say.Note("The location plan could not be drawn: %s.", err))
	}
	if open := unlocated(f); len(open) > 0 {
		out = append(out, say.Note("Not on the plan, on a wall, outside or still to be placed: %s.", strings.Join(open, ", ")))
	}
	t := table("connection-points", f.PointTable())
	t.Notes = []string{"x and y from the south-west corner of the room. Height: of the terminal over the finished floor; open: to be settled with the installer on site."}
	return append(out, trade.Fit(trade.Plain(trade.Dense(t)), trade.Sideways))
}

func bondTable(f electrical.Facts) paper.Table {
	t := table("bonding", f.BondTable())
	t.Notes = []string{"Parts are tested before they are bonded: not everything of metal is an extraneous-conductive-part."}
	return trade.Fit(trade.Plain(trade.Dense(t)), trade.Upright)
}

// EnergyTitle heads the section of energy.
const EnergyTitle = "Energy of a brew day"

func energy(r configurator.Report, f electrical.Facts) []paper.Block {
	out := []paper.Block{table("energy", f.EnergyTable())}
	if d, err := HalfHourChart(r, diagramWidth, 64); err == nil {
		out = append(out, paper.Figure{Drawing: d, Caption: "Mean power of each half hour: what a half-hour register reads. It does not protect the fuse from what runs together within the half hour."})
	}
	loads := table("energy-loads", f.LoadTable())
	loads.Title = "Connected loads with their energy"
	return append(out, say.Note("Running cost: energy by state times the rate of the tariff in force at that time; standing and capacity charges by the supplier's contract. Rates are the client's; tariff: %s.", say.Or(r.Project.Site.Supply.Tariff.Or(""), "not known")), trade.Fit(trade.Dense(loads), trade.Upright))
}

func last(r configurator.Report, f electrical.Facts) []paper.Block {
	var actions []string
	for _, a := range r.Electrical.Actions {
		actions = append(actions, say.Sentence(a.Words))
	}
	out := []paper.Block{say.Heading("Data for the application to the network operator"), lines(1, f.OperatorBlock())}
	if len(actions) > 0 {
		out = append(out, say.Heading("To settle with the network operator"), say.List(actions))
	}
	rest := trade.Blocks(
		trade.Facts(r, "supply-facts", "site.supply"), trade.Open(r, configurator.Electrical, "electrical-open"), byWhom(),
		paper.Caution{Title: "Electricity", Lines: say.Texts(f.Cautions())},
	)
	out = append(out, rest...)
	if s := trade.Sources(r, configurator.Electrical); len(s.Items) > 0 {
		out = append(out, say.Heading("Rules and sources of the checks"), s)
	}
	return out
}

func byWhom() paper.Table {
	return trade.ByWhom(
		"electrical-by-whom",
		trade.Task{What: "Application for capacity, fuse, meter; agreement in writing", Who: "client with the network operator; the landlord in a building of several tenants"},
		trade.Task{What: "Ze, fault current, earthing, logged week of the existing load", Who: "electrician, before the design"},
		trade.Task{What: "Design, feeder, brewery board, circuits, isolators, bonding, testing, certificate", Who: "electrician"},
		trade.Task{What: "Control panel with its conformity, interlocks, limit and level contacts, emergency stop buttons", Who: "us"},
		trade.Task{What: "Wiring between panel and machines on a skid", Who: "us, at the works"},
		trade.Task{What: "Wiring from the panel to machines on site", Who: "electrician, by our terminal plan"},
		trade.Task{What: "Rating plates of every machine", Who: "us, before dispatch"},
	)
}
