// Package workbook makes the quotation as a spreadsheet that reckons: lines,
// discounts, totals, tax and payments are formulas, so that a buyer who changes a
// quantity sees what the price becomes. Reckoned again unchanged, every total is that
// of the quotation, to the last minor unit.
//
// The arithmetic is that of package pricing: a line is rounded once, a discount by
// itself, tax once for each rate, and what is shared out goes by largest remainder. A
// spreadsheet holds numbers in binary; products are therefore counted in minor units,
// where a half is exact. That is sure for lines below one million.
//
// Begin with Write. Costs have no way in: it takes the quotation, which has none.
package workbook

import (
	_ "embed"
	"fmt"
	"io"
	"strconv"
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/pack/client/phrase"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/sheet"
)

//go:embed phrases.csv
var phrasesCSV string

var phrases = phrase.MustRead("workbook", phrasesCSV)

// Write writes the workbook. The head is the quotation's document without its
// sections: number, revision, date, firm and client stand on the first sheet.
func Write(w io.Writer, head paper.Doc, q pricing.Quotation) error {
	if err := sheet.WriteXLSX(w, head, Tables(q, head.Locale)...); err != nil {
		return fmt.Errorf("quotation as a workbook: %w", err)
	}
	return nil
}

// Tables are the sheets of the workbook: lines, totals, payments, shares. They belong
// together, since their formulas name each other's cells.
func Tables(q pricing.Quotation, l paper.Locale) []paper.Table {
	b := &book{Voice: phrases.In(l), q: q, digits: strconv.Itoa(int(q.Currency.Digits())), minor: "1" + strings.Repeat("0", int(q.Currency.Digits()))}
	b.lines = newTab(b.Say("tab.lines"), b.Say("title.lines"))
	b.totals = newTab(b.Say("tab.totals"), b.Say("title.totals"))
	b.payments = newTab(b.Say("tab.payments"), b.Say("title.payments"))
	b.shares = newTab(b.Say("tab.shares"), b.Say("title.shares"))
	b.shareColumns()
	b.fillLines()
	b.fillTotals()
	tables := []paper.Table{b.lines.table, b.totals.table}
	if len(q.Stages) > 0 {
		b.fillPayments()
		tables = append(tables, b.payments.table)
	}
	b.fillShares()
	if len(b.shares.table.Rows) > 0 {
		tables = append(tables, b.shares.table)
	}
	return tables
}

// book is the workbook in the making.
type book struct {
	phrase.Voice
	q                               pricing.Quotation
	digits                          string // decimals of the minor unit
	minor                           string // how many minor units make one
	lines, totals, payments, shares *tab
}

// tab is one sheet, whose cells can be named from others.
type tab struct{ table paper.Table }

func newTab(name, title string) *tab {
	return &tab{paper.Table{Name: name, Title: title}}
}

// firstRow is the number of the row in which the sheet writer sets a table's first
// row. A test holds it: it recalculates a written workbook.
const firstRow = 6

// column adds a column and nothing else.
func (t *tab) column(c paper.Column) { t.table.Columns = append(t.table.Columns, c) }

func (t *tab) add(r paper.Row) { t.table.Rows = append(t.table.Rows, r) }

// next is the index of the row that is added next.
func (t *tab) next() int { return len(t.table.Rows) }

// cell is the name of a cell within its sheet.
func (t *tab) cell(key string, row int) string {
	return t.letter(key) + strconv.Itoa(firstRow+row)
}

// letter is the letter of a column. No sheet here has more than the alphabet.
func (t *tab) letter(key string) string {
	for i, c := range t.table.Columns {
		if c.Key == key {
			return string(rune('A' + i))
		}
	}
	return "?"
}

// from is the name of a cell for another sheet.
func (t *tab) from(key string, row int) string {
	return "'" + t.table.Name + "'!" + t.cell(key, row)
}

// all is the range of a column over all rows, for another sheet.
func (t *tab) all(key string) string {
	letter := t.letter(key)
	return fmt.Sprintf("'%s'!%s%d:%s%d", t.table.Name, letter, firstRow, letter, firstRow+len(t.table.Rows)-1)
}

// part is the range of a column from a row to another, within the sheet.
func (t *tab) part(key string, from, to int) string {
	return t.cell(key, from) + ":" + t.cell(key, to)
}

// rounded rounds a sum to the minor unit.
func (b *book) rounded(formula string) string { return "ROUND(" + formula + "," + b.digits + ")" }

// product rounds a product to the minor unit. It is counted in minor units and its
// binary error taken away first: a half is exact in binary there, so that it goes away
// from zero in every program, as it does with us.
func (b *book) product(formula string) string {
	const exact = "6" // a price and a rate with four decimals each leave no more
	return "ROUND(ROUND(" + formula + "*" + b.minor + "," + exact + "),0)/" + b.minor
}

func (b *book) money(key, title string) paper.Column {
	return paper.Column{Key: key, Title: title, Unit: string(b.q.Currency), Kind: paper.Money}
}

func plus(cells []string) string {
	if len(cells) == 0 {
		return "0"
	}
	return strings.Join(cells, "+")
}
