package client

import (
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
)

func (q quote) prices() []paper.Block {
	blocks := []paper.Block{q.priceTable(), paper.Together{Blocks: []paper.Block{q.totals()}}, paper.Together{Blocks: []paper.Block{q.byRate()}}}
	if len(q.priced.Notices) > 0 {
		var lines []string
		for _, n := range q.priced.Notices {
			lines = append(lines, strings.TrimSpace(n.Ref+" "+n.Says))
		}
		blocks = append(blocks, say.List(lines))
	}
	return append(blocks, paper.Together{Blocks: []paper.Block{q.checks()}})
}

func (q quote) currency() string { return string(q.priced.Currency) }

// priceTable lists every line with its discounts, summed by section.
func (q quote) priceTable() paper.Table {
	t := paper.Table{
		Name: "prices", Title: q.Say("prices.title"),
		Columns: []paper.Column{
			{Key: "ref", Title: q.Say("col.item")},
			{Key: "code", Title: q.Say("col.code")},
			{Key: "what", Title: q.Say("col.description")},
			{Key: "qty", Title: q.Say("col.qty"), Kind: paper.Number},
			{Key: "unit", Title: q.Say("col.unit")},
			{Key: "price", Title: q.Say("col.price"), Unit: q.currency(), Kind: paper.Money},
			{Key: "net", Title: q.Say("col.net"), Unit: q.currency(), Kind: paper.Money},
		},
	}
	lines := q.priced.Lines
	for i := 0; i < len(lines); {
		end := i
		sum := money.NewTally(q.priced.Currency)
		title := SectionName(lines[i].Section, q.Locale)
		if title != "" {
			t.Rows = append(t.Rows, say.Group(title))
		}
		for end < len(lines) && lines[end].Section == lines[i].Section {
			t.Rows = append(t.Rows, q.priceRow(&lines[end]))
			sum.Add(lines[end].Net)
			end++
		}
		if total, err := sum.Total(); err == nil && end-i > 1 && title != "" {
			t.Rows = append(t.Rows, paper.Row{Kind: paper.Subtotal, Cells: []paper.Cell{{}, {}, paper.W(title), {}, {}, {}, paper.Amount(total)}})
		}
		i = end
	}
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{{}, {}, paper.W(q.Say("sum.lines")), {}, {}, {}, paper.Amount(q.priced.Totals.Lines)}})
	return t
}

func (q quote) priceRow(l *pricing.Line) paper.Row {
	text := l.Description
	if l.Provisional != nil {
		text += " (" + q.Say("prices.provisional") + ")"
	}
	for _, d := range l.Discounts {
		text += "\n" + q.less(d)
	}
	unit := UnitName(l.Unit, q.Locale)
	if !l.Per.Equal(oneUnit) {
		unit = q.Say("prices.per", q.Number(l.Per), unit)
	}
	return paper.Row{Name: l.Ref, Cells: []paper.Cell{
		paper.W(l.Ref), paper.W(l.Code), paper.W(text), paper.Decimal(l.Quantity.String()), paper.W(unit), paper.Amount(l.Price), paper.Amount(l.Net),
	}}
}

// less says a discount as it was taken.
func (q quote) less(d pricing.Reduction) string {
	reason := q.Known("reason."+d.Reason, d.Reason)
	if d.Percent.IsZero() {
		return q.Say("prices.less", reason, q.Money(d.Amount))
	}
	return q.Say("prices.less-percent", reason, q.Percent(d.Percent), q.Money(d.Base), q.Money(d.Amount))
}

// totals leads from the sum of the lines to the price with tax.
func (q quote) totals() paper.Table {
	t := paper.Table{
		Name: "totals", Title: q.Say("totals.title"),
		Columns: []paper.Column{{Title: q.Say("col.sum"), Width: 78}, {Key: "sum", Title: q.Say("col.amount"), Unit: q.currency(), Kind: paper.Money, Width: 22}},
	}
	add := func(kind paper.RowKind, name string, a money.Amount) {
		t.Rows = append(t.Rows, paper.Row{Kind: kind, Cells: []paper.Cell{paper.W(name), paper.Amount(a)}})
	}
	totals := q.priced.Totals
	add(paper.Item, q.Say("sum.lines"), totals.Lines)
	for _, a := range q.priced.Allowances {
		add(paper.Item, q.less(a.Reduction), a.Amount.Neg())
	}
	for _, c := range q.priced.Charges {
		add(paper.Item, q.Known("reason."+c.Reason, c.Reason), c.Amount)
	}
	add(paper.Subtotal, q.Say("sum.net"), totals.Net)
	for _, x := range q.priced.Taxes {
		add(paper.Item, q.tax(x.Tax), x.Amount)
	}
	add(paper.Total, q.gross(), totals.Gross)
	if !totals.Provisional.IsZero() {
		t.Notes = append(t.Notes, q.Say("totals.provisional", q.Money(totals.Provisional)))
	}
	if len(q.priced.Allowances) > 0 {
		t.Notes = append(t.Notes, q.Say("totals.discount"))
	}
	return t
}

// gross names the last sum: "with tax" where any is charged.
func (q quote) gross() string {
	if q.priced.Totals.Tax.IsZero() {
		return q.Say("sum.total")
	}
	return q.Say("sum.gross")
}

// byRate is the tax breakdown: what each rate is charged on.
func (q quote) byRate() paper.Table {
	t := paper.Table{
		Name: "tax", Title: q.Say("tax.title"),
		Columns: []paper.Column{
			{Title: q.Say("col.tax")},
			{Title: q.Say("col.category")},
			{Title: q.Say("col.base"), Unit: q.currency(), Kind: paper.Money},
			{Title: q.Say("col.tax-amount"), Unit: q.currency(), Kind: paper.Money},
		},
	}
	charged := false
	for _, x := range q.priced.Taxes {
		t.Rows = append(t.Rows, say.Row(paper.W(q.tax(x.Tax)), paper.W(string(x.Tax.Category)), paper.Amount(x.Base), paper.Amount(x.Amount)))
		charged = charged || x.Amount.Sign() > 0
		if x.Tax.Reason != "" {
			t.Notes = append(t.Notes, say.Sentence(q.Known("reason."+x.Tax.Reason, x.Tax.Reason)))
		}
	}
	t.Rows = append(t.Rows, paper.Row{Kind: paper.Total, Cells: []paper.Cell{paper.W(q.Say("col.together")), {}, paper.Amount(q.priced.Totals.Net), paper.Amount(q.priced.Totals.Tax)}})
	if charged {
		t.Notes = append(t.Notes, q.Say("tax.point"))
	}
	return t
}

// tax names a tax group as a buyer reads it.
func (q quote) tax(x pricing.Tax) string {
	if x.Category == pricing.TaxStandard {
		return q.Say("tax.standard", q.Percent(x.Percent))
	}
	return q.Say("tax." + string(x.Category))
}

// checks prints every identity with both of its sides, so that a reader can follow
// each total and need not trust us.
func (q quote) checks() paper.Table {
	t := paper.Table{
		Name: "self-check", Title: q.Say("check.title"), Notes: []string{q.Say("check.intro")},
		Columns: []paper.Column{
			{Title: q.Say("col.rule")},
			{Title: q.Say("col.identity")},
			{Title: q.Say("col.again"), Unit: q.currency(), Kind: paper.Money},
			{Title: q.Say("col.stated"), Unit: q.currency(), Kind: paper.Money},
			{Title: q.Say("col.holds")},
		},
		Sources: []string{q.Say("check.source")},
	}
	for _, c := range q.priced.Checks {
		holds := q.Say("check.no")
		if c.Holds {
			holds = q.Say("check.yes")
		}
		rule := q.Known("rule."+c.Rule, c.Rule)
		t.Rows = append(t.Rows, say.Row(paper.W(rule), paper.W(q.identity(c)), paper.Amount(c.Left), paper.Amount(c.Right), paper.W(holds)))
	}
	return t
}

// identity is an identity in the reader's language. Those that carry a rate or a
// count end in it.
func (q quote) identity(c pricing.Identity) string {
	says := c.Says
	for _, start := range []string{"taxable base at ", "tax at "} {
		if rest, ok := strings.CutPrefix(says, start); ok {
			return q.Known("identity."+strings.TrimSpace(start), start) + " " + strings.TrimSuffix(rest, ", rounded once")
		}
	}
	if c.Rule == "BT-131" {
		return q.Say("identity.line", len(q.priced.Lines))
	}
	return q.Known("identity."+says, says)
}
