// Package pricing turns what a brewery needs into exact prices: price books with
// dates, lines, discounts, charges, tax, provisional sums, payment stages, and the
// cost and margin behind them.
//
// It takes plain product codes and knows neither the catalogue nor the engineering.
// The arithmetic is that of EN 16931-1: a line is rounded once, totals add rounded
// lines, tax is computed per category and rate on the rounded sum. Shares are made
// by largest remainder, so that stages add up to the total to the penny.
//
// Begin with ReadBook (or NewBook) and Calculate. Calculate returns two values: the
// Quotation, which a client may see and which cannot hold a cost, and the
// CostSheet, which stays in the house.
package pricing

import (
	"fmt"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Calculate prices a request from a book. Everything that is wrong with the request
// is returned at once, as Problems. Equal input gives an equal result.
//
// Line net (BT-131), with q the quantity, p the price for b units and A_j the
// discounts, each on what the ones before left:
//
//	G = round(q·p/b),  A_j = round(base_j·pct_j/100),  N = G − Σ A_j
//
// Totals: BT-106 = Σ N; BT-109 = BT-106 − Σ allowances + Σ charges; per category and
// rate BT-116 = its lines − its allowances + its charges, BT-117 = round(BT-116·pct/100);
// BT-112 = BT-109 + Σ BT-117.
//
// Source: EN 16931-1 business rules BR-CO-10 to BR-CO-17 and BR-S-08, as published
// in the schematron of github.com/ConnectingEurope/eInvoicing-EN16931; the line by
// Peppol BIS Billing 3, line calculation.
func Calculate(book *Book, req Request) (Quotation, CostSheet, error) {
	c := calculation{book: book, req: req, currency: req.Currency}
	if err := c.check(); err != nil {
		return Quotation{}, CostSheet{}, err
	}
	c.quotation = Quotation{Currency: c.currency, Date: req.Date, ValidUntil: req.ValidUntil, Book: book.ID}
	steps := []func() error{c.lines, c.charges, c.discounts, c.totals, c.stages, c.options}
	for _, step := range steps {
		if err := step(); err != nil {
			return Quotation{}, CostSheet{}, err
		}
	}
	sheet, err := c.costSheet()
	if err != nil {
		return Quotation{}, CostSheet{}, err
	}
	c.quotation.Checks, err = SelfCheck(c.quotation)
	if err != nil {
		return Quotation{}, CostSheet{}, err
	}
	return c.quotation, sheet, nil
}

// calculation carries the values from step to step.
type calculation struct {
	book      *Book
	req       Request
	currency  money.Currency
	quotation Quotation
	costs     []lineCost // beside quotation.Lines
	groups    []taxGroup // in order of first appearance

	optionMargins []optionMargin // beside quotation.Options
}

// taxGroup gathers what is taxed alike.
type taxGroup struct {
	tax          Tax
	base         money.Tally
	discountable money.Tally
}

func (c *calculation) group(tax Tax) *taxGroup {
	for i := range c.groups {
		if c.groups[i].tax.same(tax) {
			return &c.groups[i]
		}
	}
	c.groups = append(c.groups, taxGroup{tax: tax, base: money.NewTally(c.currency), discountable: money.NewTally(c.currency)})
	return &c.groups[len(c.groups)-1]
}

func (c *calculation) lines() error {
	var problems Problems
	n := len(c.req.Items)
	c.quotation.Lines = make([]Line, 0, n) // never grows: lines are filled in place
	c.costs = make([]lineCost, 0, n)
	for i := range c.req.Items {
		item := &c.req.Items[i]
		if item.Kind == ByOthers {
			c.quotation.ByOthers = append(c.quotation.ByOthers, Excluded{
				Ref: item.Ref, Code: item.Code, Description: item.Description, Section: item.Section, Interface: item.Interface,
			})
			continue
		}
		c.quotation.Lines = append(c.quotation.Lines, Line{})
		line := &c.quotation.Lines[len(c.quotation.Lines)-1]
		cost, err := c.line(line, item, place{"items", i}, &problems)
		if err != nil {
			return err
		}
		line.Number = len(c.quotation.Lines)
		c.costs = append(c.costs, cost)
		group := c.group(line.Tax)
		group.base.Add(line.Net)
		if line.Discountable {
			group.discountable.Add(line.Net)
		}
	}
	return problems.err()
}

func (c *calculation) charges() error {
	for _, charge := range c.req.Charges {
		tax := charge.Tax
		if tax.IsZero() {
			tax = c.req.Tax
		}
		amount := charge.Amount.Round()
		c.quotation.Charges = append(c.quotation.Charges, ChargeLine{
			Reason: charge.Reason, ReasonCode: charge.ReasonCode, Amount: amount, Tax: tax,
		})
		c.group(tax).base.Add(amount)
	}
	return nil
}

// discounts takes the discounts on the whole off the discountable lines, one after
// the other, and splits each by tax in the ratio of what the groups still hold.
func (c *calculation) discounts() error {
	left := make([]money.Amount, len(c.groups))
	for i := range c.groups {
		amount, err := c.groups[i].discountable.Total()
		if err != nil {
			return err
		}
		left[i] = amount
	}
	for i, d := range c.req.Discounts {
		base, err := money.Sum(c.currency, left...)
		if err != nil {
			return err
		}
		allowance := Allowance{Reduction: d.from(base)}
		if more, _ := allowance.Amount.Cmp(base); more > 0 {
			return Problems{{Where: fmt.Sprintf("discounts[%d]", i), Message: fmt.Sprintf("%s is more than the %s that can be discounted", allowance.Amount, base)}}
		}
		if allowance.Amount.IsZero() {
			continue
		}
		if err := c.split(&allowance, left); err != nil {
			return fmt.Errorf("discount %d: %w", i+1, err)
		}
		c.quotation.Allowances = append(c.quotation.Allowances, allowance)
	}
	return nil
}

func (c *calculation) split(allowance *Allowance, left []money.Amount) error {
	weights := make([]decimal.Decimal, len(left))
	for i, amount := range left {
		weights[i] = amount.Decimal()
	}
	shares, err := allowance.Amount.Allocate(weights)
	if err != nil {
		return err
	}
	for i, share := range shares {
		if share.IsZero() {
			continue
		}
		allowance.Shares = append(allowance.Shares, TaxShare{Tax: c.groups[i].tax, Amount: share})
		c.groups[i].base.Sub(share)
		if left[i], err = left[i].Sub(share); err != nil {
			return err
		}
	}
	return nil
}

// from works out the discount on a base.
func (d Discount) from(base money.Amount) Reduction {
	r := Reduction{Reason: d.Reason, ReasonCode: d.ReasonCode, Base: base, Percent: d.Percent, Amount: d.Amount.Round()}
	if d.Amount.Currency() == "" {
		r.Amount = base.PercentRound(d.Percent)
	}
	if r.Reason == "" {
		r.Reason = "Discount"
	}
	const discount = "95" // UNTDID 5189
	if r.ReasonCode == "" {
		r.ReasonCode = discount
	}
	return r
}

func (c *calculation) totals() error {
	q := &c.quotation
	lines, allowances, charges := money.NewTally(c.currency), money.NewTally(c.currency), money.NewTally(c.currency)
	net, provisional := money.NewTally(c.currency), money.NewTally(c.currency)
	for i := range q.Lines {
		lines.Add(q.Lines[i].Net)
		net.Add(q.Lines[i].Net)
		if q.Lines[i].Kind == Provisional {
			provisional.Add(q.Lines[i].Net)
		}
	}
	for _, a := range q.Allowances {
		allowances.Add(a.Amount)
		net.Sub(a.Amount)
	}
	for _, charge := range q.Charges {
		charges.Add(charge.Amount)
		net.Add(charge.Amount)
	}
	tax := money.NewTally(c.currency)
	for i := range c.groups {
		line, err := c.groups[i].taxLine()
		if err != nil {
			return err
		}
		q.Taxes = append(q.Taxes, line)
		tax.Add(line.Amount)
	}
	gross := money.NewTally(c.currency)
	set := func(to *money.Amount, from *money.Tally) (err error) {
		*to, err = from.Total()
		return err
	}
	t := &q.Totals
	for _, pair := range []struct {
		to   *money.Amount
		from *money.Tally
	}{{&t.Lines, &lines}, {&t.Allowances, &allowances}, {&t.Charges, &charges}, {&t.Net, &net}, {&t.Tax, &tax}, {&t.Provisional, &provisional}} {
		if err := set(pair.to, pair.from); err != nil {
			return fmt.Errorf("totals: %w", err)
		}
	}
	gross.Add(t.Net, t.Tax)
	return set(&t.Gross, &gross)
}

func (g *taxGroup) taxLine() (TaxLine, error) {
	base, err := g.base.Total()
	if err != nil {
		return TaxLine{}, fmt.Errorf("tax %s: %w", g.tax, err)
	}
	return TaxLine{Tax: g.tax, Base: base, Amount: base.PercentRound(g.tax.Percent)}, nil
}
