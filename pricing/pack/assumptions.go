package pack

import (
	"tunwright/configurator/enquiry"
	"tunwright/pricing/paper"
)

// assumptions are the facts somebody has to confirm: assumed ones and told ones.
func (j job) assumptions() []paper.Assumption {
	var out []paper.Assumption
	for _, l := range enquiry.Facts(j.Report.Project) {
		if l.Basis != enquiry.Assumed && l.Basis != enquiry.Told {
			continue
		}
		out = append(out, paper.Assumption{Text: place(l) + l.What + ": " + l.Value, Basis: l.Basis.Word() + ", " + l.Why, Confirm: l.Ask})
	}
	return out
}

func place(l enquiry.Line) string {
	if l.Where == "" {
		return ""
	}
	return l.Where + ", "
}

// openPoints are what nobody has said yet.
func (j job) openPoints() []paper.OpenPoint {
	var out []paper.OpenPoint
	for _, l := range enquiry.Facts(j.Report.Project) {
		if l.Basis == enquiry.Unknown {
			out = append(out, paper.OpenPoint{Text: place(l) + l.What, Who: l.Ask, When: "before the order"})
		}
	}
	return out
}
