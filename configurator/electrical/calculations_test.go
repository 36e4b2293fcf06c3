package electrical

import (
	"testing"

	"tunwright/configurator/calc"
)

func TestCalculationsRun(t *testing.T) {
	if err := calc.Verify(Calculations()); err != nil {
		t.Fatal(err)
	}
}
