package pressure

import (
	"math"
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/rule"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s = %.6g, want %.6g ± %.2g", what, got, want, tol)
	}
}

// example is the invented worked example of a small brewery.
func example() Input {
	tank := func(tag string, kind Kind, c Contents, litres, bar float64) Vessel {
		return Vessel{Tag: tag, Kind: kind, Contents: c, Volume: ptr(unit.Litres(litres)), PS: ptr(unit.BarGauge(bar))}
	}
	cct := tank("FV1", Tank, BeerCO2, 2600, 2)
	cct.Jacket = &Jacket{Contents: Coolant, Volume: ptr(unit.Litres(70)), PS: ptr(unit.BarGauge(4))}
	cct.PumpIn, cct.GasFlow, cct.GasMax = unit.LitresPerMinute(60), unit.KgPerHour(60), ptr(unit.BarGauge(3))
	cct.HotClean, cct.Relief, cct.Vacuum = ptr(true), &Relief{Fitted: true, Set: unit.BarGauge(2.2), Area: unit.SquareMillimetres(20)}, &Vacuum{}
	cct.Papers = Papers{Conformity: ptr(true), Body: ptr(false)}
	bbt := tank("BT1", Tank, BeerCO2, 1150, 2.9)
	bbt.Carbonation, bbt.BeerTemp = ptr(unit.CO2GramsPerLitre(5)), unit.Celsius(3)
	low := tank("ST1", Tank, BeerCO2, 500, 0.5)
	low.Carbonation, low.BeerTemp = ptr(unit.CO2GramsPerLitre(5)), unit.Celsius(8)
	return Input{Country: GB, Scheme: ptr(false), Vessels: []Vessel{
		cct, bbt, tank("YB1", Tank, BeerCO2, 120, 1.5), tank("SG1", Generator, Steam, 28, 6), tank("AR1", Receiver, Air, 270, 11), tank("KEG", Keg, BeerCO2, 50, 7), low,
	}}
}

func TestGoldenRegister(t *testing.T) {
	r, err := Size(example())
	if err != nil {
		t.Fatal(err)
	}
	// source: invented worked example, recomputed by an independent script
	want := []struct {
		tag, chamber string
		pv           float64
		category     Category
		scheme       bool
	}{
		{"FV1", "vessel", 5200, III, true},
		{"FV1", "jacket", 280, SEP, false},
		{"BT1", "vessel", 3335, III, true},
		{"YB1", "vessel", 180, I, false},
		{"SG1", "vessel", 168, II, true},
		{"AR1", "vessel", 2970, SPV, true},
		{"KEG", "vessel", 350, Out, false},
		{"ST1", "vessel", 250, Out, false},
	}
	for i, w := range want {
		row := r.Register[i]
		near(t, w.tag+" PS·V", row.PV.BarL(), w.pv, 1e-6)
		if row.Tag != w.tag || row.Chamber != w.chamber || row.Verdict.Category != w.category || row.InUse.Scheme != w.scheme {
			t.Errorf("row %d = %s %s %s scheme %v, want %+v", i, row.Tag, row.Chamber, row.Verdict.Category, row.InUse.Scheme, w)
		}
	}
	if got := r.Register[0].Verdict.Text(); got != "III (IV if the PS 4 bar line is not confirmed)" {
		t.Errorf("verdict prints as %q", got)
	}
}

func TestGoldenProtection(t *testing.T) {
	a, err := GasRelief(unit.KgPerHour(60), unit.BarGauge(2), unit.Celsius(15))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "gas relief mm²", a.MM2(), 18.7, 0.05) // source: API 520-1 formula, worked figure
	a, _ = LiquidRelief(unit.LitresPerMinute(60), unit.BarGauge(2))
	near(t, "liquid relief mm²", a.MM2(), 73.7, 0.05) // source: API 520-1 formula, worked figure
	p, share, err := Collapse(unit.Celsius(70), unit.Celsius(15))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "collapse kPa", p.KPaA(), 60.6, 0.05) // source: own arithmetic with ASHRAE eq. 6
	near(t, "air share", share.Value(), 0.41, 0.005)
	v, _ := VacuumArea(unit.LitresPerMinute(100), unit.Pascals(300))
	near(t, "vacuum valve mm²", v.MM2(), 124.2, 0.05) // source: 0.6·√(2·300/1.2) = 13.42 m/s by hand
	k, _ := CriticalRatio(unit.Fraction(1.29))
	near(t, "critical ratio", k.Value(), 0.5475, 0.00005) // source: (2/2.29)^(1.29/0.29)
	e, _ := EquilibriumPressure(unit.CO2Volumes(2.5), unit.Fahrenheit(38))
	near(t, "equilibrium psi", e.PSIG(), 11.3, 0.15) // source: ASBC carbonation chart, 38 °F and 2.5 volumes, from memory
}

// source: Directive 2014/29/EU as its explanation at euronorm.net puts it: only ordinary steel or aluminium
func TestStainlessReceiver(t *testing.T) {
	v := Vessel{Tag: "AR1", Kind: Receiver, Contents: Air, Volume: ptr(unit.Litres(90)), PS: ptr(unit.BarGauge(11)), Stainless: true}
	r, err := Size(Input{Vessels: []Vessel{v}})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Register[0].Verdict.Category; got != II {
		t.Errorf("a stainless receiver of 990 bar·L is %s, want II", got)
	}
}

func TestPapers(t *testing.T) {
	r, err := Size(example())
	if err != nil {
		t.Fatal(err)
	}
	has := func(tag, paper string) bool {
		for _, p := range r.Papers {
			if p.Tag == tag && strings.HasPrefix(p.Paper, paper) {
				return true
			}
		}
		return false
	}
	// source: SI 2016/1105 Sch. 1B para 1: a body's certificate from category II
	for _, c := range []struct {
		tag, paper string
		want       bool
	}{
		{"FV1", "certificate of the body", true},
		{"FV1", "declaration of conformity", true},
		{"FV1", "written scheme", true},
		{"FV1", "declaration of compliance for food", true},
		{"YB1", "certificate of the body", false},
		{"YB1", "declaration of conformity", true},
		{"YB1", "written scheme", false},
		{"SG1", "certificate of the body", true},
		{"SG1", "written scheme", true},
		{"SG1", "declaration of compliance for food", false},
		{"KEG", "certificate of the body", false},
	} {
		if has(c.tag, c.paper) != c.want {
			t.Errorf("%s: paper %q listed %v, want %v", c.tag, c.paper, !c.want, c.want)
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

func TestRun(t *testing.T) {
	in := example()
	r, err := Size(in)
	if err != nil {
		t.Fatal(err)
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

func BenchmarkSize(b *testing.B) {
	in := example()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Size(in); err != nil {
			b.Fatal(err)
		}
	}
}
