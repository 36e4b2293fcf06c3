// Package foodsafety sets the starter plan for the food safety of the brewery as paper:
// the twelve steps of Codex CXC 1-1969, products, flow diagram, hazards, proposals for
// limits, allergens, prerequisite programmes and records. The same plan comes as text
// that can be edited; see haccp.Markdown and paper/docx.
//
// It prints the plan's rows and decides none. Begin with Sections and Flow.
package foodsafety

import (
	"fmt"

	"tunwright/configurator"
	"tunwright/configurator/haccp"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// Title is the paper's own.
const Title = "Food safety plan (HACCP), starter"

// Sections is the starter plan that the food business makes its own.
func Sections(r configurator.Report) []paper.Section {
	if r.Food == nil {
		return trade.Gap(r, configurator.Food, Title)
	}
	out := Plan(r.Food)
	last := trade.Blocks(trade.Open(r, configurator.Food, "haccp-open"))
	if src := trade.Sources(r, configurator.Food); len(src.Items) > 0 {
		last = append(last, say.Heading("Rules and sources of the checks"), src)
	}
	if len(last) == 0 {
		return out
	}
	return append(out, paper.Section{Title: "Checks", Blocks: last})
}

// Plan is the starter plan alone, as it is also written for editing.
func Plan(p *haccp.Result) []paper.Section {
	return []paper.Section{
		{Title: "Food safety plan, starter", NewPage: true, Blocks: trade.Blocks(
			paper.Paragraph{Voice: paper.Lead, Text: paper.Plain(p.Notice)},
			paper.Caution{Title: "Starting point only", Lines: say.Texts(haccp.Cautions())},
			stepTable(p), say.Para("The plan is taken over and confirmed on site by:"), signatures(),
		)},
		{Title: "Products and flow diagram", NewPage: true, Blocks: trade.Blocks(say.Note("%s", p.Notice), productTable(p), flowFigure(p), flowTable(p))},
		{Title: "Hazard analysis", NewPage: true, Wide: true, Blocks: trade.Blocks(say.Note("%s", p.Notice), hazardTable(p))},
		{Title: "Limits, monitoring and correction", NewPage: true, Wide: true, Blocks: trade.Blocks(say.Note("%s", p.Notice), limitTable(p))},
		{Title: "Allergens, prerequisite programmes and records", NewPage: true, Blocks: trade.Blocks(append([]paper.Block{say.Note("%s", p.Notice), allergenTable(p)}, lists(p)...)...)},
	}
}

// stepTable is the twelve steps, with what is drafted and what is left to do.
func stepTable(p *haccp.Result) paper.Table {
	t := paper.Table{
		Name: "haccp-steps", Title: "The twelve steps",
		Columns: []paper.Column{{Title: "No", Kind: paper.Number}, {Title: "Step"}, {Title: "Drafted here"}, {Title: "Left to the food business"}},
		Sources: []string{"Codex CXC 1-1969, application of the HACCP system, from memory"},
	}
	for _, s := range p.Steps {
		t.Rows = append(t.Rows, say.Row(paper.I(s.No), paper.W(s.Title), paper.W(s.Drafted), paper.W(s.ToDo)))
	}
	return t
}

// signatures are those of the food business: the plan is theirs.
func signatures() paper.Signatures {
	return paper.Signatures{Items: []string{"For the food business", "Head of the team"}}
}

func productTable(p *haccp.Result) paper.Table {
	t := paper.Table{
		Name: "haccp-products", Title: "Products and intended use",
		Columns: []paper.Column{{Title: "Beer"}, {Title: "Alcohol"}, {Title: "pH"}, {Title: "Packs"}, {Title: "Kept"}, {Title: "Allergens"}, {Title: "Intended use"}, {Title: "Remark"}},
	}
	for _, x := range p.Products {
		t.Rows = append(t.Rows, say.Row(paper.W(x.Beer), paper.W(x.ABV), paper.W(x.PH), paper.W(say.Or(x.Packs, "not said")), paper.W(x.Kept), paper.W(say.Or(x.Allergens, "none of the recipe told")), paper.W(x.Use), paper.W(x.Note)))
	}
	return trade.Dense(t)
}

func flowFigure(p *haccp.Result) paper.Block {
	fig, err := Flow(p)
	if err != nil {
		return say.Note("The flow diagram could not be drawn: %s.", err)
	}
	return paper.Figure{Drawing: fig, Caption: "Flow diagram drafted from the equipment chosen: what comes in at the left, what goes out at the right. To be walked and confirmed on site. CCP: a critical control point is proposed at this step."}
}

// flowTable is the flow diagram as rows, for a reader who edits it.
func flowTable(p *haccp.Result) paper.Table {
	t := paper.Table{
		Name: "haccp-flow", Title: "Steps of the flow diagram",
		Columns: []paper.Column{{Title: "No", Kind: paper.Number}, {Title: "Step"}, {Title: "In"}, {Title: "Out beside the product"}, {Title: "Seen on site"}},
	}
	for _, s := range p.Flow {
		t.Rows = append(t.Rows, say.Row(paper.I(s.No), paper.W(s.Name), paper.W(s.In), paper.W(s.Out), paper.W("……")))
	}
	return t
}

// The flow diagram on the sheet.
const (
	flowWidth drawing.MM = 170
	flowTall  drawing.MM = 205 // at most: a page with its heading and caption
	boxWidth  drawing.MM = 66
	boxStep   drawing.MM = 10.4 // at most, from one box to the next
)

// Flow draws the flow diagram: a box a step, what comes in and what goes out beside
// the product.
func Flow(p *haccp.Result) (drawing.Drawing, error) {
	if len(p.Flow) == 0 {
		return drawing.Drawing{}, fmt.Errorf("no step of the process is known")
	}
	critical := map[string]bool{}
	for _, i := range p.CCPs {
		critical[p.Hazards[i].Step] = true
	}
	left, step := (flowWidth-boxWidth)/2, min(boxStep, flowTall/drawing.MM(len(p.Flow)))
	tall := step * 0.66
	d := drawing.Drawing{Width: flowWidth, Height: step*drawing.MM(len(p.Flow)) + 2, Title: "Flow diagram", Description: "Steps from receipt to delivery with what comes in and goes out."}
	for i, s := range p.Flow {
		y := 1 + step*drawing.MM(i)
		mid := y + tall/2
		pen, fill := drawing.Fine, drawing.Tint(drawing.Mist)
		name := fmt.Sprintf("%d  %s", s.No, s.Name)
		if critical[s.Name] {
			pen, fill, name = drawing.Heavy, drawing.Tint(drawing.White), name+"  ·  CCP"
		}
		d.Add(
			drawing.Rect(left, y, boxWidth, tall, pen, fill),
			drawing.Text{At: drawing.P(flowWidth/2, mid+0.8), Text: name, Size: drawing.SmallType, Anchor: drawing.Middle, Bold: critical[s.Name], Colour: drawing.Ink},
		)
		if i > 0 {
			d.Add(arrow(drawing.P(flowWidth/2, y-step+tall), drawing.P(flowWidth/2, y))...)
		}
		if s.In != "" {
			d.Add(drawing.Text{At: drawing.P(left-11, mid+0.8), Text: s.In, Size: drawing.SmallType, Anchor: drawing.End, Colour: drawing.Ink})
			d.Add(arrow(drawing.P(left-10, mid), drawing.P(left, mid))...)
		}
		if s.Out != "" {
			d.Add(drawing.Text{At: drawing.P(left+boxWidth+11, mid+0.8), Text: s.Out, Size: drawing.SmallType, Colour: drawing.Ink})
			d.Add(arrow(drawing.P(left+boxWidth, mid), drawing.P(left+boxWidth+10, mid))...)
		}
	}
	return d, nil
}

// arrow is a line down or to the right with a head.
func arrow(from, to drawing.Point) []drawing.Item {
	head := []drawing.Point{to, to.Add(-0.8, -1.6), to.Add(0.8, -1.6)}
	if from.Y == to.Y {
		head = []drawing.Point{to, to.Add(-1.6, -0.8), to.Add(-1.6, 0.8)}
	}
	return []drawing.Item{drawing.Line{From: from, To: to, Pen: drawing.Fine}, drawing.Polygon{Points: head, Fill: drawing.Tint(drawing.Ink)}}
}

// hazardTable is each hazard with its weight before control, step by step.
func hazardTable(p *haccp.Result) paper.Table {
	t := paper.Table{
		Name: "haccp-hazards", Title: "Hazards of each step",
		Columns: []paper.Column{{Title: "Step"}, {Title: "Kind"}, {Title: "Hazard"}, {Title: "Cause"}, {Title: "Severity", Kind: paper.Number}, {Title: "Chance", Kind: paper.Number}, {Title: "Significant"}, {Title: "Control"}, {Title: "Verdict"}},
		Notes:   []string{"Kind: B biological, C chemical, P physical, A allergen. Severity from 1 slight to 3 grave, chance before control from 1 rare to 3 often; 6 of 9 counts as significant. Common practice, no source. CCP: critical control point; oPRP: operational prerequisite; PRP: prerequisite programme."},
	}
	for _, h := range p.Hazards {
		t.Rows = append(t.Rows, say.Row(
			paper.W(h.Step), paper.W(h.Kind), paper.W(h.Hazard), paper.W(h.Cause), paper.I(h.Severity), paper.I(h.Chance), paper.W(say.YesNo(h.Significant())), paper.W(h.Control), verdict(h)))
	}
	return t
}

func verdict(h haccp.Hazard) paper.Cell {
	cell := paper.W(string(h.Verdict))
	if h.Verdict == haccp.CCP {
		return cell.Bold()
	}
	return cell
}

// limitTable is limits, monitoring, correction, verification and record; the critical
// points first, since they are what somebody must watch.
func limitTable(p *haccp.Result) paper.Table {
	t := paper.Table{
		Name: "haccp-limits", Title: "",
		Columns: []paper.Column{{Title: "Step"}, {Title: "Hazard"}, {Title: "Verdict"}, {Title: "Limit proposed"}, {Title: "Monitoring: what, how, how often"}, {Title: "Correction"}, {Title: "Verification"}, {Title: "Record"}},
		Notes:   []string{"Each limit is a proposal from common practice: validate it before use."},
	}
	t.Title = "Critical control points and prerequisites"
	for _, want := range []struct {
		verdict haccp.Verdict
		title   string
	}{{haccp.CCP, "Critical control points"}, {haccp.OPRP, "Operational prerequisites"}, {haccp.PRP, "Prerequisite programmes"}} {
		first := true
		for _, h := range p.Hazards {
			if h.Verdict != want.verdict {
				continue
			}
			if first {
				t.Rows, first = append(t.Rows, say.Group(want.title)), false
			}
			t.Rows = append(t.Rows, say.Row(paper.W(h.Step), paper.W(h.Hazard), verdict(h), paper.W(h.Limit), paper.W(h.Monitor), paper.W(h.Correct), paper.W(h.Verify), paper.W(h.Record)))
		}
	}
	return t
}

func allergenTable(p *haccp.Result) paper.Table {
	t := paper.Table{
		Name: "haccp-allergens", Title: "Allergens",
		Columns: []paper.Column{{Title: "Beer"}, {Title: "Allergen"}, {Title: "From"}, {Title: "Label"}, {Title: "Threshold"}},
		Notes:   []string{"From the recipes told. A beer without a row has no allergen of the recipe told; one whose recipe is not told stands in the table of products."},
	}
	for _, a := range p.Allergens {
		t.Rows = append(t.Rows, say.Row(paper.W(a.Beer), paper.W(a.Allergen), paper.W(a.From), paper.W(a.Declare), paper.W(a.Threshold)))
	}
	return trade.Dense(t)
}

// lists are what stands beside the tables.
func lists(p *haccp.Result) []paper.Block {
	var out []paper.Block
	for _, l := range []struct {
		title string
		items []string
	}{{"Prerequisite programmes", p.PRPs}, {"Records", p.Records}, {"Law", p.Law}} {
		if len(l.items) > 0 {
			out = append(out, say.Heading(l.title), say.List(l.items))
		}
	}
	return out
}

// Markdown is the plan as text that the food business can edit.
func Markdown(r configurator.Report) (string, error) {
	if r.Food == nil {
		return "", fmt.Errorf("food safety plan: not worked out")
	}
	return haccp.Markdown(*r.Food), nil
}
