package rule_test

import (
	"testing"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

type facts struct{ need, have *unit.Power }

func limit(id string, on ...string) rule.Rule[facts] {
	return rule.Rule[facts]{
		ID: id, Severity: rule.Blocker, Title: "too little", Why: "it stops", Compares: "need against have",
		Source: source.Derivation("arithmetic"), DependsOn: on,
		Check: func(f facts) []rule.Answer {
			switch {
			case f.need == nil || f.have == nil:
				return []rule.Answer{rule.Lacks("", "have is unknown", "have")}
			case *f.need > *f.have:
				return []rule.Answer{rule.Fails("", *f.need, *f.have, "too little")}
			}
			return []rule.Answer{rule.Passes("", *f.need, *f.have, "enough")}
		},
	}
}

func power(kw float64) *unit.Power {
	p := unit.Kilowatts(kw)
	return &p
}

func TestOutcomes(t *testing.T) {
	rules := []rule.Rule[facts]{limit("XX-001")}
	for _, tt := range []struct {
		name string
		f    facts
		want rule.Outcome
	}{
		{"enough", facts{power(3), power(4)}, rule.Pass},
		{"too little", facts{power(5), power(4)}, rule.Fail},
		{"unknown never passes", facts{power(3), nil}, rule.Unknown},
	} {
		if got := rule.Run(rules, tt.f)[0].Outcome; got != tt.want {
			t.Errorf("%s: got %s, want %s", tt.name, got, tt.want)
		}
	}
}

func TestOneCauseGivesOneFinding(t *testing.T) {
	rules := []rule.Rule[facts]{limit("XX-001"), limit("XX-002", "XX-001"), limit("XX-003", "XX-002")}
	for _, f := range []facts{{power(5), power(4)}, {nil, nil}} {
		found := rule.Run(rules, f)
		if found[1].WaitingOn != "XX-001" || found[2].WaitingOn != "XX-002" {
			t.Errorf("waiting on %q and %q", found[1].WaitingOn, found[2].WaitingOn)
		}
	}
}

func TestARuleWithoutAnswerIsUnknown(t *testing.T) {
	silent := limit("XX-001")
	silent.Check = func(facts) []rule.Answer { return nil }
	if got := rule.Run([]rule.Rule[facts]{silent}, facts{})[0].Outcome; got != rule.Unknown {
		t.Errorf("got %s", got)
	}
}

func TestVerifyHoldsTheForm(t *testing.T) {
	good := limit("XX-001").Info()
	practice := good
	practice.Source = source.Practice("habit")
	unsaid := good
	unsaid.Why = ""
	backwards := limit("XX-001", "XX-002").Info()
	for name, bad := range map[string][]rule.Info{
		"twice": {good, good}, "a blocker on practice": {practice}, "no why": {unsaid}, "depends on a later one": {backwards, limit("XX-002").Info()},
	} {
		if rule.Verify(bad) == nil {
			t.Errorf("%s: accepted", name)
		}
	}
	if err := rule.Verify([]rule.Info{good}); err != nil {
		t.Error(err)
	}
}

// A site abroad is told the law of its own country, also while a check waits; one that
// the table does not name keeps the rule's source.
func TestTheLawOfTheCountryIsCited(t *testing.T) {
	home, abroad := source.Doc{ID: "home law"}.At("s. 1"), source.Doc{ID: "law abroad"}.At("s. 2")
	country := "home"
	first, second := limit("XX-001"), limit("XX-002", "XX-001")
	for _, r := range []*rule.Rule[facts]{&first, &second} {
		r.Source = home
		r.Law = rule.ByCountry(func(facts) string { return country }, map[string]source.Ref{"abroad": abroad})
	}
	for _, c := range []struct {
		country string
		want    source.Ref
	}{{"home", home}, {"abroad", abroad}, {"elsewhere", home}} {
		country = c.country
		for _, f := range rule.Run([]rule.Rule[facts]{first, second}, facts{nil, nil}) {
			if f.Rule.Source != c.want {
				t.Errorf("%s at %s: %s, want %s", f.Rule.ID, c.country, f.Rule.Source, c.want)
			}
		}
	}
	if got := rule.Infos([]rule.Rule[facts]{first})[0].Source; got != home {
		t.Errorf("the list of rules cites %s", got)
	}
}

// Twice as many degrees are not twice as much, nor is twice the pH or the sound level.
func TestOnlyWhatCountsFromNothingHasAShare(t *testing.T) {
	for _, tt := range []struct {
		need, have unit.Quantity
		want       unit.Ratio
		ok         bool
	}{
		{unit.Metres(1), unit.Metres(4), unit.Percent(25), true},
		{unit.Kelvins(3), unit.Kelvins(6), unit.Percent(50), true},
		{unit.Celsius(4), unit.Celsius(8), 0, false},
		{unit.DecibelsA(40), unit.DecibelsA(45), 0, false},
		{unit.PH(7), unit.PH(10), 0, false},
		{unit.Metres(1), unit.Metres(0), 0, false},
		{nil, unit.Metres(4), 0, false},
		{unit.Metres(1), nil, 0, false},
	} {
		f := rule.Finding{Answer: rule.Answer{Need: tt.need, Have: tt.have}}
		if got, ok := f.Fill(); ok != tt.ok || got != tt.want {
			t.Errorf("%v of %v: %v, %v", tt.need, tt.have, got, ok)
		}
	}
}
