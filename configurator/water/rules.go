package water

import (
	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Rules lists the checks of the discipline in print order. Every message about law
// is a flag for the sale: the current text and a competent person decide.
func Rules() []rule.Rule[Facts] {
	rules := append(supplyRules(), wasteRules()...)
	return append(rules, gasRules()...)
}

// judge answers for every subject without trying remedies.
type judge func(Facts) []rule.Answer

// mend tries remedies for one failing answer.
type mend func(t trier, a rule.Answer) []rule.Remedy

func check(p part, j judge, m mend) func(Facts) []rule.Answer {
	return func(f Facts) []rule.Answer {
		answers := j(f)
		if m == nil {
			return answers
		}
		for i, a := range answers {
			if a.Outcome == rule.Fail {
				answers[i].Remedies = m(trier{f.Input, f.Result, p, j}, a)
			}
		}
		return answers
	}
}

// trier sizes the side of a changed input that its rule looks at again and keeps the remedy only if the same
// judgement then passes for the same subject.
type trier struct {
	in     Input
	result Result
	part   part
	judge  judge
}

func (t trier) try(list *[]rule.Remedy, subject string, in Input, describe func(Result, rule.Answer) rule.Remedy) bool {
	r, err := t.size(in)
	if err != nil {
		return false
	}
	for _, a := range t.judge(Facts{in, r}) {
		if a.Subject != subject {
			continue
		}
		if a.Outcome != rule.Pass && a.Outcome != rule.NotApplicable {
			return false
		}
		rem := describe(r, a)
		if rem.Need == nil {
			rem.Need, rem.Have = a.Need, a.Have
		}
		*list = append(*list, rem)
		return true
	}
	return false
}

func (t trier) size(in Input) (Result, error) {
	r := t.result
	return r, t.part(&r, in)
}

func ptr[T any](v T) *T { return &v }

const checkText = " Check the current text; a competent person decides."

// litres prints a flow of water as plumbers say it.
func litres(q unit.VolumeFlow) string { return unit.In(q, "l_s", 2) }

// figure prints a quantity in a sentence: flows in L/s, acidity with its name first.
func figure(q unit.Quantity) string {
	switch x := q.(type) {
	case unit.VolumeFlow:
		return litres(x)
	case unit.Acidity:
		return "pH " + unit.Digits(x.PH(), 3)
	case nil:
		return "unknown"
	}
	return q.String()
}
