package electrical

import (
	"testing"

	"tunwright/configurator/rule"
)

func TestRulesForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
}

func findings(t testing.TB, in Input) []rule.Finding {
	t.Helper()
	return rule.Run(Rules(), Facts{in, mustSize(t, in)})
}

func TestGoldenFindings(t *testing.T) {
	for _, f := range findings(t, goldenInput()) {
		t.Log(f.Rule.ID, f.Outcome, f.Words, f.Missing)
		for _, r := range f.Remedies {
			t.Log("      ", r.Kind, r.Words, r.Params)
		}
	}
}
