package pack

import (
	"fmt"

	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
	"tunwright/pricing/paper"
)

// disciplineWords are the headings of the findings.
var disciplineWords = map[configurator.Discipline]string{
	configurator.Brewing: "Brewing and cellar", configurator.Cooling: "Cooling", configurator.Electrical: "Electrical supply",
	configurator.Floor: "Floor", configurator.Access: "Way in", configurator.Air: "Steam and carbon dioxide",
	configurator.Water: "Water and drainage", configurator.Pressure: "Pressure equipment", configurator.Programme: "Programme",
}

// findingSections say what holds, what fails and what nobody can tell yet.
func findingSections(j job) []paper.Section {
	n := j.Report.Count()
	blocks := []paper.Block{
		para("%d checks were made: %d in order, %d stop the job, %d warn, %d are worth knowing, %d cannot be answered yet, %d wait on another answer.",
			n.Passed+n.Stops+n.Warnings+n.Notices+n.Unknown+n.Waiting, n.Passed, n.Stops, n.Warnings, n.Notices, n.Unknown, n.Waiting),
	}
	if items := j.openFindings(); len(items) > 0 {
		blocks = append(blocks, paper.Findings{Items: items})
	} else {
		blocks = append(blocks, para("Nothing fails and nothing is unknown."))
	}
	return []paper.Section{
		{Title: "Findings", NewPage: true, Blocks: blocks},
		{Title: "What was checked and is in order", Blocks: []paper.Block{j.passedTable()}},
		{Title: "Survey list", Blocks: []paper.Block{j.surveyTable()}},
	}
}

func (j job) openFindings() []paper.Finding {
	var out []paper.Finding
	for _, f := range j.Report.Open() {
		out = append(out, finding(f))
	}
	for _, g := range j.Report.Gaps {
		out = append(out, paper.Finding{Gravity: paper.Unanswered, Title: "Not worked out: " + disciplineWords[g.Discipline], Words: g.Words})
	}
	return out
}

func finding(f configurator.Finding) paper.Finding {
	out := paper.Finding{
		Gravity: gravity(f.Finding), ID: f.Rule.ID, Title: f.Rule.Title, Subject: f.Subject,
		Need: quantityText(f.Need), Have: quantityText(f.Have), Words: f.Words, Source: cite(f.Rule.Source),
	}
	if f.Outcome == rule.Unknown {
		out.Title = "Not known yet: " + f.Rule.Compares
	} else if f.Rule.Why != "" {
		out.Words += " " + f.Rule.Why
	}
	for _, r := range f.Remedies {
		out.Remedies = append(out.Remedies, r.Words)
	}
	return out
}

func (j job) passedTable() paper.Table {
	t := paper.Table{
		Name: "in-order",
		Columns: []paper.Column{
			{Title: "Check", Width: 10}, {Title: "Compared", Width: 44}, {Title: "On", Width: 16}, {Title: "Need", Width: 12, Align: paper.Right}, {Title: "Have", Width: 12, Align: paper.Right}, {Title: "Full", Unit: "%", Kind: paper.Number, Width: 8},
		},
	}
	last := configurator.Discipline("")
	for _, f := range j.Report.Findings {
		if f.Outcome != rule.Pass {
			continue
		}
		if f.Discipline != last {
			last = f.Discipline
			t.Rows = append(t.Rows, group(disciplineWords[last]))
		}
		full := paper.Cell{}
		if x, ok := f.Fill(); ok && x.Pct() < 1000 {
			full = paper.N(x.Pct(), 0)
		}
		t.Rows = append(t.Rows, row(paper.W(f.Rule.ID), paper.W(f.Rule.Compares), paper.W(f.Subject), paper.W(quantityText(f.Need)), paper.W(quantityText(f.Have)), full))
	}
	return t
}

func (j job) surveyTable() paper.Table {
	t := paper.Table{
		Name: "survey",
		Columns: []paper.Column{
			{Title: "To find out", Width: 38}, {Title: "Now", Width: 14}, {Title: "How known", Width: 24}, {Title: "Who can tell", Width: 24},
		},
		Notes: []string{"Each line is a fact that is unknown or assumed. Tick it off on site and tell the office; the checks and prices that rest on it are worked out again."},
	}
	for _, l := range enquiry.Survey(j.Report.Project) {
		known := l.Basis.Word()
		if l.Why != "" {
			known = fmt.Sprintf("%s: %s", known, l.Why)
		}
		t.Rows = append(t.Rows, row(paper.W(place(l)+l.What), paper.W(or(l.Value, "—")), paper.W(known), paper.W(l.Ask)))
	}
	return t
}
