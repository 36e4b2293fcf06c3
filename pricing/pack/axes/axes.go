// Package axes lays the frame of a chart over hours: the scale of the hours below,
// the scale of the values at the left, plain or logarithmic, and a legend. The curves
// are the builder's own.
//
// Begin with New. It decides no figure.
package axes

import (
	"fmt"
	"math"
	"strconv"

	"tunwright/pricing/paper/drawing"
)

// Frame is a chart's frame.
type Frame struct {
	Left, Top, Right, Bottom drawing.MM
	Hours                    float64 // the span of the axis below
	Low, High                float64 // of the values
	Log                      bool
	Unit                     string    // over the values
	Ticks                    []float64 // values with a line and a label
	Every                    float64   // hours between labels below
	Days                     bool      // labels below count days
}

// X is where an hour stands.
func (f Frame) X(hour float64) drawing.MM {
	return f.Left + (f.Right-f.Left)*drawing.MM(min(max(hour/f.Hours, 0), 1))
}

// Y is where a value stands, held inside the frame.
func (f Frame) Y(v float64) drawing.MM {
	part := 0.0
	switch {
	case f.Log && v > f.Low:
		part = math.Log(v/f.Low) / math.Log(f.High/f.Low)
	case !f.Log:
		part = (v - f.Low) / (f.High - f.Low)
	}
	return f.Bottom - (f.Bottom-f.Top)*drawing.MM(min(max(part, 0), 1))
}

// Check tells whether the frame can be drawn.
func (f Frame) Check() error {
	if f.Hours <= 0 || f.High <= f.Low || f.Log && f.Low <= 0 {
		return fmt.Errorf("chart over %g hours from %g to %g %s: hours and values must rise, and a logarithmic scale begins above zero", f.Hours, f.Low, f.High, f.Unit)
	}
	return nil
}

// Draw is the grid with its labels.
func (f Frame) Draw() drawing.Group {
	g := drawing.Group{Name: "axes", Items: []drawing.Item{
		drawing.Text{At: drawing.P(f.Left-1.2, f.Top-2.2), Text: f.Unit, Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Ink},
	}}
	for _, v := range f.Ticks {
		y := f.Y(v)
		g.Items = append(g.Items,
			drawing.Line{From: drawing.P(f.Left, y), To: drawing.P(f.Right, y), Pen: drawing.Hair},
			drawing.Text{At: drawing.P(f.Left-1.2, y+0.8), Text: number(v), Size: drawing.SmallType, Anchor: drawing.End, Colour: drawing.Ink})
	}
	for h := 0.0; h <= f.Hours+1e-9; h += f.Every {
		x := f.X(h)
		g.Items = append(g.Items, drawing.Line{From: drawing.P(x, f.Bottom), To: drawing.P(x, f.Bottom+1), Pen: drawing.Fine})
		if f.Days {
			g.Items = append(g.Items, drawing.Line{From: drawing.P(x, f.Top), To: drawing.P(x, f.Bottom), Pen: drawing.Hair})
		}
		if label, at := f.label(h); label != "" {
			g.Items = append(g.Items, drawing.Text{At: drawing.P(f.X(at), f.Bottom+4), Text: label, Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Ink})
		}
	}
	return g
}

// label is what stands below an hour, and at which hour: a day's number under its
// middle, an hour of the clock under its tick.
func (f Frame) label(h float64) (string, float64) {
	if !f.Days {
		return fmt.Sprintf("%02.0f:00", h), h
	}
	if h+f.Every > f.Hours+1e-9 {
		return "", h
	}
	return "day " + strconv.Itoa(int(h/24)+1), h + f.Every/2
}

// Base is the line the values stand on.
func (f Frame) Base() drawing.Line {
	return drawing.Line{From: drawing.P(f.Left, f.Bottom), To: drawing.P(f.Right, f.Bottom), Pen: drawing.Fine}
}

// Limit is a line across with its words at the right.
func (f Frame) Limit(v float64, words string) []drawing.Item {
	y := f.Y(v)
	return []drawing.Item{
		drawing.Line{From: drawing.P(f.Left, y), To: drawing.P(f.Right, y), Pen: drawing.Pen{Width: 0.5, Colour: drawing.Black, Dash: drawing.Dashed}},
		drawing.Text{At: drawing.P(f.Right, y-0.9), Text: words, Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Black, Halo: true},
	}
}

// Ticks gives values of 1, 2 or 5 times a power of ten from nought up to the first at
// or above the highest, at most so many, for a plain scale.
func Ticks(highest float64, most int) []float64 {
	if highest <= 0 || most < 2 {
		return []float64{0, 1}
	}
	rough := highest / float64(most-1)
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	step := 10 * power
	for _, m := range []float64{1, 2, 5} {
		if m*power >= rough*(1-1e-9) {
			step = m * power
			break
		}
	}
	var out []float64
	for i := 0; ; i++ {
		v := float64(i) * step
		out = append(out, v)
		if v >= highest*(1-1e-9) {
			return out
		}
	}
}

func number(v float64) string {
	s := strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64)
	if v < 10000 {
		return s
	}
	out := ""
	for i, r := range s {
		if i > 0 && (len(s)-i)%3 == 0 {
			out += "\u00a0"
		}
		out += string(r)
	}
	return out
}

// Key is one entry of a legend: an area or a line.
type Key struct {
	Name string
	Fill drawing.Fill
	Pen  drawing.Pen // drawn as a line where the fill is empty
}

// legendRow is the height of one line of a legend.
const legendRow drawing.MM = 4.6

// Rows is how many lines a legend takes in a width.
func Rows(width drawing.MM, keys []Key) int { return len(share(width, keys)) }

// Legend sets keys in lines no wider than width and says how tall they are.
func Legend(at drawing.Point, width drawing.MM, keys []Key) (drawing.Group, drawing.MM) {
	g := drawing.Group{Name: "legend"}
	rows := share(width, keys)
	for i, row := range rows {
		x, y := at.X, at.Y+legendRow*drawing.MM(i)
		for _, k := range row {
			if k.Fill == (drawing.Fill{}) {
				g.Items = append(g.Items, drawing.Line{From: drawing.P(x, y+1.6), To: drawing.P(x+6, y+1.6), Pen: k.Pen})
			} else {
				g.Items = append(g.Items, drawing.Rect(x, y, 6, 3.2, drawing.Fine, k.Fill))
			}
			g.Items = append(g.Items, drawing.Text{At: drawing.P(x+7.5, y+2.5), Text: k.Name, Size: drawing.SmallType, Colour: drawing.Ink})
			x += wide(k)
		}
	}
	return g, legendRow * drawing.MM(len(rows))
}

func share(width drawing.MM, keys []Key) [][]Key {
	var rows [][]Key
	used := width
	for _, k := range keys {
		w := wide(k)
		if used+w > width {
			rows, used = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], k)
		used += w
	}
	return rows
}

// wide is about how wide an entry is; writers measure, a legend only keeps apart.
func wide(k Key) drawing.MM {
	const perLetter = 0.54 // of the size, for a plain sans serif; common practice, no source
	return 7.5 + drawing.MM(len([]rune(k.Name)))*drawing.SmallType*perLetter + 5
}
