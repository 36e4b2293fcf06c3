package workbook

import (
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/pack/client"
	"tunwright/pricing/paper"

	"github.com/shopspring/decimal"
)

// fillLines writes a row for each line. A line's first discount stands in its own
// row; further ones, each taken on what is left, stand in rows below it.
func (b *book) fillLines() {
	t := b.lines
	for _, c := range []paper.Column{
		{Key: "ref", Title: b.Say("col.ref")},
		{Key: "code", Title: b.Say("col.code")},
		{Key: "what", Title: b.Say("col.what")},
		{Key: "qty", Title: b.Say("col.qty"), Kind: paper.Number},
		{Key: "unit", Title: b.Say("col.unit")},
		b.money("price", b.Say("col.price")),
		{Key: "per", Title: b.Say("col.per"), Kind: paper.Number},
		b.money("gross", b.Say("col.gross")),
		{Key: "percent", Title: b.Say("col.percent"), Unit: "%", Kind: paper.Number},
		b.money("discount", b.Say("col.discount")),
		b.money("net", b.Say("col.net")),
		{Key: "tax", Title: b.Say("col.tax")},
		{Key: "counts", Title: b.Say("col.counts"), Kind: paper.Number},
	} {
		t.column(c)
	}
	section := ""
	for i := range b.q.Lines {
		l := &b.q.Lines[i]
		if l.Section != section {
			section = l.Section
			t.add(paper.Row{Kind: paper.Group, Cells: []paper.Cell{paper.W(client.SectionName(section, b.Locale))}})
		}
		b.line(l)
	}
	t.table.Notes = []string{b.Say("note.lines")}
}

func (b *book) line(l *pricing.Line) {
	first := b.lines.next()
	counts := 0
	if l.Discountable {
		counts = 1
	}
	percent, discount := paper.Cell{}, paper.Cell{}
	net := l.Gross
	if len(l.Discounts) > 0 {
		d := l.Discounts[0]
		percent, discount = b.reduction(d, b.lines.cell("gross", first), first)
		net = less(net, d.Amount)
	}
	netFormula := "{gross}"
	if !discount.Empty() {
		netFormula = b.rounded("{gross}-{discount}")
	}
	b.lines.add(paper.Row{Cells: []paper.Cell{
		paper.W(l.Ref), paper.W(l.Code), paper.W(l.Description), paper.Decimal(l.Quantity.String()), paper.W(client.UnitName(l.Unit, b.Locale)),
		paper.Amount(l.Price), paper.Decimal(l.Per.String()), paper.Amount(l.Gross).WithFormula(b.product("{qty}*{price}/{per}")),
		percent, discount, paper.Amount(net).WithFormula(netFormula), paper.W(l.Tax.String()), paper.I(counts),
	}})
	for k := 1; k < len(l.Discounts); k++ {
		b.furtherDiscount(l, l.Discounts[k], first, counts)
	}
}

// furtherDiscount writes a discount on what the rows of the line above leave.
func (b *book) furtherDiscount(l *pricing.Line, d pricing.Reduction, first, counts int) {
	row := b.lines.next()
	var left []string
	for r := first; r < row; r++ {
		left = append(left, b.lines.cell("net", r))
	}
	percent, discount := b.reduction(d, "("+plus(left)+")", row)
	what := b.Say("row.further", l.Ref, d.Reason)
	b.lines.add(paper.Row{Cells: []paper.Cell{
		{},
		{},
		paper.W(what),
		{},
		{},
		{},
		{},
		{},
		percent, discount,
		paper.Amount(d.Amount.Neg()).WithFormula("-{discount}"), paper.W(l.Tax.String()), paper.I(counts),
	}})
}

// reduction is a discount as its rate and its amount: reckoned where it is a
// percentage, a figure where it was agreed as an amount.
func (b *book) reduction(d pricing.Reduction, base string, row int) (percent, amount paper.Cell) {
	if d.Percent.IsZero() {
		return paper.Cell{}, paper.Amount(d.Amount)
	}
	rate := b.lines.cell("percent", row)
	return paper.Decimal(d.Percent.String()), paper.Amount(d.Amount).WithFormula(b.product(base + "*" + rate + "/100"))
}

// less is a − b of one currency; a where they cannot be subtracted, which the sheet's
// own formula then shows.
func less(a, b money.Amount) money.Amount {
	left, err := a.Sub(b)
	if err != nil {
		return a
	}
	return left
}

func plain(d decimal.Decimal) paper.Cell {
	text := d.String()
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return paper.Decimal(text)
}
