package pack

import (
	"fmt"
	"slices"

	"tunwright/configurator/enquiry"
	"tunwright/pricing/pack/trade"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/sheet"
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

// factsStand says where a trade's reader finds what the paper rests on, and how much
// else of the site is not measured, which concerns the other trades.
func (j job) factsStand(key string, doc paper.Doc) string {
	all := j.facts(enquiry.Assumed, enquiry.Told, enquiry.Unknown)
	if key == findingsKey {
		return fmt.Sprintf("All %d facts that nobody has measured stand in the table “%s”, each with who can settle it.", len(all), surveyTitle)
	}
	here, listed := 0, false
	for _, t := range sheet.Tables(doc) {
		if t.Title != trade.FactsTitle {
			continue
		}
		listed = true
		for _, r := range t.Rows {
			if r.Cells[trade.FactsBasis].Text != enquiry.Measured.Word() {
				here++
			}
		}
	}
	words, more, whose := "No fact of the site enters this paper beyond what is printed in it.", "", ""
	if listed {
		more, whose = "more ", "concern other trades and "
		words = fmt.Sprintf("What this paper rests on stands in the table “%s”, each fact marked measured, told, assumed or unknown; those not measured are confirmed by whom the table names before the order.", trade.FactsTitle)
	}
	if rest := len(all) - here; rest > 0 {
		words += fmt.Sprintf(" %d %sfacts of the site are told, assumed or unknown; they %sstand in the paper “%s”.", rest, more, whose, findingsTitle)
	}
	return words
}

// openPoints are what nobody has said yet.
func (j job) openPoints() []paper.OpenPoint {
	var out []paper.OpenPoint
	for _, f := range j.facts(enquiry.Unknown) {
		out = append(out, paper.OpenPoint{Text: f.Words(), Who: f.Ask, When: "before the order"})
	}
	return out
}
