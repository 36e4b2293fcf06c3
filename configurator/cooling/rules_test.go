package cooling

import (
	"testing"

	"tunwright/configurator/calc"
	"tunwright/configurator/rule"
)

func TestRulesAndCalculationsHoldTheForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Error(err)
	}
	if err := calc.Verify(Calculations()); err != nil {
		t.Error(err)
	}
}
