package money

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// common finds the currency of two operands; an amount without one takes the other's.
func common(a, b Amount) (Currency, error) {
	switch {
	case a.currency == b.currency, b.currency == "" && b.value.IsZero():
		return a.currency, nil
	case a.currency == "" && a.value.IsZero():
		return b.currency, nil
	}
	return "", fmt.Errorf("%w: %s and %s; convert one at a stated rate first", ErrMixed, a, b)
}

// Add returns a + b.
func (a Amount) Add(b Amount) (Amount, error) {
	c, err := common(a, b)
	if err != nil {
		return Amount{}, err
	}
	return Amount{value: a.value.Add(b.value), currency: c}, nil
}

// Sub returns a − b.
func (a Amount) Sub(b Amount) (Amount, error) {
	c, err := common(a, b)
	if err != nil {
		return Amount{}, err
	}
	return Amount{value: a.value.Sub(b.value), currency: c}, nil
}

// Neg returns −a.
func (a Amount) Neg() Amount { return Amount{value: a.value.Neg(), currency: a.currency} }

// Abs returns the amount without its sign.
func (a Amount) Abs() Amount { return Amount{value: a.value.Abs(), currency: a.currency} }

// Sign is −1, 0 or +1.
func (a Amount) Sign() int { return a.value.Sign() }

// IsZero tells whether there is no money.
func (a Amount) IsZero() bool { return a.value.IsZero() }

// Mul returns a × q exactly, with q a quantity or a ratio.
func (a Amount) Mul(q decimal.Decimal) Amount {
	return Amount{value: a.value.Mul(q), currency: a.currency}
}

// Percent returns p per cent of a exactly: Percent(20) is a fifth.
func (a Amount) Percent(p decimal.Decimal) Amount {
	return Amount{value: a.value.Mul(p).Shift(-2), currency: a.currency}
}

// MulRound returns a × q rounded once to the minor unit, half away from zero.
func (a Amount) MulRound(q decimal.Decimal) Amount {
	places := a.currency.Digits()
	if n, ok := product(a.value, q, 0, places); ok {
		return Amount{value: decimal.New(n, -places), currency: a.currency}
	}
	return a.Mul(q).Round()
}

// PercentRound returns p per cent of a, rounded once to the minor unit.
func (a Amount) PercentRound(p decimal.Decimal) Amount {
	places := a.currency.Digits()
	if n, ok := product(a.value, p, -2, places); ok {
		return Amount{value: decimal.New(n, -places), currency: a.currency}
	}
	return a.Percent(p).Round()
}

// DivRound returns a / q with the stated number of decimals, half away from zero.
func (a Amount) DivRound(q decimal.Decimal, places int32) (Amount, error) {
	if q.IsZero() {
		return Amount{}, fmt.Errorf("divide %s: the divisor is zero", a)
	}
	return Amount{value: quotient(a.value, q, 0, places), currency: a.currency}, nil
}

// Ratio returns a / b with the stated number of decimals, half away from zero.
func (a Amount) Ratio(b Amount, places int32) (decimal.Decimal, error) { return a.over(b, 0, places) }

// PercentOf returns 100·a / b with the stated number of decimals, half away from zero.
func (a Amount) PercentOf(b Amount, places int32) (decimal.Decimal, error) {
	return a.over(b, 2, places)
}

func (a Amount) over(b Amount, shift, places int32) (decimal.Decimal, error) {
	if _, err := common(a, b); err != nil {
		return decimal.Decimal{}, err
	}
	if b.value.IsZero() {
		return decimal.Decimal{}, fmt.Errorf("ratio of %s to nothing", a)
	}
	return quotient(a.value, b.value, shift, places), nil
}

// Round returns a rounded to the minor unit, halves away from zero: 2.345 pounds
// are 2.35 and −2.345 are −2.35.
//
// Source: Council Regulation (EC) No 1103/97 art. 5 for the euro (an exact half is
// rounded up); the same is used for every currency.
func (a Amount) Round() Amount { return a.RoundTo(a.currency.Digits()) }

// RoundTo rounds to the stated number of decimals, halves away from zero.
func (a Amount) RoundTo(places int32) Amount {
	return Amount{value: roundHalfAway(a.value, places), currency: a.currency}
}

// Cmp returns −1, 0 or +1 as a is less than, equal to or more than b.
func (a Amount) Cmp(b Amount) (int, error) {
	if _, err := common(a, b); err != nil {
		return 0, err
	}
	return a.value.Cmp(b.value), nil
}

// Equal tells whether a and b are the same amount in the same currency.
func (a Amount) Equal(b Amount) bool {
	return a.currency == b.currency && a.value.Equal(b.value)
}

// Tally adds amounts of one currency and keeps the first error for the end, so
// that a long sum reads as a list. Make one with NewTally.
type Tally struct {
	currency Currency
	minor    int64           // what could be added as whole minor units
	rest     decimal.Decimal // everything else
	hasRest  bool
	err      error
}

// NewTally begins a sum at zero.
func NewTally(c Currency) Tally { return Tally{currency: c} }

// Add counts amounts in.
func (t *Tally) Add(amounts ...Amount) {
	for _, a := range amounts {
		t.take(a, 1)
	}
}

// Sub counts amounts out.
func (t *Tally) Sub(amounts ...Amount) {
	for _, a := range amounts {
		t.take(a, -1)
	}
}

func (t *Tally) take(a Amount, sign int64) {
	if a.currency != t.currency && (a.currency != "" || !a.value.IsZero()) {
		if t.err == nil {
			t.err = fmt.Errorf("%w: %s in a sum in %s", ErrMixed, a, t.currency)
		}
		return
	}
	const roomy = 1 << 61 // far from overflow with one more term of 18 digits
	if n, ok := minorOf(a.value, t.currency.Digits()); ok && t.minor < roomy && t.minor > -roomy {
		t.minor += sign * n
		return
	}
	t.rest = t.rest.Add(a.value.Mul(decimal.New(sign, 0)))
	t.hasRest = true
}

// Total returns the sum, or the first error met on the way.
func (t *Tally) Total() (Amount, error) {
	if t.err != nil {
		return Amount{}, t.err
	}
	sum := decimal.New(t.minor, -t.currency.Digits())
	if t.hasRest {
		sum = sum.Add(t.rest)
	}
	return Amount{value: sum, currency: t.currency}, nil
}

// Sum adds amounts of one currency; the sum of none is zero.
func Sum(c Currency, amounts ...Amount) (Amount, error) {
	t := NewTally(c)
	t.Add(amounts...)
	return t.Total()
}
