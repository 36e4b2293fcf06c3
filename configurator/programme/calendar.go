package programme

import (
	"fmt"
	"slices"
	"strconv"
)

// Date is a day of the civil calendar, counted from 1 January 1970. The zero value
// means that no date is set.
type Date int

// On makes a date from year, month 1…12 and day.
func On(year, month, day int) (Date, error) {
	if month < 1 || month > 12 || day < 1 || day > monthDays(year, month) || year < 1971 || year > 2199 {
		return 0, fmt.Errorf("%04d-%02d-%02d is not a date between 1971 and 2199", year, month, day)
	}
	// days from civil: the year begins in March, so that the leap day comes last
	y := year
	if month <= 2 {
		y--
	}
	era := y / 400
	yoe := y - era*400
	doy := (153*((month+9)%12)+2)/5 + day - 1
	return Date(era*146097 + yoe*365 + yoe/4 - yoe/100 + doy - 719468), nil
}

// ParseDate reads 2026-11-25.
func ParseDate(s string) (Date, error) {
	var y, m, d int
	if n, err := fmt.Sscanf(s, "%4d-%2d-%2d", &y, &m, &d); err != nil || n != 3 || len(s) != 10 {
		return 0, fmt.Errorf("%q is not a date: write it as 2026-11-25", s)
	}
	return On(y, m, d)
}

func monthDays(y, m int) int {
	switch m {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if y%4 == 0 && (y%100 != 0 || y%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

// Civil gives year, month and day.
func (d Date) Civil() (year, month, day int) {
	z := int(d) + 719468
	era := z / 146097
	doe := z - era*146097
	yoe := (doe - doe/1460 + doe/36524 - doe/146096) / 365
	doy := doe - (365*yoe + yoe/4 - yoe/100)
	mp := (5*doy + 2) / 153
	day = doy - (153*mp+2)/5 + 1
	month = mp + 3
	if mp >= 10 {
		month = mp - 9
	}
	year = yoe + era*400
	if month <= 2 {
		year++
	}
	return year, month, day
}

// Weekday counts from 0 for Sunday.
func (d Date) Weekday() int { return ((int(d)+4)%7 + 7) % 7 }

// String prints 2026-11-25; an unset date prints nothing.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	y, m, day := d.Civil()
	digits := []byte("0000-00-00")
	digits[0], digits[1], digits[2], digits[3] = byte('0'+y/1000), byte('0'+y/100%10), byte('0'+y/10%10), byte('0'+y%10)
	digits[5], digits[6], digits[8], digits[9] = byte('0'+m/10), byte('0'+m%10), byte('0'+day/10), byte('0'+day%10)
	return string(digits)
}

var months = [...]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"}

// Words prints 25 November 2026.
func (d Date) Words() string {
	if d == 0 {
		return "not set"
	}
	y, m, day := d.Civil()
	return strconv.Itoa(day) + " " + months[m-1] + " " + strconv.Itoa(y)
}

// Calendar tells which days are worked. Build it with NewCalendar.
type Calendar struct {
	first, last Date
	everyDay    bool // no day is free, nothing below is filled
	// before counts the days worked before each day of the span; worked lists them.
	before []int32
	worked []Date
}

// NewCalendar lays out the working days from first to last. Saturdays and Sundays
// are free unless everyDay is set; holidays are free where everyDay is not set.
func NewCalendar(first, last Date, holidays []Date, everyDay bool) (Calendar, error) {
	if last < first || last-first > 40*366 {
		return Calendar{}, fmt.Errorf("calendar from %s to %s: the end must follow the beginning within 40 years", first, last)
	}
	if everyDay {
		return Calendar{first: first, last: last, everyDay: true}, nil
	}
	free := append([]Date(nil), holidays...)
	slices.Sort(free)
	c := Calendar{first: first, last: last, before: make([]int32, 0, last-first+2), worked: make([]Date, 0, last-first+1)}
	at, w := 0, first.Weekday()
	for d := first; d <= last; d++ {
		for at < len(free) && free[at] < d {
			at++
		}
		c.before = append(c.before, int32(len(c.worked)))
		if w != 0 && w != 6 && (at == len(free) || free[at] != d) {
			c.worked = append(c.worked, d)
		}
		if w++; w == 7 {
			w = 0
		}
	}
	c.before = append(c.before, int32(len(c.worked)))
	return c, nil
}

// covers tells whether a calendar of working days holds a span.
func (c *Calendar) covers(first, last Date) bool {
	return c.before != nil && c.first <= first && last <= c.last
}

// Works tells whether a day is worked.
func (c *Calendar) Works(d Date) bool {
	if c.everyDay {
		return d >= c.first && d <= c.last
	}
	i := int(d - c.first)
	return i >= 0 && i+1 < len(c.before) && c.before[i+1] > c.before[i]
}

// next is the first day worked from a day on, itself where it is worked; the day
// itself where the calendar ends before.
func (c *Calendar) next(d Date) Date {
	for n := d; n <= c.last; n++ {
		if c.Works(n) {
			return n
		}
	}
	return d
}

// previous is the last day worked up to a day, itself where it is worked.
func (c *Calendar) previous(d Date) Date {
	for n := d; n >= c.first; n-- {
		if c.Works(n) {
			return n
		}
	}
	return d
}

// Count gives the days worked from one day up to but without another; it is
// negative where to lies before from.
func (c *Calendar) Count(from, to Date) int { return c.index(to) - c.index(from) }

func (c *Calendar) index(d Date) int {
	i := min(max(int(d-c.first), 0), int(c.last-c.first)+1)
	if c.everyDay {
		return i
	}
	return int(c.before[i])
}

// day gives the n-th worked day of the span.
func (c *Calendar) day(n int) (Date, error) {
	switch {
	case c.everyDay && n >= 0 && n <= int(c.last-c.first):
		return c.first + Date(n), nil
	case !c.everyDay && n >= 0 && n < len(c.worked):
		return c.worked[n], nil
	}
	return 0, fmt.Errorf("the programme runs out of its calendar from %s to %s: give dates nearer to each other", c.first, c.last)
}

// forward gives the first and the day after the last worked day of a task of n days
// that cannot begin before from.
func (c *Calendar) forward(from Date, n int) (start, end Date, err error) {
	if n == 0 {
		return from, from, nil
	}
	i := c.index(from)
	if start, err = c.day(i); err != nil {
		return 0, 0, err
	}
	last, err := c.day(i + n - 1)
	return start, last + 1, err
}

// backward gives the same for a task that must be over at the beginning of a day.
func (c *Calendar) backward(to Date, n int) (start, end Date, err error) {
	if n == 0 {
		return to, to, nil
	}
	i := c.index(to)
	last, err := c.day(i - 1)
	if err != nil {
		return 0, 0, err
	}
	start, err = c.day(i - n)
	return start, last + 1, err
}

// Add gives the day n working days after a day: the day on which a task of n days
// begun on that day is over at the start of work.
func (c *Calendar) Add(d Date, n int) (Date, error) {
	if n >= 0 {
		_, end, err := c.forward(d, n)
		return end, err
	}
	start, _, err := c.backward(d, -n)
	return start, err
}
