package brewing

import (
	"testing"

	"tunwright/configurator/rule"
)

func TestRulesAreWellFormed(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
}

func TestHarbourFindings(t *testing.T) {
	in := harbour()
	fs := rule.Run(Rules(), Facts{in, mustSize(t, in)})
	for _, f := range fs {
		t.Log(f.Rule.ID, f.Outcome, f.Subject, f.Words, len(f.Remedies))
	}
}
