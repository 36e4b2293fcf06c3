package pricing

import (
	"fmt"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// needs lists what goes beyond the policy, in a fixed order.
func (c *calculation) needs(s *CostSheet) []ApprovalNeed {
	var needs []ApprovalNeed
	add := func(rule, ref, format string, args ...any) {
		needs = append(needs, ApprovalNeed{Rule: rule, Ref: ref, Says: fmt.Sprintf(format, args...)})
	}
	policy := c.req.Policy
	floor := policy.MarginFloor
	if s.Whole.below(floor) {
		add("margin", "", "margin on the whole %s%%, floor %s%%; at the floor the net total is %s", s.Whole.Percent.StringFixed(2), floor, s.FloorPrice.Format(money.EnGB))
	}
	for i := range s.Lines {
		line := &s.Lines[i]
		switch {
		case !line.Known:
			add("unknown cost", line.Ref, "%s: nobody has entered the cost, so that the margin is not known", line.Description)
		case c.quotation.Lines[i].Kind != Provisional && line.below(floor):
			add("line margin", line.Ref, "%s: margin %s%%, floor %s%%", line.Description, line.Percent.StringFixed(2), floor)
		}
		if line.ByHand != "" {
			add("price by hand", line.Ref, "%s: price set by hand (%s)", line.Description, line.ByHand)
		}
	}
	for _, charge := range s.Charges {
		if !charge.Known {
			add("unknown cost", "", "%s: nobody has entered the cost, so that the margin is not known", charge.Description)
		}
	}
	if taken, ok := c.discountTaken(s); ok && policy.DiscountCap.Sign() > 0 && taken.Cmp(policy.DiscountCap) > 0 {
		add("discount", "", "all discounts together take %s%% off list, the cap is %s%%", taken.StringFixed(2), policy.DiscountCap)
	}
	totals := c.quotation.Totals
	limit := totals.Net.Percent(policy.ProvisionalCap)
	if policy.ProvisionalCap.Sign() > 0 && totals.Provisional.Decimal().Cmp(limit.Decimal()) > 0 {
		add("provisional sums", "", "provisional sums of %s are more than %s%% of the net total", totals.Provisional.Format(money.EnGB), policy.ProvisionalCap)
	}
	return needs
}

// discountTaken is what all discounts took off the list prices of the lines that
// can be discounted, in per cent with two decimals.
func (c *calculation) discountTaken(s *CostSheet) (decimal.Decimal, bool) {
	list, net := money.NewTally(c.currency), money.NewTally(c.currency)
	for i := range s.Lines {
		if c.quotation.Lines[i].Kind == Provisional {
			continue
		}
		list.Add(c.costs[i].list)
		net.Add(s.Lines[i].Net)
	}
	full, errFull := list.Total()
	left, errLeft := net.Total()
	if errFull != nil || errLeft != nil || full.Sign() <= 0 {
		return decimal.Decimal{}, false
	}
	const places, whole = 2, 100
	kept, err := left.PercentOf(full, places)
	if err != nil {
		return decimal.Decimal{}, false
	}
	return decimal.New(whole, 0).Sub(kept), true
}
