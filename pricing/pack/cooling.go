package pack

import (
	"tunwright/configurator/cooling"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// coolingSections is what the refrigeration contractor works from.
func coolingSections(j job) []paper.Section {
	r := j.Report.Cooling
	if r == nil {
		return []paper.Section{{Title: "Cooling", NewPage: true, Blocks: j.gapBlocks("cooling")}}
	}
	blocks := []paper.Block{
		say.Para("Design of the busiest fortnight of the production plan. The margin is applied once, at the end."),
		coolingFacts(r), coolingDuty(r), coolingTanks(r), crashTable(r),
	}
	var flags []string
	for _, f := range r.Siting.Flags {
		flags = append(flags, f.Title+": "+f.Words)
	}
	if len(flags) > 0 {
		blocks = append(blocks, say.Heading("To be looked into by the refrigeration contractor"), say.List(flags))
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
		say.Row(paper.W("Highest hour of the cellar"), say.Number(l.Process, "kw", 2)),
		say.Row(paper.W("Added for tanks cooled down at once"), say.Number(l.ExtraCrash, "kw", 2)),
		say.Row(paper.W("Gain of the pipes"), say.Number(l.Pipe, "kw", 2)),
		say.Row(paper.W("Heat of the pump"), say.Number(l.Pump, "kw", 2)),
		say.Row(say.Words("Margin, %s once", l.Margin), say.Number(l.Duty-l.Design-l.Pipe-l.Pump, "kw", 2)),
		paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W("Duty"), say.Number(l.Duty, "kw", 2)}},
		say.Row(paper.W("Duty with the store shaving the peak"), say.Number(l.WithStore, "kw", 2)),
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
		t.Rows = append(t.Rows, say.Row(paper.W(k.Tag), paper.W(string(k.Use)), say.Number(k.Volume, "l", 0), say.Number(k.Jacket, "m2", 2), say.Number(k.JacketFlow, "l_min", 1), say.Number(k.PeakHeat, "kw", 2), say.Number(k.GainCold, "kw", 2)))
	}
	return trade.Join(t)
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
			taken = say.Number(c.Ramped, "h", 1)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(c.Tank), paper.W(c.Beer), say.Number(c.From, "c", 1), say.Number(c.To, "c", 1), say.Number(c.Wish, "h", 0), taken, say.Number(c.Mean, "kw", 2), say.Number(c.Initial, "kw", 2)))
	}
	return t
}
