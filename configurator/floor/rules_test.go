package floor

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

func TestCalculationsRun(t *testing.T) {
	if err := calc.Verify(Calculations()); err != nil {
		t.Fatal(err)
	}
}
