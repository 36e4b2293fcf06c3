package pricing

import (
	"fmt"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// maxLines bounds a quotation; a whole brewery has some hundred lines.
const maxLines = 5000

// check refuses a request that cannot be priced, naming everything at once.
func (c *calculation) check() error {
	var problems Problems
	c.checkHead(&problems)
	refs := make(map[string]int, len(c.req.Items))
	for i := range c.req.Items {
		c.checkItem(&c.req.Items[i], place{"items", i}, &problems)
		if first, twice := refs[c.req.Items[i].Ref]; twice {
			problems.add(fmt.Sprintf("items[%d].ref", i), "%q is used by items[%d] already", c.req.Items[i].Ref, first)
		}
		refs[c.req.Items[i].Ref] = i
	}
	for i, d := range c.req.Discounts {
		c.checkDiscount(d, fmt.Sprintf("discounts[%d]", i), &problems)
	}
	for i, charge := range c.req.Charges {
		c.checkCharge(charge, fmt.Sprintf("charges[%d]", i), &problems)
	}
	c.checkOutsideScope(&problems)
	c.req.Policy.check(&problems)
	checkStages(c.req.Stages, &problems)
	return problems.err()
}

func (c *calculation) checkHead(problems *Problems) {
	req := c.req
	if c.book == nil {
		problems.add("book", "missing; a quotation is priced from a price book")
		return
	}
	if req.Currency != c.book.Currency {
		problems.add("currency", "the quotation is in %q, price book %s in %s; convert the book at a dated rate first", string(req.Currency), c.book.ID, c.book.Currency)
	}
	if req.Date.IsZero() {
		problems.add("date", "missing; the day whose prices are taken")
	} else if !c.book.Holds(req.Date) {
		problems.add("date", "price book %s does not hold on %s", c.book.ID, req.Date)
	}
	if !req.ValidUntil.IsZero() && req.ValidUntil.Before(req.Date) {
		problems.add("valid_until", "%s is before the date %s", req.ValidUntil, req.Date)
	}
	if len(req.Items) == 0 || len(req.Items) > maxLines {
		problems.add("items", "%d lines; a quotation has between 1 and %d", len(req.Items), maxLines)
	}
	if err := req.Tax.Check(); err != nil {
		problems.add("tax", "%v", err)
	}
}

func (c *calculation) checkItem(item *Item, where place, problems *Problems) {
	if item.Ref == "" {
		problems.add(where.dot("ref"), "missing; name the line so that papers and comparisons can refer to it")
	}
	if item.Description == "" {
		problems.add(where.dot("description"), "missing")
	}
	if !item.Tax.IsZero() {
		if err := item.Tax.Check(); err != nil {
			problems.add(where.dot("tax"), "%v", err)
		}
	}
	for i, d := range item.Discounts {
		c.checkDiscount(d, place{where.dot("discounts"), i}.String(), problems)
	}
	switch item.Kind {
	case ByOthers:
		if item.Interface == "" {
			problems.add(where.dot("interface"), "missing; say where our work ends and the others' begins")
		}
		return
	case Provisional:
		item.Provisional.check(where, problems)
		if item.Provisional != nil {
			c.checkAmount(where, "provisional.amount", item.Provisional.Amount, problems)
		}
		c.checkAmount(where, "cost", item.Cost, problems)
		c.checkAmount(where, "line_cost", item.LineCost, problems)
		if len(item.Discounts) > 0 {
			problems.add(where.dot("discounts"), "a provisional sum is never discounted: it is adjusted to what is spent")
		}
		return
	case Product, Service, Expense:
	default:
		problems.add(where.dot("kind"), "%q is not one of product, service, expense, provisional, by_others", string(item.Kind))
	}
	c.checkPriced(item, where, problems)
}

func (c *calculation) checkPriced(item *Item, where place, problems *Problems) {
	if item.Provisional != nil {
		problems.add(where.dot("provisional"), "only a line of kind provisional has one")
	}
	checkQuantity(where, item.Quantity, problems)
	if item.Unit != "" && !KnownUnit(item.Unit) {
		problems.add(where.dot("unit"), "%q is not a unit code known here; one of %s", item.Unit, unitList())
	}
	c.checkAmount(where, "price", item.Price, problems)
	c.checkAmount(where, "cost", item.Cost, problems)
	c.checkAmount(where, "line_cost", item.LineCost, problems)
	if item.Price.Currency() != "" && item.PriceReason == "" {
		problems.add(where.dot("price_reason"), "missing; say why this price is not the price book's")
	}
}

func (c *calculation) checkAmount(where place, field string, a money.Amount, problems *Problems) {
	if a.Currency() != "" && a.Currency() != c.currency {
		c.inCurrency(where.dot(field), a, problems)
	}
	if a.Sign() < 0 {
		problems.add(where.dot(field), "%s is negative; give a discount instead", a)
	}
}

func checkQuantity(where place, q decimal.Decimal, problems *Problems) {
	const mostDigits = 12
	switch {
	case money.CheckDecimal(q) != nil || q.NumDigits() > mostDigits:
		problems.add(where.dot("quantity"), "out of bounds; at most %d digits", mostDigits)
	case q.Sign() <= 0:
		problems.add(where.dot("quantity"), "%s; a quantity above zero", q)
	}
}

func (c *calculation) inCurrency(where string, a money.Amount, problems *Problems) {
	if a.Currency() != "" && a.Currency() != c.currency {
		problems.add(where, "%s; the quotation is in %s", a, c.currency)
	}
}

func (c *calculation) checkDiscount(d Discount, where string, problems *Problems) {
	const hundred = 100
	byAmount := d.Amount.Currency() != ""
	switch {
	case byAmount && !d.Percent.IsZero():
		problems.add(where, "has a percentage and an amount; give one of them")
	case byAmount && d.Amount.Sign() < 0:
		problems.add(where+".amount", "%s is negative; a surcharge is a charge", d.Amount)
	case d.Percent.Sign() < 0 || d.Percent.Cmp(decimal.New(hundred, 0)) > 0 || money.CheckDecimal(d.Percent) != nil:
		problems.add(where+".percent", "%s; between 0 and 100", d.Percent)
	}
	c.inCurrency(where+".amount", d.Amount, problems)
}

func (c *calculation) checkCharge(charge Charge, where string, problems *Problems) {
	if charge.Reason == "" {
		problems.add(where+".reason", "missing; every charge says what it is for (EN 16931 BR-CO-22)")
	}
	if charge.Amount.Currency() == "" || charge.Amount.Sign() < 0 {
		problems.add(where+".amount", "%s; an amount of zero or more", charge.Amount)
	}
	c.inCurrency(where+".amount", charge.Amount, problems)
	c.inCurrency(where+".cost", charge.Cost, problems)
	if !charge.Tax.IsZero() {
		if err := charge.Tax.Check(); err != nil {
			problems.add(where+".tax", "%v", err)
		}
	}
}

func (p Policy) check(problems *Problems) {
	const hundred = 100
	for _, limit := range []struct {
		field   string
		percent decimal.Decimal
	}{{"margin_floor", p.MarginFloor}, {"discount_cap", p.DiscountCap}, {"provisional_cap", p.ProvisionalCap}} {
		if limit.percent.Sign() < 0 || limit.percent.Cmp(decimal.New(hundred, 0)) >= 0 {
			problems.add("policy."+limit.field, "%s; a percentage from 0 to below 100", limit.percent)
		}
	}
}

// checkOutsideScope applies EN 16931 BR-O-11 to BR-O-14: what is outside the scope
// of VAT does not stand beside what is inside.
func (c *calculation) checkOutsideScope(problems *Problems) {
	inside, outside := false, false
	see := func(tax Tax) {
		if tax.IsZero() {
			tax = c.req.Tax
		}
		outside = outside || tax.Category == TaxOutside
		inside = inside || tax.Category != TaxOutside
	}
	for i := range c.req.Items {
		if c.req.Items[i].Kind != ByOthers {
			see(c.req.Items[i].Tax)
		}
	}
	for _, charge := range c.req.Charges {
		see(charge.Tax)
	}
	if inside && outside {
		problems.add("tax", "category O stands beside other categories; quote what is outside the scope of VAT separately (EN 16931 BR-O-11 to BR-O-14)")
	}
}
