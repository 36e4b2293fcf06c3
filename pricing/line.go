package pricing

import (
	"errors"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// lineCost is what stands behind a line; it never leaves through a Quotation.
type lineCost struct {
	cost   money.Amount
	known  bool
	list   money.Amount // gross at list price, for the discount cap
	byHand string       // why the price was not the book's
}

// priced is the price that a line is computed from.
type priced struct {
	price, cost money.Amount
	list        money.Amount
	per         decimal.Decimal
	unit        string
	tier        decimal.Decimal
	leadWeeks   int
}

var one = decimal.New(1, 0)

// line prices one item into a line. What is wrong with the item goes to problems; an
// error is arithmetic that cannot go on.
func (c *calculation) line(line *Line, item *Item, where place, problems *Problems) (lineCost, error) {
	p, ok := c.priceOf(item, where, problems)
	if !ok {
		return lineCost{}, nil
	}
	line.Ref, line.Code, line.Description, line.Section, line.Kind = item.Ref, item.Code, item.Description, item.Section, item.Kind
	line.Quantity, line.Unit, line.Price, line.Per, line.Tier = item.Quantity, p.unit, p.price, p.per, p.tier
	line.LeadWeeks, line.Warranty, line.DependsOn = p.leadWeeks, item.Warranty, item.DependsOn
	line.Provisional, line.Discountable = item.Provisional, !item.NoDiscount && item.Kind != Provisional
	line.Tax = item.Tax
	if line.Tax.IsZero() {
		line.Tax = c.req.Tax
	}
	if item.Kind == Provisional {
		line.Quantity = one
	}
	var err error
	if line.Gross, err = extend(p.price, line.Quantity, p.per); err != nil {
		return lineCost{}, err
	}
	if err := line.reduce(item.Discounts); err != nil {
		problems.add(where.dot("discounts"), "%v", err)
	}
	return costOf(item, &p, line)
}

// extend returns quantity × price / per, rounded once.
func extend(price money.Amount, quantity, per decimal.Decimal) (money.Amount, error) {
	if per.Equal(one) {
		return price.MulRound(quantity), nil
	}
	return price.Mul(quantity).DivRound(per, price.Currency().Digits())
}

// reduce takes the discounts off and sets the net.
func (l *Line) reduce(discounts []Discount) error {
	l.Net = l.Gross
	for _, d := range discounts {
		r := d.from(l.Net)
		left, err := l.Net.Sub(r.Amount)
		if err != nil {
			return err
		}
		if left.Sign() < 0 {
			return errors.New("the discounts are more than the line")
		}
		l.Discounts = append(l.Discounts, r)
		l.Net = left
	}
	return nil
}

// priceOf finds the price: the provisional sum, the hand-set price or the book's.
func (c *calculation) priceOf(item *Item, where place, problems *Problems) (priced, bool) {
	if item.Kind == Provisional {
		cost := item.Provisional.Amount // settled at cost unless a cost is stated
		if item.Cost.Currency() != "" {
			cost = item.Cost
		}
		return priced{price: item.Provisional.Amount, list: item.Provisional.Amount, cost: cost, per: one, unit: UnitLumpSum}, true
	}
	if item.Price.Currency() != "" {
		p := priced{price: item.Price, list: item.Price, cost: item.Cost, per: one, unit: item.Unit}
		if p.unit == "" {
			p.unit = UnitPiece
		}
		return p, true
	}
	found, err := c.book.Find(item.Code, c.req.Date)
	if err != nil {
		problems.add(where.dot("code"), "%v", err)
		return priced{}, false
	}
	if item.Unit != "" && item.Unit != found.Unit {
		problems.add(where.dot("unit"), "%s is priced per %s, not per %s", item.Code, UnitWord(found.Unit), UnitWord(item.Unit))
		return priced{}, false
	}
	if found.Obsolete {
		c.notice(item, found)
	}
	list, cost, tier := found.at(item.Quantity)
	if item.Cost.Currency() != "" {
		cost = item.Cost
	}
	return priced{price: list, list: found.List, cost: cost, per: found.Per, unit: found.Unit, tier: tier, leadWeeks: found.LeadWeeks}, true
}

func (c *calculation) notice(item *Item, p Price) {
	says := p.Code + " is no longer made; order while stock lasts"
	if p.ReplacedBy != "" {
		says = p.Code + " is no longer made; its replacement is " + p.ReplacedBy
	}
	c.quotation.Notices = append(c.quotation.Notices, Notice{Ref: item.Ref, Says: says})
}

func costOf(item *Item, p *priced, line *Line) (lineCost, error) {
	lc := lineCost{byHand: item.PriceReason, list: line.Gross}
	var err error
	if !p.tier.IsZero() {
		if lc.list, err = extend(p.list, line.Quantity, p.per); err != nil {
			return lineCost{}, err
		}
	}
	switch {
	case item.LineCost.Currency() != "":
		lc.cost, lc.known = item.LineCost.Round(), true
	case p.cost.Currency() != "":
		lc.known = true
		lc.cost, err = extend(p.cost, line.Quantity, p.per)
	}
	return lc, err
}
