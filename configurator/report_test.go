package configurator

import (
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// A gauge shows the fullest subject of a rule, and of figures that have no share the
// first that fails.
func TestGauges(t *testing.T) {
	find := func(id string, outcome rule.Outcome, subject string, need, have unit.Quantity) Finding {
		return Finding{Finding: rule.Finding{Rule: rule.Info{ID: id, Compares: "a against b"}, Answer: rule.Answer{Outcome: outcome, Subject: subject, Need: need, Have: have}}}
	}
	r := Report{Findings: []Finding{
		find("X-1", rule.Pass, "a", unit.Metres(1), unit.Metres(4)),
		find("X-1", rule.Pass, "b", unit.Metres(3), unit.Metres(4)),
		find("X-1", rule.Unknown, "c", unit.Metres(9), unit.Metres(4)),
		find("X-2", rule.Pass, "a", unit.Celsius(8), unit.Celsius(2)),
		find("X-2", rule.Fail, "b", unit.Celsius(1), unit.Celsius(2)),
		find("X-2", rule.Fail, "c", unit.Celsius(0), unit.Celsius(2)),
		find("X-3", rule.Pass, "a", unit.Celsius(3), unit.Celsius(0)),
		find("X-4", rule.Pass, "a", nil, unit.Metres(4)),
	}}
	want := []struct {
		name string
		full unit.Ratio
	}{{"b: a against b", unit.Fraction(0.75)}, {"b: a against b", 0}, {"a: a against b", 0}}
	got := r.Gauges()
	if len(got) != len(want) {
		t.Fatalf("%d gauges, want %d: %v", len(got), len(want), got)
	}
	for i, w := range want {
		if got[i].Name != w.name || got[i].Full != w.full {
			t.Errorf("gauge %d is %q at %v, want %q at %v", i+1, got[i].Name, got[i].Full, w.name, w.full)
		}
	}
}
