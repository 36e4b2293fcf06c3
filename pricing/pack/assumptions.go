package pack

import (
	"slices"

	"tunwright/configurator/enquiry"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
)

// assumptions are the facts somebody has to confirm: assumed ones and told ones.
func (j job) assumptions() []paper.Assumption {
	var out []paper.Assumption
	for _, f := range j.facts(enquiry.Assumed, enquiry.Told) {
		out = append(out, paper.Assumption{Text: f.Words() + ": " + f.Value, Basis: f.Basis.Word() + ", " + f.Why, Confirm: f.Ask})
	}
	return out
}

// facts are the lines of the enquiry that are known in one of some ways.
func (j job) facts(known ...enquiry.Basis) []trade.Fact {
	return trade.Alike(slices.DeleteFunc(enquiry.Facts(j.Report.Project), func(l enquiry.Line) bool { return !slices.Contains(known, l.Basis) }))
}

// openPoints are what nobody has said yet.
func (j job) openPoints() []paper.OpenPoint {
	var out []paper.OpenPoint
	for _, f := range j.facts(enquiry.Unknown) {
		out = append(out, paper.OpenPoint{Text: f.Words(), Who: f.Ask, When: "before the order"})
	}
	return out
}
