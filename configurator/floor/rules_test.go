package floor

import (
	"testing"

	"tunwright/configurator/rule"
)

func TestRulesKeepTheHouseForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
}
