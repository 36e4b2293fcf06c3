package pack

import (
	"fmt"
	"slices"
	"strings"

	"tunwright/catalog/source"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// disciplineWords are the headings of the findings.
var disciplineWords = map[configurator.Discipline]string{
	configurator.Brewing: "Brewing and cellar", configurator.Cooling: "Cooling", configurator.Electrical: "Electrical supply",
	configurator.Floor: "Floor", configurator.Access: "Way in", configurator.Air: "Steam and carbon dioxide",
	configurator.Water: "Water and drainage", configurator.Pressure: "Pressure equipment", configurator.Programme: "Programme", configurator.Food: "Food safety",
}

// findingSections say what fails and what nobody can tell yet, and what to find out.
func findingSections(j job) []paper.Section {
	n := j.Report.Count()
	blocks := []paper.Block{
		say.Para("%d checks were made: %d in order, %d stop the job, %d warn, %d are worth knowing, %d cannot be answered yet, %d wait on another answer.",
			n.Passed+n.Stops+n.Warnings+n.Notices+n.Unknown+n.Waiting, n.Passed, n.Stops, n.Warnings, n.Notices, n.Unknown, n.Waiting),
	}
	if items := j.openFindings(); len(items) > 0 {
		blocks = append(blocks, paper.Findings{Items: items})
		if slices.ContainsFunc(items, func(f paper.Finding) bool { return strings.HasSuffix(f.Source, dagger) }) {
			blocks = append(blocks, say.Note("† Cited, in whole or in part, from memory or as others quote it, and not read in the document: to be looked up before it is relied on."))
		}
	} else {
		blocks = append(blocks, say.Para("Nothing fails and nothing is unknown."))
	}
	return []paper.Section{
		{Title: "Findings", NewPage: true, Blocks: blocks},
		{Title: "Survey list", Blocks: []paper.Block{j.surveyTable()}},
	}
}

// checkedSections are the whole paper of findings: what is in order stands last, for
// whoever wants to see that it was looked at.
func checkedSections(j job) []paper.Section {
	return append(findingSections(j), paper.Section{Title: passedTitle, Blocks: []paper.Block{j.passedTable()}})
}

const passedTitle = "What was checked and is in order"

func (j job) openFindings() []paper.Finding {
	var out []paper.Finding
	for _, g := range j.Report.OpenGroups() {
		out = append(out, j.finding(g))
	}
	for _, g := range j.Report.Gaps {
		out = append(out, paper.Finding{Gravity: paper.Unanswered, Title: "Not worked out: " + disciplineWords[g.Discipline], Words: g.Words})
	}
	return out
}

// finding prints one rule's answers: the worst one in full, the others by name.
func (j job) finding(g configurator.Group) paper.Finding {
	out := paper.Finding{
		Gravity: gravity(g.Finding.Finding), ID: g.Rule.ID, Title: g.Rule.Title, Subject: g.Subjects(),
		Need: say.Quantity(g.Need), Have: say.Quantity(g.Have), Words: say.Sentence(g.Words), Source: j.cited(g.Rule.Source),
	}
	if n := len(g.Members); n > 1 {
		out.Words = fmt.Sprintf("On %d subjects; the worst: %s", n, out.Words)
	}
	if g.Outcome == rule.Unknown {
		out.Title = say.Capital(g.Rule.Compares)
	} else if g.Rule.Why != "" {
		out.Words += " " + g.Rule.Why
	}
	for i, r := range g.Remedies() {
		if i == mostRemedies {
			out.Remedies = append(out.Remedies, fmt.Sprintf("%d more of the same kind, on screen", len(g.Remedies())-i))
			break
		}
		out.Remedies = append(out.Remedies, r.Words)
	}
	return out
}

// dagger marks a citation that nobody has read in the document.
const dagger = " †"

// cited is a citation by document and clause, marked where it was not read there.
func (j job) cited(s source.Ref) string {
	if s.Doc == (source.Doc{}) {
		return say.Cite(s)
	}
	recalled := s.Provenance == source.FromMemory
	if note, ok := strings.CutSuffix(s.Note, ", from memory"); ok {
		s.Note, recalled = note, true
	} else if strings.Contains(s.Note, "from memory") || strings.Contains(s.Note, "not read in the document") {
		s.Note, recalled = "", true
	}
	if !recalled {
		return trade.Cite(j.Report, s)
	}
	s.Provenance = source.LookedUp // the mark says it instead
	return trade.Cite(j.Report, s) + dagger
}

// mostRemedies is how many remedies one finding prints.
const mostRemedies = 4

func (j job) passedTable() paper.Table {
	t := paper.Table{
		Name: "in-order", Title: "In order",
		Columns: []paper.Column{
			{Title: "Check", Width: 10}, {Title: "Compared", Width: 44}, {Title: "On", Width: 16}, {Title: "Need", Width: 12, Align: paper.Right}, {Title: "Have", Width: 12, Align: paper.Right}, {Title: "Full", Unit: "%", Kind: paper.Number, Width: 8},
		},
	}
	last := configurator.Discipline("")
	for _, g := range j.Report.PassedGroups() {
		if g.Discipline != last {
			last = g.Discipline
			t.Rows = append(t.Rows, say.Group(disciplineWords[last]))
		}
		full := paper.Cell{}
		if x, ok := g.Fill(); ok && x.Pct() < 1000 {
			full = paper.N(x.Pct(), 0)
		}
		subject := g.Subject
		if n := len(g.Members); n > 1 {
			subject = fmt.Sprintf("%d subjects, fullest %s", n, g.Subject)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(g.Rule.ID), paper.W(g.Rule.Compares), paper.W(subject), paper.W(say.Quantity(g.Need)), paper.W(say.Quantity(g.Have)), full))
	}
	return t
}

func (j job) surveyTable() paper.Table {
	t := paper.Table{
		Name: "survey", Title: "To find out on site",
		Columns: []paper.Column{
			{Title: "To find out", Width: 38}, {Title: "Now", Width: 14}, {Title: "How known", Width: 24}, {Title: "Who can tell", Width: 24},
		},
		Notes: []string{"Each line is a fact that is unknown or assumed. Tick it off on site and tell the office; the checks and prices that rest on it are worked out again."},
	}
	for _, l := range trade.Alike(enquiry.Survey(j.Report.Project)) {
		known := l.Basis.Word()
		if l.Why != "" {
			known = fmt.Sprintf("%s: %s", known, l.Why)
		}
		t.Rows = append(t.Rows, say.Row(paper.W(l.Words()), paper.W(say.Or(l.Value, "—")), paper.W(known), paper.W(l.Ask)))
	}
	return t
}
