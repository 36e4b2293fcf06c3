package workbook

import (
	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/paper"
)

// The rows of the totals, in order: the lines, the discounts on the whole, the
// charges, the net, the tax of each rate, the tax together, the gross.
func (b *book) allowanceRow(i int) int { return 1 + i }
func (b *book) chargeRow(i int) int    { return 1 + len(b.q.Allowances) + i }
func (b *book) netRow() int            { return 1 + len(b.q.Allowances) + len(b.q.Charges) }
func (b *book) taxRow(i int) int       { return b.netRow() + 1 + i }
func (b *book) taxSumRow() int         { return b.netRow() + 1 + len(b.q.Taxes) }

func (b *book) fillTotals() {
	t := b.totals
	for _, c := range []paper.Column{
		{Key: "what", Title: b.Say("col.what")},
		{Key: "tax", Title: b.Say("col.tax")},
		{Key: "rate", Title: b.Say("col.rate"), Unit: "%", Kind: paper.Number},
		b.money("base", b.Say("col.base")),
		b.money("amount", b.Say("col.amount")),
		b.money("offered", b.Say("col.offered")),
		b.money("change", b.Say("col.change")),
	} {
		t.column(c)
	}
	totals := b.q.Totals
	b.total(paper.Item, b.Say("row.lines"), totals.Lines, b.rounded("SUM("+b.lines.all("net")+")"))
	for i, a := range b.q.Allowances {
		b.allowance(i, a)
	}
	for _, c := range b.q.Charges {
		b.totals.add(b.totalRow(paper.Item, c.Reason, paper.W(c.Tax.String()), paper.Cell{}, paper.Cell{}, paper.Amount(c.Amount), c.Amount))
	}
	b.total(paper.Subtotal, b.Say("row.net"), totals.Net, b.rounded(b.netFormula()))
	var taxes []string
	for i, x := range b.q.Taxes {
		taxes = append(taxes, t.cell("amount", t.next()))
		b.tax(i, x)
	}
	b.total(paper.Subtotal, b.Say("row.taxes"), totals.Tax, b.rounded(plus(taxes)))
	b.total(paper.Total, b.Say("row.gross"), totals.Gross, b.rounded(t.cell("amount", b.netRow())+"+"+t.cell("amount", b.taxSumRow())))
	t.table.Notes = []string{b.Say("note.totals")}
}

func (b *book) total(kind paper.RowKind, what string, a money.Amount, formula string) {
	b.totals.add(b.totalRow(kind, what, paper.Cell{}, paper.Cell{}, paper.Cell{}, paper.Amount(a).WithFormula(formula), a))
}

// totalRow sets the figure of the quotation beside the reckoned one.
func (b *book) totalRow(kind paper.RowKind, what string, tax, rate, base, amount paper.Cell, offered money.Amount) paper.Row {
	change := paper.Amount(less(offered, offered)).WithFormula(b.rounded("{amount}-{offered}"))
	return paper.Row{Kind: kind, Cells: []paper.Cell{paper.W(what), tax, rate, base, amount, paper.Amount(offered), change}}
}

// allowance is a discount on the whole: the first on the lines that count, a further
// one on what the one before left.
func (b *book) allowance(i int, a pricing.Allowance) {
	t := b.totals
	base := b.rounded("SUMIFS(" + b.lines.all("net") + "," + b.lines.all("counts") + ",1)")
	if i > 0 {
		before := b.allowanceRow(i - 1)
		base = b.rounded(t.cell("base", before) + "-" + t.cell("amount", before))
	}
	rate, amount := paper.Cell{}, paper.Amount(a.Amount)
	if !a.Percent.IsZero() {
		rate = paper.Decimal(a.Percent.String())
		amount = amount.WithFormula(b.product("{base}*{rate}/100"))
	}
	t.add(b.totalRow(paper.Item, b.Say("row.discount", a.Reason), paper.Cell{}, rate, paper.Amount(a.Base).WithFormula(base), amount, a.Amount))
}

func (b *book) netFormula() string {
	t := b.totals
	formula := t.cell("amount", 0)
	for i := range b.q.Allowances {
		formula += "-" + t.cell("amount", b.allowanceRow(i))
	}
	for i := range b.q.Charges {
		formula += "+" + t.cell("amount", b.chargeRow(i))
	}
	return formula
}

// tax is one rate: its lines, less its shares of the discounts, plus its charges.
func (b *book) tax(i int, x pricing.TaxLine) {
	t := b.totals
	key := t.cell("tax", t.next())
	base := "SUMIFS(" + b.lines.all("net") + "," + b.lines.all("tax") + "," + key + ")"
	for k := range b.q.Allowances {
		base += "-" + b.discountShare(k, i)
	}
	for k, c := range b.q.Charges {
		if c.Tax.String() == x.Tax.String() {
			base += "+" + t.cell("amount", b.chargeRow(k))
		}
	}
	amount := paper.Amount(x.Amount).WithFormula(b.product("{base}*{rate}/100"))
	t.add(b.totalRow(paper.Item, b.Say("row.tax", x.Tax.String()), paper.W(x.Tax.String()), paper.Decimal(x.Tax.Percent.String()), paper.Amount(x.Base).WithFormula(b.rounded(base)), amount, x.Amount))
}

func (b *book) fillPayments() {
	t := b.payments
	for _, c := range []paper.Column{
		{Key: "name", Title: b.Say("col.payment")},
		{Key: "due", Title: b.Say("col.due")},
		{Key: "days", Title: b.Say("col.days"), Kind: paper.Number},
		{Key: "share", Title: b.Say("col.share"), Unit: "%", Kind: paper.Number},
		b.money("net", b.Say("col.net")), b.money("paid-tax", b.Say("col.paid-tax")), b.money("paid", b.Say("col.paid")),
	} {
		t.column(c)
	}
	for i, s := range b.q.Stages {
		var taxes []string
		for k := range b.q.Taxes {
			taxes = append(taxes, b.taxShare(k, i))
		}
		t.add(paper.Row{Cells: []paper.Cell{
			paper.W(s.Name), paper.W(s.Event), paper.I(s.Days), paper.Decimal(s.Percent.String()),
			paper.Amount(s.Net).WithFormula(b.netShare(i)), paper.Amount(s.Tax).WithFormula(b.rounded(plus(taxes))),
			paper.Amount(s.Gross).WithFormula(b.rounded("{net}+{paid-tax}")),
		}})
	}
	last := len(b.q.Stages) - 1
	sum := func(key string) string { return b.rounded("SUM(" + t.part(key, 0, last) + ")") }
	all := b.q.Totals
	t.add(paper.Row{Kind: paper.Total, Cells: []paper.Cell{
		paper.W(b.Say("row.together")),
		{},
		{},
		paper.Decimal("100").WithFormula("SUM(" + t.part("share", 0, last) + ")"),
		paper.Amount(all.Net).WithFormula(sum("net")), paper.Amount(all.Tax).WithFormula(sum("paid-tax")), paper.Amount(all.Gross).WithFormula(sum("paid")),
	}})
}
