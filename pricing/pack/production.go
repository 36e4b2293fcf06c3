package pack

import (
	"tunwright/configurator/brewing"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// productionSections is the brewer's plan: beers, batches, tanks, materials.
func productionSections(j job) []paper.Section {
	r := j.Report.Brewing
	if r == nil {
		return []paper.Section{{Title: "Production plan", NewPage: true, Blocks: j.gapBlocks("brewing")}}
	}
	blocks := []paper.Block{
		say.Para("%s", r.Bottleneck.Words),
		beerTable(r), batchTable(r), volumeTable(r), tankTable(r), materialTable(r), growthTable(r),
	}
	return []paper.Section{{Title: "Production plan", NewPage: true, Blocks: blocks}}
}

func beerTable(r *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "annual-plan", Title: "The year",
		Columns: []paper.Column{
			{Title: "Beer", Width: 20},
			{Title: "Asked", Unit: "hL", Kind: paper.Number, Width: 9},
			{Title: "Batches", Kind: paper.Number, Width: 9},
			{Title: "Brews", Kind: paper.Number, Width: 8},
			{Title: "Packaged", Unit: "hL", Kind: paper.Number, Width: 11},
			{Title: "OE", Unit: "°P", Kind: paper.Number, Width: 8},
			{Title: "ABV", Unit: "%", Kind: paper.Number, Width: 8},
			{Title: "Tank", Width: 11},
			{Title: "Tank days", Kind: paper.Number, Width: 9},
			{Title: "Malt", Unit: "kg/brew", Kind: paper.Number, Width: 9},
		},
	}
	for i := range r.Beers {
		b := &r.Beers[i]
		t.Rows = append(t.Rows, say.Row(
			paper.W(b.Beer.Name), say.Number(b.Beer.Yearly, "hl", 0), paper.I(b.Batches), paper.I(b.Brews), say.Number(b.Packaged, "hl", 1), say.Number(b.Beer.OE, "plato", 1),
			say.Number(b.Charge.Attenuation.ABV, "abv", 1), say.Words("%s, %d brew(s)", b.Class, b.BrewsPerTank), paper.I(b.Days.InTank()), say.Number(b.Brew.Malt, "kg", 0),
		))
	}
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{
		paper.W("Together"), say.Number(r.Totals.Asked, "hl", 0), paper.I(r.Totals.Batches), paper.I(r.Totals.Brews), say.Number(r.Totals.Packaged, "hl", 1), {}, {}, {}, {}, {},
	}})
	return t
}

func batchTable(r *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "batch-sheet", Title: "One brew of each beer",
		Columns: []paper.Column{
			{Title: "Beer", Width: 19},
			{Title: "Malt", Unit: "kg", Kind: paper.Number, Width: 8},
			{Title: "Bags", Kind: paper.Number, Width: 7},
			{Title: "Strike", Unit: "°C", Kind: paper.Number, Width: 8},
			{Title: "Mash liquor", Unit: "L cold", Kind: paper.Number, Width: 10},
			{Title: "Sparge", Unit: "L cold", Kind: paper.Number, Width: 9},
			{Title: "Kettle full", Unit: "L hot", Kind: paper.Number, Width: 10},
			{Title: "Cast out", Unit: "L hot", Kind: paper.Number, Width: 9},
			{Title: "Wet grain", Unit: "kg", Kind: paper.Number, Width: 9},
			{Title: "CO₂", Unit: "kg/tank", Kind: paper.Number, Width: 9},
		},
	}
	for i := range r.Beers {
		b := &r.Beers[i]
		t.Rows = append(t.Rows, say.Row(
			paper.W(b.Beer.Name), say.Number(b.Brew.Malt, "kg", 0), paper.I(b.Brew.Bags), say.Number(b.Brew.Strike, "c", 1), say.Number(b.Brew.MashLiquor, "l", 0), say.Number(b.Brew.Sparge, "l", 0),
			say.Number(b.Brew.KettleFull, "l", 0), say.Number(b.Brew.HotCast, "l", 0), say.Number(b.Brew.WetGrain, "kg", 0), say.Number(b.Charge.Mass.CO2, "kg", 1),
		))
	}
	return t
}

// volumeTable prints the chain of volumes of the first beer, each with its state:
// most disputes about a brewhouse's size are about which volume was meant.
func volumeTable(r *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "volumes",
		Columns: []paper.Column{
			{Title: "Where", Width: 28}, {Title: "State", Width: 24}, {Title: "Volume", Unit: "L", Kind: paper.Number, Width: 12}, {Title: "Loss", Unit: "%", Kind: paper.Number, Width: 10}, {Title: "Why", Width: 26},
		},
	}
	if len(r.Beers) == 0 {
		return t
	}
	t.Title = "Volumes with their state, " + r.Beers[0].Beer.Name
	for _, s := range r.Beers[0].Brew.Chain {
		t.Rows = append(t.Rows, say.Row(paper.W(s.Place), paper.W(s.State), say.Number(s.Volume, "l", 0), say.Number(s.Loss, "pct", 1), paper.W(s.Why)))
	}
	return t
}

func tankTable(r *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "tanks", Title: "Tanks over the year",
		Columns: []paper.Column{
			{Title: "Tank", Width: 14},
			{Title: "Product", Width: 18},
			{Title: "Fill", Unit: "L", Kind: paper.Number, Width: 12},
			{Title: "Brim", Unit: "L", Kind: paper.Number, Width: 12},
			{Title: "Days taken", Kind: paper.Number, Width: 14},
			{Title: "Mean", Unit: "%", Kind: paper.Number, Width: 12},
			{Title: "Peak", Unit: "%", Kind: paper.Number, Width: 12},
		},
	}
	add := func(list []brewing.TankPlan) {
		for _, p := range list {
			t.Rows = append(t.Rows, say.Row(paper.W(p.Tank.Tag), paper.W(p.Tank.Code), say.Number(p.Fill, "l", 0), say.Number(p.Brim, "l", 0), paper.I(p.Days), say.Number(p.Util, "pct", 0), say.Number(p.UtilPeak, "pct", 0)))
		}
	}
	add(r.Fermenters)
	add(r.Brights)
	return t
}

func materialTable(r *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "materials", Title: "Materials and what leaves",
		Columns: []paper.Column{
			{Title: "Material", Width: 28}, {Title: "A brew", Width: 16, Align: paper.Right}, {Title: "Busiest week", Width: 16, Align: paper.Right}, {Title: "A year", Width: 16, Align: paper.Right}, {Title: "Note", Width: 24},
		},
	}
	for _, m := range r.Materials {
		t.Rows = append(t.Rows, say.Row(paper.W(m.Name), paper.W(say.Quantity(m.PerBrew)), paper.W(say.Quantity(m.PeakWeek)), paper.W(say.Quantity(m.Year)), paper.W(m.Note)))
	}
	return t
}

func growthTable(r *brewing.Result) paper.Table {
	t := paper.Table{
		Name: "growth", Title: "Room to grow",
		Columns: []paper.Column{{Title: "More", Unit: "%", Kind: paper.Number, Width: 9}, {Title: "Packaged", Unit: "hL", Kind: paper.Number, Width: 13}, {Title: "Brews a peak week", Kind: paper.Number, Width: 15}, {Title: "What it needs", Width: 63}},
	}
	for _, g := range r.Growth {
		t.Rows = append(t.Rows, say.Row(say.Number(g.By, "pct", 0), say.Number(g.Packaged, "hl", 0), say.Number(g.BrewsPeak, "ratio", 2), paper.W(g.Words)))
	}
	return t
}
