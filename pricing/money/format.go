package money

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"
)

// Locale is the language and country that a paper is written for. The zero value
// is British English.
type Locale uint8

// The locales that papers are written in.
const (
	EnGB Locale = iota
	EnIE
	EnUS
	DeDE
)

// convention is how a locale writes numbers.
//
// Source: Unicode CLDR 48, numbers/{symbols,currencyFormats,percentFormats} of
// en-GB, en-IE, en-US and de-DE.
type convention struct {
	tag         string
	group       string
	point       string
	symbolLast  bool
	percentTail string
	symbols     map[Currency]string
}

const noBreakSpace = "\u00a0"

var conventions = [...]convention{
	EnGB: {tag: "en-GB", group: ",", point: ".", percentTail: "%", symbols: englishSymbols},
	EnIE: {tag: "en-IE", group: ",", point: ".", percentTail: "%", symbols: englishSymbols},
	EnUS: {tag: "en-US", group: ",", point: ".", percentTail: "%", symbols: americanSymbols},
	DeDE: {tag: "de-DE", group: ".", point: ",", symbolLast: true, percentTail: noBreakSpace + "%", symbols: germanSymbols},
}

var (
	englishSymbols = map[Currency]string{
		"GBP": "£", "EUR": "€", "USD": "US$", "CAD": "CA$", "AUD": "A$", "NZD": "NZ$", "JPY": "JP¥",
	}
	americanSymbols = map[Currency]string{
		"GBP": "£", "EUR": "€", "USD": "$", "CAD": "CA$", "AUD": "A$", "NZD": "NZ$", "JPY": "¥",
	}
	germanSymbols = map[Currency]string{
		"GBP": "£", "EUR": "€", "USD": "$", "CAD": "CA$", "AUD": "AU$", "NZD": "NZ$", "JPY": "¥",
	}
)

// ParseLocale reads a language tag such as "en-GB".
func ParseLocale(tag string) (Locale, error) {
	known := make([]string, len(conventions))
	for i, c := range conventions {
		if strings.EqualFold(c.tag, tag) {
			return Locale(i), nil
		}
		known[i] = c.tag
	}
	return EnGB, fmt.Errorf("unknown locale %q; one of %s", clip(tag), strings.Join(known, ", "))
}

func (l Locale) convention() *convention {
	if int(l) < len(conventions) {
		return &conventions[l]
	}
	return &conventions[EnGB]
}

// String returns the language tag.
func (l Locale) String() string { return l.convention().tag }

// MarshalText writes the language tag.
func (l Locale) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads a language tag.
func (l *Locale) UnmarshalText(text []byte) error {
	parsed, err := ParseLocale(string(text))
	if err != nil {
		return err
	}
	*l = parsed
	return nil
}

// Format prints the amount for a reader: £1,234.50 or 1.234,50 €. It prints the
// decimals of the minor unit, more if the amount is finer, and never rounds. A
// code that stands in for a symbol is set off by a no-break space.
func (a Amount) Format(l Locale) string {
	c := l.convention()
	number := grouped(a.value.Abs().StringFixed(a.places()), c)
	sign := ""
	if a.value.Sign() < 0 {
		sign = "-"
	}
	if a.currency == "" {
		return sign + number
	}
	symbol, ok := c.symbols[a.currency]
	switch {
	case c.symbolLast && ok:
		return sign + number + noBreakSpace + symbol
	case c.symbolLast:
		return sign + number + noBreakSpace + string(a.currency)
	case ok:
		return sign + symbol + number
	}
	return sign + string(a.currency) + noBreakSpace + number
}

// FormatNumber prints the amount without its currency, for a column whose heading
// names it.
func (a Amount) FormatNumber(l Locale) string { return FormatDecimal(a.value, a.places(), l) }

// FormatDecimal prints a number with at least so many decimals, more if it is finer.
func FormatDecimal(d decimal.Decimal, places int32, l Locale) string {
	if d.Exponent() < -places {
		places = max(places, -d.Normalize().Exponent())
	}
	number := grouped(d.Abs().StringFixed(places), l.convention())
	if d.Sign() < 0 {
		return "-" + number
	}
	return number
}

// FormatPercent prints a number of per cent: 13.5% or 13,5 %.
func FormatPercent(p decimal.Decimal, l Locale) string {
	return FormatDecimal(p, 0, l) + l.convention().percentTail
}

// grouped puts the separators into a plain number without sign.
func grouped(plain string, c *convention) string {
	whole, fraction, point := strings.Cut(plain, ".")
	var b strings.Builder
	for i := range len(whole) {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteString(c.group)
		}
		b.WriteByte(whole[i])
	}
	if point {
		b.WriteString(c.point)
		b.WriteString(fraction)
	}
	return b.String()
}
