package paper

import (
	"strconv"
	"strings"

	"tunwright/pricing/money"
)

// Table is a grid of rows under titled columns.
type Table struct {
	Name    string // short name: of the CSV file or the spreadsheet's tab
	Title   string
	Columns []Column
	Rows    []Row
	Notes   []string
	Sources []string
}

// Kind is what a column holds.
type Kind uint8

// The kinds of column.
const (
	Words  Kind = iota // text, set left
	Number             // numbers, set right
	Money              // amounts, set right
)

// Align is how a column is set. Zero leaves it to the column's kind.
type Align uint8

// The alignments.
const (
	ByKind Align = iota
	Left
	Centre
	Right
)

// Column is the head of a column.
type Column struct {
	Key   string // names the column in formulas; the title when empty
	Title string
	Unit  string
	Kind  Kind
	Align Align
	Width Share
}

// Share is a column's share of the table's width, against the shares of the others.
// Zero on all columns fits them to what stands in them.
type Share float64

// RowKind is the part a row plays.
type RowKind uint8

// The kinds of row.
const (
	Item     RowKind = iota
	Group            // a heading over the rows below it; its first cell only
	Subtotal         // adds the rows of its group
	Total            // adds the table
)

// Row is one row of a table.
type Row struct {
	Kind  RowKind
	Name  string // names the row in formulas; needed by none but totals
	Cells []Cell
}

// CellKind is what a cell holds.
type CellKind uint8

// The kinds of cell.
const (
	CellWords CellKind = iota
	CellNumber
	CellMoney
)

// Cell is one entry. The zero value is an empty cell.
type Cell struct {
	Kind     CellKind
	Text     string // words; empty for a figure
	Figure   string // a plain decimal with a point, such as "-1234.50"
	Currency string // of money
	Formula  string // what a spreadsheet computes; see Formula
	Strong   bool   // set in bold
}

// W is a cell of words.
func W(s string) Cell { return Cell{Text: s} }

// N is a number printed with so many decimals, a rounded zero without a minus sign.
// NaN and infinities are kept and refused by Check, so that a builder needn't
// handle an error per cell.
func N(v float64, decimals int) Cell {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if isZero(s) {
		s = strings.TrimPrefix(s, "-")
	}
	return Cell{Kind: CellNumber, Figure: s}
}

// I is a whole number.
func I(n int) Cell { return Cell{Kind: CellNumber, Figure: strconv.Itoa(n)} }

// Decimal is a number that is exact already, written plainly with a point.
func Decimal(s string) Cell { return Cell{Kind: CellNumber, Figure: s} }

// Amount is a sum of money as it is, never rounded again.
func Amount(a money.Amount) Cell {
	return Cell{Kind: CellMoney, Figure: a.Fixed(), Currency: string(a.Currency())}
}

// WithFormula is the cell with a formula that a spreadsheet computes live. The
// cell's own value stays what every other writer prints and what the spreadsheet
// shows until it recalculates.
//
// A reference is written in braces: {net} is the cell of column "net" in the same
// row, {net:items} the item rows of that column above in the same group or, for a
// Total row, in the whole table, and {net@vat} the cell in the row named "vat".
// Everything else is passed on as it is: "ROUND({qty}*{price},2)".
func (c Cell) WithFormula(f string) Cell {
	c.Formula = f
	return c
}

// Bold is the cell set in bold.
func (c Cell) Bold() Cell {
	c.Strong = true
	return c
}

// Empty tells whether nothing stands in the cell.
func (c Cell) Empty() bool { return c.Text == "" && c.Figure == "" }

// Print is the cell as a reader of the locale sees it. Money is given its currency
// unless the column's unit names it already.
func (c Cell) Print(l Locale, unitInHead bool) string {
	switch c.Kind {
	case CellNumber:
		return printFigure(c.Figure, l)
	case CellMoney:
		if unitInHead || c.Currency == "" {
			return printFigure(c.Figure, l)
		}
		return printMoney(c.Figure, c.Currency, l)
	}
	return c.Text
}

func isZero(s string) bool {
	for _, r := range s {
		if r != '-' && r != '0' && r != '.' {
			return false
		}
	}
	return true
}

// SetAlign is how the column is set, by its kind when nothing is said.
func (c Column) SetAlign() Align {
	if c.Align != ByKind {
		return c.Align
	}
	if c.Kind == Words {
		return Left
	}
	return Right
}

// Name is the column's key, or its title when it has none.
func (c Column) Name() string {
	if c.Key != "" {
		return c.Key
	}
	return c.Title
}

// Head is the column's title with its unit behind it, on one line.
func (c Column) Head() string {
	switch {
	case c.Unit == "":
		return c.Title
	case c.Title == "":
		return c.Unit
	}
	return c.Title + " (" + c.Unit + ")"
}

// Label is the table's name for a file or a tab.
func (t Table) Label() string {
	if t.Name != "" {
		return t.Name
	}
	return t.Title
}
