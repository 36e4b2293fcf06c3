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

// findingSections say what fails and what nobody can tell yet.
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
	return []paper.Section{{Title: "Findings", NewPage: true, Blocks: blocks}}
}

// checkedSections are the whole paper of findings: what is in order stands last, for
// whoever wants to see that it was looked at.
func checkedSections(j job) []paper.Section {
	return append(
		findingSections(j),
		paper.Section{Title: "Survey list", Blocks: []paper.Block{j.surveyTable()}},
		paper.Section{Title: passedTitle, Blocks: []paper.Block{j.passedTable()}},
	)
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
	out := trade.Finding(g)
	out.Source = j.cited(g.Rule.Source)
	if n := len(g.Members); n > 1 {
		out.Words = fmt.Sprintf("On %d subjects; the worst: %s", n, out.Words)
	}
	if g.Outcome != rule.Unknown && g.Rule.Why != "" {
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
		if x, ok := g.Fill(); ok && g.Rule.Fills != "" {
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

const surveyTitle = "To find out or to confirm on site"

// surveyTable lists what nobody has measured: the unknown first, then what was assumed,
// then what somebody told.
func (j job) surveyTable() paper.Table {
	t := paper.Table{
		Name: "survey", Title: surveyTitle,
		Columns: []paper.Column{
			{Title: "Fact", Width: 38}, {Title: "Now", Width: 14}, {Title: "Why assumed, or by whom told", Width: 24}, {Title: "Who can settle it", Width: 24},
		},
		Notes: []string{"Tick off on site and tell the office; the checks and prices that rest on a line are worked out again. What stands under unknown is needed before the order."},
	}
	for _, part := range []struct {
		title string
		known enquiry.Basis
	}{{"Unknown", enquiry.Unknown}, {"Assumed", enquiry.Assumed}, {"Told, not measured", enquiry.Told}} {
		facts := j.facts(part.known)
		if len(facts) > 0 {
			t.Rows = append(t.Rows, say.Group(part.title))
		}
		for _, f := range facts {
			t.Rows = append(t.Rows, say.Row(paper.W(say.Capital(f.Words())), paper.W(say.Or(f.Value, "—")), paper.W(say.Or(f.Why, "—")), paper.W(f.Ask)))
		}
	}
	return t
}
