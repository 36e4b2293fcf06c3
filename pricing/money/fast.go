package money

import (
	"math"
	"math/bits"

	"github.com/shopspring/decimal"
)

// The functions of this file give what decimal's own would. Numbers of up to 18
// digits, and so all usual prices, take a short way over machine integers, which
// makes a quotation several times faster to price; longer ones go the long way.

var powersOfTen = [...]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18}

const shortDigits = 18

// short returns the size and the sign of the coefficient of a short number.
func short(d decimal.Decimal) (size uint64, negative, ok bool) {
	if d.NumDigits() > shortDigits {
		return 0, false, false
	}
	n := d.CoefficientInt64()
	if n < 0 {
		return uint64(-n), true, true
	}
	return uint64(n), false, true
}

func signed(size uint64, negative bool) (int64, bool) {
	if size > math.MaxInt64 {
		return 0, false
	}
	if negative {
		return -int64(size), true
	}
	return int64(size), true
}

// scaled returns (hi, lo)·10^-drop rounded half away from zero.
func scaled(hi, lo uint64, drop int32) (uint64, bool) {
	if drop <= 0 {
		if hi != 0 || drop < -shortDigits {
			return 0, false
		}
		over, size := bits.Mul64(lo, powersOfTen[-drop])
		return size, over == 0
	}
	if drop > shortDigits {
		return 0, false
	}
	return divided(hi, lo, powersOfTen[drop])
}

// divided returns (hi, lo)/by rounded half away from zero.
func divided(hi, lo, by uint64) (uint64, bool) {
	if hi >= by {
		return 0, false
	}
	whole, rest := bits.Div64(hi, lo, by)
	if rest >= by-rest {
		whole++
	}
	return whole, whole != 0 || rest < by-rest // false when the increment wrapped round
}

// roundHalfAway rounds to so many decimals, halves away from zero.
func roundHalfAway(d decimal.Decimal, places int32) decimal.Decimal {
	drop := -places - d.Exponent()
	if drop <= 0 {
		return d
	}
	size, negative, ok := short(d)
	if !ok {
		return d.Round(places)
	}
	if size, ok = scaled(0, size, drop); !ok {
		return d.Round(places)
	}
	n, _ := signed(size, negative)
	return decimal.New(n, -places)
}

// product returns x·y·10^shift in units of 10^-places, halves away from zero.
func product(x, y decimal.Decimal, shift, places int32) (int64, bool) {
	a, aNegative, aShort := short(x)
	b, bNegative, bShort := short(y)
	if !aShort || !bShort {
		return 0, false
	}
	hi, lo := bits.Mul64(a, b)
	size, ok := scaled(hi, lo, -places-x.Exponent()-y.Exponent()-shift)
	if !ok {
		return 0, false
	}
	return signed(size, aNegative != bNegative)
}

// quotient returns x/y·10^shift with so many decimals, halves away from zero.
func quotient(x, y decimal.Decimal, shift, places int32) decimal.Decimal {
	a, aNegative, aShort := short(x)
	b, bNegative, bShort := short(y)
	up := x.Exponent() - y.Exponent() + shift + places
	if aShort && bShort && up >= 0 && up <= shortDigits {
		hi, lo := bits.Mul64(a, powersOfTen[up])
		if size, ok := divided(hi, lo, b); ok {
			if n, ok := signed(size, aNegative != bNegative); ok {
				return decimal.New(n, -places)
			}
		}
	}
	return x.DivRound(y.Shift(-shift), places)
}

// minorOf returns d in units of 10^-digits when that is a whole number and short.
func minorOf(d decimal.Decimal, digits int32) (int64, bool) {
	up := d.Exponent() + digits
	if up < 0 || up > 6 || d.NumDigits() > 12 {
		return 0, false
	}
	return d.CoefficientInt64() * int64(powersOfTen[up]), true
}
