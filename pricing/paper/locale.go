package paper

import (
	"strconv"
	"time"

	"tunwright/pricing"
	"tunwright/pricing/money"
)

// Locale is the language and country that a paper is written for.
type Locale = money.Locale

// The locales that papers are written in.
const (
	EnGB = money.EnGB
	EnIE = money.EnIE
	EnUS = money.EnUS
	DeDE = money.DeDE
)

// LongDate prints a date with the month in words.
func LongDate(d time.Time, l Locale) string { return pricing.DateOf(d).Long(l) }

// ShortDate prints a date for a narrow place, the month in letters where the order
// of day and month is not the same everywhere.
//
// Source: Unicode CLDR 48.2, dateFormats medium: "d MMM y" (en-GB, en-IE),
// "MMM d, y" (en-US), "dd.MM.y" (de). British English abbreviates September to
// "Sept".
func ShortDate(d time.Time, l Locale) string {
	if l == DeDE {
		return d.Format("02.01.2006")
	}
	day, year := strconv.Itoa(d.Day()), strconv.Itoa(d.Year())
	month := d.Month().String()[:3]
	if l != EnUS && d.Month() == time.September {
		month = "Sept"
	}
	if l == EnUS {
		return month + " " + day + ", " + year
	}
	return day + " " + month + " " + year
}

func printFigure(s string, l Locale) string {
	d, err := money.ParseDecimal(s)
	if err != nil {
		return s
	}
	return money.FormatDecimal(d, places(s), l)
}

func printMoney(s, currency string, l Locale) string {
	a, err := money.New(s, money.Currency(currency))
	if err != nil {
		return s + " " + currency
	}
	return a.Format(l)
}

// places is how many decimals a plain number is written with.
func places(s string) int32 {
	for i := range len(s) {
		if s[i] == '.' {
			return int32(len(s) - i - 1)
		}
	}
	return 0
}
