package sheet

import (
	"strings"
	"testing"

	"tunwright/pricing/paper"
)

// Whatever stands in a formula, expanding it ends, and leaves no brace that opens a
// reference.
func FuzzExpand(f *testing.F) {
	for _, seed := range []string{"ROUND({qty}*{price},2)", "SUM({net:items})", "{net@vat}", "{", "}", "{}", "{qty:items@x}", "{{qty}}", "a{qty"} {
		f.Add(seed, 1)
	}
	table := paper.Table{Columns: []paper.Column{{Key: "qty"}, {Key: "price"}, {Key: "net"}}, Rows: []paper.Row{
		{Name: "one"}, {Kind: paper.Group}, {}, {Kind: paper.Subtotal, Name: "vat"}, {Kind: paper.Total},
	}}
	f.Fuzz(func(t *testing.T, formula string, row int) {
		row = (row%len(table.Rows) + len(table.Rows)) % len(table.Rows)
		got, err := expand(table, row, 2, formula)
		if err == nil && strings.Contains(got, "{") {
			t.Errorf("%q became %q", formula, got)
		}
	})
}

func TestItemRows(t *testing.T) {
	rows := func(kinds ...paper.RowKind) paper.Table {
		table := paper.Table{Columns: []paper.Column{{Key: "a"}, {Key: "b"}}}
		for _, k := range kinds {
			table.Rows = append(table.Rows, paper.Row{Kind: k})
		}
		return table
	}
	for _, tc := range []struct {
		table paper.Table
		row   int
		want  string
	}{
		{rows(paper.Item, paper.Item, paper.Total), 2, "B6:B7"},
		{rows(paper.Group, paper.Item, paper.Subtotal, paper.Group, paper.Item, paper.Item, paper.Subtotal, paper.Total), 6, "B10:B11"},
		{rows(paper.Group, paper.Item, paper.Subtotal, paper.Group, paper.Item, paper.Item, paper.Subtotal, paper.Total), 7, "B7:B7,B10:B11"},
		{rows(paper.Total), 0, "0"},
		{rows(paper.Group, paper.Item, paper.Group, paper.Subtotal), 3, "0"},
	} {
		if got, err := expand(tc.table, tc.row, 1, "{b:items}"); err != nil || got != tc.want {
			t.Errorf("row %d: %q, %v; want %q", tc.row, got, err, tc.want)
		}
	}
}
