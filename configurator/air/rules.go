package air

import (
	"slices"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Rules lists the checks of the discipline in print order. Every message about law
// is a flag for the sale: the current text and a competent person decide.
func Rules() []rule.Rule[Facts] {
	return slices.Concat(steamRules(), fuelRules(), gasRules(), noiseRules())
}

// steamJudge looks at one kettle without trying remedies.
type steamJudge func(Steam, SteamResult) rule.Answer

// steamRule wraps a judgement: no kettle, nothing to say; a failure gets the
// remedies that pass the same judgement.
func steamRule(judge steamJudge, remedies func(Facts, steamTrier) []rule.Remedy) func(Facts) []rule.Answer {
	return func(f Facts) []rule.Answer {
		if f.Input.Steam == nil || f.Result.Steam == nil {
			if f.Input.Boils {
				return []rule.Answer{rule.Lacks("", "a kettle boils here; how much vapour it gives off is not worked out", "Steam.Evaporation")}
			}
			return []rule.Answer{rule.DoesNotApply("nothing boils here")}
		}
		s := f.Input.Steam.in(f.Input.Country)
		a := judge(s, *f.Result.Steam)
		if a.Outcome == rule.Fail && remedies != nil {
			a.Remedies = remedies(f, steamTrier{s, judge})
		}
		return []rule.Answer{a}
	}
}

// steamTrier sizes a changed kettle again and keeps the remedy only if it passes.
type steamTrier struct {
	steam Steam
	judge steamJudge
}

func (t steamTrier) try(list *[]rule.Remedy, change func(*Steam), describe func(Steam, SteamResult, rule.Answer) rule.Remedy) {
	s := t.steam
	if s.Canopy != nil {
		c := *s.Canopy
		s.Canopy = &c
	}
	if s.Condenser != nil {
		c := *s.Condenser
		s.Condenser = &c
	}
	change(&s)
	r, err := sizeSteam(s, nil)
	if err != nil {
		return
	}
	a := t.judge(s, r)
	if a.Outcome != rule.Pass && a.Outcome != rule.NotApplicable {
		return
	}
	rem := describe(s, r, a)
	if rem.Need == nil {
		rem.Need, rem.Have = a.Need, a.Have
	}
	*list = append(*list, rem)
}

// fanNeed is the pressure that the kettle's duct asks of the fan as it stands.
func (t steamTrier) fanNeed() unit.PressureDiff {
	r, err := sizeSteam(t.steam, nil)
	if err != nil {
		return 0
	}
	return r.FanNeed
}

// condensed tells whether a chosen condenser takes the whole vapour.
func condensed(s Steam) bool { return s.Condenser != nil && s.Condenser.Vapour >= s.Evaporation }

func tryCondensers(list *[]rule.Remedy, t steamTrier) {
	for _, c := range t.steam.Condenses {
		if c.Vapour < t.steam.Evaporation {
			continue
		}
		t.try(list, func(s *Steam) { s.Condenser = &c }, func(s Steam, r SteamResult, _ rule.Answer) rule.Remedy {
			return rule.Remedy{
				Kind: "fit-condenser", Words: "fit vapour condenser " + c.Name + " (takes " + c.Vapour.String() + ", " + litresAnHour(r.Condenser.Water) + " cooling water) on a sealed kettle",
				Need: s.Evaporation, Have: c.Vapour, Params: []rule.Param{{Name: "condenser", Text: c.Name}, {Name: "cooling-water", Quantity: r.Condenser.Water}},
			}
		})
		return
	}
}

func tryCanopies(list *[]rule.Remedy, t steamTrier) {
	for _, c := range t.steam.Canopies {
		before := len(*list)
		t.try(list, func(s *Steam) { s.Canopy = &c }, func(_ Steam, r SteamResult, _ rule.Answer) rule.Remedy {
			return rule.Remedy{Kind: "other-canopy", Words: "take canopy " + c.Name + " with " + c.Flow.String() + " (" + r.Stream.Condensate.String() + " of condensate)", Params: []rule.Param{{Name: "canopy", Text: c.Name}, {Name: "flow", Quantity: c.Flow}}}
		})
		if len(*list) > before {
			return
		}
	}
}

// gasJudge looks at one room without trying remedies.
type gasJudge func(GasSpace, GasResult, []Limit) rule.Answer

func gasRule(judge gasJudge, remedies func(gasTrier) []rule.Remedy) func(Facts) []rule.Answer {
	return func(f Facts) []rule.Answer {
		answers := make([]rule.Answer, 0, len(f.Result.Gas)+len(f.Result.Unsized))
		for _, name := range f.Result.Unsized {
			answers = append(answers, rule.Lacks(name, "the clear height of the room is not known, so nobody can say how much air there is", "Gas.Room.Height"))
		}
		if len(f.Result.Gas)+len(answers) == 0 {
			return []rule.Answer{rule.DoesNotApply("no room with carbon dioxide was named")}
		}
		for _, r := range f.Result.Gas {
			space := f.Input.Gas[r.Space]
			a := judge(space, r, f.Result.Limits)
			a.Subject = r.Name
			if a.Outcome == rule.Fail && remedies != nil {
				a.Remedies = remedies(gasTrier{space, r, f.Result.Limits, f.Result.Alarms, judge})
			}
			answers = append(answers, a)
		}
		return answers
	}
}

type gasTrier struct {
	space  GasSpace
	result GasResult
	limits []Limit
	alarms AlarmPoints
	judge  gasJudge
}

func (t gasTrier) try(list *[]rule.Remedy, change func(*GasSpace), describe func(GasSpace, GasResult) rule.Remedy) bool {
	g := t.space
	change(&g)
	r, err := sizeGas(g, t.limits, t.alarms, nil)
	if err != nil {
		return false
	}
	a := t.judge(g, r, t.limits)
	if a.Outcome != rule.Pass && a.Outcome != rule.NotApplicable {
		return false
	}
	rem := describe(g, r)
	if rem.Need == nil {
		rem.Need, rem.Have = a.Need, a.Have
	}
	*list = append(*list, rem)
	return true
}

var checkText = " Check the current text; a competent person decides."

func yes(b *bool) bool { return b != nil && *b }

func ptr[T any](v T) *T { return &v }
