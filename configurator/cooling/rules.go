package cooling

import (
	"tunwright/catalog/source"
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Rules lists the checks of the discipline in print order.
func Rules() []rule.Rule[Facts] {
	return []rule.Rule[Facts]{
		minLeaving, ratingCovers, capacity, mainsEntered, wortStage,
		reach, crashTime, crashWait, openValves, entering, icyWall,
		freezeStop, freezeMargin, strength, winterPipes,
		jacketPressure, pumpHead, chillerFlow, pipeSizes, condensation, drainBack,
		cycling, runTime, oversized, redundancy,
		refrigerant, condenserAir, noise,
	}
}

// judge answers without remedies, so that a remedy can be put to it again.
type judge func(Facts) []rule.Answer

// passes tells whether a judge has nothing against the facts.
func (j judge) passes(f Facts) (rule.Answer, bool) { return settled(j(f), nil) }

// settled tells whether nothing fails, and nothing is unknown that was not unknown
// before; it gives the last answer that passes.
func settled(answers, before []rule.Answer) (last rule.Answer, ok bool) {
	for _, a := range answers {
		switch a.Outcome {
		case rule.Fail:
			return a, false
		case rule.Unknown:
			if !unknownBefore(before, a.Subject) {
				return a, false
			}
		default:
			last = a
		}
	}
	return last, true
}

func unknownBefore(before []rule.Answer, subject string) bool {
	for _, a := range before {
		if a.Outcome == rule.Unknown && a.Subject == subject {
			return true
		}
	}
	return false
}

// option is a change that may mend a finding. change gives false where it is not
// possible here; tell says it in words, with its figures, once it is known to pass.
type option struct {
	kind   string
	change func(in *Input, f Facts) bool
	tell   func(before, after Facts) (string, []rule.Param)
	last   bool // tried only while nothing else was found
	plant  bool // changes chiller, circuit, store or place alone
}

// mended puts a judge to the facts and tries options on what fails. A remedy counts
// only if the judge passes with it, and every guard that passed before still does.
func mended(j judge, options []option, guards ...judge) func(Facts) []rule.Answer {
	return func(f Facts) []rule.Answer {
		answers := j(f)
		failing := false
		for i := range answers {
			failing = failing || answers[i].Outcome == rule.Fail
		}
		if !failing {
			return answers
		}
		remedies := try(j, options, guards, f, answers)
		for i := range answers {
			if answers[i].Outcome == rule.Fail {
				answers[i].Remedies = remedies
			}
		}
		return answers
	}
}

func try(j judge, options []option, guards []judge, f Facts, answers []rule.Answer) (found []rule.Remedy) {
	for _, o := range options {
		in := f.Input
		if o.last && found != nil || !o.change(&in, f) {
			continue
		}
		res, err := resize(in, f.Result, o.plant)
		if err != nil {
			continue
		}
		after := Facts{in, res}
		answer, ok := settled(j(after), answers)
		if !ok || !guarded(guards, f, after) {
			continue
		}
		words, params := o.tell(f, after)
		found = append(found, rule.Remedy{Kind: o.kind, Words: words, Need: answer.Need, Have: answer.Have, Params: params})
	}
	return found
}

func guarded(guards []judge, before, after Facts) bool {
	for _, g := range guards {
		if _, ok := g.passes(after); ok {
			continue
		}
		if _, was := g.passes(before); was {
			return false
		}
	}
	return true
}

func one(a rule.Answer) []rule.Answer { return []rule.Answer{a} }

// metres prints a distance, which nobody on a site reads in millimetres.
func metres(l unit.Length) string { return unit.In(l, "m", 1) }

func param(name string, q unit.Quantity) rule.Param { return rule.Param{Name: name, Quantity: q} }

func named(name, text string) rule.Param { return rule.Param{Name: name, Text: text} }

var physics = source.Derivation("heat balance")
