package paper

import (
	"strconv"
	"time"

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

var (
	englishMonths = [...]string{
		"January", "February", "March", "April", "May", "June",
		"July", "August", "September", "October", "November", "December",
	}
	germanMonths = [...]string{
		"Januar", "Februar", "März", "April", "Mai", "Juni",
		"Juli", "August", "September", "Oktober", "November", "Dezember",
	}
)

// LongDate prints a date with the month in words.
//
// Source: Unicode CLDR 48.2, calendars/gregorian/dateFormats long: "d MMMM y"
// (en-GB, en-IE), "MMMM d, y" (en-US), "d. MMMM y" (de).
func LongDate(d time.Time, l Locale) string {
	day, year := strconv.Itoa(d.Day()), strconv.Itoa(d.Year())
	switch l {
	case EnUS:
		return englishMonths[d.Month()-1] + " " + day + ", " + year
	case DeDE:
		return day + ". " + germanMonths[d.Month()-1] + " " + year
	}
	return day + " " + englishMonths[d.Month()-1] + " " + year
}

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
	month := englishMonths[d.Month()-1][:3]
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
