package brewing

import (
	"cmp"
	"math"
	"slices"

	"tunwright/configurator/rule"
)

// Facts are what the rules of this discipline look at.
type Facts struct {
	Input  Input
	Result Result
}

// Rules lists the checks in print order.
func Rules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		brewDaysEnough, lauterStrongest, lauterWeakest, mashFits, mashFreeboard, kettleFits, kettleFoam, heaterCovered, spargeEnough, liquorTankEnough,
		kettleBoils, evaporationReached, heatTogether, dayLength, kettleSours,
		tankVolumes, fermenterHolds, fermenterFits, foamSpace, fermentersEnough, brightFits, brightsEnough, secondBrew, tanksSlack,
		fermenterPressure, brightPressure,
		summerMains, knockoutTime, coldLiquorEnough,
		lossesConsistent, plannedAgainstAsked, nextBottleneck,
		liftPath, bagLift, dutyRelief,
	}
}

// judge answers a check without remedies, so that a remedy can be tried with it.
type judge struct {
	answer func(Facts) []rule.Answer
	to     depth
}

// onInput judges the input with its defaults alone, onSheet brews and vessels,
// onSchedule the dated batches, onYear what follows.
func onInput(f func(Facts) []rule.Answer) judge { return judge{f, ready} }

func onSheet(f func(Facts) []rule.Answer) judge { return judge{f, sheets} }

func onSchedule(f func(Facts) []rule.Answer) judge { return judge{f, dated} }

func onYear(f func(Facts) []rule.Answer) judge { return judge{f, whole} }

// mend gives the remedies of one failing answer.
type mend func(Facts, rule.Answer, judge) []rule.Remedy

// checked joins a judgement and its remedies to the check of a rule.
func checked(j judge, m mend) func(Facts) []rule.Answer {
	return func(f Facts) []rule.Answer {
		answers := j.answer(f)
		for i := range answers {
			if answers[i].Outcome == rule.Fail {
				answers[i].Remedies = m(f, answers[i], j)
			}
		}
		return answers
	}
}

// trial is a plan with a change, and what the check says of it.
type trial struct {
	facts   Facts
	answers []rule.Answer
}

// try plans again with a change, as deep as the check looks.
func try(in Input, j judge) trial {
	r, _, err := plan(in, j.to)
	if err != nil {
		return trial{}
	}
	f := Facts{Input: in, Result: r}
	return trial{f, j.answer(f)}
}

// passes gives the answer for a subject, and whether it is in order now; without a
// subject the first answer is meant.
func (t trial) passes(subject string) (rule.Answer, bool) {
	for _, a := range t.answers {
		if a.Subject == subject || subject == "" {
			return a, a.Outcome == rule.Pass
		}
	}
	return rule.Answer{}, false
}

// tried plans again with a change and gives the answer for one subject.
func tried(in Input, subject string, j judge) (Facts, rule.Answer, bool) {
	t := try(in, j)
	a, ok := t.passes(subject)
	return t.facts, a, ok
}

// remedy tries a change of the input and gives it as a remedy when it passes.
func remedy(in Input, a rule.Answer, j judge, kind, words string, params ...rule.Param) []rule.Remedy {
	_, got, ok := tried(in, a.Subject, j)
	if !ok {
		return nil
	}
	return []rule.Remedy{{Kind: kind, Words: words, Need: got.Need, Have: got.Have, Params: params}}
}

// otherBrewhouse tries the brewhouses that may be had, those of the nearest brew length
// first, and gives the first that passes and still brews enough.
func otherBrewhouse(f Facts, a rule.Answer, j judge) []rule.Remedy {
	options := slices.Clone(f.Input.BrewhouseOptions)
	away := func(b Brewhouse) float64 { return math.Abs(math.Log(float64(b.BrewLength / f.Result.BrewLength))) }
	slices.SortStableFunc(options, func(x, y Brewhouse) int { return cmp.Compare(away(x), away(y)) })
	for _, b := range options {
		if b.Code == f.Input.Brewhouse.Code || b.BrewLength <= 0 {
			continue
		}
		in := f.Input
		in.Brewhouse = b
		facts, got, ok := tried(in, a.Subject, j)
		if !ok || judgeBrewDays(facts)[0].Outcome != rule.Pass {
			continue
		}
		words := "take brewhouse " + b.Code + " with a brew length of " + hl(b.BrewLength)
		return []rule.Remedy{{Kind: "other-brewhouse", Words: words, Need: got.Need, Have: got.Have, Params: []rule.Param{{Name: "code", Text: b.Code}, {Name: "brew-length", Quantity: b.BrewLength}}}}
	}
	return nil
}
