package production

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/brewing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

func cellar(plan *brewing.Result) []paper.Block {
	return []paper.Block{vesselTable(plan), classTable(plan), tankTable(plan)}
}

// vesselTable gives every vessel with the state of its volume: most disputes about
// size are about which volume was meant.
func vesselTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "vessels", Title: "Vessel schedule",
		Columns: []paper.Column{
			{Title: "Vessel"},
			{Title: "Duty"},
			number("Net", "L"),
			{Title: "State of the net volume"},
			number("Gross", "L"),
			number("Free above", "%"), number("Rated", "bar(g)"), number("Jacket", "kW"), number("Working", "kg"), number("Brim-full", "kg"),
		},
		Notes: []string{
			"Net is the largest working volume of the year, free above the share of the gross left over it. Jacket is the heat it must take: the larger of fermentation and of cooling down in a day.",
			"Working and brim-full are the contents alone, without the steel; brim-full is water. The structural engineer's paper has the whole loads.",
		},
	}
	proposed := false
	for i := range plan.Vessels {
		v := &plan.Vessels[i]
		jacket, rated := paper.W("—"), paper.W("—")
		if v.Jacket > 0 {
			jacket = say.Number(v.Jacket, "kw", 2)
		}
		if v.Pressure != nil {
			rated = say.Number(*v.Pressure, "bar_g", 1)
		}
		tag := v.Tag
		if !v.Chosen {
			tag, proposed = v.Tag+" *", true
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(tag), paper.W(v.Duty), say.Number(v.Net, "l", 0), paper.W(v.State), say.Number(v.Gross, "l", 0), say.Number(v.Headspace, "pct", 0),
			rated, jacket, say.Number(v.Working, "kg", 0), say.Number(v.Brim, "kg", 0),
		))
	}
	if proposed {
		t.Notes = append(t.Notes, "* Not chosen yet: the least that serves.")
	}
	return t
}

func classTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "tank-classes", Title: "How many tanks the year needs",
		Columns: []paper.Column{
			{Title: "Class"},
			{Title: "For"},
			number("Batches", "a year"), number("Taken", "tank-days"), number("Least gross", "L"),
			number("By average", "tanks"), number("By overlap", "tanks"), number("Needed", "tanks"), number("Mean", "%"), number("Peak", "%"),
		},
		Notes: []string{
			"By average: batches times days over the days a tank may be planned, in the peak. By overlap: the most batches at a time if each began on the very day it is asked for. Needed: tanks with which the dated schedule starts no batch late.",
		},
	}
	for _, c := range plan.Classes {
		use := "fermenting"
		if c.Bright {
			use = "bright beer"
		}
		if c.Dedicated != "" {
			use += ", " + c.Dedicated + " only"
		}
		t.Rows = append(t.Rows, say.Row(
			paper.W(c.Name), paper.W(use), paper.I(c.Batches), paper.I(c.TankDays), say.Number(c.Gross, "l", 0), paper.I(c.Tanks), paper.I(c.Overlap), paper.I(c.Needed),
			say.Number(c.UtilMean, "pct", 0), say.Number(c.UtilPeak, "pct", 0),
		))
	}
	return t
}

func tankTable(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "tanks", Title: "Each tank over the year",
		Columns: []paper.Column{
			{Title: "Tank"},
			{Title: "Product"},
			number("Fill", "L"), number("Gross", "L"),
			number("Taken", "days"), number("Mean", "%"), number("Busiest 13 weeks", "%"),
		},
	}
	for _, list := range [][]brewing.TankPlan{plan.Fermenters, plan.Brights} {
		for i := range list {
			p := &list[i]
			t.Rows = append(t.Rows, say.Row(
				paper.W(p.Tank.Tag), paper.W(say.Or(p.Tank.Code, "proposed")), say.Number(p.Fill, "l", 0), say.Number(p.Brim, "l", 0), paper.I(p.Days),
				say.Number(p.Util, "pct", 0), say.Number(p.UtilPeak, "pct", 0),
			))
		}
	}
	return t
}

func growth(plan *brewing.Result) []paper.Block {
	t := paper.Table{
		Name: "growth", Title: "What a larger year needs",
		Columns: []paper.Column{number("More", "%"), number("Packaged", "hL"), number("Brews", "a year"), number("Brews", "peak week"), {Title: "What it needs"}},
		Notes:   []string{"By the average formula on the same mix of beers, with brew days and tanks as they are."},
	}
	t.Columns[3].Key = "Brews peak"
	for _, g := range plan.Growth {
		t.Rows = append(t.Rows, say.Row(say.Number(g.By, "pct", 0), say.Number(g.Packaged, "hl", 0), paper.I(g.Brews), paper.N(g.BrewsPeak.N(), 2), paper.W(g.Words)))
	}
	blocks := []paper.Block{t}
	if len(plan.Growth) > 0 {
		blocks = append(blocks, growthClasses(plan))
	}
	if len(plan.DayEffects) > 0 {
		blocks = append(blocks, dayEffects(plan))
	}
	return blocks
}

func growthClasses(plan *brewing.Result) paper.Table {
	t := paper.Table{Name: "growth-tanks", Title: "Tanks of each class in a larger year", Columns: []paper.Column{{Title: "Class"}, {Title: "There are", Kind: paper.Number}}}
	for _, g := range plan.Growth {
		t.Columns = append(t.Columns, paper.Column{Title: "At " + unit.In(g.By, "pct", 0) + " more", Kind: paper.Number})
	}
	for k, c := range plan.Growth[0].Classes {
		cells := []paper.Cell{paper.W(c.Name), paper.I(c.Now)}
		for _, g := range plan.Growth {
			cell := paper.I(g.Classes[k].Needs)
			cell.Strong = g.Classes[k].Needs > c.Now
			cells = append(cells, cell)
		}
		t.Rows = append(t.Rows, paper.Row{Cells: cells})
	}
	t.Notes = []string{"Bold: more than there are."}
	return t
}

func dayEffects(plan *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "cold-days", Title: "If the cold storage is shorter or longer",
		Columns: []paper.Column{{Title: "Beer"}, {Title: "Change", Unit: "days", Kind: paper.Number}, {Title: "Class"}, {Title: "There are", Unit: "tanks", Kind: paper.Number}, {Title: "Needs", Unit: "tanks", Kind: paper.Number}, {Title: "Full in the peak", Unit: "%", Kind: paper.Number}},
	}
	for _, e := range plan.DayEffects {
		t.Rows = append(t.Rows, say.Row(paper.W(e.Beer), paper.I(e.Days), paper.W(e.Class), paper.I(e.Now), paper.I(e.Needs), say.Number(e.Peak, "pct", 0)))
	}
	return t
}
