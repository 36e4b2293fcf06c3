package pack

import (
	"fmt"

	"tunwright/configurator/electrical"
	"tunwright/configurator/enquiry"
	"tunwright/pricing/pack/electrician"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// electricalSections is what the electrician prices and designs from.
func electricalSections(j job) []paper.Section {
	r := j.Report.Electrical
	if r == nil {
		return []paper.Section{{Title: "Electrical load schedule", NewPage: true, Blocks: j.gapBlocks("electrical")}}
	}
	blocks := []paper.Block{
		say.Para("For pricing and design by a licensed electrician. Rule set: %s. Figures marked assumed await the survey.", ruleSetName(j.Report.Project.Site)),
		supplyFacts(j, r), stateTable(r), circuitTable(r),
	}
	if t := caseTable(r); len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	var actions []string
	for _, a := range r.Actions {
		actions = append(actions, a.Words)
	}
	if len(actions) > 0 {
		blocks = append(blocks, say.Heading("For the network operator and the meter"), say.List(actions))
	}
	blocks = append(blocks, runningCost(j)...)
	return []paper.Section{{Title: "Electrical load schedule", NewPage: true, Blocks: blocks}}
}

// gapBlocks say why a discipline has no figures.
func (j job) gapBlocks(discipline string) []paper.Block {
	for _, g := range j.Report.Gaps {
		if string(g.Discipline) == discipline {
			return []paper.Block{say.Note("Not worked out: %s.", g.Words)}
		}
	}
	return []paper.Block{say.Note("Not worked out.")}
}

func ruleSetName(s enquiry.Site) string {
	const figures = "IEC 60364 with the figures of BS 7671"
	switch {
	case s.Supply.Rules == "NEC":
		return "NEC (NFPA 70)"
	case s.Country == "GB":
		return figures
	}
	return figures + "; the electrician confirms by " + electrician.National(s.Country)
}

func supplyFacts(j job, r *electrical.Result) paper.Facts {
	s := j.Report.Project.Site.Supply
	fact := func(name string, value paper.Cell, note string) paper.Fact {
		return paper.Fact{Name: name, Value: value, Note: note}
	}
	facts := []paper.Fact{
		fact("Supply", say.Words("%d-phase, %s between lines", r.Supply.Phases, r.Supply.Voltage), s.Phases.Basis.Word()),
		fact("Fuse", paper.W(say.Known(s.Fuse.Ptr())), s.Fuse.Basis.Word()),
		fact("Existing load, worst line", paper.W(say.Known(s.Existing.Ptr())), s.Existing.Basis.Word()),
		fact("Connected", paper.W(r.Connected.String()), ""),
	}
	if b := r.Binding; b.State < len(r.States) {
		facts = append(facts, fact("Highest demand", say.Words("%s on L%d, %s", b.Demand, b.Line, r.States[b.State].Title), ""))
		if b.Margin != nil {
			facts = append(facts, fact("Left on that line", paper.W(b.Margin.String()), ""))
		}
	}
	facts = append(facts,
		fact("Earthing", paper.W(say.Or(s.Earthing.Or(""), "unknown")), s.Earthing.Basis.Word()),
		fact("Energy of a brew", paper.W(r.Energy.Brew.String()), ""),
		fact("Highest half hour", say.Words("%s, %s", r.Energy.Peak, r.Energy.PeakKVA), ""),
	)
	return paper.Facts{Columns: 2, Facts: facts}
}

func stateTable(r *electrical.Result) paper.Table {
	t := paper.Table{
		Name: "demand-by-state", Title: "Demand in each state of the brew day",
		Columns: []paper.Column{
			{Title: "State", Width: 26},
			{Title: "Hours", Kind: paper.Number, Width: 8},
			{Title: "L1", Unit: "A", Kind: paper.Number, Width: 9},
			{Title: "L2", Unit: "A", Kind: paper.Number, Width: 9},
			{Title: "L3", Unit: "A", Kind: paper.Number, Width: 9},
			{Title: "Neutral", Unit: "A", Kind: paper.Number, Width: 9},
			{Title: "Power", Unit: "kW", Kind: paper.Number, Width: 10},
			{Title: "Left", Unit: "A", Kind: paper.Number, Width: 10},
		},
		Notes: []string{"Left is what remains of the fuse on the fullest line after existing load; the column is left out where the supply is unknown."},
	}
	for i, s := range r.States {
		cells := []paper.Cell{
			paper.W(s.Title), say.Number(s.Hours, "h", 1), say.Number(s.Line[0], "a", 1), say.Number(s.Line[1], "a", 1), say.Number(s.Line[2], "a", 1),
			say.Number(s.Neutral, "a", 1), say.Number(s.Power, "kw", 1),
			{},
		}
		if s.Margin != nil {
			cells[7] = say.Number(*s.Margin, "a", 1)
		}
		if i == r.Binding.State {
			for k := range cells {
				cells[k].Strong = true
			}
		}
		t.Rows = append(t.Rows, paper.Row{Cells: cells})
	}
	return t
}

func circuitTable(r *electrical.Result) paper.Table {
	t := paper.Table{
		Name: "electrical-load-schedule", Title: "Circuits",
		Columns: []paper.Column{
			{Title: "Circuit", Width: 9},
			{Title: "Load", Width: 18},
			{Title: "Lines", Width: 8},
			{Title: "P", Unit: "kW", Kind: paper.Number, Width: 6},
			{Title: "cos φ", Kind: paper.Number, Width: 6},
			{Title: "Ib", Unit: "A", Kind: paper.Number, Width: 6},
			{Title: "Device", Width: 8},
			{Title: "Cable", Width: 10},
			{Title: "Iz", Unit: "A", Kind: paper.Number, Width: 6},
			{Title: "Drop", Unit: "%", Kind: paper.Number, Width: 6},
			{Title: "RCD", Width: 8},
			{Title: "Governed by", Width: 13},
		},
	}
	assumed := false
	for i := range r.Circuits {
		c := &r.Circuits[i]
		assumed = assumed || c.Assumed
		t.Rows = append(t.Rows, circuitRow(c))
	}
	if assumed {
		t.Notes = append(t.Notes, "Lengths, laying and ambient temperature are assumed where the survey has not given them.")
	}
	return trade.Fit(trade.Same(t, "Governed by"), trade.Upright)
}

func circuitRow(c *electrical.Circuit) paper.Row {
	if c.Problem != "" {
		return say.Row(paper.W(c.Tag), paper.W(c.Name), paper.W(c.Lines), say.Number(c.Power, "kw", 1), say.Number(c.PF, "ratio", 2), say.Number(c.Ib, "a", 1), paper.W("—"), paper.W("—"), paper.Cell{}, paper.Cell{}, paper.W(""), paper.W(c.Problem))
	}
	return say.Row(
		paper.W(c.Tag), paper.W(c.Name), paper.W(c.Lines), say.Number(c.Power, "kw", 1), say.Number(c.PF, "ratio", 2), say.Number(c.Ib, "a", 1),
		say.Words("%s%.0f", c.Device.Curve, c.Device.Rating.A()), paper.W(c.Cable.Live()), say.Number(c.Cable.Iz, "a", 0), say.Number(c.DropShare, "pct", 1),
		paper.W(rcdText(c.RCD)), paper.W(c.Governed),
	)
}

func rcdText(d electrical.RCD) string {
	if d.Type == "" {
		return ""
	}
	return fmt.Sprintf("%s\u00a0%.0f\u00a0mA", d.Type, d.Residual.MA())
}

func caseTable(r *electrical.Result) paper.Table {
	t := paper.Table{
		Name: "supply-cases", Title: "If a fact turns out otherwise",
		Columns: []paper.Column{
			{Title: "Case", Width: 52}, {Title: "Demand", Unit: "A", Kind: paper.Number, Width: 14}, {Title: "Available", Unit: "A", Kind: paper.Number, Width: 14}, {Title: "Carries it", Width: 20},
		},
	}
	for _, c := range r.Cases {
		verdict := "unknown"
		if c.Available != nil {
			verdict = say.YesNo(c.Passes)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(c.Name), say.Number(c.Demand, "a", 1), say.Maybe(c.Available, "a", 1), paper.W(verdict)))
	}
	return t
}
