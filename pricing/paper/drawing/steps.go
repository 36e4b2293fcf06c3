package drawing

import (
	"fmt"
	"math"
	"strconv"
)

// StepChart is stacked steps over the hours of a day or more: who draws how much,
// and the limit all together must stay below.
type StepChart struct {
	Title, Description string
	Width, Height      MM
	Unit               string // of the values, such as "kW"
	FirstHour          int    // hour of the day that the first value stands for
	Series             []Series
	Limit              Value // none when zero
	LimitLabel         string
	PeakLabel          string // word before the greatest sum; none when empty
	DayLabel           string // word before a day's number, for charts over days
	Point              string // decimal sign; "." when empty
}

// Series is one consumer: a value for each hour.
type Series struct {
	Name   string
	Values []Value
}

// Draw makes the drawing.
func (s StepChart) Draw() (Drawing, error) {
	hours, err := s.hours()
	if err != nil {
		return Drawing{}, fmt.Errorf("step chart %q: %w", s.Title, err)
	}
	sums, peak := s.sums(hours)
	top := max(peak, s.Limit)
	step := niceStep(top*1.08, 7)
	ceiling := Value(math.Ceil(float64(top*1.08/step))) * step
	if ceiling == 0 {
		ceiling = step
	}
	keys := make([]Key, len(s.Series))
	for i, series := range s.Series {
		keys[i] = Key{Name: series.Name, Fill: ChartFill(i)}
	}
	left := widest(SmallType, tickLabel(ceiling, step, s.Point)) + 3
	d := Drawing{Width: s.Width, Height: s.Height, Title: s.Title, Description: s.Description}
	_, tall := legend(P(left, 0), s.Width-left, keys)
	p := plot{left: left, top: 6, width: s.Width - left - 5, bottom: s.Height - tall - 7, hours: hours, ceiling: ceiling}
	if p.bottom-p.top < 20 {
		return Drawing{}, fmt.Errorf("step chart %q: %.0f mm of height leave no room for the steps above the legend; make it taller", s.Title, s.Height)
	}
	d.Add(s.grid(p, step))
	d.Add(s.stack(p)...)
	d.Add(s.limit(p)...)
	d.Add(s.peak(p, sums, peak, step)...)
	d.Add(Line{From: P(p.left, p.bottom), To: P(p.left+p.width, p.bottom), Pen: Fine})
	drawn, _ := legend(P(left, s.Height-tall), s.Width-left, keys)
	d.Add(drawn)
	return d, nil
}

func (s StepChart) hours() (int, error) {
	if len(s.Series) == 0 || len(s.Series[0].Values) == 0 {
		return 0, fmt.Errorf("no values")
	}
	hours := len(s.Series[0].Values)
	for _, series := range s.Series {
		if len(series.Values) != hours {
			return 0, fmt.Errorf("%q has %d hours and %q has %d; they must be alike", series.Name, len(series.Values), s.Series[0].Name, hours)
		}
		for h, v := range series.Values {
			if !(v >= 0) || math.IsInf(float64(v), 0) {
				return 0, fmt.Errorf("%q hour %d is %v; a load is zero or more", series.Name, h, float64(v))
			}
		}
	}
	return hours, nil
}

// sums adds the series hour by hour and finds the greatest sum.
func (s StepChart) sums(hours int) (sums []Value, peak Value) {
	sums = make([]Value, hours)
	for _, series := range s.Series {
		for h, v := range series.Values {
			sums[h] += v
			peak = max(peak, sums[h])
		}
	}
	return sums, peak
}

type plot struct {
	left, top, width, bottom MM
	hours                    int
	ceiling                  Value
}

func (p plot) x(hour int) MM { return p.left + p.width*MM(hour)/MM(p.hours) }

func (p plot) y(v Value) MM { return p.bottom - (p.bottom-p.top)*MM(v/p.ceiling) }

func (s StepChart) grid(p plot, step Value) Group {
	g := Group{Name: "axes", Items: []Item{Text{At: P(p.left, p.top-2.5), Text: s.Unit, Size: SmallType, Bold: true, Anchor: End, Colour: Ink}}}
	for i := 0; Value(i)*step <= p.ceiling*(1+1e-9); i++ {
		v := Value(i) * step
		g.Items = append(g.Items,
			Line{From: P(p.left, p.y(v)), To: P(p.left+p.width, p.y(v)), Pen: Hair},
			Text{At: P(p.left-1.2, p.y(v)+0.8), Text: tickLabel(v, step, s.Point), Size: SmallType, Anchor: End, Colour: Ink})
	}
	every := 1
	for _, e := range []int{1, 2, 3, 6, 12, 24} {
		if every = e; p.width*MM(e)/MM(p.hours) >= 8 {
			break
		}
	}
	for h := 0; h <= p.hours; h++ {
		clock := s.FirstHour + h
		if clock%every != 0 {
			continue
		}
		label := fmt.Sprintf("%02d:00", clock%24)
		if s.DayLabel != "" && clock%24 == 0 {
			label = s.DayLabel + " " + strconv.Itoa(clock/24+1)
		}
		g.Items = append(g.Items,
			Line{From: P(p.x(h), p.bottom), To: P(p.x(h), p.bottom+1), Pen: Fine},
			Text{At: P(p.x(h), p.bottom+4), Text: label, Size: SmallType, Anchor: Middle, Colour: Ink})
	}
	return g
}

// stack draws each series as an area between the sum below it and its own.
func (s StepChart) stack(p plot) []Item {
	floor := make([]Value, p.hours)
	var out []Item
	for i, series := range s.Series {
		g := Group{Name: series.Name}
		for h := 0; h < p.hours; {
			if series.Values[h] == 0 {
				h++
				continue
			}
			end := h
			for end < p.hours && series.Values[end] > 0 {
				end++
			}
			g.Items = append(g.Items, Polygon{Points: p.band(floor, series.Values, h, end), Pen: Fine, Fill: ChartFill(i)})
			h = end
		}
		for h, v := range series.Values {
			floor[h] += v
		}
		out = append(out, g)
	}
	return out
}

// band is the outline of a series over the hours from h to end.
func (p plot) band(floor, values []Value, h, end int) []Point {
	var upper, lower []Point
	for k := h; k < end; k++ {
		top, bottom := p.y(floor[k]+values[k]), p.y(floor[k])
		upper = append(upper, P(p.x(k), top), P(p.x(k+1), top))
		lower = append(lower, P(p.x(k), bottom), P(p.x(k+1), bottom))
	}
	for i := len(lower) - 1; i >= 0; i-- {
		upper = append(upper, lower[i])
	}
	return upper
}

func (s StepChart) limit(p plot) []Item {
	if s.Limit == 0 {
		return nil
	}
	y := p.y(s.Limit)
	return []Item{
		Line{From: P(p.left, y), To: P(p.left+p.width, y), Pen: Pen{Width: 0.7, Colour: Black, Dash: Dashed}},
		Text{At: P(p.left+p.width, y-1), Text: s.LimitLabel, Size: SmallType, Bold: true, Anchor: End, Colour: Black, Halo: true},
	}
}

// peak points out the first hour of the greatest sum.
func (s StepChart) peak(p plot, sums []Value, peak, step Value) []Item {
	if s.PeakLabel == "" {
		return nil
	}
	for h, sum := range sums {
		if sum != peak {
			continue
		}
		x := (p.x(h) + p.x(h+1)) / 2
		y := p.y(peak)
		label := s.PeakLabel + " " + tickLabel(peak, step/100, s.Point) + " " + s.Unit
		anchor := Middle
		if x > p.left+p.width/2 {
			anchor = End
		} else if x < p.left+p.width/4 {
			anchor = Start
		}
		return []Item{
			Polygon{Points: []Point{{x, y - 0.4}, {x - 1.2, y - 2.2}, {x + 1.2, y - 2.2}}, Fill: Tint(Black)},
			Text{At: P(x, y-3), Text: label, Size: SmallType, Bold: true, Anchor: anchor, Colour: Black, Halo: true},
		}
	}
	return nil
}
