// Package money holds exact amounts: a decimal number together with its currency.
//
// There is no way in from a floating-point number and none out. An amount keeps
// every decimal place until Round, which rounds half away from zero to the minor
// unit of the currency; a price line is rounded once and totals add rounded lines.
// Shares of an amount (payment stages, a discount split by tax rate) are made by
// Allocate, whose parts always add up.
//
// Mixing currencies is an error, never a panic and never a silent conversion.
//
// Begin with New and Parse; Format prints for a reader, String for a log.
package money

import (
	"errors"
	"fmt"
	"strings"

	"github.com/shopspring/decimal"
)

// ErrMixed says that two amounts are not in the same currency.
var ErrMixed = errors.New("amounts in different currencies")

// ErrNotAmount says that a text is not an amount of money.
var ErrNotAmount = errors.New("not an amount")

const (
	// maxWhole and maxPlaces bound what is read: no brewery costs a thousand
	// million million, and bounded numbers keep every calculation small.
	maxWhole  = 15
	maxPlaces = 8
)

// Amount is a sum of money. The zero value is "no money yet": it is zero, has no
// currency, and may be added to an amount of any currency.
type Amount struct {
	value    decimal.Decimal
	currency Currency
}

// New reads a plain decimal such as "12345.50" in the currency.
func New(s string, c Currency) (Amount, error) {
	if !c.Valid() {
		return Amount{}, fmt.Errorf("amount %q: %w: %q", s, ErrCurrency, string(c))
	}
	d, err := ParseDecimal(s)
	if err != nil {
		return Amount{}, fmt.Errorf("%w: %w", ErrNotAmount, err)
	}
	return Amount{value: d, currency: c}, nil
}

// FromMinor makes an amount of n minor units: 1250 pence are 12.50 pounds.
func FromMinor(n int64, c Currency) (Amount, error) {
	if !c.Valid() {
		return Amount{}, fmt.Errorf("amount of %d minor units: %w: %q", n, ErrCurrency, string(c))
	}
	return Amount{value: decimal.New(n, -c.Digits()), currency: c}, nil
}

// FromDecimal makes an amount of an exact decimal number.
func FromDecimal(d decimal.Decimal, c Currency) (Amount, error) {
	if !c.Valid() {
		return Amount{}, fmt.Errorf("amount: %w: %q", ErrCurrency, string(c))
	}
	if err := CheckDecimal(d); err != nil {
		return Amount{}, fmt.Errorf("%w: %w", ErrNotAmount, err)
	}
	return Amount{value: d, currency: c}, nil
}

// Zero is no money in a currency.
func Zero(c Currency) Amount {
	return Amount{value: decimal.New(0, -c.Digits()), currency: c}
}

// ParseDecimal reads a plain decimal number with a point: digits, at most one
// point, perhaps a minus sign; no exponent, no separators, bounded in length.
func ParseDecimal(s string) (decimal.Decimal, error) {
	if !plainDecimal(s) {
		return decimal.Decimal{}, fmt.Errorf("%q is not a plain decimal number; write it like 1234.50, at most %d digits before the point and %d behind", clip(s), maxWhole, maxPlaces)
	}
	d, err := decimal.NewFromString(s)
	if err != nil {
		return decimal.Decimal{}, fmt.Errorf("%q is not a plain decimal number; write it like 1234.50", clip(s))
	}
	return d, nil
}

func plainDecimal(s string) bool {
	whole, fraction, point := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	if point && len(fraction) == 0 {
		return false
	}
	return len(whole) >= 1 && len(whole) <= maxWhole && len(fraction) <= maxPlaces && onlyDigits(whole) && onlyDigits(fraction)
}

func onlyDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// clip shortens a text for an error message.
func clip(s string) string {
	const limit = 40
	if len(s) <= limit {
		return s
	}
	return strings.ToValidUTF8(s[:limit], "") + "…"
}

// CheckDecimal refuses numbers beyond the bounds of ParseDecimal, so that a huge
// exponent from outside cannot make the arithmetic slow.
func CheckDecimal(d decimal.Decimal) error {
	const maxExponent = 40 // products of two bounded numbers stay well inside
	if e := d.Exponent(); e < -maxExponent || e > maxWhole {
		return fmt.Errorf("number with exponent %d is out of bounds", e)
	}
	if int64(d.NumDigits())+int64(d.Exponent()) > 2*maxWhole {
		return errors.New("number too large")
	}
	return nil
}

// Currency returns the currency; empty for the zero Amount.
func (a Amount) Currency() Currency { return a.currency }

// Decimal returns the exact number without its currency.
func (a Amount) Decimal() decimal.Decimal { return a.value }

// Minor returns the amount in minor units. An amount finer than the minor unit is
// an error: round it first.
func (a Amount) Minor() (int64, error) {
	n, ok := minorOf(a.value, a.currency.Digits())
	if ok {
		return n, nil
	}
	shifted := a.value.Shift(a.currency.Digits())
	if !shifted.IsInteger() {
		return 0, fmt.Errorf("%s is finer than the minor unit; round it first", a)
	}
	if b := shifted.BigInt(); b.IsInt64() {
		return b.Int64(), nil
	}
	return 0, fmt.Errorf("%s does not fit in minor units", a)
}

// Fixed returns the number with the decimals of the currency, more if it is finer.
func (a Amount) Fixed() string { return a.value.StringFixed(a.places()) }

// places is the number of decimals to print: the minor unit's, more where the
// amount is finer. Trailing zeros beyond the minor unit are not printed.
func (a Amount) places() int32 {
	digits := a.currency.Digits()
	if a.value.Exponent() >= -digits {
		return digits
	}
	return max(digits, -a.value.Normalize().Exponent())
}

// String prints the code and the number: "GBP 12.50". Use Format for a reader.
func (a Amount) String() string {
	if a.currency == "" {
		return a.value.String()
	}
	return string(a.currency) + " " + a.Fixed()
}
