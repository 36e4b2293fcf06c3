package money

import (
	"cmp"
	"errors"
	"fmt"
	"math/bits"
	"slices"

	"github.com/shopspring/decimal"
)

// Allocate divides a rounded amount into parts in the ratio of the weights, so
// that the parts add up to the amount exactly.
//
//	e_k = |T|·w_k/W,  f_k = ⌊e_k⌋,  r = |T| − Σ f_k
//
// in minor units; the r parts with the largest e_k − f_k get one unit more, the
// earlier part first on a tie, and the sign is put back. A part is less than one
// minor unit away from its exact share, and a weight of zero gets nothing.
//
// Weights are decimals of zero or more, at least one above zero, of at most 18
// digits when written with the same number of places.
//
// Source: the largest-remainder method (Hamilton's method of apportionment).
func (a Amount) Allocate(weights []decimal.Decimal) ([]Amount, error) {
	total, err := a.Minor()
	if err != nil {
		return nil, fmt.Errorf("allocate: %w", err)
	}
	scaled, sum, err := integerWeights(weights)
	if err != nil {
		return nil, fmt.Errorf("allocate %s: %w", a, err)
	}
	parts := largestRemainder(total, scaled, sum)
	out := make([]Amount, len(parts))
	for i, n := range parts {
		out[i] = Amount{value: decimal.New(n, -a.currency.Digits()), currency: a.currency}
	}
	return out, nil
}

// Spread takes the amount off others in the ratio of what they are, by Allocate's
// rule, and returns what is left of each. Where take is false an amount is left
// alone.
func (a Amount) Spread(over []Amount, take func(i int) bool) ([]Amount, error) {
	weights := make([]decimal.Decimal, len(over))
	for i := range over {
		if _, err := common(a, over[i]); err != nil {
			return nil, fmt.Errorf("spread: %w", err)
		}
		if take(i) {
			weights[i] = over[i].value
		}
	}
	total, err := a.Minor()
	if err != nil {
		return nil, fmt.Errorf("spread: %w", err)
	}
	scaled, sum, err := integerWeights(weights)
	if err != nil {
		return nil, fmt.Errorf("spread %s: %w", a, err)
	}
	left := slices.Clone(over)
	for i, part := range largestRemainder(total, scaled, sum) {
		if part == 0 {
			continue
		}
		n, err := over[i].Minor()
		if err != nil {
			return nil, fmt.Errorf("spread %s: %w", a, err)
		}
		left[i] = Amount{value: decimal.New(n-part, -a.currency.Digits()), currency: a.currency}
	}
	return left, nil
}

// Split divides an amount into n parts that differ by one minor unit at most.
func (a Amount) Split(n int) ([]Amount, error) {
	const most = 10_000
	if n < 1 || n > most {
		return nil, fmt.Errorf("split %s into %d parts: between 1 and %d are possible", a, n, most)
	}
	weights := make([]decimal.Decimal, n)
	for i := range weights {
		weights[i] = decimal.New(1, 0)
	}
	return a.Allocate(weights)
}

// integerWeights brings the weights to one exponent.
func integerWeights(weights []decimal.Decimal) ([]uint64, uint64, error) {
	var exponent int32
	for i, w := range weights {
		if err := CheckDecimal(w); err != nil {
			return nil, 0, fmt.Errorf("weight %d: %w", i+1, err)
		}
		if w.Sign() < 0 {
			return nil, 0, fmt.Errorf("weight %d is negative (%s)", i+1, w)
		}
		exponent = min(exponent, w.Exponent())
	}
	var sum uint64
	scaled := make([]uint64, len(weights))
	for i, w := range weights {
		n, ok := scaledUp(w, w.Exponent()-exponent)
		total, carry := bits.Add64(sum, n, 0)
		if !ok || carry != 0 {
			return nil, 0, errors.New("the weights have more than 18 digits together; round them first")
		}
		scaled[i], sum = n, total
	}
	if sum == 0 {
		return nil, 0, errors.New("no weight above zero")
	}
	return scaled, sum, nil
}

// scaledUp returns the coefficient times 10^up where that is a machine integer.
func scaledUp(w decimal.Decimal, up int32) (uint64, bool) {
	if w.IsZero() {
		return 0, true
	}
	if w.NumDigits()+int(up) > shortDigits {
		return 0, false
	}
	return uint64(w.CoefficientInt64()) * powersOfTen[up], true
}

func largestRemainder(total int64, weights []uint64, sum uint64) []int64 {
	size := uint64(total)
	if total < 0 {
		size = -size
	}
	left := size
	parts := make([]int64, len(weights))
	remainders := make([]uint64, len(weights))
	order := make([]int, len(weights))
	sign := int64(1)
	if total < 0 {
		sign = -1
	}
	for i, w := range weights {
		// No overflow: w is at most sum, so that the share is at most size.
		hi, lo := bits.Mul64(size, w)
		share, rest := bits.Div64(hi, lo, sum)
		parts[i], remainders[i], order[i] = sign*int64(share), rest, i
		left -= share
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(remainders[j], remainders[i]) })
	for _, i := range order[:left] {
		parts[i] += sign
	}
	return parts
}
