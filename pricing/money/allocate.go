package money

import (
	"errors"
	"fmt"
	"math/big"
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
// Weights are decimals of zero or more, at least one above zero.
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
	parts, err := largestRemainder(total, scaled, sum)
	if err != nil {
		return nil, fmt.Errorf("allocate %s: %w", a, err)
	}
	out := make([]Amount, len(parts))
	for i, n := range parts {
		out[i] = Amount{value: decimal.New(n, -a.currency.Digits()), currency: a.currency}
	}
	return out, nil
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
func integerWeights(weights []decimal.Decimal) ([]*big.Int, *big.Int, error) {
	var exponent int32
	for i, w := range weights {
		if err := CheckDecimal(w); err != nil {
			return nil, nil, fmt.Errorf("weight %d: %w", i+1, err)
		}
		if w.Sign() < 0 {
			return nil, nil, fmt.Errorf("weight %d is negative (%s)", i+1, w)
		}
		exponent = min(exponent, w.Exponent())
	}
	sum := new(big.Int)
	scaled := make([]*big.Int, len(weights))
	for i, w := range weights {
		scaled[i] = w.Shift(-exponent).BigInt()
		sum.Add(sum, scaled[i])
	}
	if sum.Sign() == 0 {
		return nil, nil, errors.New("no weight above zero")
	}
	return scaled, sum, nil
}

func largestRemainder(total int64, weights []*big.Int, sum *big.Int) ([]int64, error) {
	size := new(big.Int).Abs(big.NewInt(total))
	left := new(big.Int).Set(size)
	parts := make([]int64, len(weights))
	remainders := make([]*big.Int, len(weights))
	for i, w := range weights {
		share, rest := new(big.Int), new(big.Int)
		share.QuoRem(new(big.Int).Mul(size, w), sum, rest)
		if !share.IsInt64() {
			return nil, errors.New("too large to divide")
		}
		parts[i], remainders[i] = share.Int64(), rest
		left.Sub(left, share)
	}
	order := make([]int, len(weights))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return remainders[j].Cmp(remainders[i]) })
	for _, i := range order[:left.Int64()] {
		parts[i]++
	}
	if total < 0 {
		for i := range parts {
			parts[i] = -parts[i]
		}
	}
	return parts, nil
}
