package pricing

import (
	"fmt"
	"strings"
)

// Broken is an assumption that no longer holds, with the line whose price rests on it.
type Broken struct {
	Ref         string     `json:"ref"`
	Description string     `json:"description"`
	Assumption  Assumption `json:"assumption"`
	Now         string     `json:"now"` // the fact as it is known today; empty when nobody knows any more
	Says        string     `json:"says"`
}

// Broken compares the facts that the prices rest on with the facts as they are
// known now. A fact that is missing is broken too: an unknown never passes.
func (q Quotation) Broken(facts map[string]string) []Broken {
	var out []Broken
	for i := range q.Lines {
		line := &q.Lines[i]
		for _, a := range line.DependsOn {
			now, known := facts[a.Key]
			if known && strings.TrimSpace(now) == strings.TrimSpace(a.Value) {
				continue
			}
			b := Broken{Ref: line.Ref, Description: line.Description, Assumption: a, Now: now}
			b.Says = fmt.Sprintf("%s was priced for %s (%s); it is %s now: price the line again", line.Description, a.Value, a.Says, now)
			if !known {
				b.Says = fmt.Sprintf("%s was priced for %s (%s); the fact is not known any more: confirm it", line.Description, a.Value, a.Says)
			}
			out = append(out, b)
		}
	}
	return out
}

// Warranty is how long a line is warranted, for the list on the paper.
type Warranty struct {
	Ref         string `json:"ref"`
	Description string `json:"description"`
	Terms       string `json:"terms"`
}

// Warranties lists the lines with terms of their own.
func (q Quotation) Warranties() []Warranty {
	var out []Warranty
	for i := range q.Lines {
		if q.Lines[i].Warranty != "" {
			out = append(out, Warranty{q.Lines[i].Ref, q.Lines[i].Description, q.Lines[i].Warranty})
		}
	}
	return out
}

// LongestLead is the longest lead time of the lines in weeks and the line it comes
// from; 0 where no line states one.
func (q Quotation) LongestLead() (weeks int, ref string) {
	for i := range q.Lines {
		if q.Lines[i].LeadWeeks > weeks {
			weeks, ref = q.Lines[i].LeadWeeks, q.Lines[i].Ref
		}
	}
	return weeks, ref
}
