package configurator_test

import (
	"regexp"
	"testing"

	"tunwright/configurator"
)

var ofMoney = regexp.MustCompile(`(?i)\b(costs?|prices?|priced|money|surcharged?|cheap\w*|expensive|pays?|rent|buys?)\b`)

// The technical side never sees a price, and its rules do not speak of one.
func TestNoRuleSpeaksOfMoney(t *testing.T) {
	for _, r := range configurator.Rules() {
		for _, words := range []string{r.Title, r.Why, r.Compares} {
			if w := ofMoney.FindString(words); w != "" {
				t.Errorf("%s says %q in %q", r.ID, w, words)
			}
		}
	}
}
