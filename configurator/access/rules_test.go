package access

import (
	"testing"

	"tunwright/configurator/calc"
	"tunwright/configurator/rule"
)

func TestRulesKeepTheHouseForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
}

func TestPrint(t *testing.T) {
	in := workedInput()
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range rule.Run(Rules(), Facts{in, r}) {
		t.Log(f.Rule.ID, f.Outcome, f.Words)
		for _, rm := range f.Remedies {
			t.Log("      ->", rm.Kind, rm.Words)
		}
	}
}

func TestCalculationsRun(t *testing.T) {
	if err := calc.Verify(Calculations()); err != nil {
		t.Fatal(err)
	}
}
