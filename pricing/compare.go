package pricing

import (
	"fmt"
	"slices"

	"tunwright/pricing/money"
)

// Named is a quotation with the name of its column.
type Named struct {
	Name      string
	Quotation Quotation
}

// Comparison sets quotations side by side: a row for each line, a column for each.
type Comparison struct {
	Names []string        `json:"names"`
	Rows  []ComparisonRow `json:"rows"`
	Net   []money.Amount  `json:"net"`
	Gross []money.Amount  `json:"gross"`
	More  []money.Amount  `json:"more"` // net above the first column
}

// ComparisonRow is one line through all columns; nil where a column lacks it.
type ComparisonRow struct {
	Ref         string          `json:"ref"`
	Section     string          `json:"section,omitempty"`
	Description string          `json:"description"`
	Cells       []*money.Amount `json:"cells"`
	Differs     bool            `json:"differs"`
}

// Compare sets quotations of one currency side by side. Lines are matched by Ref;
// rows stand in the order of the first column, later ones' own lines after those.
func Compare(columns ...Named) (Comparison, error) {
	const most = 12
	if len(columns) < 2 || len(columns) > most {
		return Comparison{}, fmt.Errorf("compare %d quotations: between 2 and %d are possible", len(columns), most)
	}
	var c Comparison
	places := make(map[string]int)
	for at, column := range columns {
		c.Names = append(c.Names, column.Name)
		q := &columns[at].Quotation
		c.Net = append(c.Net, q.Totals.Net)
		c.Gross = append(c.Gross, q.Totals.Gross)
		more, err := q.Totals.Net.Sub(columns[0].Quotation.Totals.Net)
		if err != nil {
			return Comparison{}, fmt.Errorf("compare %s with %s: %w", column.Name, columns[0].Name, err)
		}
		c.More = append(c.More, more)
		for i := range q.Lines {
			line := &q.Lines[i]
			row, ok := places[line.Ref]
			if !ok {
				row = len(c.Rows)
				places[line.Ref] = row
				c.Rows = append(c.Rows, ComparisonRow{Ref: line.Ref, Section: line.Section, Description: line.Description, Cells: make([]*money.Amount, len(columns))})
			}
			net := line.Net
			c.Rows[row].Cells[at] = &net
		}
	}
	for i := range c.Rows {
		cells := c.Rows[i].Cells
		c.Rows[i].Differs = slices.ContainsFunc(cells, func(a *money.Amount) bool {
			return a == nil || cells[0] == nil || !a.Equal(*cells[0])
		})
	}
	return c, nil
}
