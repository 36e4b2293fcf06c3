package pricing

import (
	"fmt"
	"time"

	"tunwright/pricing/money"
)

// Date is a day of the calendar, without a time of day and without a time zone.
// The zero value is "no date".
type Date struct {
	year  int
	month time.Month
	day   int
}

// NewDate makes a date and refuses days that do not exist.
func NewDate(year int, month time.Month, day int) (Date, error) {
	t := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	if t.Year() != year || t.Month() != month || t.Day() != day || year < 1900 || year > 2999 {
		return Date{}, fmt.Errorf("there is no day %04d-%02d-%02d between 1900 and 2999", year, int(month), day)
	}
	return Date{year, month, day}, nil
}

// DateOf is the day that t shows on the calendar of its own time zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// ParseDate reads an ISO 8601 calendar date, 2026-01-31.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return Date{}, fmt.Errorf("%.20q is not a date; write year-month-day, such as 2026-01-31", s)
	}
	return NewDate(t.Date())
}

// IsZero tells whether there is no date.
func (d Date) IsZero() bool { return d == Date{} }

// Time is midnight UTC at the start of the day.
func (d Date) Time() time.Time { return time.Date(d.year, d.month, d.day, 0, 0, 0, 0, time.UTC) }

// AddDays returns the day n days later.
func (d Date) AddDays(n int) Date { return DateOf(d.Time().AddDate(0, 0, n)) }

// DaysUntil counts the days from d to e.
func (d Date) DaysUntil(e Date) int { return int(e.Time().Sub(d.Time()).Hours() / 24) }

// Before tells whether d is an earlier day than e.
func (d Date) Before(e Date) bool { return d.number() < e.number() }

// number orders dates.
func (d Date) number() int { return (d.year*100+int(d.month))*100 + d.day }

// within tells whether d lies in the half-open period [from, to); an empty end is open.
func (d Date) within(from, to Date) bool {
	return !d.Before(from) && (to.IsZero() || d.Before(to))
}

// String prints the ISO form; nothing for no date.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.year, int(d.month), d.day)
}

var germanMonths = [...]string{
	"Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember",
}

// Long prints the date with the month as a word, so that nobody takes the day for
// the month: "5 January 2025", "January 5, 2025", "5. Januar 2025".
//
// Source: Unicode CLDR 48, date formats "long" of the locales.
func (d Date) Long(l money.Locale) string {
	switch {
	case d.IsZero():
		return ""
	case l == money.EnUS:
		return fmt.Sprintf("%s %d, %d", d.month, d.day, d.year)
	case l == money.DeDE:
		return fmt.Sprintf("%d. %s %d", d.day, germanMonths[d.month-1], d.year)
	}
	return fmt.Sprintf("%d %s %d", d.day, d.month, d.year)
}

// MarshalText writes the ISO form.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the ISO form; empty text is no date.
func (d *Date) UnmarshalText(text []byte) error {
	if len(text) == 0 {
		*d = Date{}
		return nil
	}
	parsed, err := ParseDate(string(text))
	if err != nil {
		return err
	}
	*d = parsed
	return nil
}
