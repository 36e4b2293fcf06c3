package trade

import (
	"tunwright/configurator"
	"tunwright/configurator/rule"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// mostRemedies is how many remedies one finding of a trade prints.
const mostRemedies = 3

// Findings lists in full what fails or cannot be answered in a discipline.
func Findings(r configurator.Report, d configurator.Discipline) []paper.Finding {
	var out []paper.Finding
	for _, g := range r.OpenGroups() {
		if g.Discipline != d {
			continue
		}
		f := Finding(g)
		f.Source = Cite(r, g.Rule.Source)
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

// Finding is one rule's answers without remedies and source: the worst answer in
// words, the subjects by name. A question without an answer is headed by what is
// compared, for nothing has failed yet.
func Finding(g configurator.Group) paper.Finding {
	f := paper.Finding{
		Gravity: Gravity(g.Finding.Finding), ID: g.Rule.ID, Title: g.Rule.Title, Subject: g.Subjects(),
		Need: say.Quantity(g.Need), Have: say.Quantity(g.Have), Words: say.Sentence(g.Words),
	}
	if g.Outcome == rule.Unknown {
		f.Title = say.Capital(g.Rule.Compares)
	}
	return f
}

// Gravity is the weight a finding is printed with.
func Gravity(f rule.Finding) paper.Gravity {
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
