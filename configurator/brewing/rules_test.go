package brewing

import (
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
	"tunwright/configurator/rule/ruletest"
)

func tanks(n int, grossHL, bar float64, class string) []Tank {
	out := make([]Tank, n)
	for i := range out {
		out[i] = Tank{Tag: string(rune('A'+i)) + class, Gross: unit.Hectolitres(grossHL), Pressure: ptr(unit.BarGauge(bar)), Jacket: true, Class: class}
	}
	return out
}

// fitted is the harbour-side brewpub with a brewhouse and tanks that suit it, on the
// first floor with a lift.
func fitted() Input {
	in := harbour()
	in.Brewhouse = Brewhouse{
		Code: "ten", BrewLength: unit.Hectolitres(10), KettleGross: ptr(unit.Litres(1550)), KettleLeast: ptr(unit.Litres(500)), TunGross: ptr(unit.Litres(800)),
		LauterArea: ptr(unit.SquareMetres(1.23)), LiquorTank: ptr(unit.Litres(1500)), LiquorHeat: ptr(unit.Kilowatts(24)),
		Kettle: &HeatSource{Kind: Electric, Power: unit.Kilowatts(54), Loss: ptr(unit.WattsPerK(60))},
	}
	in.Fermenters = append(append(tanks(4, 27, 2, ""), tanks(3, 15.5, 2, "")...), tanks(1, 14, 2, "sour")...)
	in.Brights = append(tanks(3, 22, 2, ""), tanks(3, 11, 2, "")...)
	in.Water = Water{Winter: ptr(unit.Celsius(7)), Summer: ptr(unit.Celsius(18))}
	in.Cooler = Cooler{Stages: 2}
	in.Handling = Handling{UpperFloor: true, LiftLoad: ptr(unit.Kilograms(500)), Hopper: ptr(unit.Metres(0.9))}
	in.Practice.BagMass = unit.Kilograms(15)
	in.Year.BrewsPerWeek = unit.Fraction(5)
	in.HeatAllowed = ptr(unit.Kilowatts(80))
	in.Beers[4].Yearly = unit.Hectolitres(50)
	in.Beers[0].Natural = true
	in.Beers[0].Ferment = ptr(unit.Celsius(18))
	return in
}

func findings(t *testing.T, in Input, id string) []rule.Finding {
	t.Helper()
	var out []rule.Finding
	for _, f := range rule.Run(Rules(), Facts{in, mustSize(t, in)}) {
		if f.Rule.ID == id {
			out = append(out, f)
		}
	}
	return out
}

// worstOf gives the gravest finding of a rule.
func worstOf(fs []rule.Finding) rule.Finding {
	order := map[rule.Outcome]int{rule.NotApplicable: 0, rule.Pass: 1, rule.Unknown: 2, rule.Fail: 3}
	worst := fs[0]
	for _, f := range fs {
		if order[f.Outcome] > order[worst.Outcome] {
			worst = f
		}
	}
	return worst
}

func TestRulesAreWellFormed(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Fatal(err)
	}
}

func TestFittedBreweryPasses(t *testing.T) {
	in := fitted()
	for _, f := range rule.Run(Rules(), Facts{in, mustSize(t, in)}) {
		if f.Outcome == rule.Fail || f.Outcome == rule.Unknown {
			t.Errorf("%s %s: %s", f.Rule.ID, f.Outcome, f.Words)
		}
	}
}

// ruleCase breaks the fitted brewery so that one rule fails, and takes a fact away
// so that it cannot answer.
type ruleCase struct {
	id      string
	fail    func(*Input)
	remedy  string // a kind that must be offered; "" where none is
	unknown func(*Input)
	pass    func(*Input) // nil: the fitted brewery
}

func ruleCases() []ruleCase {
	return []ruleCase{
		{"BR-001", func(in *Input) { in.Year.BrewsPerWeek = 2 }, "more-brews", nil, nil},
		{"BR-002", func(in *Input) { in.Brewhouse.LauterArea = ptr(unit.SquareMetres(1.1)) }, "shorter-brew", func(in *Input) { in.Brewhouse.LauterArea = nil }, nil},
		{"BR-003", func(in *Input) {
			in.Brewhouse.LauterArea = ptr(unit.SquareMetres(2.2))
			in.BrewhouseOptions = []Brewhouse{fitted().Brewhouse}
			in.Brewhouse.Code = "wide"
		}, "other-brewhouse", func(in *Input) { in.Brewhouse.LauterArea = nil }, nil},
		{"BR-004", func(in *Input) { in.Brewhouse.TunGross = ptr(unit.Litres(600)) }, "thicker-mash", func(in *Input) { in.Brewhouse.TunGross = nil }, nil},
		{"BR-034", func(in *Input) { in.Brewhouse.TunGross = ptr(unit.Litres(700)) }, "thicker-mash", nil, nil},
		{"BR-005", func(in *Input) { in.Brewhouse.KettleGross = ptr(unit.Litres(1050)) }, "shorter-brew", func(in *Input) { in.Brewhouse.KettleGross = nil }, nil},
		{"BR-006", func(in *Input) {
			in.Brewhouse.KettleLeast = ptr(unit.Litres(1200))
			in.Brewhouse.Code = "high"
			in.BrewhouseOptions = []Brewhouse{fitted().Brewhouse}
		}, "other-brewhouse", func(in *Input) { in.Brewhouse.KettleLeast = nil }, nil},
		{"BR-007", func(in *Input) { in.Beers[3].OE = 22; in.Beers[3].AE = 6 }, "thicker-mash", nil, nil},
		{"BR-008", func(in *Input) {
			in.Brewhouse.LiquorTank = ptr(unit.Litres(900))
			in.Brewhouse.Code = "dry"
			in.BrewhouseOptions = []Brewhouse{fitted().Brewhouse}
		}, "other-brewhouse", func(in *Input) { in.Brewhouse.LiquorTank = nil }, nil},
		{"BR-009", func(in *Input) { in.Brewhouse.Kettle.Power = unit.Kilowatts(4) }, "lag-kettle", func(in *Input) { in.Brewhouse.Kettle = nil }, nil},
		{"BR-010", func(in *Input) { in.Brewhouse.Kettle.Power = unit.Kilowatts(40) }, "longer-boil", nil, nil},
		{"BR-011", func(in *Input) {
			in.Year.BrewsPerDay = 2
			in.HeatAllowed = ptr(unit.Kilowatts(60))
		}, "interlock", nil, nil},
		{"BR-012", func(in *Input) { in.Year.BrewsPerDay = 2 }, "one-brew-a-day", nil, nil},
		{"BR-013", func(in *Input) {
			in.Beers[2].Kind = KettleSour
			in.Beers[2].KettleDays = days(9)
		}, "souring-tank", nil, func(in *Input) {
			in.Beers[2].Kind = KettleSour
			in.Beers[2].KettleDays = days(1)
		}},
		{"BR-035", func(in *Input) { in.Fermenters = in.Fermenters[4:] }, "fewer-brews-per-tank", nil, nil},
		{"BR-014", func(in *Input) { in.Fermenters = append(tanks(4, 22, 2, ""), in.Fermenters[4:]...) }, "fewer-brews-per-tank", nil, nil},
		{"BR-015", func(in *Input) { in.Fermenters = append(append([]Tank{}, in.Fermenters[2:5]...), in.Fermenters[7]) }, "add-fermenter", nil, nil},
		{"BR-016", func(in *Input) { in.Brights = in.Brights[3:] }, "add-bright", nil, nil},
		{"BR-017", func(in *Input) { in.Brights = in.Brights[:1] }, "add-bright", nil, nil},
		{"BR-018", func(in *Input) {
			in.Beers[0].BrewsPerTank = 4
			in.Fermenters = append(in.Fermenters, tanks(2, 60, 2, "")...)
		}, "more-brews-a-day", nil, nil},
		{"BR-019", func(in *Input) {
			in.Year.FillLimit = 0.6
		}, "add-fermenter", nil, nil},
		{"BR-020", func(in *Input) {
			for i := range in.Fermenters {
				in.Fermenters[i].Pressure = ptr(unit.BarGauge(1))
			}
			in.FermenterOptions = []Tank{{Code: "strong", Gross: unit.Hectolitres(27), Pressure: ptr(unit.BarGauge(3))}}
		}, "rated-tanks", func(in *Input) {
			for i := range in.Fermenters {
				in.Fermenters[i].Pressure = nil
			}
		}, nil},
		{"BR-021", func(in *Input) {
			in.Beers[0].Cold = ptr(unit.Celsius(12))
			for i := range in.Brights {
				in.Brights[i].Pressure = ptr(unit.BarGauge(1.2))
			}
			in.BrightOptions = append(tanks(1, 22, 3, ""), tanks(1, 11, 3, "")...)
		}, "rated-brights", func(in *Input) {
			for i := range in.Brights {
				in.Brights[i].Pressure = nil
			}
		}, nil},
		{"BR-022", func(in *Input) { in.Cooler.Stages = 1 }, "second-stage", func(in *Input) { in.Water.Summer = nil }, nil},
		{"BR-023", func(in *Input) { in.Cooler.UA, in.Cooler.UA2 = ptr(unit.KilowattsPerK(5)), ptr(unit.KilowattsPerK(1)) }, "larger-cooler", func(in *Input) { in.Water.Summer = nil }, nil},
		{"BR-024", func(in *Input) {
			in.Cooler.ColdLiquor = true
			in.Brewhouse.ColdLiquor = ptr(unit.Litres(500))
		}, "larger-cold-liquor", func(in *Input) { in.Cooler.ColdLiquor = true }, func(in *Input) {
			in.Cooler.ColdLiquor = true
			in.Brewhouse.ColdLiquor = ptr(unit.Litres(5000))
		}},
		{"BR-025", func(in *Input) { in.Beers[0].FermenterLoss = ptr(unit.Fraction(0.25)) }, "usual-losses", nil, nil},
		{"BR-026", func(in *Input) { in.Beers[0].Yearly = unit.Hectolitres(9) }, "fewer-brews-per-tank", nil, nil},
		{"BR-027", func(in *Input) { in.Year.BrewsPerWeek = 3.5 }, "room-to-grow", nil, nil},
		{"BR-028", func(in *Input) { in.Handling.LiftLoad = ptr(unit.Kilograms(100)) }, "larger-lift", func(in *Input) { in.Handling.LiftLoad = nil }, nil},
		{"BR-029", func(in *Input) { in.Practice.BagMass = unit.Kilograms(25) }, "smaller-bags", func(in *Input) { in.Handling.Hopper = nil }, nil},
		{"BR-032", func(in *Input) { in.Brewhouse.KettleGross = ptr(unit.Litres(1450)) }, "shorter-brew", nil, nil},
		{"BR-033", func(in *Input) {
			in.Beers[3].Headspace = nil
			for i := 4; i < 7; i++ {
				in.Fermenters[i].Gross = unit.Hectolitres(13.4)
			}
		}, "add-fermenter", nil, nil},
		{"BR-031", func(in *Input) { in.Fermenters[0].Gross = unit.Hectolitres(20) }, "confirm-net", nil, nil},
		{"BR-030", func(in *Input) { in.Beers[0].Container = unit.Litres(19.5) }, "larger-keg", nil, nil},
	}
}

func TestEachRuleFailsAndIsMended(t *testing.T) {
	seen := ruletest.Seen{}
	for _, c := range ruleCases() {
		t.Run(c.id, func(t *testing.T) {
			in := fitted()
			fs := findings(t, in, c.id)
			if len(fs) == 0 {
				t.Fatalf("%s is no rule", c.id)
			}
			if c.pass != nil {
				c.pass(&in)
				fs = findings(t, in, c.id)
			}
			if f := worstOf(fs); f.Outcome != rule.Pass && f.Outcome != rule.NotApplicable {
				t.Errorf("%s: %s: %s %s", c.id, f.Outcome, f.Words, f.WaitingOn)
			}
			seen.Add(c.id, worstOf(fs).Outcome)
			in = fitted()
			c.fail(&in)
			f := worstOf(findings(t, in, c.id))
			if f.Outcome != rule.Fail {
				t.Fatalf("%s: %s: %s %s", c.id, f.Outcome, f.Words, f.WaitingOn)
			}
			seen.Add(c.id, rule.Fail)
			offered := ""
			for _, r := range f.Remedies {
				offered += " " + r.Kind
				if r.Words == "" || r.Kind == "" {
					t.Errorf("a remedy without words: %+v", r)
				}
				if r.Kind == c.remedy {
					c.remedy = ""
				}
			}
			if c.remedy != "" {
				t.Errorf("%s offers%s, not %s: %s", c.id, offered, c.remedy, f.Words)
			}
			if c.unknown == nil {
				return
			}
			in = fitted()
			c.unknown(&in)
			f = worstOf(findings(t, in, c.id))
			if f.Outcome != rule.Unknown || len(f.Missing) == 0 {
				t.Errorf("%s without its fact: %s, missing %v: %s", c.id, f.Outcome, f.Missing, f.Words)
			}
			seen.Add(c.id, f.Outcome)
		})
	}
	seen.Complete(t, rule.Infos(Rules()), map[string]string{
		"BR-001 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-034 unknown": "it waits on BR-004, which asks for the tun",
		"BR-032 unknown": "it waits on BR-005, which asks for the kettle",
		"BR-007 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-010 unknown": "it waits on BR-009, which asks for the heat source",
		"BR-011 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-012 unknown": "every brew of a plan can be laid out: the answer guards against a plan without one",
		"BR-013 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-031 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-035 unknown": "without fermenters a set is proposed; with some their gross volumes are required",
		"BR-014 unknown": "without fermenters a set is proposed; with some their gross volumes are required",
		"BR-033 unknown": "it waits on BR-035 and the dated schedule, in which every batch then has a tank",
		"BR-015 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-016 unknown": "without bright tanks a set is proposed; with some their gross volumes are required",
		"BR-017 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-018 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-019 unknown": "it waits on BR-035 and the dated schedule, in which every batch then has a tank",
		"BR-025 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-026 unknown": "it judges what is worked out from required entries and stated assumptions",
		"BR-027 unknown": "a year with more volume is worked out for every plan",
		"BR-030 unknown": "strength, container and volume are required or assumed",
	})
}

// TestAFullTankStillBrews: fermenters with less than the usual headspace are warned of,
// and the batches are laid on them all the same; only their gross volume stops.
func TestAFullTankStillBrews(t *testing.T) {
	in := fitted()
	in.Fermenters = append(tanks(4, 22, 2, ""), in.Fermenters[4:]...)
	for id, want := range map[string]rule.Outcome{"BR-035": rule.Pass, "BR-014": rule.Fail, "BR-015": rule.Pass} {
		if f := worstOf(findings(t, in, id)); f.Outcome != want {
			t.Errorf("%s %s, want %s: %s %s", id, f.Outcome, want, f.Words, f.WaitingOn)
		}
	}
	for _, r := range Rules() {
		if (r.ID == "BR-014" || r.ID == "BR-034" || r.ID == "BR-032") && r.Severity != rule.Warning {
			t.Errorf("%s is a habit of filling and stops", r.ID)
		}
	}
}

func BenchmarkRulesFitted(b *testing.B) {
	b.ReportAllocs()
	in := fitted()
	f := Facts{in, mustSize(b, in)}
	rules := Rules()
	for b.Loop() {
		rule.Run(rules, f)
	}
}

func BenchmarkRulesFailing(b *testing.B) {
	b.ReportAllocs()
	in := fitted()
	in.Fermenters = append(append([]Tank{}, in.Fermenters[2:5]...), in.Fermenters[7])
	in.Cooler.Stages = 1
	in.Brewhouse.KettleGross = ptr(unit.Litres(1300))
	f := Facts{in, mustSize(b, in)}
	rules := Rules()
	for b.Loop() {
		rule.Run(rules, f)
	}
}
