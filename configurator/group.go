package configurator

import (
	"slices"
	"strings"

	"tunwright/configurator/rule"
)

// Group is one rule's answers of one kind on several subjects: one cause, one entry,
// with every subject named. The first member is the worst.
type Group struct {
	Finding
	Members []Finding
}

// Subjects names what the group concerns.
func (g Group) Subjects() string {
	var names []string
	for _, m := range g.Members {
		if m.Subject != "" && !slices.Contains(names, m.Subject) {
			names = append(names, m.Subject)
		}
	}
	return strings.Join(names, ", ")
}

// Missing names the inputs that the group lacks, each once.
func (g Group) Missing() []string {
	var out []string
	for _, m := range g.Members {
		for _, name := range m.Finding.Missing {
			if !slices.Contains(out, name) {
				out = append(out, name)
			}
		}
	}
	return out
}

// Remedies gives the remedies of all members, each wording once.
func (g Group) Remedies() []rule.Remedy {
	var out []rule.Remedy
	for _, m := range g.Members {
		for _, r := range m.Finding.Remedies {
			if !slices.ContainsFunc(out, func(x rule.Remedy) bool { return x.Words == r.Words }) {
				out = append(out, r)
			}
		}
	}
	return out
}

// OpenGroups lists what fails or is unknown, one entry a rule, in the order of Open.
func (r Report) OpenGroups() []Group { return groups(r.Open()) }

// PassedGroups lists what is in order, one entry a rule, the fullest subject first.
func (r Report) PassedGroups() []Group {
	var passed []Finding
	for _, f := range r.Findings {
		if f.Outcome == rule.Pass {
			passed = append(passed, f)
		}
	}
	return groups(passed)
}

func groups(list []Finding) []Group {
	var out []Group
	for _, f := range list {
		i := slices.IndexFunc(out, func(g Group) bool { return g.Rule.ID == f.Rule.ID && g.Outcome == f.Outcome })
		if i < 0 {
			out = append(out, Group{Finding: f, Members: []Finding{f}})
			continue
		}
		g := &out[i]
		g.Members = append(g.Members, f)
		worst, okWorst := g.Fill()
		full, ok := f.Fill()
		if ok && (!okWorst || full > worst) {
			g.Finding = f
		}
	}
	return out
}
