package haccp

import (
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/rule"
)

func ptr[T any](v T) *T { return &v }

func brewpub() Input {
	return Input{
		Country: GB, Business: "Invented Mill Brewery", Mill: true, Coolant: "ethylene-glycol", HotClean: true, Gas: true, Air: true, Glass: true, Kegs: true, Refermented: true, Dispense: true,
		PackRating: ptr(unit.BarGauge(3)), MillSeparate: ptr(false), LampsCovered: ptr(true),
		Beers: []Beer{
			{Name: "Pale", ABV: ptr(unit.PercentABV(4.5)), Ingredients: []string{"barley malt", "hops", "isinglass"}, Carbonation: ptr(unit.CO2GramsPerLitre(6.5))},
			{Name: "Milk stout", ABV: ptr(unit.PercentABV(5)), Ingredients: []string{"barley malt", "oats", "lactose"}, Carbonation: ptr(unit.CO2GramsPerLitre(4))},
			{Name: "Free", ABV: ptr(unit.PercentABV(0.5)), PH: ptr(unit.PH(4.5))},
		},
	}
}

func TestPlan(t *testing.T) {
	in := brewpub()
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Steps) != 12 {
		t.Errorf("%d steps, Codex CXC 1-1969 has 12", len(r.Steps))
	}
	md := Markdown(r)
	for _, want := range []string{Notice, "## Hazard analysis", "Milk stout", "contains milk (lactose)", "glass splinters", "pathogens grow without alcohol"} {
		if !strings.Contains(md, want) {
			t.Errorf("the plan does not say %q", want)
		}
	}
	if md != Markdown(r) {
		t.Error("the plan is not written the same way twice")
	}
	for _, f := range rule.Run(Rules(), Facts{in, r}) {
		t.Logf("%s %-15s %-12s %s", f.Rule.ID, f.Outcome, f.Subject, f.Words)
		for _, m := range f.Remedies {
			t.Logf("       -> %s: %s", m.Kind, m.Words)
		}
		if f.Outcome == rule.Fail && len(f.Remedies) == 0 {
			t.Errorf("%s %s fails without a remedy", f.Rule.ID, f.Subject)
		}
	}
}

func TestForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
	if err := calc.Verify(Calculations()); err != nil {
		t.Fatal(err)
	}
}

func BenchmarkSize(b *testing.B) {
	in := brewpub()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(in); err != nil {
			b.Fatal(err)
		}
	}
}
