// Package production writes the brewer's paper: the year's plan, a batch sheet for
// each beer, the brew day, the tanks drawn over the weeks, materials, handling and
// what duty hangs on.
//
// Begin with Sections; the drawings are there for the screen as well. Every figure
// comes from the brewing plan; nothing is worked out here but sums of printed rows.
//
// Left out: recipes and prices.
package production

import (
	"slices"

	"tunwright/configurator"
	"tunwright/configurator/brewing"
	"tunwright/configurator/trace"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// Widths of figures that fit both A4 and US letter, upright and turned.
const (
	uprightWidth drawing.MM = 171
	turnedWidth  drawing.MM = 240
)

// Sections is the whole paper; where no plan could be made, one section says why.
func Sections(r configurator.Report) []paper.Section {
	plan := r.Brewing
	if plan == nil {
		return []paper.Section{{Title: "Production plan", Blocks: []paper.Block{say.Note("Not worked out: %s.", gap(r))}}}
	}
	sections := []paper.Section{
		{Title: "Production plan", Blocks: overview(r, plan)},
		{Title: "Vessels and tanks", Blocks: cellar(plan)},
		{Title: "Brew day", NewPage: true, Blocks: brewDays(plan)},
	}
	for i := range plan.Beers {
		sections = append(sections, paper.Section{Title: "Batch sheet: " + plan.Beers[i].Beer.Name, NewPage: true, Blocks: batchSheet(plan, i)})
	}
	sections = append(
		sections,
		paper.Section{Title: "Tanks over the year", NewPage: true, Wide: true, Blocks: schedule(plan)},
		paper.Section{Title: "Weeks and materials", NewPage: true, Blocks: weeks(plan)},
		paper.Section{Title: "Growth", Blocks: growth(plan)},
		paper.Section{Title: "Handling", Blocks: handling(r, plan)},
		paper.Section{Title: "Water and what goes to the drain", Blocks: water(plan)},
	)
	if len(plan.Duty.Rows) > 0 {
		sections = append(sections, paper.Section{Title: "Duty thresholds", Blocks: duty(plan)})
	}
	return append(
		sections,
		paper.Section{Title: "Open questions and who does what", Blocks: questions(r)},
		paper.Section{Title: "Working figures taken", Blocks: assumptions(plan)},
		paper.Section{Title: "Batches by date", NewPage: true, Blocks: []paper.Block{batchList(plan)}},
		paper.Section{Title: "Cautions and sources for the brewer", Blocks: closing(plan)},
	)
}

// Workings shows how the plan's figures came about; a pack that prints all workings
// together leaves it out.
func Workings(r configurator.Report) []paper.Section {
	if r.Brewing == nil {
		return nil
	}
	return []paper.Section{{Title: "Workings of the production plan", NewPage: true, Blocks: []paper.Block{say.Working("Brewing and cellar", r.Brewing.Trace)}}}
}

func gap(r configurator.Report) string {
	for _, g := range r.Gaps {
		if g.Discipline == configurator.Brewing {
			return g.Words
		}
	}
	return "no reason is known"
}

// figure is a drawing as a block; one that cannot be drawn says so.
func figure(d drawing.Drawing, err error, caption string) paper.Block {
	if err != nil {
		return say.Note("A figure could not be drawn: %s.", err)
	}
	return paper.Figure{Drawing: d, Caption: caption}
}

// sources lists each document of a working once, in the order met.
func sources(t trace.Trace) []string {
	var out []string
	for _, s := range t {
		if c := say.Cite(s.Source); c != "" && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

func overview(r configurator.Report, plan *brewing.Result) []paper.Block {
	blocks := []paper.Block{
		paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(say.Sentence(say.Capital(plan.Bottleneck.Words)))},
		yearFacts(r, plan),
		annualTable(plan),
	}
	if n := len(plan.Late) + len(plan.Unplaced); n > 0 {
		blocks = append(blocks, lateTable(plan))
	}
	d, err := Limits(r)
	return append(blocks, paper.Together{Blocks: []paper.Block{
		say.Heading("What fills up first"),
		figure(d, err, "How full brew days and tanks are in the peak of the year. The fullest limits first; growth beyond it needs more of it."),
	}})
}
