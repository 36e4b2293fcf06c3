package client

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tunwright/catalog"
	"tunwright/pricing"
	"tunwright/pricing/offer"
	"tunwright/pricing/pack/client/phrase/phrasetest"
	"tunwright/pricing/paper"
)

// Every phrase is said somewhere, and whatever is said is in the book, in both
// languages.
func TestPhrases(t *testing.T) {
	phrasetest.Audit(t, phrases, ".")
	phrasetest.Gaps(t, phrases.In(paper.EnGB), phrases.In(paper.DeDE), phrases.Keys())
}

// Words that other parts of the program print have a German form here.
func TestOthersWordsAreTranslated(t *testing.T) {
	german := phrases.In(paper.DeDE)
	const missing = "?"
	for class := range classes() {
		if title := offer.SectionOf(class); german.Known("section."+title, missing) == missing {
			t.Errorf("section %q has no German", title)
		}
	}
	for _, code := range unitCodes(t) {
		if german.Known("unit."+code, missing) == missing {
			t.Errorf("unit %s has no German", code)
		}
	}
	for _, r := range pricing.DeliveryRules() {
		for _, word := range []string{r.Carriage, r.Unloading, r.Insurance, r.Import} {
			if german.Known("party."+word, missing) == missing {
				t.Errorf("%q has no German", word)
			}
		}
	}
	checks, err := pricing.SelfCheck(pricing.Quotation{Currency: "GBP", Taxes: []pricing.TaxLine{{Tax: pricing.Tax{Category: "S"}}}, Stages: []pricing.Stage{{}}})
	if err != nil {
		t.Fatal(err)
	}
	q := quote{Voice: german}
	for _, c := range checks {
		if got := q.identity(c); got == c.Says || strings.Contains(got, "[") {
			t.Errorf("%s %q has no German", c.Rule, c.Says)
		}
	}
	for _, category := range []pricing.TaxCategory{pricing.TaxZero, pricing.TaxExempt, pricing.TaxReverseCharge, pricing.TaxIntraCommunity, pricing.TaxExport, pricing.TaxOutside} {
		if got := q.tax(pricing.Tax{Category: category}); strings.Contains(got, "[") {
			t.Errorf("tax category %s has no name", category)
		}
	}
}

// The English column of somebody else's word is that word, so that it is not said
// in two ways.
func TestOthersWordsAreTheirs(t *testing.T) {
	english := phrases.In(paper.EnGB)
	for _, code := range unitCodes(t) {
		if got := english.Say("unit." + code); got != pricing.UnitWord(code) {
			t.Errorf("unit %s is %q here and %q in the price book", code, got, pricing.UnitWord(code))
		}
	}
	for _, d := range []pricing.Delivery{{Rule: "DAP", Place: "x", UpperFloor: true}, {Rule: "DAP", Place: "x", UpperFloor: true, LiftByUs: true}} {
		q := quote{Voice: phrases.In(paper.DeDE), delivery: d}
		back := quote{Voice: english, delivery: d}
		for i, german := range q.deliveryQuestions() {
			if d.LiftByUs {
				continue // put to the client in other words than to the house
			}
			if want := d.Questions()[i]; back.questionByGerman(german) != want {
				t.Errorf("%q is said in German as %q, which is another question", want, german)
			}
		}
	}
}

// questionByGerman is the English phrase that stands beside a German one.
func (q quote) questionByGerman(german string) string {
	de := phrases.In(paper.DeDE)
	for _, key := range []string{"delivery.q-unload", "delivery.q-level", "delivery.q-lift"} {
		args := []any{q.delivery.Rule}
		if key == "delivery.q-level" {
			args = nil
		}
		if de.Say(key, args...) == german {
			return q.Say(key, args...)
		}
	}
	return ""
}

func classes() map[catalog.Class]bool {
	c, err := catalog.Embedded()
	if err != nil {
		return nil
	}
	out := map[catalog.Class]bool{"": true}
	for _, p := range c.All() {
		out[p.Class] = true
	}
	return out
}

func unitCodes(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "tables", "units.csv"))
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(text)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var codes []string
	for _, row := range rows[1:] {
		codes = append(codes, row[0])
	}
	return codes
}
