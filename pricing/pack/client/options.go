package client

import (
	"slices"
	"strings"

	"tunwright/pricing"
	"tunwright/pricing/money"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"

	"github.com/shopspring/decimal"
)

var oneUnit = decimal.New(1, 0)

// options sets each option beside the offer as it stands: what it would be, and what
// would change.
func (q quote) options() []paper.Block {
	if len(q.priced.Options) == 0 {
		return nil
	}
	return []paper.Block{para(q.Say("options.intro")), q.sideBySide(), q.optionLines()}
}

func (q quote) sideBySide() paper.Table {
	amount := func(title string) paper.Column {
		return paper.Column{Title: title, Unit: q.currency(), Kind: paper.Money}
	}
	t := paper.Table{
		Name: "options", Title: q.Say("options.title"),
		Columns: []paper.Column{
			{Title: q.Say("col.option")},
			amount(q.Say("col.net")), amount(q.Say("col.tax-amount")), amount(q.Say("col.gross")),
			amount(q.Say("col.change-net")), amount(q.Say("col.change-gross")),
		},
	}
	base := q.priced.Totals
	t.Rows = append(t.Rows, say.Row(paper.W(q.Say("options.as-offered")), paper.Amount(base.Net), paper.Amount(base.Tax), paper.Amount(base.Gross), paper.Cell{}, paper.Cell{}))
	groups := map[string][]string{}
	var order []string
	for _, o := range q.priced.Options {
		t.Rows = append(t.Rows, say.Row(paper.W(o.Title), paper.Amount(o.IfTaken.Net), paper.Amount(o.IfTaken.Tax), paper.Amount(o.IfTaken.Gross), paper.Amount(o.Change.Net), paper.Amount(o.Change.Gross)))
		if o.Group == "" {
			continue
		}
		if groups[o.Group] == nil {
			order = append(order, o.Group)
		}
		groups[o.Group] = append(groups[o.Group], o.Title)
	}
	for _, name := range order {
		if len(groups[name]) < 2 {
			continue
		}
		t.Notes = append(t.Notes, q.Say("options.one-of", strings.Join(groups[name], ", ")))
	}
	return t
}

// optionLines says what each option adds and what it takes out.
func (q quote) optionLines() paper.Table {
	t := paper.Table{
		Name: "option-lines", Title: q.Say("options.lines"),
		Columns: []paper.Column{
			{Title: q.Say("col.item")},
			{Title: q.Say("col.code")},
			{Title: q.Say("col.what")},
			{Title: q.Say("col.qty"), Kind: paper.Number},
			{Title: q.Say("col.net"), Unit: q.currency(), Kind: paper.Money},
		},
	}
	for _, o := range q.priced.Options {
		t.Rows = append(t.Rows, say.Group(o.Title))
		for i := range o.Lines {
			t.Rows = append(t.Rows, optionRow(&o.Lines[i], o.Lines[i].Description, o.Lines[i].Net))
		}
		for _, ref := range o.Replaces {
			at := slices.IndexFunc(q.priced.Lines, func(l pricing.Line) bool { return l.Ref == ref })
			if at >= 0 {
				out := &q.priced.Lines[at]
				t.Rows = append(t.Rows, optionRow(out, q.Say("options.instead", out.Description), out.Net.Neg()))
			}
		}
	}
	return t
}

func optionRow(l *pricing.Line, what string, net money.Amount) paper.Row {
	return say.Row(paper.W(l.Ref), paper.W(l.Code), paper.W(what), paper.Decimal(l.Quantity.String()), paper.Amount(net))
}

// provisional prints each sum that is settled later with all that was said of it.
func (q quote) provisional() []paper.Block {
	var blocks []paper.Block
	for i := range q.priced.Lines {
		l := &q.priced.Lines[i]
		if l.Provisional != nil {
			blocks = append(blocks, q.provisionalSum(l))
		}
	}
	if len(blocks) == 0 {
		return nil
	}
	return append([]paper.Block{para(q.Say("provisional.intro", q.Money(q.priced.Totals.Provisional)))}, blocks...)
}

func (q quote) provisionalSum(l *pricing.Line) paper.Block {
	p := l.Provisional
	facts := []paper.Fact{
		{Name: q.Say("provisional.what"), Value: paper.W(p.What)},
		{Name: q.Say("provisional.amount"), Value: paper.Amount(p.Amount)},
		{Name: q.Say("provisional.adjusted"), Value: paper.W(p.Adjusted)},
		{Name: q.Say("provisional.settled"), Value: paper.W(p.Settled)},
	}
	for _, f := range []struct{ name, value string }{
		{q.Say("provisional.nature"), p.Nature},
		{q.Say("provisional.fixing"), p.Fixing},
		{q.Say("provisional.quantities"), p.Quantities},
		{q.Say("provisional.limitations"), p.Limitations},
	} {
		if f.value != "" {
			facts = append(facts, paper.Fact{Name: f.name, Value: paper.W(f.value)})
		}
	}
	standing := q.Say("provisional.undefined")
	if p.Defined() {
		standing = q.Say("provisional.defined")
	}
	return paper.Together{Blocks: []paper.Block{
		paper.Heading{Level: 3, Text: l.Ref + " " + l.Description}, paper.Facts{Facts: facts}, small(standing),
	}}
}
