package haccp

import (
	"math"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
	"tunwright/configurator/rule/ruletest"
)

func good() Input {
	return Input{
		Country: GB, Mill: true, Coolant: "propylene-glycol", HotClean: true, Glass: true, Refermented: true, PackRating: ptr(unit.BarGauge(5)),
		MillSeparate: ptr(true), LampsCovered: ptr(true), WashBasins: ptr(true),
		Beers: []Beer{{Name: "Pale", ABV: ptr(unit.PercentABV(4.5)), PH: ptr(unit.PH(4.3)), Ingredients: []string{"barley malt", "hops"}, Carbonation: ptr(unit.CO2GramsPerLitre(5))}},
	}
}

func TestRuleCases(t *testing.T) {
	seen := ruletest.Seen{}
	for _, c := range []struct {
		id     string
		want   rule.Outcome
		change func(in *Input)
	}{
		{"HA-001", rule.NotApplicable, func(*Input) {}},
		{"HA-001", rule.Fail, func(in *Input) { in.Beers[0].ABV = ptr(unit.PercentABV(0.5)) }},
		{"HA-001", rule.Pass, func(in *Input) { in.Beers[0].ABV, in.Pasteurised = ptr(unit.PercentABV(0.5)), true }},
		{"HA-001", rule.Pass, func(in *Input) { in.Beers[0].ABV, in.Beers[0].PH = ptr(unit.PercentABV(0.5)), ptr(unit.PH(4.1)) }},
		{"HA-001", rule.Unknown, func(in *Input) { in.Beers[0].ABV = nil }},
		{"HA-001", rule.Unknown, func(in *Input) { in.Beers[0].ABV, in.Beers[0].PH = ptr(unit.PercentABV(0.5)), nil }},
		{"HA-002", rule.Pass, func(*Input) {}},
		{"HA-002", rule.Unknown, func(in *Input) { in.Beers[0].Ingredients = nil }},
		{"HA-003", rule.Pass, func(*Input) {}},
		{"HA-003", rule.Fail, func(in *Input) { in.Coolant = "ethylene-glycol" }},
		{"HA-003", rule.Unknown, func(in *Input) { in.Coolant = "" }},
		{"HA-004", rule.Pass, func(*Input) {}},
		{"HA-004", rule.Fail, func(in *Input) { in.PackRating = ptr(unit.BarGauge(2)) }},
		{"HA-004", rule.Unknown, func(in *Input) { in.PackRating = nil }},
		{"HA-004", rule.NotApplicable, func(in *Input) { in.Refermented = false }},
		{"HA-005", rule.Pass, func(*Input) {}},
		{"HA-005", rule.Fail, func(in *Input) { in.MillSeparate = ptr(false) }},
		{"HA-005", rule.Unknown, func(in *Input) { in.MillSeparate = nil }},
	} {
		in := good()
		c.change(&in)
		r, err := Size(in)
		if err != nil {
			t.Fatalf("%s: %v", c.id, err)
		}
		seen.Add(c.id, c.want)
		for _, x := range Rules() {
			if x.ID != c.id {
				continue
			}
			a := x.Check(Facts{in, r})[0]
			if a.Outcome != c.want {
				t.Errorf("%s: %s, want %s: %s", c.id, a.Outcome, c.want, a.Words)
			}
			if a.Outcome == rule.Fail && len(a.Remedies) == 0 {
				t.Errorf("%s fails without a remedy that passes: %s", c.id, a.Words)
			}
			if a.Outcome == rule.Unknown && len(a.Missing) == 0 {
				t.Errorf("%s is unknown without saying what is missing", c.id)
			}
		}
	}
	seen.Complete(t, rule.Infos(Rules()), map[string]string{
		"HA-002 fails": "it only asks: what is known is in order, what is not is unknown",
	})
}

// Every row of the hazard table is whole: a critical point has a limit, monitoring,
// correction and a record, and its step stands in the flow diagram's words.
func TestHazardTable(t *testing.T) {
	if hazardTable.Len() != 37 || flowTable.Len() != 25 || allergenTable.Len() != 27 {
		t.Errorf("%d hazards, %d flow steps, %d allergens were written down", hazardTable.Len(), flowTable.Len(), allergenTable.Len())
	}
	kinds := map[string]bool{"B": true, "C": true, "P": true, "A": true}
	facts := map[string]bool{}
	for i := range hazardTable.Len() {
		for _, col := range []string{"when", "step", "hazard", "cause", "control", "limit", "monitor", "correct", "verify", "record", "programme"} {
			if hazardTable.Text(i, col) == "" {
				t.Errorf("hazard %d has no %s", i, col)
			}
		}
		v := Verdict(hazardTable.Text(i, "verdict"))
		if !kinds[hazardTable.Text(i, "kind")] || v != CCP && v != OPRP && v != PRP {
			t.Errorf("hazard %d: kind %q, verdict %q", i, hazardTable.Text(i, "kind"), v)
		}
		for _, col := range []string{"severity", "chance"} {
			if x, ok := hazardTable.Number(i, col); !ok || x < 1 || x > 3 {
				t.Errorf("hazard %d: %s is %q", i, col, hazardTable.Text(i, col))
			}
		}
		facts[hazardTable.Text(i, "when")] = true
	}
	all := Input{OwnWater: true, TreatedWater: true, Mill: true, DirectSteam: true, HotClean: true, Gas: true, Air: true, Filter: true, Pasteurised: true, Glass: true, Cans: true, Kegs: true, Refermented: true, Dispense: true, GrainFeed: true, Beers: []Beer{{Name: "free", ABV: ptr(unit.PercentABV(0.3))}}}
	for f := range facts {
		if !all.hasFact(f) {
			t.Errorf("the fact %q of the hazard table is never true", f)
		}
	}
}

// The allergens of the food information regulation that a brewer's ingredients bring.
func TestAllergens(t *testing.T) {
	in := good()
	in.Beers = []Beer{
		{Name: "Wheat", Ingredients: []string{"Wheat malt"}},
		{Name: "Stout", Ingredients: []string{"barley malt", "lactose"}, Sulphite: ptr(unit.MilligramsPerLitre(12))},
	}
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]bool{
		"Wheat cereals containing gluten false": true, "Wheat milk true": true,
		"Stout cereals containing gluten false": true, "Stout milk false": true, "Stout sulphur dioxide and sulphites false": true,
	}
	for _, a := range r.Allergens {
		key := a.Beer + " " + a.Allergen
		if a.Cross {
			key += " true"
		} else {
			key += " false"
		}
		if !want[key] {
			t.Errorf("not expected: %s", key)
		}
		delete(want, key)
	}
	for k := range want {
		t.Errorf("missing: %s", k)
	}
	// source: Regulation (EU) 1169/2011 Annex II: declared above 10 mg/L, from memory
	in.Beers[1].Sulphite = ptr(unit.MilligramsPerLitre(10))
	r, _ = Size(in)
	for _, a := range r.Allergens {
		if a.Allergen == "sulphur dioxide and sulphites" {
			t.Error("10 mg/L of sulphite is declared; the limit is more than 10")
		}
	}
}

func TestPlanFollowsConfiguration(t *testing.T) {
	plain := Input{Beers: []Beer{{Name: "Ale", ABV: ptr(unit.PercentABV(4))}}}
	r, err := Size(plain)
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range r.Hazards {
		if h.Step == "Filling of glass bottles" || h.Step == "Dispense on site" || h.Step == "Milling" {
			t.Errorf("the plan holds %s, which this brewery does not do", h.Step)
		}
	}
	more := plain
	more.Glass = true
	x, _ := Size(more)
	if len(x.Hazards) <= len(r.Hazards) || len(x.CCPs) != len(r.CCPs)+1 {
		t.Errorf("glass adds %d hazards and %d critical points", len(x.Hazards)-len(r.Hazards), len(x.CCPs)-len(r.CCPs))
	}
	if _, err := Size(Input{Country: "FR"}); err == nil {
		t.Error("an unknown country was taken")
	}
	if _, err := Size(Input{Beers: []Beer{{}}}); err == nil {
		t.Error("a beer without a name was taken")
	}
}

func TestPressureOfPack(t *testing.T) {
	for _, c := range []struct{ gl, celsius, want, tol float64 }{
		// source: Henry's constant of carbon dioxide in water, 0.034 mol/(L·atm) at 25 °C falling
		// with 2400 K (Sander's compilation, from memory), by hand
		{5, 30, 2.85, 0.005},
		{5, 25, 2.372, 0.005},
		{8, 30, 5.17, 0.01},
		// source: table of the ASBC as its polynomial gives it: 5 g/L at 20 °C 1.94, at 3 °C 0.775
		{5, 20, 1.94, 0.02},
		{5, 3, 0.775, 0.02},
	} {
		got, err := PackPressure(unit.CO2GramsPerLitre(c.gl), unit.Celsius(c.celsius))
		if err != nil || math.Abs(got.BarG()-c.want) > c.tol {
			t.Errorf("%g g/L at %g °C stand at %v, %v; want %.3f ± %.3f", c.gl, c.celsius, got, err, c.want, c.tol)
		}
	}
	for _, bad := range [][2]float64{{-1, 20}, {21, 20}, {5, -1}, {5, 41}} {
		if _, err := PackPressure(unit.CO2GramsPerLitre(bad[0]), unit.Celsius(bad[1])); err == nil {
			t.Errorf("%g g/L at %g °C was taken", bad[0], bad[1])
		}
	}
}

func TestCalculationsRun(t *testing.T) {
	for _, k := range Calculations() {
		if _, steps, err := k.Run([]byte(k.Example)); err != nil || len(steps) == 0 || steps[0].Source.IsZero() {
			t.Errorf("%s: %v, %d steps", k.ID, err, len(steps))
		}
	}
}
