package cooling

import (
	"slices"
	"strings"
	"testing"

	"tunwright/catalog/unit"
	"tunwright/configurator/calc"
	"tunwright/configurator/rule"
	"tunwright/configurator/rule/ruletest"
)

func TestRulesAndCalculationsHoldTheForm(t *testing.T) {
	if err := rule.Verify(rule.Infos(Rules())); err != nil {
		t.Error(err)
	}
	if err := calc.Verify(Calculations()); err != nil {
		t.Error(err)
	}
}

// sound is a cellar in which nothing is wrong or unknown.
func sound() Input {
	in := exampleCellar()
	in.Chiller = madeChiller("CH-8", 8.1)
	in.Units = 2
	in.Winter = ptr(unit.Celsius(-5))
	for i := range in.Tanks {
		in.Tanks[i].JacketBody, in.Tanks[i].JacketCone = unit.SquareMetres(1.479), unit.SquareMetres(0.628)
	}
	in.Alternatives = []Chiller{madeChiller("CH-12", 12), madeChiller("CH-9", 9), madeChiller("CH-40", 40)}
	return in
}

func answersOf(in Input, id string) (answers []rule.Finding) {
	r, err := Size(in)
	if err != nil {
		panic(err)
	}
	for _, f := range rule.Run(Rules(), Facts{in, r}) {
		if f.Rule.ID == id {
			answers = append(answers, f)
		}
	}
	return answers
}

func outcomeOf(in Input, id string) (worst rule.Finding) {
	rank := map[rule.Outcome]int{rule.NotApplicable: 0, rule.Pass: 1, rule.Unknown: 2, rule.Fail: 3}
	for i, f := range answersOf(in, id) {
		if i == 0 || rank[f.Outcome] > rank[worst.Outcome] {
			worst = f
		}
	}
	return worst
}

func TestASoundCellarHasNothingAgainstIt(t *testing.T) {
	in := sound()
	for _, f := range rule.Run(Rules(), Facts{in, must(Size(in))}) {
		if f.Outcome == rule.Fail || f.Outcome == rule.Unknown {
			t.Errorf("%s %s: %s", f.Rule.ID, f.Outcome, f.Words)
		}
	}
}

type ruleCase struct {
	id      string
	pass    func(*Input) // nil: the sound cellar
	fail    func(*Input)
	unknown func(*Input) // nil: every input it needs is mandatory or has a stated assumption
	remedy  []string     // kinds that must be among the remedies
}

func weak(in *Input) { in.Units, in.Chiller = 1, madeChiller("CH-5", 5) }

var ruleCases = []ruleCase{
	{id: "CO-001", fail: weak, unknown: func(in *Input) { in.Ambient = nil }, remedy: []string{"other-chiller", "second-chiller", "buffer-store"}},
	{id: "CO-001", fail: func(in *Input) { in.Units, in.Chiller = 1, madeChiller("CH-8", 7.5) }, remedy: []string{"other-chiller", "stagger-crash", "slower-crash"}},
	{id: "CO-001", fail: func(in *Input) {
		in.Units, in.Chiller = 1, madeChiller("CH-6", 6.3)
		for i := range in.Batches {
			in.Batches[i].Crash.To = unit.Celsius(5)
		}
		for i := range in.Tanks {
			in.Tanks[i].Hold = ptr(unit.Celsius(5))
		}
	}, remedy: []string{"warmer-glycol"}},
	{id: "CO-005", fail: func(in *Input) { in.Supply, in.Chiller.MinLeaving = ptr(unit.Celsius(-1)), unit.Celsius(-1.5) }, remedy: []string{"other-chiller"}},
	{id: "CO-007", fail: func(in *Input) { in.Ramped, in.Chiller = nil, madeChiller("CH-8", 6.5) }, remedy: []string{"one-crash-at-a-time"}},
	{id: "CO-002", fail: func(in *Input) { in.Chiller.MinLeaving = unit.Celsius(-2) }, remedy: []string{"other-chiller", "warmer-glycol"}},
	{id: "CO-018", fail: func(in *Input) { in.Ambient = ptr(unit.Celsius(46)); in.Alternatives = []Chiller{hotChiller()} }, unknown: func(in *Input) { in.Ambient = nil }, remedy: []string{"other-chiller"}},
	{id: "CO-016", unknown: func(in *Input) { in.Mains = nil }},
	{id: "CO-015", pass: func(in *Input) { wort(in); in.Buffer = &Buffer{Volume: unit.Litres(6000)} }, fail: wort, unknown: func(in *Input) { wort(in); in.Ambient = nil }, remedy: []string{"buffer-store", "other-chiller", "wort-on-cold-liquor"}},
	{id: "CO-015", pass: func(in *Input) { in.Wort = nil }, fail: func(in *Input) {
		in.Wort = &Wort{unit.Kilowatts(12), unit.Minutes(45), []unit.Duration{unit.Hours(5)}}
	}, remedy: []string{"longer-knock-out"}},
	{id: "CO-005", fail: func(in *Input) { in.Supply = ptr(unit.Celsius(-1)) }, remedy: []string{"colder-glycol"}},
	{id: "CO-006", fail: func(in *Input) { over(in, 10) }, unknown: func(in *Input) { in.Tanks[1].JacketBody, in.Tanks[1].JacketCone = 0, 0 }, remedy: []string{"slower-crash", "larger-jacket"}},
	{id: "CO-028", pass: func(in *Input) { in.CrashAtOnce = ptr(2) }, fail: func(in *Input) {
		in.CrashAtOnce, in.Chiller = ptr(1), madeChiller("CH-40", 40)
		for i := range in.Batches {
			in.Batches[i].Crash.Start = in.Batches[0].Crash.Start
			in.Batches[i].Start, in.Batches[i].End = in.Batches[0].Start, in.Batches[0].End
		}
	}, remedy: []string{"more-crashes-at-once"}},
	{id: "CO-007", pass: func(in *Input) { in.Ramped = nil; in.Chiller = madeChiller("CH-40", 40) }, fail: func(in *Input) { in.Ramped = nil }, unknown: func(in *Input) { in.Ambient = nil }, remedy: []string{"ramp-set-points"}},
	{id: "CO-019", fail: func(in *Input) { in.Ramped, in.Chiller.MaxEntering = nil, ptr(unit.Celsius(3)) }, unknown: func(in *Input) { in.Ramped, in.Chiller.MaxEntering = nil, nil }, remedy: []string{"ramp-set-points"}},
	{id: "CO-026", fail: func(in *Input) { in.Supply = ptr(unit.Celsius(-6)) }, remedy: []string{"warmer-glycol"}},
	{id: "CO-003", fail: func(in *Input) { in.Glycol = ptr(unit.Fraction(0.15)) }, remedy: []string{"stronger-glycol"}},
	{id: "CO-024", fail: func(in *Input) { in.Glycol = ptr(unit.Fraction(0.27)) }, remedy: []string{"stronger-glycol"}},
	{id: "CO-004", fail: func(in *Input) { in.Glycol = ptr(unit.Fraction(0.45)) }, remedy: []string{"usual-glycol"}},
	{id: "CO-004", fail: func(in *Input) { in.Supply, in.Glycol = ptr(unit.Celsius(0)), ptr(unit.Fraction(0.22)) }, remedy: []string{"usual-glycol"}},
	{id: "CO-025", fail: func(in *Input) { in.Winter = ptr(unit.Celsius(-15)) }, unknown: func(in *Input) { in.Winter = nil }, remedy: []string{"stronger-glycol"}},
	{id: "CO-010", fail: func(in *Input) { in.Route.Rise = ptr(unit.Metres(14)) }, unknown: func(in *Input) { in.Route.Rise = nil }, remedy: []string{"pump-to-suit", "separate-circuit"}},
	{id: "CO-010", fail: func(in *Input) {
		in.Route.Rise = ptr(unit.Metres(14))
		in.Pumps = []Pump{{"P-SOFT", unit.M3PerHour(2), unit.Bars(1), unit.Bars(1.3)}}
	}, unknown: func(in *Input) { in.Tanks[2].JacketPS = nil }, remedy: []string{"other-pump"}},
	{id: "CO-009", fail: func(in *Input) { in.Chiller.PumpHead = ptr(unit.Bars(0.4)) }, unknown: func(in *Input) { in.Chiller.PumpHead = nil }, remedy: []string{"pump-to-suit"}},
	{id: "CO-023", fail: func(in *Input) { in.Bypass = nil }, unknown: func(in *Input) { in.Chiller.MinFlow = nil }, remedy: []string{"fit-bypass"}},
	{id: "CO-008", fail: func(in *Input) { in.Route.Series = "abs"; flows(in, 12) }, remedy: []string{"other-pipe", "fewer-open-jackets"}},
	{id: "CO-012", fail: func(in *Input) { in.Humidity = ptr(unit.Fraction(0.85)) }, unknown: func(in *Input) { in.Humidity = nil }, remedy: []string{"thicker-insulation"}},
	{id: "CO-027", pass: func(in *Input) { in.Route.Rise, in.Route.DrainProof = ptr(unit.Metres(-6)), ptr(true) }, fail: func(in *Input) { in.Route.Rise, in.Route.DrainProof = ptr(unit.Metres(-6)), ptr(false) }, unknown: func(in *Input) { in.Route.Rise = nil }, remedy: []string{"closed-circuit", "hold-glycol"}},
	{id: "CO-011", fail: func(in *Input) { in.Chiller.Tank = unit.Litres(20) }, remedy: []string{"buffer-store"}},
	{id: "CO-021", fail: func(in *Input) {
		in.Units, in.Chiller, in.Buffer = 1, madeChiller("CH-4", 4), &Buffer{Volume: unit.Litres(20000)}
	}, unknown: func(in *Input) { in.Ambient = nil }, remedy: []string{"other-chiller", "second-chiller"}},
	{id: "CO-029", fail: func(in *Input) { in.Units, in.Chiller = 1, madeChiller("CH-40", 40) }, unknown: func(in *Input) { in.Ambient = nil }, remedy: []string{"other-chiller"}},
	{id: "CO-029", pass: func(in *Input) {
		in.Units, in.Chiller = 1, madeChiller("CH-40", 40)
		wort(in)
	}, fail: func(in *Input) { in.Chiller = madeChiller("CH-40", 40) }, remedy: []string{"other-chiller"}},
	{id: "CO-022", fail: func(in *Input) { in.Units = 1 }, unknown: func(in *Input) { in.Ambient = nil }, remedy: []string{"second-chiller"}},
	{id: "CO-013", fail: func(in *Input) { in.Chiller.Refrigerant = "R410A" }, unknown: func(in *Input) { in.Chiller.Refrigerant = "" }, remedy: []string{"other-chiller"}},
	{id: "CO-013", fail: func(in *Input) { in.Siting.OpeningDist = ptr(unit.Metres(2)) }, unknown: func(in *Input) { in.Siting.OpeningDist = nil }, remedy: []string{"move-chiller"}},
	{id: "CO-014", fail: func(in *Input) { in.Siting.Walled = ptr(true) }, unknown: func(in *Input) { in.Siting.Walled = nil }, remedy: []string{"move-chiller"}},
	{id: "CO-014", pass: func(in *Input) { in.Siting.Where, in.Siting.FreeArea = "inside", ptr(unit.SquareMetres(2)) }, fail: func(in *Input) { in.Siting.Where, in.Siting.FreeArea = "inside", ptr(unit.SquareMetres(0.1)) }, unknown: func(in *Input) { in.Siting.Where = "inside" }, remedy: []string{"larger-louvres"}},
	{id: "CO-020", fail: func(in *Input) { in.Siting.Neighbour = ptr(unit.Metres(4)) }, unknown: func(in *Input) { in.Siting.Neighbour = nil }, remedy: []string{"move-chiller"}},
}

func wort(in *Input) {
	in.Wort = &Wort{unit.Kilowatts(19.5), unit.Minutes(45), []unit.Duration{unit.Hours(5), unit.Hours(53)}}
}

func over(in *Input, hours float64) {
	for i := range in.Batches {
		in.Batches[i].Crash.Over = unit.Hours(hours)
	}
}

func flows(in *Input, m3h float64) {
	for i := range in.Tanks {
		in.Tanks[i].JacketFlow = ptr(unit.M3PerHour(m3h))
	}
}

// hotChiller is rated to 50 °C air.
func hotChiller() Chiller {
	c := madeChiller("CH-HOT", 14)
	for i := range c.Ratings {
		c.Ratings[i].Ambient += 5
	}
	return c
}

func TestEachRulePassesFailsAndIsUnknown(t *testing.T) {
	seen := ruletest.Seen{}
	for _, tt := range ruleCases {
		in := sound()
		if tt.pass != nil {
			tt.pass(&in)
		}
		if f := outcomeOf(in, tt.id); f.Outcome != rule.Pass && f.Outcome != rule.NotApplicable {
			t.Errorf("%s should pass: %s %s", tt.id, f.Outcome, f.Words)
		} else {
			seen.Add(tt.id, f.Outcome)
		}
		if tt.unknown != nil {
			in := sound()
			tt.unknown(&in)
			if f := outcomeOf(in, tt.id); f.Outcome != rule.Unknown || len(f.Missing) == 0 && f.WaitingOn == "" {
				t.Errorf("%s should be unknown: %s %s", tt.id, f.Outcome, f.Words)
			}
			seen.Add(tt.id, rule.Unknown)
		}
		if tt.fail != nil {
			failing(t, tt)
			seen.Add(tt.id, rule.Fail)
		}
	}
	seen.Complete(t, rule.Infos(Rules()), map[string]string{
		"CO-002 unknown": "the maker's lowest leaving temperature is a required entry",
		"CO-016 fails":   "it only asks: what is known is in order, what is not is unknown",
		"CO-005 unknown": "it judges what is worked out from required entries and stated assumptions",
		"CO-028 unknown": "it judges what is worked out from required entries and stated assumptions",
		"CO-026 unknown": "it judges what is worked out from required entries and stated assumptions",
		"CO-003 unknown": "it judges what is worked out from required entries and stated assumptions",
		"CO-024 unknown": "it judges what is worked out from required entries and stated assumptions",
		"CO-004 unknown": "it judges what is worked out from required entries and stated assumptions",
		"CO-008 unknown": "it judges what is worked out from required entries and stated assumptions",
		"CO-011 unknown": "it judges what is worked out from required entries and stated assumptions",
	})
}

// failing holds that the rule fails, that the remedies looked for are there, and that
// each one, applied by its parameters alone, makes the rule pass.
func failing(t *testing.T, tt ruleCase) {
	t.Helper()
	in := sound()
	tt.fail(&in)
	f := outcomeOf(in, tt.id)
	if f.Outcome != rule.Fail {
		t.Errorf("%s should fail: %s %s", tt.id, f.Outcome, f.Words)
		return
	}
	for _, kind := range tt.remedy {
		if !slices.ContainsFunc(f.Remedies, func(r rule.Remedy) bool { return r.Kind == kind }) {
			t.Errorf("%s: no remedy %q among %v", tt.id, kind, f.Remedies)
		}
	}
	for _, m := range f.Remedies {
		mendedIn := apply(in, must(Size(in)), m)
		for _, a := range answersOf(mendedIn, tt.id) {
			if a.Subject == f.Subject && a.Outcome != rule.Pass && a.Outcome != rule.NotApplicable {
				t.Errorf("%s with %s (%s): %s %s", tt.id, m.Kind, m.Words, a.Outcome, a.Words)
			}
		}
	}
}

// apply does what a caller does with a remedy: it has the words' figures and no more.
func apply(in Input, res Result, m rule.Remedy) Input {
	get := func(name string) float64 {
		for _, p := range m.Params {
			if p.Name == name && p.Quantity != nil {
				return p.Quantity.SI()
			}
		}
		panic(m.Kind + " has no " + name)
	}
	text := func(name string) string {
		for _, p := range m.Params {
			if p.Name == name {
				return p.Text
			}
		}
		panic(m.Kind + " has no " + name)
	}
	has := func(name string) bool {
		return slices.ContainsFunc(m.Params, func(p rule.Param) bool { return p.Name == name })
	}
	in.Batches, in.Tanks = slices.Clone(in.Batches), slices.Clone(in.Tanks)
	switch m.Kind {
	case "other-chiller":
		for _, c := range in.Alternatives {
			if c.Code == text("chiller") {
				in.Chiller = c
			}
		}
		if has("supply") {
			in.Supply, in.Glycol = ptr(unit.Temperature(get("supply"))), nil
		}
	case "second-chiller":
		in.Units = int(get("units"))
	case "stagger-crash", "one-crash-at-a-time", "more-crashes-at-once":
		in.CrashAtOnce = ptr(int(get("crash_at_once")))
	case "slower-crash":
		for i := range in.Batches {
			c := *in.Batches[i].Crash
			c.Over = unit.Duration(get("crash_over"))
			in.Batches[i].End = max(in.Batches[i].End, c.Start+c.Over)
			in.Batches[i].Crash = &c
		}
	case "buffer-store":
		in.Buffer = &Buffer{unit.Volume(get("buffer_volume")), unit.TempDiff(get("swing"))}
	case "warmer-glycol":
		in.Supply = ptr(unit.Temperature(get("supply")))
	case "colder-glycol":
		in.Supply, in.Glycol = ptr(unit.Temperature(get("supply"))), ptr(unit.Ratio(get("glycol")))
	case "stronger-glycol", "usual-glycol":
		in.Glycol = ptr(unit.Ratio(get("glycol")))
	case "larger-jacket":
		for i := range in.Tanks {
			if in.Tanks[i].Use == Ferment {
				in.Tanks[i].JacketBody, in.Tanks[i].JacketCone = unit.Area(get("jacket")), 0
			}
		}
	case "ramp-set-points":
		in.Ramped = ptr(true)
	case "longer-knock-out":
		in.Wort = &Wort{unit.Power(get("second_stage")), unit.Duration(get("knock_out")), in.Wort.Starts}
	case "wort-on-cold-liquor":
		in.Refills = slices.Clone(in.Refills)
		for _, at := range in.Wort.Starts {
			in.Refills = append(in.Refills, Refill{Tank: "CLT", Start: at, Volume: unit.Volume(get("liquor_per_brew"))})
		}
		in.Wort = nil
	case "other-pump", "pump-to-suit", "separate-circuit":
		if m.Kind == "separate-circuit" {
			in.Route.Rise = ptr(unit.Metres(0))
		}
		in.Pump = &Pump{Flow: res.Circuit.Flow, Head: unit.PressureDiff(get("head")), ShutOff: unit.PressureDiff(get("shut_off"))}
	case "fit-bypass":
		in.Bypass = ptr(true)
	case "other-pipe":
		in.Route.Series = text("series")
	case "fewer-open-jackets":
		in.OpenJackets = ptr(int(get("open_jackets")))
	case "thicker-insulation":
		in.Route.Insulation = ptr(unit.Length(get("insulation")))
	case "closed-circuit":
		in.Sealed = true
	case "hold-glycol":
		in.Route.DrainProof = ptr(true)
	case "larger-louvres":
		in.Siting.FreeArea = ptr(unit.Area(get("free_area")))
	case "move-chiller":
		in.Siting.Walled = ptr(false)
		if has("neighbour") {
			in.Siting.Neighbour = ptr(unit.Length(get("neighbour")))
		}
		if has("opening_distance") {
			in.Siting.OpeningDist = ptr(unit.Length(get("opening_distance")))
		}
	default:
		panic("no way to apply " + m.Kind)
	}
	return in
}

func TestRuleIDsAreOfThisDiscipline(t *testing.T) {
	for _, r := range Rules() {
		if !strings.HasPrefix(r.ID, "CO-") || len(r.ID) != 6 {
			t.Errorf("%q is no id of this discipline", r.ID)
		}
	}
}
