package refrigeration

import (
	"tunwright/configurator"
	"tunwright/configurator/cooling"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// flags are points for a certified person; they are no design.
func flags(c *cooling.Result) []paper.Block {
	if len(c.Sheet.Flags) == 0 {
		return []paper.Block{say.Para("Nothing beyond the usual.")}
	}
	t := paper.Table{
		Name: "cooling-flags", Title: "Points for a certified person to look into",
		Columns: []paper.Column{{Title: "Point"}, {Title: "What"}, {Title: "Source"}},
		Notes:   []string{"Flags, not a design: the text in force decides."},
	}
	for _, f := range c.Sheet.Flags {
		t.Rows = append(t.Rows, say.Row(paper.W(f.Title), paper.W(f.Words), paper.W(say.Cite(f.Source))))
	}
	return []paper.Block{t}
}

// questions are the open checks of the cooling and the facts nobody has yet.
func questions(r configurator.Report) []paper.Block {
	var blocks []paper.Block
	if items := trade.Findings(r, configurator.Cooling); len(items) > 0 {
		blocks = append(blocks, paper.Findings{Items: items})
	} else {
		blocks = append(blocks, say.Para("Every check of the cooling is in order."))
	}
	if t := factTable(r); len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	return blocks
}

// factTable lists the facts of the site that the cooling rests on.
func factTable(r configurator.Report) paper.Table {
	return trade.Facts(r, "cooling-facts", "site.chiller_place", "site.climate", "site.water.summer_c", "site.background_night_dba")
}

func assumptions(c *cooling.Result) []paper.Block {
	if len(c.Assumptions) == 0 {
		return []paper.Block{say.Para("Nothing: every value was given.")}
	}
	return []paper.Block{Taken(c)}
}

// Taken lists the values that nobody gave for the cooling.
func Taken(c *cooling.Result) paper.Table {
	t := paper.Table{
		Name: "cooling-assumptions", Title: "Values taken where none was given",
		Columns: []paper.Column{{Title: "What"}, {Title: "Taken", Align: paper.Right}, {Title: "Source"}},
	}
	for _, a := range c.Assumptions {
		t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(a.Words)), paper.W(shown(a.Quantity)), paper.W(say.Cite(a.Source))))
	}
	return t
}
