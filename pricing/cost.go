package pricing

import (
	"fmt"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// CostSheet is what the house sees behind a Quotation: cost, margin, markup and
// what a second person has to approve. It is a type of its own so that a paper for
// the client cannot be made from it.
type CostSheet struct {
	Currency money.Currency `json:"currency"`
	Lines    []CostLine     `json:"lines"`
	Charges  []CostLine     `json:"charges,omitempty"`
	Whole    Margin         `json:"whole"`
	// Complete tells whether every cost is known; without that the margin is an
	// upper bound and needs approval.
	Complete bool `json:"complete"`
	// FloorPrice is the lowest net total at the margin floor, FurtherDiscount the
	// percentage that may still come off the net total until it is reached; it is
	// negative when the net is below the floor already.
	FloorPrice      money.Amount    `json:"floor_price"`
	FurtherDiscount decimal.Decimal `json:"further_discount"`
	Needs           []ApprovalNeed  `json:"needs,omitempty"`
	Options         []OptionCost    `json:"options,omitempty"`
}

// CostLine is the cost and margin of a line, its net being what is left after its
// share of the discounts on the whole.
type CostLine struct {
	Ref         string `json:"ref"`
	Code        string `json:"code,omitempty"`
	Description string `json:"description"`
	Margin
	Known  bool   `json:"known"`             // false when nobody has entered the cost
	ByHand string `json:"by_hand,omitempty"` // why the price is not the price book's
}

// Margin relates what is sold to what it costs.
//
//	margin = S − C,  margin % = 100·(S − C)/S,  markup % = 100·(S − C)/C
//
// with S the net sale and C the cost. Percentages have two decimals; 0 where the
// divisor is 0.
type Margin struct {
	Net     money.Amount    `json:"net"`
	Cost    money.Amount    `json:"cost"`
	Margin  money.Amount    `json:"margin"`
	Percent decimal.Decimal `json:"margin_percent"`
	Markup  decimal.Decimal `json:"markup_percent"`
}

// Relate computes margin and markup of a sale.
func Relate(net, cost money.Amount) (Margin, error) {
	margin, err := net.Sub(cost)
	if err != nil {
		return Margin{}, fmt.Errorf("margin: %w", err)
	}
	m := Margin{Net: net, Cost: cost, Margin: margin}
	const places = 2
	if !net.IsZero() {
		if m.Percent, err = margin.PercentOf(net, places); err != nil {
			return Margin{}, err
		}
	}
	if !cost.IsZero() {
		if m.Markup, err = margin.PercentOf(cost, places); err != nil {
			return Margin{}, err
		}
	}
	return m, nil
}

// below tells whether the margin is under a floor in per cent, without rounding:
// S − C < S·floor/100.
func (m Margin) below(floor decimal.Decimal) bool {
	if floor.IsZero() {
		return m.Margin.Sign() < 0
	}
	return m.Margin.Decimal().Cmp(m.Net.Percent(floor).Decimal()) < 0
}

// FloorPrice is the lowest price with the margin in per cent, rounded up to the
// minor unit: C/(1 − m).
func FloorPrice(cost money.Amount, margin decimal.Decimal) (money.Amount, error) {
	rest := decimal.New(1, 0).Sub(margin.Shift(-2))
	if rest.Sign() <= 0 || margin.Sign() < 0 {
		return money.Amount{}, fmt.Errorf("margin floor %s; a percentage from 0 to below 100", margin)
	}
	digits := cost.Currency().Digits()
	price, err := cost.DivRound(rest, digits)
	if err != nil {
		return money.Amount{}, err
	}
	if price.Mul(rest).Decimal().Cmp(cost.Decimal()) >= 0 {
		return price, nil
	}
	penny, err := money.FromMinor(1, cost.Currency())
	if err != nil {
		return money.Amount{}, err
	}
	return price.Add(penny)
}

// ApprovalNeed is a limit that is passed and wants a second person.
type ApprovalNeed struct {
	Rule string `json:"rule"`          // margin, line margin, discount, provisional sums, unknown cost, price by hand
	Ref  string `json:"ref,omitempty"` // the line, if it is about one
	Says string `json:"says"`
}

func (c *calculation) costSheet() (CostSheet, error) {
	nets, err := c.netsAfterDiscount()
	if err != nil {
		return CostSheet{}, err
	}
	sheet := CostSheet{Currency: c.currency, Complete: true, Lines: make([]CostLine, 0, len(c.costs))}
	total := money.NewTally(c.currency)
	for i, lc := range c.costs {
		line := &c.quotation.Lines[i]
		m, err := Relate(nets[i], lc.cost)
		if err != nil {
			return CostSheet{}, fmt.Errorf("line %s: %w", line.Ref, err)
		}
		total.Add(m.Cost)
		sheet.Complete = sheet.Complete && lc.known
		sheet.Lines = append(sheet.Lines, CostLine{Ref: line.Ref, Code: line.Code, Description: line.Description, Margin: m, Known: lc.known, ByHand: lc.byHand})
	}
	for i, charge := range c.quotation.Charges {
		cost := c.req.Charges[i].Cost.Round()
		known := cost.Currency() != ""
		m, err := Relate(charge.Amount, cost)
		if err != nil {
			return CostSheet{}, fmt.Errorf("charge %s: %w", charge.Reason, err)
		}
		total.Add(cost)
		sheet.Complete = sheet.Complete && known
		sheet.Charges = append(sheet.Charges, CostLine{Description: charge.Reason, Margin: m, Known: known})
	}
	cost, err := total.Total()
	if err != nil {
		return CostSheet{}, err
	}
	if err := sheet.whole(c.quotation.Totals.Net, cost, c.req.Policy); err != nil {
		return CostSheet{}, err
	}
	sheet.Needs = c.needs(&sheet)
	sheet.Options, err = c.optionCosts(sheet.Whole)
	return sheet, err
}

func (s *CostSheet) whole(net, cost money.Amount, policy Policy) error {
	var err error
	if s.Whole, err = Relate(net, cost); err != nil {
		return err
	}
	if s.FloorPrice, err = FloorPrice(cost, policy.MarginFloor); err != nil {
		return err
	}
	if net.IsZero() {
		return nil
	}
	const places, whole = 4, 100
	kept, err := s.FloorPrice.PercentOf(net, places)
	if err != nil {
		return err
	}
	s.FurtherDiscount = decimal.New(whole, 0).Sub(kept)
	return nil
}

// netsAfterDiscount spreads each discount on the whole over the lines it was taken
// from, in the ratio of their nets.
func (c *calculation) netsAfterDiscount() ([]money.Amount, error) {
	lines := c.quotation.Lines
	nets := make([]money.Amount, len(lines))
	for i := range lines {
		nets[i] = lines[i].Net
	}
	for _, allowance := range c.quotation.Allowances {
		for _, share := range allowance.Shares {
			var err error
			nets, err = share.Amount.Spread(nets, func(i int) bool { return lines[i].Discountable && lines[i].Tax.same(share.Tax) })
			if err != nil {
				return nil, fmt.Errorf("discount %s: %w", allowance.Reason, err)
			}
		}
	}
	return nets, nil
}
