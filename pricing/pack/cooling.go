package pack

import (
	"tunwright/configurator/cooling"
	"tunwright/pricing/paper"
)

// coolingSections is what the refrigeration contractor works from.
func coolingSections(j job) []paper.Section {
	r := j.Report.Cooling
	if r == nil {
		return []paper.Section{{Title: "Cooling", NewPage: true, Blocks: j.gapBlocks("cooling")}}
	}
	blocks := []paper.Block{
		para("Design of the busiest fortnight of the production plan. The margin is applied once, at the end."),
		coolingFacts(r), coolingDuty(r), coolingTanks(r), crashTable(r),
	}
	var flags []string
	for _, f := range r.Siting.Flags {
		flags = append(flags, f.Title+": "+f.Words)
	}
	if len(flags) > 0 {
		blocks = append(blocks, heading("To be looked into by the refrigeration contractor"), lists(flags))
	}
	var assumed []string
	for _, a := range r.Assumptions {
		text := a.Words
		if a.Quantity != nil {
			text += ": " + a.Quantity.String()
		}
		assumed = append(assumed, text)
	}
	if len(assumed) > 0 {
		blocks = append(blocks, heading("Taken for want of a fact"), lists(assumed))
	}
	return []paper.Section{{Title: "Cooling", NewPage: true, Blocks: blocks}}
}

func coolingFacts(r *cooling.Result) paper.Facts {
	fact := func(name, value string) paper.Fact { return paper.Fact{Name: name, Value: paper.W(value)} }
	facts := []paper.Fact{
		fact("Glycol supply and return", r.Fluid.Supply.String()+" / "+r.Fluid.Return.String()),
		fact("Propylene glycol by mass", r.Fluid.Mass.String()),
		fact("First ice at", r.Fluid.Freeze.String()),
		fact("Ambient at the condenser", r.Ambient.String()),
		fact("Duty with margin", r.Load.Duty.String()),
		fact("Capacity at these conditions", r.Chiller.Capacity.String()),
		fact("With one unit standing", r.Chiller.OneLess.String()),
		fact("Heat rejected", r.Siting.Rejected.String()),
		fact("Condenser air", r.Siting.Air.String()),
		fact("Glycol in the circuit", r.Store.Fill.String()),
	}
	if r.Siting.Sound != nil {
		facts = append(facts, fact("Sound at the neighbour's window", r.Siting.Sound.String()))
	}
	if !r.Chiller.Rated {
		facts = append(facts, fact("Chiller", r.Chiller.Why))
	}
	return paper.Facts{Columns: 2, Facts: facts}
}

func coolingDuty(r *cooling.Result) paper.Table {
	l := r.Load
	t := paper.Table{
		Name: "cooling-duty", Title: "Where the duty comes from",
		Columns: []paper.Column{{Title: "Item", Width: 70}, {Title: "Power", Unit: "kW", Kind: paper.Number, Width: 30}},
		Notes:   []string{"If every item ran at its own highest at once it would be " + l.SumOfMaxima.String() + "; the plan's diversity is " + l.Diversity.String() + "."},
	}
	t.Rows = append(t.Rows,
		row(paper.W("Highest hour of the cellar"), number(l.Process, "kw", 2)),
		row(paper.W("Added for tanks cooled down at once"), number(l.ExtraCrash, "kw", 2)),
		row(paper.W("Gain of the pipes"), number(l.Pipe, "kw", 2)),
		row(paper.W("Heat of the pump"), number(l.Pump, "kw", 2)),
		row(words("Margin, %s once", l.Margin), number(l.Duty-l.Design-l.Pipe-l.Pump, "kw", 2)),
		paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W("Duty"), number(l.Duty, "kw", 2)}},
		row(paper.W("Duty with the store shaving the peak"), number(l.WithStore, "kw", 2)),
	)
	return t
}

func coolingTanks(r *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "cooled-tanks", Title: "Cooled tanks",
		Columns: []paper.Column{
			{Title: "Tank", Width: 16},
			{Title: "Use", Width: 16},
			{Title: "Beer", Unit: "L", Kind: paper.Number, Width: 13},
			{Title: "Jacket", Unit: "m²", Kind: paper.Number, Width: 13},
			{Title: "Flow", Unit: "L/min", Kind: paper.Number, Width: 14},
			{Title: "Peak heat", Unit: "kW", Kind: paper.Number, Width: 14},
			{Title: "Gain, cold", Unit: "kW", Kind: paper.Number, Width: 14},
		},
	}
	for _, k := range r.Tanks {
		t.Rows = append(t.Rows, row(paper.W(k.Tag), paper.W(string(k.Use)), number(k.Volume, "l", 0), number(k.Jacket, "m2", 2), number(k.JacketFlow, "l_min", 1), number(k.PeakHeat, "kw", 2), number(k.GainCold, "kw", 2)))
	}
	return t
}

func crashTable(r *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "crash-cooling", Title: "Cooling down after fermentation",
		Columns: []paper.Column{
			{Title: "Tank", Width: 10},
			{Title: "Beer", Width: 22},
			{Title: "From", Unit: "°C", Kind: paper.Number, Width: 10},
			{Title: "To", Unit: "°C", Kind: paper.Number, Width: 10},
			{Title: "Asked", Unit: "h", Kind: paper.Number, Width: 11},
			{Title: "Taken", Unit: "h", Kind: paper.Number, Width: 11},
			{Title: "Mean", Unit: "kW", Kind: paper.Number, Width: 12},
			{Title: "First draw", Unit: "kW", Kind: paper.Number, Width: 14},
		},
	}
	for _, c := range r.Crashes {
		taken := paper.W("never")
		if c.Reached {
			taken = number(c.Ramped, "h", 1)
		}
		t.Rows = append(t.Rows, row(paper.W(c.Tank), paper.W(c.Beer), number(c.From, "c", 1), number(c.To, "c", 1), number(c.Wish, "h", 0), taken, number(c.Mean, "kw", 2), number(c.Initial, "kw", 2)))
	}
	return t
}
