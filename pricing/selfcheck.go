package pricing

import (
	"fmt"

	"tunwright/pricing/money"
)

// Identity is a rule of arithmetic checked on the finished quotation. Papers print
// the list, so that the reader can follow every total.
type Identity struct {
	Rule  string       `json:"rule"` // EN 16931 rule or term, "tax bases", "payment stages"
	Says  string       `json:"says"`
	Left  money.Amount `json:"left"`  // worked out anew from the parts
	Right money.Amount `json:"right"` // as the quotation states it
	Holds bool         `json:"holds"`
}

// Verified tells whether the quotation has been checked and every identity holds.
func (q Quotation) Verified() bool {
	for _, identity := range q.Checks {
		if !identity.Holds {
			return false
		}
	}
	return len(q.Checks) > 0
}

// SelfCheck works every total out again from the printed parts. It shares no sum
// with Calculate, so that a slip in one shows in the other, and it takes any
// quotation, so that one read from a file can be checked too.
//
// Source: EN 16931-1 rules by number, as published in the schematron of
// github.com/ConnectingEurope/eInvoicing-EN16931; all are applied exactly, without
// the tolerances that the schematron grants BR-CO-17 and BR-S-08.
func SelfCheck(q Quotation) ([]Identity, error) {
	if !q.Currency.Valid() {
		return nil, fmt.Errorf("self-check: %w: %q", money.ErrCurrency, string(q.Currency))
	}
	k := checker{q: &q}
	steps := []func() error{k.lines, k.sums, k.taxes, k.stages}
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, fmt.Errorf("self-check: %w", err)
		}
	}
	return k.found, nil
}

type checker struct {
	q     *Quotation
	found []Identity
}

func (k *checker) compare(rule, says string, left *money.Tally, right money.Amount) error {
	sum, err := left.Total()
	if err != nil {
		return fmt.Errorf("%s: %w", rule, err)
	}
	k.found = append(k.found, Identity{Rule: rule, Says: says, Left: sum, Right: right, Holds: sum.Equal(right)})
	return nil
}

func (k *checker) tally() money.Tally { return money.NewTally(k.q.Currency) }

// lines recomputes each line; the identity holds only if each of them does.
func (k *checker) lines() error {
	again, stated := k.tally(), k.tally()
	each := true
	for i := range k.q.Lines {
		line := &k.q.Lines[i]
		net, err := line.again()
		if err != nil {
			return err
		}
		again.Add(net)
		stated.Add(line.Net)
		each = each && net.Equal(line.Net)
	}
	total, err := stated.Total()
	if err != nil {
		return err
	}
	says := fmt.Sprintf("each of %d lines: quantity × price, rounded, less its discounts", len(k.q.Lines))
	if err := k.compare("BT-131", says, &again, total); err != nil {
		return err
	}
	last := &k.found[len(k.found)-1]
	last.Holds = last.Holds && each
	return nil
}

func (l *Line) again() (money.Amount, error) {
	if l.Per.Sign() <= 0 {
		return money.Amount{}, fmt.Errorf("line %s: base quantity %s is not above zero (PEPPOL-EN16931-R121)", l.Ref, l.Per)
	}
	net, err := extend(l.Price, l.Quantity, l.Per)
	if err != nil {
		return money.Amount{}, err
	}
	for _, r := range l.Discounts {
		if !r.Percent.IsZero() {
			r.Amount = net.PercentRound(r.Percent)
		}
		if net, err = net.Sub(r.Amount); err != nil {
			return money.Amount{}, err
		}
	}
	return net, nil
}

func (k *checker) sums() error {
	q, t := k.q, k.q.Totals
	lines, allowances, charges, taxes := k.tally(), k.tally(), k.tally(), k.tally()
	for i := range q.Lines {
		lines.Add(q.Lines[i].Net)
	}
	for _, a := range q.Allowances {
		allowances.Add(a.Amount)
	}
	for _, c := range q.Charges {
		charges.Add(c.Amount)
	}
	for _, x := range q.Taxes {
		taxes.Add(x.Amount)
	}
	net, gross := k.tally(), k.tally()
	net.Add(t.Lines, t.Charges)
	net.Sub(t.Allowances)
	gross.Add(t.Net, t.Tax)
	for _, s := range []struct {
		rule, says string
		left       *money.Tally
		right      money.Amount
	}{
		{"BR-CO-10", "sum of line nets", &lines, t.Lines},
		{"BR-CO-11", "sum of discounts on the whole", &allowances, t.Allowances},
		{"BR-CO-12", "sum of charges on the whole", &charges, t.Charges},
		{"BR-CO-13", "lines less discounts plus charges", &net, t.Net},
		{"BR-CO-14", "sum of tax by category and rate", &taxes, t.Tax},
		{"BR-CO-15", "total without tax plus tax", &gross, t.Gross},
	} {
		if err := k.compare(s.rule, s.says, s.left, s.right); err != nil {
			return err
		}
	}
	return nil
}

// taxes recomputes the base and the tax of each group, and asserts that no line,
// allowance or charge is left without a group.
func (k *checker) taxes() error {
	q := k.q
	for _, group := range q.Taxes {
		base := k.tally()
		for i := range q.Lines {
			if q.Lines[i].Tax.same(group.Tax) {
				base.Add(q.Lines[i].Net)
			}
		}
		for _, a := range q.Allowances {
			for _, share := range a.Shares {
				if share.Tax.same(group.Tax) {
					base.Sub(share.Amount)
				}
			}
		}
		for _, c := range q.Charges {
			if c.Tax.same(group.Tax) {
				base.Add(c.Amount)
			}
		}
		rule := "BR-" + group.Tax.Category.ruleName() + "-08"
		if err := k.compare(rule, "taxable base at "+group.Tax.String(), &base, group.Base); err != nil {
			return err
		}
		tax := k.tally()
		tax.Add(group.Base.PercentRound(group.Tax.Percent))
		if err := k.compare("BR-CO-17", "tax at "+group.Tax.String()+", rounded once", &tax, group.Amount); err != nil {
			return err
		}
	}
	bases := k.tally()
	for _, group := range q.Taxes {
		bases.Add(group.Base)
	}
	return k.compare("tax bases", "the taxable bases make up the whole", &bases, q.Totals.Net)
}

func (k *checker) stages() error {
	if len(k.q.Stages) == 0 {
		return nil
	}
	net, tax, gross := k.tally(), k.tally(), k.tally()
	for _, s := range k.q.Stages {
		net.Add(s.Net)
		tax.Add(s.Tax)
		gross.Add(s.Net, s.Tax)
	}
	t := k.q.Totals
	if err := k.compare("payment stages", "net of all stages", &net, t.Net); err != nil {
		return err
	}
	if err := k.compare("payment stages", "tax of all stages", &tax, t.Tax); err != nil {
		return err
	}
	return k.compare("payment stages", "all stages with tax", &gross, t.Gross)
}
