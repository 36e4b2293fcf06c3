package ruletest_test

import (
	"fmt"
	"slices"
	"testing"

	"tunwright/configurator/rule"
	"tunwright/configurator/rule/ruletest"
)

// heard takes what a test says instead of failing with it.
type heard struct {
	testing.TB
	said []string
}

func (h *heard) Helper() {}

func (h *heard) Errorf(format string, args ...any) {
	h.said = append(h.said, fmt.Sprintf(format, args...))
}

func TestWhatIsMissingIsSaid(t *testing.T) {
	seen := ruletest.Seen{}
	for _, o := range []rule.Outcome{rule.Pass, rule.Fail} {
		seen.Add("X-1", o)
	}
	seen.Add("X-2", rule.Pass)
	seen.Add("X-9", rule.Pass)
	h := &heard{}
	seen.Complete(h, []rule.Info{{ID: "X-1"}, {ID: "X-2"}}, map[string]string{"X-2 fails": "it cannot", "X-2 unknown": "", "X-1 fails": "wrongly", "X-3 fails": "gone"})
	slices.Sort(h.said)
	want := []string{
		`"X-3 fails" is excused, which is no outcome of a rule`, "X-2 unknown is excused without a reason",
		"a case names X-9, which is no rule", "a case shows that X-1 fails, which is excused", "no case shows that X-1 unknown",
	}
	if !slices.Equal(h.said, want) {
		t.Errorf("got %q", h.said)
	}
}
