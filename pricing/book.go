package pricing

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// ErrNoPrice says that a price book holds no price for a code on a day.
var ErrNoPrice = errors.New("no price")

// Price is what a product costs to buy and sells for during a period.
type Price struct {
	Code       string
	Note       string
	Unit       string          // UN/ECE Recommendation 20 code, C62 when empty
	Per        decimal.Decimal // the quantity that List and Cost are for; zero means 1
	List       money.Amount
	Cost       money.Amount // the zero Amount when nobody has entered it
	From       Date         // first day; the book's when empty
	To         Date         // first day it no longer holds; open when empty
	Breaks     []Break      // better prices for larger quantities, ascending
	LeadWeeks  int          // from order to dispatch; 0 means not stated
	Obsolete   bool
	ReplacedBy string
}

// Break is the price from a quantity on.
type Break struct {
	Quantity decimal.Decimal
	List     money.Amount
	Cost     money.Amount // the price's own when zero
}

// Header is what a price book says of itself.
type Header struct {
	ID       string // names this version for ever
	Currency money.Currency
	From     Date // first day it may be quoted from
	To       Date // first day it no longer may; open when empty
	Note     string
}

// Book is one version of the price list, in one currency. It never changes; a new
// price is a new version. Make one with NewBook or ReadBook.
type Book struct {
	Header
	prices []Price          // by code, then From
	byCode map[string][]int // code to places in prices
}

// NewBook checks the prices and makes a book of them.
func NewBook(h Header, prices []Price) (*Book, error) {
	var problems Problems
	h.check(&problems)
	b := &Book{Header: h, prices: slices.Clone(prices), byCode: make(map[string][]int, len(prices))}
	for i := range b.prices {
		p := &b.prices[i]
		p.fill(h)
		p.check(h, &problems)
	}
	slices.SortStableFunc(b.prices, func(p, q Price) int {
		return cmp.Or(cmp.Compare(p.Code, q.Code), cmp.Compare(p.From.number(), q.From.number()))
	})
	for i, p := range b.prices {
		if i > 0 && b.prices[i-1].Code == p.Code && (b.prices[i-1].To.IsZero() || p.From.Before(b.prices[i-1].To)) {
			problems.add("prices."+p.Code, "two prices hold on %s; end the earlier one with to: %s", p.From, p.From)
		}
		b.byCode[p.Code] = append(b.byCode[p.Code], i)
	}
	for _, p := range b.prices {
		if _, there := b.byCode[p.ReplacedBy]; p.ReplacedBy != "" && !there {
			problems.add("prices."+p.Code+".replaced_by", "%s is not in this book", p.ReplacedBy)
		}
	}
	if err := problems.err(); err != nil {
		return nil, err
	}
	return b, nil
}

func (h Header) check(problems *Problems) {
	if h.ID == "" {
		problems.add("book", "missing; give this version a name of its own, such as 2026-spring")
	}
	if !h.Currency.Valid() {
		problems.add("currency", "%q is not a currency code; write GBP, EUR or another of ISO 4217", string(h.Currency))
	}
	if h.From.IsZero() {
		problems.add("from", "missing; the first day this book may be quoted from")
	}
	if !h.To.IsZero() && !h.From.Before(h.To) {
		problems.add("to", "%s is not after from (%s); it is the first day the book no longer holds", h.To, h.From)
	}
}

// fill puts the usual values where nothing is said.
func (p *Price) fill(h Header) {
	if p.From.IsZero() {
		p.From = h.From
	}
	if p.Per.IsZero() {
		p.Per = decimal.New(1, 0)
	}
	if p.Unit == "" {
		p.Unit = UnitPiece
	}
}

func (p Price) check(h Header, problems *Problems) {
	at := "prices." + p.Code
	if err := CheckCode(p.Code); err != nil {
		problems.add(at, "%v", err)
	}
	checkPrice(at+".list", p.List, h.Currency, true, problems)
	checkPrice(at+".cost", p.Cost, h.Currency, false, problems)
	if p.Per.Sign() <= 0 {
		problems.add(at+".per", "%s is not above zero", p.Per)
	}
	if !KnownUnit(p.Unit) {
		problems.add(at+".unit", "%q is not a unit code known here; one of %s", p.Unit, unitList())
	}
	if !p.To.IsZero() && !p.From.Before(p.To) {
		problems.add(at+".to", "%s is not after from (%s)", p.To, p.From)
	}
	const longestLead = 260
	if p.LeadWeeks < 0 || p.LeadWeeks > longestLead {
		problems.add(at+".lead_weeks", "%d; between 0 and %d", p.LeadWeeks, longestLead)
	}
	if p.ReplacedBy == p.Code && p.Code != "" {
		problems.add(at+".replaced_by", "a product cannot replace itself")
	}
	last := decimal.New(0, 0)
	for i, b := range p.Breaks {
		where := fmt.Sprintf("%s.breaks[%d]", at, i)
		if b.Quantity.Cmp(last) <= 0 {
			problems.add(where+".quantity", "%s; quantities are above zero and rise", b.Quantity)
		}
		last = b.Quantity
		checkPrice(where+".list", b.List, h.Currency, true, problems)
		checkPrice(where+".cost", b.Cost, h.Currency, false, problems)
	}
}

func checkPrice(where string, a money.Amount, c money.Currency, required bool, problems *Problems) {
	switch {
	case a.Currency() == "" && !required:
	case a.Currency() == "":
		problems.add(where, "missing; a price such as \"1250.00\"")
	case a.Currency() != c && c.Valid():
		problems.add(where, "in %s, the book is in %s", a.Currency(), c)
	case a.Sign() < 0:
		problems.add(where, "%s is negative", a)
	}
}

// Find returns the price of a code on a day.
func (b *Book) Find(code string, on Date) (Price, error) {
	places := b.byCode[code]
	if len(places) == 0 {
		return Price{}, fmt.Errorf("%w for %s in price book %s; add it to the book or price the line by hand", ErrNoPrice, code, b.ID)
	}
	for _, i := range places {
		if on.within(b.prices[i].From, b.prices[i].To) {
			return b.prices[i], nil
		}
	}
	return Price{}, fmt.Errorf("%w for %s on %s in price book %s; it has one from %s", ErrNoPrice, code, on, b.ID, b.prices[places[0]].From)
}

// Holds tells whether the book may be quoted from on a day.
func (b *Book) Holds(on Date) bool { return on.within(b.From, b.To) }

// Prices returns all prices by code and date.
func (b *Book) Prices() []Price { return slices.Clone(b.prices) }

// at returns list price, cost and the break used for an ordered quantity.
func (p *Price) at(quantity decimal.Decimal) (list, cost money.Amount, tier decimal.Decimal) {
	list, cost = p.List, p.Cost
	for _, b := range p.Breaks {
		if quantity.Cmp(b.Quantity) < 0 {
			break
		}
		list, tier = b.List, b.Quantity
		if b.Cost.Currency() != "" {
			cost = b.Cost
		}
	}
	return list, cost, tier
}

// Shelf holds the versions of the price list.
type Shelf []*Book

// On returns the book that holds on a day in a currency. Two that do are an error.
func (s Shelf) On(c money.Currency, on Date) (*Book, error) {
	var found *Book
	for _, b := range s {
		if b.Currency != c || !b.Holds(on) {
			continue
		}
		if found != nil {
			return nil, fmt.Errorf("price books %s and %s both hold in %s on %s; end one of them", found.ID, b.ID, c, on)
		}
		found = b
	}
	if found == nil {
		return nil, fmt.Errorf("%w: no price book in %s holds on %s", ErrNoPrice, c, on)
	}
	return found, nil
}

// CheckCode refuses what cannot be a product code: letters, digits and - _ . / only.
func CheckCode(code string) error {
	const longest = 64
	if code == "" || len(code) > longest {
		return fmt.Errorf("a product code has 1 to %d characters", longest)
	}
	for _, r := range code {
		switch {
		case r >= 'A' && r <= 'Z', r >= 'a' && r <= 'z', r >= '0' && r <= '9', r == '-', r == '_', r == '.', r == '/':
		default:
			return fmt.Errorf("product code %q: %q is not allowed; letters, digits and - _ . / are", code, r)
		}
	}
	return nil
}
