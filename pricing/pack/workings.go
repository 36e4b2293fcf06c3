package pack

import (
	"tunwright/configurator"
	"tunwright/configurator/trace"
	"tunwright/pricing/pack/production"
	"tunwright/pricing/pack/refrigeration"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// annexSections are for whoever follows the checks and the figures: what is in order,
// and how each figure came about.
func annexSections(j job) []paper.Section {
	r := j.Report
	s := paper.Section{Title: "Annex: checks in order, and workings", NewPage: true, Blocks: []paper.Block{
		say.Heading(passedTitle), j.passedTable(),
	}}
	if taken := takenBlocks(r); len(taken) > 0 {
		s.Blocks = append(s.Blocks, say.Heading("Values taken where none was given"))
		s.Blocks = append(s.Blocks, taken...)
	}
	s.Blocks = append(
		s.Blocks, say.Heading("Workings"),
		say.Para("Each step names its formula, the values put in and where the formula comes from, so that it can be followed with a pocket calculator."),
	)
	for _, w := range workings(r) {
		if len(w.steps) > 0 {
			s.Blocks = append(s.Blocks, say.Working(w.title, w.steps))
		}
	}
	return []paper.Section{s}
}

// takenBlocks list the values that no brief and no survey gave.
func takenBlocks(r configurator.Report) []paper.Block {
	var out []paper.Block
	if r.Brewing != nil && len(r.Brewing.Assumptions) > 0 {
		out = append(out, production.Taken(r.Brewing))
	}
	if r.Cooling != nil && len(r.Cooling.Assumptions) > 0 {
		out = append(out, refrigeration.Taken(r.Cooling))
	}
	return out
}

// discipline is one discipline's working.
type discipline struct {
	title string
	steps trace.Trace
}

// workings gathers what each discipline worked out, in the order of the findings.
func workings(r configurator.Report) []discipline {
	var out []discipline
	add := func(d configurator.Discipline, steps trace.Trace) {
		out = append(out, discipline{disciplineWords[d], steps})
	}
	if r.Brewing != nil {
		add(configurator.Brewing, r.Brewing.Trace)
	}
	if r.Cooling != nil {
		add(configurator.Cooling, r.Cooling.Trace)
	}
	if r.Electrical != nil {
		add(configurator.Electrical, r.Electrical.Trace)
	}
	if r.Floor != nil {
		add(configurator.Floor, r.Floor.Trace)
	}
	if r.Access != nil {
		add(configurator.Access, r.Access.Trace)
	}
	if r.Air != nil {
		add(configurator.Air, r.Air.Trace)
	}
	if r.Water != nil {
		add(configurator.Water, r.Water.Trace)
	}
	if r.Pressure != nil {
		add(configurator.Pressure, r.Pressure.Trace)
	}
	if r.Programme != nil {
		add(configurator.Programme, r.Programme.Trace)
	}
	return out
}
