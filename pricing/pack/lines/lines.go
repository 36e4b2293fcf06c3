// Package lines sets the ready rows of a discipline's schedule as a table: label,
// figure and unit apart, so that a spreadsheet gets real numbers, and the remark.
package lines

import (
	"tunwright/catalog/unit"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

// line is the form that the schedules of the disciplines share.
type line = struct {
	Label string
	Value unit.Quantity
	Key   string
	Text  string
	Note  string
}

// digits is how many significant digits a schedule prints: its figures rest on
// estimates, and a fourth digit would only look exact.
const digits = 3

// Table sets the rows under a name of their own.
func Table[L ~struct {
	Label string
	Value unit.Quantity
	Key   string
	Text  string
	Note  string
}](name, title string, rows []L) paper.Table {
	t := paper.Table{
		Name: name, Title: title,
		Columns: []paper.Column{{Title: "Item", Width: 40}, {Title: "Figure", Kind: paper.Number, Width: 16}, {Title: "Unit", Width: 10}, {Title: "Remark", Width: 58}},
	}
	for _, l := range rows {
		t.Rows = append(t.Rows, row(line(l)))
	}
	return t
}

// row puts words beside a label where a long text would not stand in a column of
// figures: into the remark.
func row(l line) paper.Row {
	if l.Value == nil {
		return say.Row(paper.W(l.Label), paper.Cell{}, paper.Cell{}, paper.W(remark(l.Text, l.Note)))
	}
	figure, symbol := Figure(l.Value, l.Key)
	return say.Row(paper.W(l.Label), figure, paper.W(symbol), paper.W(l.Note))
}

func remark(text, note string) string {
	if text == "" || note == "" {
		return text + note
	}
	return text + "; " + note
}

// Figure is a quantity as a number and its unit: in the unit of the key, or in the
// usual one.
func Figure(q unit.Quantity, key string) (paper.Cell, string) {
	u, ok := q.Kind().ByKey(key)
	if !ok {
		u = q.Kind().Shown()
	}
	return paper.Decimal(unit.Digits(u.From(q.SI()), digits)), u.Symbol
}

// Unknown gives the row of a schedule that holds a label as not known, with what to
// ask; a nought that only means "nobody said" is no figure.
func Unknown[L ~struct {
	Label string
	Value unit.Quantity
	Key   string
	Text  string
	Note  string
}](rows []L, nought func(unit.Quantity) bool, words string) []L {
	out := make([]L, len(rows))
	for i, l := range rows {
		x := line(l)
		if x.Value != nil && x.Value.SI() == 0 && nought(x.Value) {
			x.Value, x.Text, x.Note = nil, words, ""
		}
		out[i] = L(x)
	}
	return out
}
