package quotation

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"tunwright/pricing"
	"tunwright/pricing/money"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func drawSections(t *rapid.T, name string) []Section {
	var out []Section
	for _, s := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"Products", "Price", "Terms"}), 0, 3, rapid.ID).Draw(t, name) {
		section := Section{Name: s}
		for _, k := range rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"a", "b", "c", "d", "e"}), 0, 5, rapid.ID).Draw(t, name+s) {
			section.Entries = append(section.Entries, Entry{k, k, rapid.SampledFrom([]string{"1", "2", "3"}).Draw(t, "value")})
		}
		out = append(out, section)
	}
	return out
}

func TestDifferenceAppliedToTheOldGivesTheNew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		old, new := drawSections(t, "old"), drawSections(t, "new")
		d, err := Between(old, new)
		if err != nil {
			t.Fatal(err)
		}
		got, err := d.Apply(old)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(new, got); diff != "" {
			t.Fatal(diff)
		}
		if reflect.DeepEqual(old, new) && len(d.Changes) > 0 {
			t.Fatalf("equal revisions differ: %v", d.Changes)
		}
	})
}

func TestDifferenceInWords(t *testing.T) {
	old := []Section{{"Price", []Entry{{"net", "Total", "£100"}, {"freight", "Freight", "£5"}}}}
	new := []Section{{"Price", []Entry{{"net", "Total", "£90"}, {"crane", "Crane", "£7"}}}}
	d, err := Between(old, new)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range d.Changes {
		got = append(got, c.String())
	}
	if s := strings.Join(got, " | "); s != "Price: Total £90, was £100 | Price: Crane added: £7 | Price: Freight removed: £5" {
		t.Error(s)
	}
	if _, err := d.Apply(new); err == nil {
		t.Error("the difference was applied to another revision")
	}
	if _, err := Between([]Section{{"a", nil}, {"a", nil}}, nil); err == nil {
		t.Error("two sections of one name")
	}
}

func TestPriceSections(t *testing.T) {
	price, _ := money.New("10.00", money.GBP)
	q := pricing.Quotation{Currency: money.GBP, ValidUntil: day(t, "2026-06-05"), Lines: []pricing.Line{{Ref: "1", Description: "Pump", Unit: "C62", Net: price}}}
	var got []string
	for _, s := range PriceSections(q, money.EnGB) {
		for _, e := range s.Entries {
			got = append(got, fmt.Sprintf("%s/%s=%s", s.Name, e.Key, e.Value))
		}
	}
	if s := strings.Join(got, "; "); !strings.Contains(s, "Price/line 1=£10.00") || !strings.Contains(s, "Terms/valid until=5 June 2026") {
		t.Error(s)
	}
}
