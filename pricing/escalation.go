package pricing

import (
	"fmt"

	"tunwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Index is a published price index that an agreed share of the price follows.
type Index struct {
	Name   string          `json:"name"`   // as its publisher calls it
	Base   decimal.Decimal `json:"base"`   // its value in the base month
	Now    decimal.Decimal `json:"now"`    // its value at the time of adjustment
	Weight decimal.Decimal `json:"weight"` // per cent of the price that follows it
}

// Adjustment is a price adjusted to indices.
type Adjustment struct {
	Base    money.Amount    `json:"base"`
	New     money.Amount    `json:"new"`
	Change  money.Amount    `json:"change"`
	Fixed   decimal.Decimal `json:"fixed"` // per cent that follows no index
	Indices []Index         `json:"indices"`
}

// Escalate adjusts a price by agreed shares of published indices.
//
//	P1 = P0·(a + b·M1/M0 + c·L1/L0)/100,  a + b + c = 100
//
// P0 is the price at the base month, a the fixed per cent, b and c the weights of
// the indices M and L with their values at base (0) and now (1). The names of the
// indices and the base month belong on the quotation.
//
// Source: price adjustment formula of BEAMA for electrical machinery, 2013, with
// a = 5 and b = c = 47.5; the general form is the same.
func Escalate(price money.Amount, fixed decimal.Decimal, indices []Index) (Adjustment, error) {
	var problems Problems
	const hundred, places = 100, 12
	whole := decimal.New(hundred, 0)
	if fixed.Sign() < 0 || money.CheckDecimal(fixed) != nil {
		problems.add("fixed", "%s; 0 or more", fixed)
	}
	sum := fixed
	for i, x := range indices {
		where := fmt.Sprintf("indices[%d]", i)
		if x.Name == "" {
			problems.add(where+".name", "missing; name the index as its publisher does")
		}
		if x.Base.Sign() <= 0 || x.Now.Sign() <= 0 || x.Weight.Sign() <= 0 {
			problems.add(where, "base, now and weight are above zero")
		}
		sum = sum.Add(x.Weight)
	}
	if !sum.Equal(whole) {
		problems.add("weights", "fixed part and weights sum to %s, not to 100", sum)
	}
	if err := problems.err(); err != nil {
		return Adjustment{}, err
	}
	factor := fixed
	for _, x := range indices {
		factor = factor.Add(x.Weight.Mul(x.Now).DivRound(x.Base, places))
	}
	adjusted := price.Percent(factor).Round()
	change, err := adjusted.Sub(price)
	if err != nil {
		return Adjustment{}, err
	}
	return Adjustment{Base: price, New: adjusted, Change: change, Fixed: fixed, Indices: indices}, nil
}
