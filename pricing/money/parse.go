package money

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ErrAmbiguous says that a typed number has two readings, such as "1,234".
var ErrAmbiguous = errors.New("this number can be read in two ways")

// Parse reads what a person types into a form: "1,234.50", "1.234,50", "1 234,5",
// "1'234.50", "1234.5 EUR", "-12". A currency sign or code must agree
// with c. One separator followed by three digits ("1,234") has two readings and is
// refused with both named; nothing is guessed.
func Parse(text string, c Currency) (Amount, error) {
	if !c.Valid() {
		return Amount{}, fmt.Errorf("amount %q: %w: %q", clip(text), ErrCurrency, string(c))
	}
	const longest = 64
	if len(text) > longest {
		return Amount{}, fmt.Errorf("%w: %q is too long", ErrNotAmount, clip(text))
	}
	bare, err := withoutCurrency(text, c)
	if err != nil {
		return Amount{}, err
	}
	plain, err := plainNumber(bare)
	if err != nil {
		return Amount{}, fmt.Errorf("%q: %w", text, err)
	}
	return New(plain, c)
}

// signs are what people write for a currency, longer ones first. A dollar sign
// alone is read as the US dollar.
var signs = []struct {
	text     string
	currency Currency
}{
	{"US$", USD},
	{"CA$", "CAD"},
	{"NZ$", "NZD"},
	{"AU$", "AUD"},
	{"A$", "AUD"},
	{"JP¥", "JPY"},
	{"£", GBP},
	{"€", EUR},
	{"$", USD},
	{"¥", "JPY"},
}

// withoutCurrency strips white space and a currency sign or code in front or behind.
func withoutCurrency(text string, c Currency) (string, error) {
	s := strings.Map(func(r rune) rune {
		switch r {
		case ' ', '\t', '\u00a0', '\u202f', '\u2009':
			return ' '
		case '\u2212':
			return '-'
		}
		return r
	}, text)
	s = strings.TrimSpace(s)
	minus := ""
	if rest, ok := strings.CutPrefix(s, "-"); ok {
		minus, s = "-", strings.TrimSpace(rest)
	}
	rest, found, ok := cutSign(s)
	if ok && found != c {
		return "", fmt.Errorf("%w: %q is in %s where %s is asked for", ErrMixed, clip(text), found, c)
	}
	if ok {
		s = strings.TrimSpace(rest)
	}
	if inner, ok := strings.CutPrefix(s, "-"); ok && minus == "" {
		minus, s = "-", inner
	}
	return minus + s, nil
}

func cutSign(s string) (rest string, c Currency, ok bool) {
	for _, sign := range signs {
		if rest, ok := strings.CutPrefix(s, sign.text); ok {
			return rest, sign.currency, true
		}
		if rest, ok := strings.CutSuffix(s, sign.text); ok {
			return rest, sign.currency, true
		}
	}
	const codeLen = 3
	if len(s) > codeLen {
		if c := Currency(strings.ToUpper(s[:codeLen])); c.Valid() {
			return s[codeLen:], c, true
		}
		if c := Currency(strings.ToUpper(s[len(s)-codeLen:])); c.Valid() {
			return s[:len(s)-codeLen], c, true
		}
	}
	return s, "", false
}

// plainNumber turns digits with separators into a plain decimal with a point.
func plainNumber(s string) (string, error) {
	minus := ""
	if rest, ok := strings.CutPrefix(s, "-"); ok {
		minus, s = "-", rest
	}
	digits, marks := numberParts(s)
	if digits == nil {
		return "", fmt.Errorf("%w; write it like 1234.50 or 1234,50", ErrNotAmount)
	}
	if len(marks) == 0 {
		return minus + digits[0], nil
	}
	last := marks[len(marks)-1]
	firsts := marks[:len(marks)-1]
	asGroups := allSame(marks) && goodGroups(digits)
	asFraction := isPoint(last) && allSame(firsts) && !slices.Contains(firsts, last) && (len(firsts) == 0 || goodGroups(digits[:len(digits)-1]))
	whole := strings.Join(digits[:len(digits)-1], "")
	fraction := digits[len(digits)-1]
	switch {
	case asGroups && asFraction:
		return "", fmt.Errorf("%w: %s%s (thousands) or %s%s.%s (a fraction); write it without a thousands mark", ErrAmbiguous, minus, whole+fraction, minus, whole, fraction)
	case asGroups:
		return minus + whole + fraction, nil
	case asFraction:
		return minus + whole + "." + fraction, nil
	}
	return "", fmt.Errorf("%w: the separators do not make groups of three; write it like 1234.50 or 1234,50", ErrNotAmount)
}

// numberParts cuts at the separators; nil when there is anything else in between.
func numberParts(s string) (digits []string, marks []byte) {
	start := 0
	for i := range len(s) {
		switch s[i] {
		case ',', '.', ' ', '\'':
			if i == start {
				return nil, nil
			}
			digits, marks = append(digits, s[start:i]), append(marks, s[i])
			start = i + 1
		default:
			if s[i] < '0' || s[i] > '9' {
				return nil, nil
			}
		}
	}
	if start == len(s) {
		return nil, nil
	}
	return append(digits, s[start:]), marks
}

func isPoint(mark byte) bool { return mark == ',' || mark == '.' }

func allSame(marks []byte) bool {
	for _, m := range marks {
		if m != marks[0] {
			return false
		}
	}
	return true
}

// goodGroups tells whether the parts are one to three digits without a leading
// zero, then groups of exactly three.
func goodGroups(digits []string) bool {
	if len(digits[0]) > 3 || digits[0][0] == '0' {
		return false
	}
	for _, d := range digits[1:] {
		if len(d) != 3 {
			return false
		}
	}
	return true
}
