package pack

import (
	"fmt"
	"strings"

	"tunwright/configurator/access"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// accessSections say how each piece gets in and what the crane and haulage firms
// have to know.
func accessSections(j job) []paper.Section {
	r := j.Report.Access
	if r == nil {
		return []paper.Section{{Title: "Way in", NewPage: true, Blocks: j.gapBlocks("access")}}
	}
	blocks := []paper.Block{
		say.Para("A competent person plans the lift and the moving-in; the figures here are data for that plan. Margins kept: %s in width, %s in height.", r.Margins.Width, r.Margins.Height),
	}
	if len(r.Routes) == 0 {
		blocks = append(blocks, say.Note("No way in has been described. Walk it and list every opening, turn, lift and hatch."))
	}
	for i := range r.Routes {
		blocks = append(blocks, routeTable(&r.Routes[i], i == r.Best))
	}
	blocks = append(blocks, packTable(j))
	return []paper.Section{{Title: "Way in", NewPage: true, Blocks: blocks}}
}

func routeTable(r *access.RouteResult, best bool) paper.Table {
	title := "By the " + r.Name
	if best {
		title += " (best)"
	}
	t := paper.Table{
		Name: "route-" + say.Slug(r.Name), Title: title,
		Columns: []paper.Column{
			{Title: "Item"}, {Title: "Piece"}, {Title: "Answer"}, {Title: "Tightest at"}, {Title: "Held"}, {Title: "Free", Unit: "mm", Kind: paper.Number}, {Title: "Comes off"},
		},
		Notes: []string{fmt.Sprintf("%d pass, %d tight, %d do not pass, %d unknown.", r.Passing, r.Tight, r.Fail, r.Unsure)},
	}
	for _, p := range r.Pieces {
		if p.Verdict == access.Outdoors {
			continue
		}
		tight, held, free := paper.Cell{}, paper.Cell{}, paper.Cell{}
		if s := tightest(p.Steps); s != nil {
			tight, held, free = paper.W(s.Step), paper.W(string(s.Attitude)), say.Number(s.Clear, "mm", 0)
			if s.Verdict == access.Unknown {
				held, free = paper.W(""), paper.W("unknown")
			}
		}
		t.Rows = append(t.Rows, say.Row(paper.W(p.Tag), paper.W(p.Piece), paper.W(p.Verdict.String()), tight, held, free, paper.W(strings.Join(p.Off, ", "))))
	}
	return trade.Fit(trade.Dense(trade.Join(t)), trade.Upright)
}

// tightest is the step that decides: the worst verdict, then the least free.
func tightest(steps []access.StepResult) *access.StepResult {
	rank := map[access.Verdict]int{access.Fails: 3, access.Unknown: 2, access.Tight: 1, access.Passes: 0}
	var at *access.StepResult
	for i := range steps {
		s := &steps[i]
		if at == nil || rank[s.Verdict] > rank[at.Verdict] || rank[s.Verdict] == rank[at.Verdict] && s.Clear < at.Clear {
			at = s
		}
	}
	return at
}

// packTable lists the transport pieces for the haulier.
func packTable(j job) paper.Table {
	t := paper.Table{
		Name: "transport-pieces", Title: "Transport pieces",
		Notes: []string{"A row names every item that has such a piece; the measures and the mass are of one."},
		Columns: []paper.Column{
			{Title: "Item"}, {Title: "Piece"}, {Title: "Length", Unit: "mm", Kind: paper.Number}, {Title: "Width", Unit: "mm", Kind: paper.Number}, {Title: "Height", Unit: "mm", Kind: paper.Number}, {Title: "Mass", Unit: "kg", Kind: paper.Number},
		},
	}
	for _, p := range j.Report.Pieces {
		for _, x := range p.Body.Packed {
			t.Rows = append(t.Rows, say.Row(paper.W(p.Tag), paper.W(x.Name), say.Number(x.Length, "mm", 0), say.Number(x.Width, "mm", 0), say.Number(x.Height, "mm", 0), say.Number(x.Mass, "kg", 0)))
		}
	}
	return trade.Fit(trade.Join(t), trade.Upright)
}
