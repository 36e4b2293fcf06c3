package pack

import (
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// workingSections show how each figure came about.
func workingSections(j job) []paper.Section {
	r := j.Report
	s := paper.Section{Title: "Workings", NewPage: true, Blocks: []paper.Block{
		say.Para("Each step names its formula, the values put in and where the formula comes from, so that it can be followed with a pocket calculator."),
	}}
	if r.Brewing != nil {
		s.Blocks = append(s.Blocks, say.Working("Brewing and cellar", r.Brewing.Trace))
	}
	if r.Cooling != nil {
		s.Blocks = append(s.Blocks, say.Working("Cooling", r.Cooling.Trace))
	}
	if r.Electrical != nil {
		s.Blocks = append(s.Blocks, say.Working("Electrical", r.Electrical.Trace))
	}
	if r.Air != nil {
		s.Blocks = append(s.Blocks, say.Working("Steam and carbon dioxide", r.Air.Trace))
	}
	if r.Floor != nil {
		s.Blocks = append(s.Blocks, say.Working("Floor", r.Floor.Trace))
	}
	if r.Access != nil {
		s.Blocks = append(s.Blocks, say.Working("Way in", r.Access.Trace))
	}
	if r.Water != nil {
		s.Blocks = append(s.Blocks, say.Working("Water and drainage", r.Water.Trace))
	}
	if r.Pressure != nil {
		s.Blocks = append(s.Blocks, say.Working("Pressure equipment", r.Pressure.Trace))
	}
	if r.Programme != nil {
		s.Blocks = append(s.Blocks, say.Working("Programme", r.Programme.Trace))
	}
	return []paper.Section{s}
}
