package lines

import (
	"tunwright/catalog/unit"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// Answer is one thing that was chosen, told or taken, in words.
type Answer struct{ Item, Value, Note string }

// Answers sets what a paper was worked out from, beside the facts of the site.
func Answers(name, title string, rows []Answer) paper.Table {
	t := paper.Table{Name: name, Title: title, Columns: []paper.Column{{Title: "Item", Width: 44}, {Title: "As chosen, told or taken", Width: 32}, {Title: "Remark", Width: 48}}}
	for _, a := range rows {
		t.Rows = append(t.Rows, say.Row(paper.W(a.Item), paper.W(say.Or(a.Value, "unknown")), paper.W(a.Note)))
	}
	return t
}

// Yes is yes, no or unknown.
func Yes(b *bool) string {
	if b == nil {
		return "unknown"
	}
	return say.YesNo(*b)
}

// Or is a quantity with its unit or, where it is nought, what that means.
func Or(q unit.Quantity, key string, decimals int, nought string) string {
	if q.SI() == 0 {
		return nought
	}
	return unit.In(q, key, decimals)
}
