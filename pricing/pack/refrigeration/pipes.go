package refrigeration

import (
	"slices"
	"strconv"
	"strings"

	"tunwright/catalog/unit"
	"tunwright/configurator/cooling"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

func pipeTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "pipes", Title: "Pipe table: supply and return of a section together",
		Columns: []paper.Column{
			{Title: "No."},
			{Title: "From"},
			{Title: "To"},
			{Title: "Size"},
			number("Bore", "mm"), number("Length", "m"), number("Flow", "m³/h"), number("Speed", "m/s"), number("Re", ""),
			{Title: "Regime"},
			number("Gradient", "Pa/m"), number("Drop", "kPa"), number("Valve", "Kv"), number("Balancing", "Kv"), number("Foam", "mm"), number("Surface", "°C"), number("Gain", "W"),
			{Title: "Within"},
		},
		Notes: []string{
			"M is the main from the chiller, A along the tanks, B the branches. Bold: the run that sets the pump. Length is supply and return together. Drop is all of a section: pipe, fittings, valve and jacket.",
			"Valve is the flow coefficient of the on-off valve; balancing that of the balancing valve as set, open where it stays open. Within: speed and gradient within the limits, and the surface of the foam above the dew point of " + unit.Fixed(c.Circuit.DewPoint, 1) + ".",
		},
	}
	materials := []string{}
	for i := range c.Circuit.Sections {
		s := &c.Circuit.Sections[i]
		if m := s.Pipe.Material + ", " + s.Pipe.Standard; !slices.Contains(materials, m) {
			materials = append(materials, m)
		}
		t.Rows = append(t.Rows, pipeRow(s))
	}
	for _, m := range materials {
		t.Notes = append(t.Notes, say.Capital(m)+".")
	}
	return t
}

func pipeRow(s *cooling.Section) paper.Row {
	branch := s.Kv > 0
	balance := dash(paper.Cell{}, branch)
	if branch {
		balance = paper.W("open")
		if s.BalanceKv > 0 {
			balance = say.Number(s.BalanceKv, "kv", 1)
		}
	}
	cells := []paper.Cell{
		paper.W(s.Label), paper.W(s.From), paper.W(s.To), paper.W(s.Pipe.Size), say.Number(s.Pipe.Bore, "mm", 1), say.Number(s.Length, "m", 1), say.Number(s.Flow, "m3_h", 2), say.Number(s.Velocity, "m_s", 2),
		paper.N(s.Reynolds.N(), 0), paper.W(string(s.Regime)), say.Number(s.Gradient, "pa_m", 0), say.Number(s.Drop, "kpa", 1), dash(say.Number(s.Kv, "kv", 1), branch), balance,
		say.Number(s.Foam, "mm", 0), say.Number(s.Surface, "c", 1), say.Number(s.Gain, "w", 0), paper.W(within(s)),
	}
	for k := range cells {
		cells[k].Strong = s.Index
	}
	return paper.Row{Cells: cells}
}

func within(s *cooling.Section) string {
	switch {
	case !s.Within && !s.Dry:
		return "flow and dew no"
	case !s.Within:
		return "flow no"
	case !s.Dry:
		return "dew no"
	}
	return "yes"
}

func circuitTable(c *cooling.Result) paper.Table {
	p := &c.Circuit
	rows := [][2]string{
		{"Jackets open at once", strconv.Itoa(p.OpenJackets)},
		{"Flow of the open jackets", shown(p.JacketFlow)},
		{"Flow that carries the duty", shown(p.DutyFlow)},
		{"Flow of the circuit", shown(p.Flow)},
		{"Least flow, one jacket open", shown(p.Least)},
		{"Drop of the pipes on the longest run", unit.In(p.PipeDrop, "kpa", 1)},
		{"Drop of fittings", unit.In(p.Fittings, "kpa", 1)},
		{"Drop of the valve", unit.In(p.ValveDrop, "kpa", 1)},
		{"Drop of the jacket", unit.In(p.JacketDrop, "kpa", 1)},
		{"Drop of the evaporator", unit.In(p.ChillerDrop, "kpa", 1)},
		{"Lift of an open reservoir below the tanks", unit.In(p.Lift, "kpa", 1)},
		{"Together", unit.In(p.Total, "kpa", 1)},
		{"Duty point of the pump, 15 % added for viscosity", unit.In(p.Need, "kpa", 0) + ", " + unit.In(p.Head, "m", 1) + " of glycol, at " + shown(p.Flow)},
		{"Hydraulic, shaft and electrical power of the pump", unit.In(p.Hydraulic, "kw", 2) + ", " + unit.In(p.Shaft, "kw", 2) + ", " + unit.In(p.Electrical, "kw", 2)},
		{"Pump against a closed valve", orUnknown(p.ShutOff)},
		{"Column of glycol above the jackets", unit.In(p.Static, "bar", 2)},
		{"Most that jackets see", orUnknown(p.AtJackets)},
		{"Net positive suction head at the pump", unit.In(p.NPSH, "m", 1)},
		{"Gain through all insulation", unit.In(p.Gain, "kw", 2)},
		{"Held in the pipes", shown(p.Held)},
		{"Dew point of the room", unit.Fixed(p.DewPoint, 1)},
		{"Foam that keeps the largest pipe dry", unit.In(p.FoamLeast, "mm", 0)},
	}
	return data("circuit", "The circuit on its longest run, and the pump", rows...)
}

func orUnknown(p *unit.PressureDiff) string {
	if p == nil {
		return "unknown"
	}
	return unit.In(*p, "bar", 2)
}

func connectionTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "coolant-connections", Title: "Every connection of the glycol",
		Columns: []paper.Column{
			{Title: "At"}, {Title: "Service"}, {Title: "Size"}, number("Flow", "m³/h"), number("Drop", "kPa"), number("Glycol", "°C"), number("Valve", "Kv"), number("Balancing", "Kv"), number("Jacket rated", "bar(g)"),
		},
		Notes: []string{"Drop is that of chiller or jacket alone. Sizes are those of the pipe; the tail of the jacket is on the supplier's drawing."},
	}
	for i := range c.Sheet.Connections {
		k := &c.Sheet.Connections[i]
		jacket := k.Kv > 0
		balance := dash(paper.W("open"), jacket)
		if k.BalanceKv > 0 {
			balance = say.Number(k.BalanceKv, "kv", 1)
		}
		rated := dash(say.Maybe(k.Rated, "bar_g", 1), jacket)
		t.Rows = append(t.Rows, say.Row(
			paper.W(k.At), paper.W(k.Service), paper.W(k.Size), say.Number(k.Flow, "m3_h", 2), dash(say.Number(k.Drop, "kpa", 0), k.Drop > 0), say.Number(k.Temp, "c", 0),
			dash(say.Number(k.Kv, "kv", 1), jacket), balance, rated,
		))
	}
	return t
}

func setPointTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "set-points", Title: "Set points of chiller and controller",
		Columns: []paper.Column{{Title: "Set point"}, {Title: "Value", Align: paper.Right}, {Title: "Note"}},
	}
	for _, s := range c.Sheet.SetPoints {
		value, note := shown(s.Quantity), s.Note
		if tag, _, ok := strings.Cut(s.Name, ", coldest"); ok && idle(c, tag) {
			value, note = "—", "empty in the design weeks; as its beer needs"
		}
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(s.Name)), paper.W(value), paper.W(note)))
	}
	return t
}

func materialTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "coolant-materials", Title: "Materials",
		Columns: []paper.Column{{Title: "Item"}, {Title: "Quantity", Align: paper.Right}, {Title: "Note"}},
		Notes:   []string{"Pipe and foam carry a tenth for cuts. Lengths stand on the way told or assumed; the contractor measures on site."},
	}
	for _, m := range c.Sheet.Materials {
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(m.Item)), paper.W(amount(m.Quantity)), paper.W(m.Note)))
	}
	return t
}

// amount prints what is bought: lengths of pipe in whole metres.
func amount(q unit.Quantity) string {
	if l, ok := q.(unit.Length); ok {
		return unit.In(l, "m", 0)
	}
	return shown(q)
}

func workTable(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "cooling-work", Title: "Who does what, unless the quotation says otherwise",
		Columns: []paper.Column{{Title: "What"}, {Title: "By"}, {Title: "Note"}},
	}
	last := cooling.Party("")
	for _, w := range c.Sheet.ByWhom {
		by := paper.W(string(w.By))
		by.Strong = w.By != last
		last = w.By
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(w.Item)), by, paper.W(w.Note)))
	}
	return t
}
