// Package ruletest holds the test cases of a discipline's rules to completeness: every
// rule is shown in order, failing and unknown, or a reason is given why it cannot be.
//
// Begin with Seen.
package ruletest

import (
	"testing"

	"tunwright/configurator/rule"
)

// Seen are the outcomes in which the cases show each rule, by its id.
type Seen map[string]map[rule.Outcome]bool

// Add notes that a case has shown a rule.
func (s Seen) Add(id string, o rule.Outcome) {
	if s[id] == nil {
		s[id] = map[rule.Outcome]bool{}
	}
	s[id][o] = true
}

// Complete demands that each rule was shown in order, failing and unknown, less what
// is excused with a reason, as under "AC-001 fails", and that no case or excuse names
// what there is not.
func (s Seen) Complete(t testing.TB, rules []rule.Info, excused map[string]string) {
	t.Helper()
	known, needed := map[string]bool{}, map[string]bool{}
	for _, r := range rules {
		known[r.ID] = true
		for _, o := range []rule.Outcome{rule.Pass, rule.Fail, rule.Unknown} {
			key := r.ID + " " + o.String()
			needed[key] = true
			switch reason, but := excused[key]; {
			case !s[r.ID][o] && !but:
				t.Errorf("no case shows that %s %s", r.ID, o)
			case s[r.ID][o] && but:
				t.Errorf("a case shows that %s, which is excused", key)
			case but && reason == "":
				t.Errorf("%s is excused without a reason", key)
			}
		}
	}
	for id := range s {
		if !known[id] {
			t.Errorf("a case names %s, which is no rule", id)
		}
	}
	for key := range excused {
		if !needed[key] {
			t.Errorf("%q is excused, which is no outcome of a rule", key)
		}
	}
}
