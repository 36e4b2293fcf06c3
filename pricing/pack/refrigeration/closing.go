package refrigeration

import (
	"strings"

	"tunwright/configurator"
	"tunwright/configurator/cooling"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
	"tunwright/pricing/pack/say"
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
	if items := open(r); len(items) > 0 {
		blocks = append(blocks, paper.Findings{Items: items})
	} else {
		blocks = append(blocks, say.Para("Every check of the cooling is in order."))
	}
	if t := factTable(r); len(t.Rows) > 0 {
		blocks = append(blocks, t)
	}
	return blocks
}

// mostRemedies is how many remedies one finding prints.
const mostRemedies = 3

func open(r configurator.Report) []paper.Finding {
	var out []paper.Finding
	for _, g := range r.OpenGroups() {
		if g.Discipline != configurator.Cooling {
			continue
		}
		f := paper.Finding{
			Gravity: gravity(g.Finding.Finding), ID: g.Rule.ID, Title: g.Rule.Title, Subject: g.Subjects(),
			Need: say.Quantity(g.Need), Have: say.Quantity(g.Have), Words: say.Sentence(g.Words), Source: say.Cite(g.Rule.Source),
		}
		if g.Outcome == rule.Unknown {
			f.Title = say.Capital(g.Rule.Compares)
		}
		for i, m := range g.Remedies() {
			if i == mostRemedies {
				break
			}
			f.Remedies = append(f.Remedies, m.Words)
		}
		out = append(out, f)
	}
	return out
}

func gravity(f rule.Finding) paper.Gravity {
	switch {
	case f.Outcome == rule.Unknown:
		return paper.Unanswered
	case f.Rule.Severity == rule.Blocker:
		return paper.Stops
	case f.Rule.Severity == rule.Warning:
		return paper.Warns
	}
	return paper.Mentions
}

// factTable lists the facts of the site that the cooling rests on and nobody has
// measured or told.
func factTable(r configurator.Report) paper.Table {
	t := paper.Table{
		Name: "cooling-facts", Title: "Facts to be settled for the cooling",
		Columns: []paper.Column{{Title: "Fact"}, {Title: "Now"}, {Title: "How known"}, {Title: "Who can tell"}},
	}
	for _, l := range enquiry.Survey(r.Project) {
		if strings.HasPrefix(l.Path, "site.chiller_place.") || strings.HasPrefix(l.Path, "site.climate.") || l.Path == "site.water.summer_c" {
			t.Rows = append(t.Rows, say.Row(paper.W(capital(l.What)), paper.W(say.Or(l.Value, "—")), paper.W(joined(l.Basis.Word(), l.Why)), paper.W(l.Ask)))
		}
	}
	return t
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ": " + b
}

func assumptions(c *cooling.Result) []paper.Block {
	if len(c.Assumptions) == 0 {
		return []paper.Block{say.Para("Nothing: every value was given.")}
	}
	t := paper.Table{
		Name: "cooling-assumptions", Title: "Values taken where none was given",
		Columns: []paper.Column{{Title: "What"}, {Title: "Taken", Align: paper.Right}, {Title: "Source"}},
	}
	for _, a := range c.Assumptions {
		t.Rows = append(t.Rows, say.Row(paper.W(capital(a.Words)), paper.W(shown(a.Quantity)), paper.W(say.Cite(a.Source))))
	}
	return []paper.Block{t}
}
