// Package refrigeration writes the paper that a refrigeration contractor prices and
// builds from: where the duty comes from, hour by hour; the chiller at its own
// conditions; pipes, pump, connections, set points and materials; who does what.
//
// Begin with Sections; HourTable is the hourly load for a spreadsheet, and the
// drawings are there for the screen as well. Every figure comes from the cooling
// result; nothing is worked out here but sums of printed rows.
//
// Left out: the design of the refrigerant circuit and prices.
package refrigeration

import (
	"errors"
	"slices"

	"tunwright/configurator"
	"tunwright/configurator/cooling"
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

var errNoCooling = errors.New("the cooling is not worked out")

// Sections is the whole paper; where the cooling could not be worked out, one section
// says why.
func Sections(r configurator.Report) []paper.Section {
	c := r.Cooling
	if c == nil {
		return []paper.Section{{Title: "Cooling duty", Blocks: []paper.Block{say.Note("Not worked out: %s.", gap(r))}}}
	}
	return []paper.Section{
		{Title: "Cooling duty", Blocks: duty(r, c)},
		{Title: "Loads and schedule", NewPage: true, Wide: true, Blocks: course(r, c)},
		{Title: "The highest hour", NewPage: true, Blocks: []paper.Block{peakTable(c), dayTable(c)}},
		{Title: "Tanks and their cooling down", NewPage: true, Blocks: []paper.Block{tankTable(c), crashTable(c)}},
		{Title: "Chiller", Blocks: chillerBlocks(c)},
		{Title: "Glycol and store", Blocks: []paper.Block{fluidTable(c), storeTable(c)}},
		{Title: "Pipes", NewPage: true, Wide: true, Blocks: []paper.Block{pipeTable(c)}},
		{Title: "Circuit and pump", NewPage: true, Blocks: []paper.Block{circuitTable(c)}},
		{Title: "Connections", Blocks: []paper.Block{connectionTable(c)}},
		{Title: "Set points", Blocks: []paper.Block{setPointTable(c)}},
		{Title: "Materials and who does what", Blocks: []paper.Block{materialTable(c), workTable(c)}},
		{Title: "To be looked into", Blocks: flags(c)},
		{Title: "Open questions for the refrigeration contractor", Blocks: questions(r)},
		{Title: "Taken for want of a fact", Blocks: assumptions(c)},
		{Title: "Cautions and sources for the refrigeration contractor", Blocks: closing(c)},
	}
}

// Workings shows how the figures came about; a pack that prints all workings together
// leaves it out.
func Workings(r configurator.Report) []paper.Section {
	if r.Cooling == nil {
		return nil
	}
	return []paper.Section{{Title: "Workings of the cooling", NewPage: true, Blocks: []paper.Block{say.Working("Cooling", r.Cooling.Trace)}}}
}

func gap(r configurator.Report) string {
	for _, g := range r.Gaps {
		if g.Discipline == configurator.Cooling {
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

// number is a column of figures.
func number(title, unit string) paper.Column {
	return paper.Column{Title: title, Unit: unit, Kind: paper.Number}
}

// data is a table of names and values of different kinds.
func data(name, title string, rows ...[2]string) paper.Table {
	t := paper.Table{Name: name, Title: title, Columns: []paper.Column{{Title: "What"}, {Title: "Value", Align: paper.Right}}}
	for _, row := range rows {
		t.Rows = append(t.Rows, say.Row(paper.W(row[0]), paper.W(row[1])))
	}
	return t
}

func closing(c *cooling.Result) []paper.Block {
	blocks := []paper.Block{paper.Caution{Title: "Refrigerants, pressure and glycol", Lines: say.Texts(c.Sheet.Cautions)}}
	if s := sources(c.Trace); len(s) > 0 {
		blocks = append(blocks, say.Heading("Sources of the figures"), paper.Sources{Items: s})
	}
	return blocks
}
