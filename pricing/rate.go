package pricing

import (
	"fmt"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Rate is a dated rate of exchange with a buffer against its movement: one unit of
// From costs Value units of To.
type Rate struct {
	From   money.Currency  `json:"from"`
	To     money.Currency  `json:"to"`
	Value  decimal.Decimal `json:"value"`
	Side   string          `json:"side"`   // bid, mid or ask
	Source string          `json:"source"` // who published it
	Date   Date            `json:"date"`
	Expiry Date            `json:"expiry"` // last day it is used
	Buffer decimal.Decimal `json:"buffer"` // per cent put on top
}

func (r Rate) check() error {
	var problems Problems
	const mostBuffer = 25
	if !r.From.Valid() || !r.To.Valid() || r.From == r.To {
		problems.add("rate", "from %q to %q; two different currencies of ISO 4217", string(r.From), string(r.To))
	}
	if r.Value.Sign() <= 0 || money.CheckDecimal(r.Value) != nil {
		problems.add("rate.value", "%s; above zero", r.Value)
	}
	if r.Source == "" || r.Date.IsZero() {
		problems.add("rate", "source and date are needed: a rate without them cannot be checked")
	}
	if r.Buffer.Sign() < 0 || r.Buffer.Cmp(decimal.New(mostBuffer, 0)) > 0 {
		problems.add("rate.buffer", "%s; between 0 and %d per cent", r.Buffer, mostBuffer)
	}
	return problems.err()
}

// Convert changes an amount at the rate with its buffer, rounded once:
//
//	P = round(C·R·(1 + b/100))
//
// An inverse rate is never made by rounding 1/R: ask for the rate the other way.
// Source: common practice, no source.
func (r Rate) Convert(a money.Amount) (money.Amount, error) {
	if err := r.check(); err != nil {
		return money.Amount{}, err
	}
	if a.Currency() != r.From {
		return money.Amount{}, fmt.Errorf("convert %s: %w: the rate is from %s to %s", a, money.ErrMixed, r.From, r.To)
	}
	exact := a.Decimal().Mul(r.Value).Mul(one.Add(r.Buffer.Shift(-2)))
	converted, err := money.FromDecimal(exact, r.To)
	if err != nil {
		return money.Amount{}, fmt.Errorf("convert %s: %w", a, err)
	}
	return converted.Round(), nil
}

// Moved tells whether today's rate has left the buffer, and by how many per cent it
// has moved from the rate used.
func (r Rate) Moved(now decimal.Decimal) (percent decimal.Decimal, beyond bool, err error) {
	if err := r.check(); err != nil {
		return decimal.Decimal{}, false, err
	}
	if now.Sign() <= 0 || money.CheckDecimal(now) != nil {
		return decimal.Decimal{}, false, fmt.Errorf("rate now %s; above zero", now)
	}
	const places = 4
	percent = now.Sub(r.Value).Shift(2).DivRound(r.Value, places)
	// Compared without the division: |now − used|·100 > used·buffer.
	beyond = now.Sub(r.Value).Abs().Shift(2).Cmp(r.Value.Mul(r.Buffer)) > 0
	return percent, beyond, nil
}

// Holds tells whether the rate may be used on a day.
func (r Rate) Holds(on Date) bool {
	return !on.Before(r.Date) && (r.Expiry.IsZero() || !r.Expiry.Before(on))
}

// Rates are the rates that the house has agreed.
type Rates []Rate

// On returns the newest rate from one currency to another that may be used on a day.
func (rs Rates) On(from, to money.Currency, on Date) (Rate, error) {
	var found Rate
	for _, r := range rs {
		if r.From == from && r.To == to && r.Holds(on) && !r.Date.Before(found.Date) {
			found = r
		}
	}
	if found.From == "" {
		return Rate{}, fmt.Errorf("no rate from %s to %s holds on %s: agree one, with its source and expiry", from, to, on)
	}
	return found, nil
}

// In returns the book in another currency at a dated rate, as a version of its own
// whose name and note say so.
func (b *Book) In(r Rate) (*Book, error) {
	if r.From != b.Currency {
		return nil, fmt.Errorf("price book %s is in %s, the rate from %s", b.ID, b.Currency, r.From)
	}
	h := b.Header
	h.ID = fmt.Sprintf("%s@%s", b.ID, r.To)
	h.Currency = r.To
	h.Note = fmt.Sprintf("%s at %s per %s of %s (%s, %s), buffer %s%%", b.ID, r.Value, r.From, r.Date, r.Source, r.Side, r.Buffer)
	if !r.Expiry.IsZero() && (h.To.IsZero() || r.Expiry.Before(h.To)) {
		h.To = r.Expiry.AddDays(1)
	}
	prices := b.Prices()
	for i := range prices {
		if err := prices[i].convert(r); err != nil {
			return nil, fmt.Errorf("price of %s: %w", prices[i].Code, err)
		}
	}
	return NewBook(h, prices)
}

func (p *Price) convert(r Rate) error {
	breaks := make([]Break, len(p.Breaks))
	copy(breaks, p.Breaks)
	p.Breaks = breaks
	amounts := []*money.Amount{&p.List, &p.Cost}
	for i := range breaks {
		amounts = append(amounts, &breaks[i].List, &breaks[i].Cost)
	}
	for _, a := range amounts {
		if a.Currency() == "" {
			continue
		}
		var err error
		if *a, err = r.Convert(*a); err != nil {
			return err
		}
	}
	return nil
}
