// Package propose turns a remedy into a change of the project that can be made with
// one key. A discipline tried its remedy within its own walls; here the whole project
// is changed and checked again, so that a cure in one room which breaks another is
// not offered.
//
// Begin with Mends.
package propose

import (
	"tunwright/catalog"
	"tunwright/catalog/strict"
	"tunwright/configurator"
	"tunwright/configurator/enquiry"
	"tunwright/configurator/rule"
)

// Mend is a remedy as edits of the project, tried on the whole of it.
type Mend struct {
	Kind  string
	Words string
	Edits []strict.Edit
	After Effect
}

// Effect is what the whole check says once the mend is made.
type Effect struct {
	Answer configurator.Finding // the answer of the mended rule on its subject
	Count  configurator.Count
	Report configurator.Report
}

// Mends gives the remedies of a finding that can be made by edits and that pass when
// the whole project is checked with them: the rule passes on its subject and no
// further finding stops the job.
func Mends(p enquiry.Project, c *catalog.Catalogue, r configurator.Report, f configurator.Finding) []Mend {
	var out []Mend
	for _, remedy := range f.Remedies {
		for _, edits := range editsFor(situation{p, c, r}, f, remedy) {
			effect, ok := try(p, c, r, f, edits)
			if !ok {
				continue
			}
			out = append(out, Mend{Kind: remedy.Kind, Words: remedy.Words, Edits: edits, After: effect})
			break
		}
	}
	return out
}

// try makes the edits and checks the project anew.
func try(p enquiry.Project, c *catalog.Catalogue, before configurator.Report, f configurator.Finding, edits []strict.Edit) (Effect, bool) {
	edited, err := enquiry.Apply(p, edits...)
	if err != nil {
		return Effect{}, false
	}
	after, err := configurator.Recheck(before, edited, c)
	if err != nil {
		return Effect{}, false
	}
	answer, ok := mended(after, f)
	n := after.Count()
	if !ok || n.Stops > before.Count().Stops || len(after.Gaps) > len(before.Gaps) {
		return Effect{}, false
	}
	return Effect{Answer: answer, Count: n, Report: after}, true
}

// mended finds the rule's answer on the same subject. A subject that is gone, such as
// a beer that now lies on another tank, is mended when nothing of the rule fails any
// more.
func mended(r configurator.Report, f configurator.Finding) (configurator.Finding, bool) {
	var last configurator.Finding
	for _, g := range r.Findings {
		if g.Rule.ID != f.Rule.ID {
			continue
		}
		if g.Outcome == rule.Fail || g.Outcome == rule.Unknown {
			if f.Subject == "" || g.Subject == f.Subject {
				return g, false
			}
			continue
		}
		if last.Rule.ID == "" || g.Subject == f.Subject {
			last = g
		}
	}
	return last, last.Rule.ID != ""
}
