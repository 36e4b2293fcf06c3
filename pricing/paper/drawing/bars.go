package drawing

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"
)

// BarSchedule is bars over days, weeks or months: which tank holds which beer, which
// task runs when.
type BarSchedule struct {
	Title, Description string
	Width              MM
	From, To           time.Time // To is the first moment no longer shown
	Rows               []BarRow
	Marks              []TimeMark
	Keys               []Key
	Week               string                 // word before a week's number; "wk" when empty
	Day                func(time.Time) string // prints a day on the axis; "2 Jan" when nil
}

// BarRow is one line of a bar schedule.
type BarRow struct {
	Label string
	Bars  []Bar
}

// Bar is a span of time. Outline draws it with a dashed edge, for what is only
// possible, such as float.
type Bar struct {
	From, To time.Time
	Label    string
	Fill     Fill
	Outline  bool
}

// TimeMark is a line across all rows, such as the opening day.
type TimeMark struct {
	At    time.Time
	Label string
}

const (
	barRow   MM = 6.2
	barThick MM = 4
	barHead  MM = 11
)

// Split shares the rows among schedules that are each at most so tall, for pages.
func (b BarSchedule) Split(tallest MM) ([]BarSchedule, error) {
	const marks MM = 6
	_, keys := legend(P(0, 0), b.Width/2, b.Keys)
	perSheet := int((tallest - barHead - marks - keys) / barRow)
	if perSheet < 1 {
		return nil, fmt.Errorf("bar schedule %q: %.0f mm is too low for a row and the legend", b.Title, float64(tallest))
	}
	if len(b.Rows) <= perSheet {
		return []BarSchedule{b}, nil
	}
	sheets := (len(b.Rows) + perSheet - 1) / perSheet
	even := (len(b.Rows) + sheets - 1) / sheets
	var out []BarSchedule
	for rows := range slices.Chunk(b.Rows, even) {
		part := b
		part.Rows = rows
		out = append(out, part)
	}
	return out, nil
}

// Draw makes the drawing.
func (b BarSchedule) Draw() (Drawing, error) {
	if !b.From.Before(b.To) {
		return Drawing{}, fmt.Errorf("bar schedule %q: ends %s, before it begins %s", b.Title, b.To.Format(time.DateOnly), b.From.Format(time.DateOnly))
	}
	labels := make([]string, len(b.Rows))
	for i, r := range b.Rows {
		labels[i] = r.Label
	}
	left := widest(Lettering, labels...) + 3
	if left > b.Width*0.6 {
		return Drawing{}, errors.New("bar schedule " + strconv.Quote(b.Title) + ": the labels take more than half of the width; shorten them")
	}
	d := Drawing{Width: b.Width, Title: b.Title, Description: b.Description}
	bottom := barHead + barRow*MM(len(b.Rows))
	chart := barChart{BarSchedule: b, left: left, width: b.Width - left, head: barHead, bottom: bottom}
	d.Add(chart.axis())
	for i, r := range b.Rows {
		d.Add(chart.row(i, r))
	}
	d.Add(chart.marks()...)
	d.Add(Line{From: P(0, bottom), To: P(b.Width, bottom), Pen: Fine})
	foot := bottom + 2
	if len(b.Marks) > 0 {
		foot += 4
	}
	keys, tall := legend(P(left, foot), chart.width, b.Keys)
	d.Add(keys)
	d.Height = foot + tall
	return d, nil
}

type barChart struct {
	BarSchedule
	left, width, head, bottom MM
}

// x is where a moment stands, held inside the chart.
func (c barChart) x(t time.Time) MM {
	part := float64(t.Sub(c.From)) / float64(c.To.Sub(c.From))
	return c.left + c.width*MM(min(1, max(0, part)))
}

// axis draws the grid: days within a fortnight, weeks within forty, else months,
// with the dates above.
func (c barChart) axis() Group {
	g := Group{Name: "axis"}
	ticks, minor := c.ticks()
	last := MM(-100)
	for _, t := range ticks {
		x := c.x(t.at)
		g.Items = append(g.Items, Line{From: P(x, c.head-4), To: P(x, c.bottom), Pen: Hair})
		wide := max(widest(SmallType, t.upper, t.lower)+1.5, 6)
		if x-last < wide || x+wide > c.left+c.width {
			continue
		}
		last = x
		g.Items = append(g.Items,
			Text{At: P(x+0.6, c.head-5), Text: t.upper, Size: SmallType, Bold: true, Colour: Ink},
			Text{At: P(x+0.6, c.head-1.6), Text: t.lower, Size: SmallType, Colour: Grey})
	}
	for _, t := range minor {
		x := c.x(t)
		g.Items = append(g.Items, Line{From: P(x, c.head-1), To: P(x, c.head), Pen: Hair})
	}
	g.Items = append(g.Items, Line{From: P(0, c.head), To: P(c.left+c.width, c.head), Pen: Fine})
	return g
}

type tick struct {
	at           time.Time
	upper, lower string
}

func (c barChart) ticks() (major []tick, minor []time.Time) {
	const day = 24 * time.Hour
	days := int(c.To.Sub(c.From) / day)
	start := time.Date(c.From.Year(), c.From.Month(), c.From.Day(), 0, 0, 0, 0, c.From.Location())
	for t := start; t.Before(c.To); t = t.AddDate(0, 0, 1) {
		if t.Before(c.From) {
			continue
		}
		switch {
		case days <= 14, days <= 280 && t.Weekday() == time.Monday:
			major = append(major, tick{t, c.weekLabel(t), c.day(t)})
		case days > 280 && t.Day() == 1:
			major = append(major, tick{t, strconv.Itoa(t.Year()), c.day(t)})
		case days <= 98:
			minor = append(minor, t)
		}
	}
	return major, minor
}

// weekLabel is the number of the week by ISO 8601: weeks begin on Monday, week 1
// has the year's first Thursday.
func (c barChart) weekLabel(t time.Time) string {
	_, week := t.ISOWeek()
	word := c.Week
	if word == "" {
		word = "wk"
	}
	return word + " " + strconv.Itoa(week)
}

func (c barChart) day(t time.Time) string {
	if c.Day != nil {
		return c.Day(t)
	}
	return t.Format("2 Jan")
}

func (c barChart) row(i int, r BarRow) Group {
	top := c.head + barRow*MM(i)
	g := Group{Name: r.Label, Items: []Item{
		Text{At: P(0, top+barRow/2+1), Text: r.Label, Colour: Ink},
		Line{From: P(0, top+barRow), To: P(c.left+c.width, top+barRow), Pen: Hair},
	}}
	for _, bar := range r.Bars {
		from, to := c.x(bar.From), c.x(bar.To)
		if to <= from {
			continue
		}
		pen := Fine
		if bar.Outline {
			pen.Dash = Dashed
		}
		g.Items = append(g.Items, Rect(from, top+(barRow-barThick)/2, to-from, barThick, pen, bar.Fill))
		if label, ok := fitting(bar.Label, to-from-1); ok {
			g.Items = append(g.Items, Text{
				At: P((from+to)/2, top+barRow/2+0.9), Text: label, Size: SmallType, Anchor: Middle,
				Colour: Ink, Halo: bar.Fill.Hatch != NoHatch || dark(bar.Fill),
			})
		}
	}
	return g
}

// fitting is the label if there is room for it, else its first letters.
func fitting(label string, room MM) (string, bool) {
	if label == "" {
		return "", false
	}
	if roughWidth(label, SmallType) <= room {
		return label, true
	}
	letters := []rune(label)
	n := int(room/(SmallType*perLetter)) - 1
	if n < 2 || n >= len(letters) {
		return "", false
	}
	return string(letters[:n]) + "…", true
}

func dark(f Fill) bool {
	return f.Solid && int(f.Colour.R)+int(f.Colour.G)+int(f.Colour.B) < 3*128
}

func (c barChart) marks() []Item {
	var out []Item
	for _, m := range c.Marks {
		x := c.x(m.At)
		anchor := Middle
		switch half := roughWidth(m.Label, SmallType) / 2; {
		case x+half > c.left+c.width:
			anchor = End
		case x-half < c.left:
			anchor = Start
		}
		out = append(out,
			Line{From: P(x, c.head-4), To: P(x, c.bottom+1.5), Pen: Pen{Width: 0.5, Colour: Black, Dash: Dashed}},
			Text{At: P(x, c.bottom+4.2), Text: m.Label, Size: SmallType, Anchor: anchor, Bold: true, Colour: Black})
	}
	return out
}
