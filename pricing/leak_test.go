package pricing

import (
	"encoding/json"
	"strings"
	"testing"
)

// costWords lists the words in a client payload that would speak of costs, and the
// cost figures themselves.
func costWords(t *testing.T, q Quotation) []string {
	t.Helper()
	text, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, word := range []string{"cost", "margin", "markup", "36100", "27880", "6970.00", "9650", "105890", "2540.00"} {
		if strings.Contains(strings.ToLower(string(text)), word) {
			found = append(found, word)
		}
	}
	return found
}

func TestQuotationSurvivesJSON(t *testing.T) {
	q, _ := calculate(t, book(t, bookA), requestA(t))
	text, err := json.Marshal(q)
	if err != nil {
		t.Fatal(err)
	}
	var back Quotation
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	again, err := json.Marshal(back)
	if err != nil || string(text) != string(again) {
		t.Errorf("came back different, %v", err)
	}
	checks, err := SelfCheck(back)
	if err != nil || len(checks) != len(q.Checks) {
		t.Fatal(err)
	}
	for _, c := range checks {
		if !c.Holds {
			t.Errorf("%s does not hold after a round trip", c.Rule)
		}
	}
}
