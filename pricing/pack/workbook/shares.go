package workbook

import (
	"strings"

	"tunwright/pricing/money"
	"tunwright/pricing/paper"

	"github.com/shopspring/decimal"
)

// The shares are blocks of rows, each under a heading: a block for each discount on
// the whole, shared by tax; one for the net, shared by payment; one for each tax,
// shared by payment.
func (b *book) discountBlock(i int) int { return i * (1 + len(b.q.Taxes)) }

func (b *book) stageBlock(i int) int {
	return b.discountBlock(len(b.q.Allowances)) + i*(1+len(b.q.Stages))
}

// discountShare names the part of a discount that belongs to a tax.
func (b *book) discountShare(allowance, tax int) string {
	return b.shares.from("gets", b.discountBlock(allowance)+1+tax)
}

// netShare names the net of a payment.
func (b *book) netShare(stage int) string { return b.shares.from("gets", b.stageBlock(0)+1+stage) }

// taxShare names the part of a tax in a payment.
func (b *book) taxShare(tax, stage int) string {
	return b.shares.from("gets", b.stageBlock(1+tax)+1+stage)
}

// sharing is one sum to share out: where it stands, and a weight for each part.
type sharing struct {
	title   string
	sum     money.Amount
	at      string // cell of the sum
	names   []string
	weights []decimal.Decimal
	scale   int32    // decimals of the weights
	formula []string // of the weights
	gets    []money.Amount
}

// shareColumns come first, since every other sheet names cells of this one.
func (b *book) shareColumns() {
	for _, c := range []paper.Column{
		{Key: "part", Title: b.Say("col.part")},
		{Key: "weight", Title: b.Say("col.weight"), Kind: paper.Number},
		{Key: "of", Title: b.Say("col.of"), Kind: paper.Number},
		{Key: "whole", Title: b.Say("col.whole"), Kind: paper.Number},
		{Key: "cut", Title: b.Say("col.cut"), Kind: paper.Number},
		{Key: "left", Title: b.Say("col.left"), Kind: paper.Number},
		{Key: "rest", Title: b.Say("col.rest"), Kind: paper.Number},
		{Key: "order", Title: b.Say("col.order"), Kind: paper.Number},
		b.money("gets", b.Say("col.gets")),
	} {
		b.shares.column(c)
	}
}

func (b *book) fillShares() {
	for i, a := range b.q.Allowances {
		b.share(b.sharedDiscount(i, a.Reason, a.Amount))
	}
	if len(b.q.Stages) == 0 {
		return
	}
	net := b.byStage(b.Say("share.net"), b.q.Totals.Net, b.totals.from("amount", b.netRow()))
	for _, s := range b.q.Stages {
		net.gets = append(net.gets, s.Net)
	}
	b.share(net)
	for i, x := range b.q.Taxes {
		tax := b.byStage(b.Say("share.tax", x.Tax.String()), x.Amount, b.totals.from("amount", b.taxRow(i)))
		for _, s := range b.q.Stages {
			tax.gets = append(tax.gets, s.Taxes[i].Amount)
		}
		b.share(tax)
	}
	b.shares.table.Notes = []string{b.Say("note.shares")}
}

// sharedDiscount shares a discount in the ratio of what the lines of each tax that
// count still hold.
func (b *book) sharedDiscount(i int, reason string, sum money.Amount) sharing {
	s := sharing{title: b.Say("share.discount", reason), sum: sum, scale: b.q.Currency.Digits(), at: b.totals.from("amount", b.allowanceRow(i))}
	for k, x := range b.q.Taxes {
		key := b.totals.from("tax", b.taxRow(k))
		weight := "SUMIFS(" + b.lines.all("net") + "," + b.lines.all("tax") + "," + key + "," + b.lines.all("counts") + ",1)"
		for before := range i {
			weight += "-" + b.discountShare(before, k)
		}
		s.names = append(s.names, x.Tax.String())
		s.formula = append(s.formula, weight)
		s.weights = append(s.weights, b.discountable(i, k))
		s.gets = append(s.gets, b.sharedBefore(i, k))
	}
	return s
}

// discountable is what the lines of a tax that count hold before a discount.
func (b *book) discountable(allowance, tax int) decimal.Decimal {
	var sum decimal.Decimal
	for i := range b.q.Lines {
		if l := &b.q.Lines[i]; l.Discountable && l.Tax.String() == b.q.Taxes[tax].Tax.String() {
			sum = sum.Add(l.Net.Decimal())
		}
	}
	for before := range allowance {
		sum = sum.Sub(b.sharedBefore(before, tax).Decimal())
	}
	return sum
}

// sharedBefore is the part of a discount that the quotation gave to a tax.
func (b *book) sharedBefore(allowance, tax int) money.Amount {
	for _, share := range b.q.Allowances[allowance].Shares {
		if share.Tax.String() == b.q.Taxes[tax].Tax.String() {
			return share.Amount
		}
	}
	return money.Zero(b.q.Currency)
}

func (b *book) byStage(title string, sum money.Amount, at string) sharing {
	const usual = 2 // decimals of a percentage, more where the terms have more
	s := sharing{title: title, sum: sum, at: at, scale: usual}
	for i, stage := range b.q.Stages {
		s.scale = max(s.scale, -stage.Percent.Exponent())
		s.names = append(s.names, stage.Name)
		s.weights = append(s.weights, stage.Percent)
		s.formula = append(s.formula, b.payments.from("share", i))
	}
	return s
}

// share writes one block. Weights are whole numbers, so that a part and its remainder
//
//	cut = ⌊whole · weight / of⌋,  rest = whole · weight − cut · of
//
// are exact in a spreadsheet's binary numbers while whole · weight stays below 2⁵³.
// The values beside the formulas are those that a spreadsheet finds; what each part
// gets is the quotation's own.
func (b *book) share(s sharing) {
	t := b.shares
	t.add(paper.Row{Kind: paper.Group, Cells: []paper.Cell{paper.W(s.title)}})
	first := t.next()
	last := first + len(s.names) - 1
	for i, name := range s.names {
		w := b.worked(s, i)
		t.add(paper.Row{Cells: []paper.Cell{
			paper.W(name),
			plain(w.weight).WithFormula("ROUND((" + s.formula[i] + ")*1" + strings.Repeat("0", int(s.scale)) + ",0)"),
			plain(w.of).WithFormula("SUM(" + t.part("weight", first, last) + ")"),
			plain(w.whole).WithFormula("ROUND(" + s.at + "*" + b.minor + ",0)"),
			plain(w.cut).WithFormula("IF({of}=0,0,INT({whole}*{weight}/{of}))"),
			plain(w.left).WithFormula("{whole}-SUM(" + t.part("cut", first, last) + ")"),
			plain(w.rest).WithFormula("{whole}*{weight}-{cut}*{of}"),
			paper.I(w.order).WithFormula("RANK({rest}," + t.part("rest", first, last) + ")+COUNTIF(" + t.part("rest", first, first+i) + ",{rest})-1"),
			paper.Amount(s.gets[i]).WithFormula(b.rounded("({cut}+IF({order}<={left},1,0))/" + b.minor)),
		}})
	}
}

// worked is one row as the spreadsheet reckons it.
type worked struct {
	weight, of, whole, cut, left, rest decimal.Decimal
	order                              int
}

func (b *book) worked(s sharing, at int) worked {
	whole := s.sum.Decimal().Shift(b.q.Currency.Digits())
	weight := func(i int) decimal.Decimal { return s.weights[i].Shift(s.scale).Round(0) }
	var of decimal.Decimal
	for i := range s.weights {
		of = of.Add(weight(i))
	}
	cut := func(i int) decimal.Decimal {
		if of.IsZero() {
			return decimal.Decimal{}
		}
		whole, _ := whole.Mul(weight(i)).QuoRem(of, 0)
		return whole
	}
	rest := func(i int) decimal.Decimal { return whole.Mul(weight(i)).Sub(cut(i).Mul(of)) }
	w := worked{weight: weight(at), of: of, whole: whole, cut: cut(at), left: whole, rest: rest(at)}
	for i := range s.weights {
		w.left = w.left.Sub(cut(i))
		if c := rest(i).Cmp(w.rest); c > 0 || c == 0 && i <= at {
			w.order++
		}
	}
	return w
}
