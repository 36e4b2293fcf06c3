package configurator

import (
	"fmt"

	"tunwright/catalog/unit"
	"tunwright/configurator/rule"
)

// Load is how full one thing is: a vessel, a line of the supply, a floor member, an
// opening on the way in.
type Load struct {
	Discipline Discipline
	Rule       rule.Info
	What       string // such as "floor member"
	Which      string // such as "beam 3"; empty where there is but one
	Need, Have unit.Quantity
	Full       unit.Ratio
	Fails      bool
}

// Loads gives everything that fills up and was answered, in the order of the findings.
// The supply is given line by line, each in the state that fills it most.
func (r Report) Loads() []Load {
	var out []Load
	for _, f := range r.Findings {
		full, share := f.Fill()
		if f.Rule.Fills == "" || !share || f.Outcome != rule.Pass && f.Outcome != rule.Fail {
			continue
		}
		l := Load{Discipline: f.Discipline, Rule: f.Rule, What: f.Rule.Fills, Which: f.Subject, Need: f.Need, Have: f.Have, Full: full, Fails: f.Outcome == rule.Fail}
		if lines := r.lines(l); f.Rule.ID == supplyRule && lines != nil {
			out = append(out, lines...)
			continue
		}
		out = append(out, l)
	}
	return out
}

// supplyRule sets the worst line of the supply against what it may carry.
const supplyRule = "EL-010"

// lines are the lines of the supply; nil where what they may carry is not known.
func (r Report) lines(supply Load) []Load {
	e := r.Electrical
	if e == nil || e.Supply.Available == nil {
		return nil
	}
	var out []Load
	for i := range e.Supply.Lines {
		l := supply
		have := e.Supply.Available[i]
		if have <= 0 {
			return nil
		}
		l.Which, l.Need, l.Have, l.Full, l.Fails = "", unit.Current(0), have, -1, false
		for k := range e.States {
			s := &e.States[k]
			if full := unit.Fraction(s.Line[i].A() / have.A()); full > l.Full {
				l.Which, l.Need, l.Full = fmt.Sprintf("L%d, %s", i+1, s.Title), s.Line[i], full
			}
		}
		l.Fails = l.Full > 1
		out = append(out, l)
	}
	return out
}
