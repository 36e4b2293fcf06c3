// Package rule holds what a check is: a value with an id, a severity, a source and
// a plain explanation, run over the facts of one discipline. A check that cannot
// answer never passes; a failing one names what is needed, what is there and the
// remedies that were tried and do pass.
//
// Begin with Rule and Run.
package rule

import (
	"fmt"
	"iter"
	"slices"

	"tunwright/catalog/source"
	"tunwright/catalog/unit"
)

// Severity follows the source: Blocker for a "shall" or physics, Warning for a
// "should", Notice for practice.
type Severity int

const (
	Notice Severity = iota
	Warning
	Blocker
)

func (s Severity) String() string {
	switch s {
	case Blocker:
		return "stop"
	case Warning:
		return "warning"
	}
	return "notice"
}

// Outcome is the answer of a check. The zero value is Unknown, so that nothing
// passes by being forgotten.
type Outcome int

const (
	Unknown Outcome = iota
	NotApplicable
	Pass
	Fail
)

func (o Outcome) String() string {
	switch o {
	case NotApplicable:
		return "does not apply"
	case Pass:
		return "in order"
	case Fail:
		return "fails"
	}
	return "unknown"
}

// Remedy is a change that was tried: the check was run again with it and passes.
type Remedy struct {
	Kind  string // stable word for the change, such as "larger-supply"
	Words string // what to do, with its figures
	Need  unit.Quantity
	Have  unit.Quantity
	// Params carry the change in figures for the one who applies it, in print order.
	Params []Param
}

// Param is one named figure or name of a remedy.
type Param struct {
	Name     string
	Quantity unit.Quantity
	Text     string
}

// Answer is what a check says of one subject.
type Answer struct {
	Outcome  Outcome
	Subject  string // which item, phase, opening; empty for the whole
	Need     unit.Quantity
	Have     unit.Quantity
	Words    string   // the finding in plain words with its figures
	Missing  []string // inputs that are unknown, as field names of the discipline's Input
	Remedies []Remedy
}

// Passes is the answer of a check that is in order.
func Passes(subject string, need, have unit.Quantity, words string) Answer {
	return Answer{Outcome: Pass, Subject: subject, Need: need, Have: have, Words: words}
}

// Fails is the answer of a check that is not in order.
func Fails(subject string, need, have unit.Quantity, words string, remedies ...Remedy) Answer {
	return Answer{Outcome: Fail, Subject: subject, Need: need, Have: have, Words: words, Remedies: remedies}
}

// Lacks is the answer of a check that misses inputs.
func Lacks(subject, words string, missing ...string) Answer {
	return Answer{Subject: subject, Words: words, Missing: missing}
}

// DoesNotApply is the answer where the check has no subject here.
func DoesNotApply(words string) Answer { return Answer{Outcome: NotApplicable, Words: words} }

// Rule is one check over the facts F of a discipline.
type Rule[F any] struct {
	ID       string
	Severity Severity
	Title    string // what is wrong when it fails, as a headline
	Why      string // what happens to the brewery when it is ignored
	Compares string // what is set against what, such as "kettle full volume against gross less headspace"
	// Fills names what fills up, such as "chiller", where the check sets a load against a
	// capacity; empty where its figures are no such pair.
	Fills  string
	Source source.Ref
	// Law gives what stands in for Source where the facts lie in a country with a law of
	// its own; zero where Source holds there too. Nil where it holds everywhere.
	Law func(F) source.Ref
	// DependsOn names rules without whose pass this one says nothing of use.
	DependsOn []string
	// Check answers once for each subject; no answer at all counts as unknown.
	Check func(F) []Answer
}

// Info is a rule without its check: what a list or an explanation prints.
type Info struct {
	ID, Title, Why, Compares, Fills string
	Severity                        Severity
	Source                          source.Ref
	DependsOn                       []string
}

// Info gives what a list or an explanation prints.
func (r Rule[F]) Info() Info {
	return Info{ID: r.ID, Title: r.Title, Why: r.Why, Compares: r.Compares, Fills: r.Fills, Severity: r.Severity, Source: r.Source, DependsOn: r.DependsOn}
}

// in is Info with the law of the country that the facts lie in.
func (r Rule[F]) in(facts F) Info {
	info := r.Info()
	if r.Law == nil {
		return info
	}
	if law := r.Law(facts); !law.IsZero() {
		info.Source = law
	}
	return info
}

// ByCountry makes a Law of a table: a country that it does not name keeps the rule's
// own source.
func ByCountry[F any, C comparable](country func(F) C, laws map[C]source.Ref) func(F) source.Ref {
	return func(f F) source.Ref { return laws[country(f)] }
}

// Infos gives the printed part of each rule.
func Infos[F any](rules []Rule[F]) []Info {
	infos := make([]Info, len(rules))
	for i, r := range rules {
		infos[i] = r.Info()
	}
	return infos
}

// Finding is one answer together with the rule that gave it.
type Finding struct {
	Rule Info
	Answer
	// WaitingOn names the rule that must be answered first.
	WaitingOn string
}

// Fill is how full the limit is: what is needed over what is there. What counts from a
// zero that somebody chose has no such share.
func (f Finding) Fill() (unit.Ratio, bool) {
	if !f.Compared() || chosenZero(f.Have) {
		return 0, false
	}
	return unit.Fraction(f.Need.SI() / f.Have.SI()), true
}

// Compared tells whether the answer sets a figure against a limit; nothing at all is
// none.
func (f Finding) Compared() bool {
	return f.Need != nil && f.Have != nil && (f.Have.SI() != 0 || chosenZero(f.Have))
}

// chosenZero tells of a scale on which twice the number is not twice as much.
func chosenZero(q unit.Quantity) bool {
	switch q.(type) {
	case unit.Temperature, unit.SoundLevel, unit.Acidity:
		return true
	}
	return false
}

// Run puts the rules to the facts in order. While a rule that another depends on
// fails or is unknown, the other only waits on it: one cause gives one finding.
func Run[F any](rules []Rule[F], facts F) []Finding {
	return slices.AppendSeq(make([]Finding, 0, 2*len(rules)), Findings(rules, facts))
}

// Findings gives what Run gives, one by one: a check of a whole project has hundreds.
func Findings[F any](rules []Rule[F], facts F) iter.Seq[Finding] {
	return func(yield func(Finding) bool) {
		settled := make(map[string]Outcome, len(rules))
		for i := range rules {
			r := &rules[i]
			info, on := r.in(facts), waiting(r.DependsOn, settled)
			answers := r.answers(facts, on)
			settled[r.ID] = worst(answers)
			for _, a := range answers {
				if !yield(Finding{Rule: info, Answer: a, WaitingOn: on}) {
					return
				}
			}
		}
	}
}

// answers asks the check, unless it waits on another rule; a check that says nothing
// leaves its question open.
func (r *Rule[F]) answers(facts F, on string) []Answer {
	if on != "" {
		return []Answer{{Words: "waits on " + on}}
	}
	if answers := r.Check(facts); len(answers) > 0 {
		return answers
	}
	return []Answer{{Words: "the check gave no answer"}}
}

func waiting(on []string, settled map[string]Outcome) string {
	for _, id := range on {
		if o, ok := settled[id]; ok && (o == Fail || o == Unknown) {
			return id
		}
	}
	return ""
}

// worst orders outcomes by how much they stand in the way.
func worst(answers []Answer) Outcome {
	rank := func(o Outcome) int {
		switch o {
		case Fail:
			return 3
		case Unknown:
			return 2
		case Pass:
			return 1
		}
		return 0
	}
	at := answers[0].Outcome
	for _, a := range answers[1:] {
		if rank(a.Outcome) > rank(at) {
			at = a.Outcome
		}
	}
	return at
}

// Verify holds a set of rules to the house's form; each discipline's test calls it.
func Verify(rules []Info) error {
	seen := map[string]bool{}
	for _, r := range rules {
		switch {
		case r.ID == "" || r.Title == "" || r.Why == "" || r.Compares == "":
			return fmt.Errorf("rule %q: id, title, why and compares must all be said", r.ID)
		case r.Source.IsZero():
			return fmt.Errorf("rule %s has no source", r.ID)
		case seen[r.ID]:
			return fmt.Errorf("rule %s stands twice", r.ID)
		case r.Severity == Blocker && r.Source.Provenance == source.CommonPractice:
			return fmt.Errorf("rule %s stops on common practice: only a source or physics may stop", r.ID)
		}
		for _, on := range r.DependsOn {
			if !seen[on] {
				return fmt.Errorf("rule %s depends on %s, which does not stand before it", r.ID, on)
			}
		}
		seen[r.ID] = true
	}
	return nil
}
