package electrician

import (
	"fmt"
	"math"
	"strconv"

	"tunwright/configurator"
	"tunwright/configurator/electrical"
	"tunwright/pricing/paper/drawing"
)

// frame is the field of a chart between its axes.
type frame struct {
	d                        *drawing.Drawing
	left, top, right, bottom drawing.MM
	ceiling                  float64
}

func (c frame) y(v float64) drawing.MM {
	return c.bottom - (c.bottom-c.top)*drawing.MM(v/c.ceiling)
}

// newFrame draws the value axis up to a round figure above the greatest value.
func newFrame(d *drawing.Drawing, top float64, symbol string, foot drawing.MM) frame {
	step := niceStep(top * 1.1)
	c := frame{d: d, left: 12, top: 8, right: d.Width - 2, bottom: d.Height - foot, ceiling: math.Max(step, math.Ceil(top*1.1/step)*step)}
	d.Add(drawing.Text{At: drawing.P(c.left-1, c.top-3), Text: symbol, Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Ink})
	for v := 0.0; v <= c.ceiling+1e-9; v += step {
		d.Add(drawing.Line{From: drawing.P(c.left, c.y(v)), To: drawing.P(c.right, c.y(v)), Pen: drawing.Hair},
			drawing.Text{At: drawing.P(c.left-1.2, c.y(v)+0.8), Text: strconv.FormatFloat(v, 'f', -1, 64), Size: drawing.SmallType, Anchor: drawing.End, Colour: drawing.Ink})
	}
	d.Add(drawing.Line{From: drawing.P(c.left, c.bottom), To: drawing.P(c.right, c.bottom), Pen: drawing.Medium})
	return c
}

// niceStep is a round step that divides an axis into at most seven parts.
func niceStep(top float64) float64 {
	if top <= 0 {
		return 1
	}
	raw := top / 7
	power := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= raw {
			return m * power
		}
	}
	return 10 * power
}

// limit draws what the supply leaves as a heavy line with its words.
func (c frame) limit(v float64, words string) {
	c.d.Add(
		drawing.Line{From: drawing.P(c.left, c.y(v)), To: drawing.P(c.right, c.y(v)), Pen: drawing.Pen{Width: 0.6, Colour: drawing.Ink, Dash: drawing.Dashed}},
		drawing.Text{At: drawing.P(c.right, c.y(v)-1.2), Text: words, Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Ink, Halo: true},
	)
}

// DemandChart shows what each line carries in each state of the brew day against what
// the supply leaves for the brewery.
func DemandChart(r configurator.Report, width, height drawing.MM) (drawing.Drawing, error) {
	if r.Electrical == nil || len(r.Electrical.States) == 0 {
		return drawing.Drawing{}, fmt.Errorf("no demand has been worked out")
	}
	chart := Facts(r).Chart()
	top := 0.0
	for _, b := range chart.Bars {
		for _, a := range b.Line {
			top = math.Max(top, a.A())
		}
	}
	if chart.Limit != nil {
		top = math.Max(top, chart.Limit.A())
	}
	d := drawing.Drawing{Width: width, Height: height, Title: "Demand by state", Description: "Line currents in each state of the brew day beside what the supply leaves."}
	c := newFrame(&d, top, "A", 19)
	slot := (c.right - c.left) / drawing.MM(len(chart.Bars))
	for i, b := range chart.Bars {
		c.bars(b, c.left+slot*drawing.MM(i), slot)
	}
	if chart.Limit != nil {
		c.limit(chart.Limit.A(), fmt.Sprintf("left by the supply: %.0f A", chart.Limit.A()))
	} else {
		d.Add(drawing.Text{At: drawing.P(c.right, c.top-3), Text: "what the supply leaves is not known", Size: drawing.SmallType, Bold: true, Anchor: drawing.End, Colour: drawing.Ink})
	}
	x := c.left
	for l := range chart.Bars[0].Line {
		d.Add(drawing.Rect(x, d.Height-4, 6, 3.2, drawing.Fine, drawing.ChartFill(l)), drawing.Text{At: drawing.P(x+7.5, d.Height-1.4), Text: fmt.Sprintf("L%d", l+1), Colour: drawing.Ink})
		x += 16
	}
	return d, nil
}

// bars draws the lines of one state side by side, with the figure over the greatest.
func (c frame) bars(b electrical.Bar, x, slot drawing.MM) {
	each := min((slot-4)/drawing.MM(len(b.Line)), 9)
	left := x + (slot-each*drawing.MM(len(b.Line)))/2
	most := 0
	for l := range b.Line {
		v := b.Line[l].A()
		c.d.Add(drawing.Rect(left+each*drawing.MM(l), c.y(v), each, c.bottom-c.y(v), drawing.Fine, drawing.ChartFill(l)))
		if b.Line[l] > b.Line[most] {
			most = l
		}
	}
	c.d.Add(drawing.Text{At: drawing.P(left+each*(drawing.MM(most)+0.5), c.y(b.Line[most].A())-1.2), Text: fmt.Sprintf("%.1f", b.Line[most].A()), Size: drawing.SmallType, Anchor: drawing.Middle, Bold: b.Binding, Colour: drawing.Ink, Halo: true})
	middle := x + slot/2
	for k, words := range wrap(b.Title, int(slot/1.35)) {
		c.d.Add(drawing.Text{At: drawing.P(middle, c.bottom+3.6+drawing.MM(k)*2.8), Text: words, Size: drawing.SmallType, Anchor: drawing.Middle, Bold: b.Binding, Colour: drawing.Ink})
	}
	c.d.Add(drawing.Text{At: drawing.P(middle, c.bottom+9.6), Text: fmt.Sprintf("%s, %s h", clock(b.Start.H()), strconv.FormatFloat(math.Round(b.Hours.H()*10)/10, 'f', -1, 64)), Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Grey})
}

// wrap breaks words into at most two lines of so many letters.
func wrap(s string, most int) []string {
	if len([]rune(s)) <= most {
		return []string{s}
	}
	cut := -1
	for i, r := range s {
		if r == ' ' && (cut < 0 || i <= len(s)/2+2) {
			cut = i
		}
	}
	if cut < 0 {
		return []string{s}
	}
	return []string{s[:cut], s[cut+1:]}
}

func clock(hours float64) string {
	m := int(math.Round(hours*60)) % (24 * 60)
	return fmt.Sprintf("%02d:%02d", m/60, m%60)
}

// HalfHourChart is the mean power of each half hour of the brew day: what a half-hour
// register would read.
func HalfHourChart(r configurator.Report, width, height drawing.MM) (drawing.Drawing, error) {
	if r.Electrical == nil || len(r.Electrical.Energy.HalfHours) == 0 {
		return drawing.Drawing{}, fmt.Errorf("no energy has been worked out")
	}
	e := &r.Electrical.Energy
	d := drawing.Drawing{Width: width, Height: height, Title: "Half-hour demand", Description: "Mean power of each half hour of a brew day."}
	c := newFrame(&d, e.Peak.KW(), "kW", 8)
	each := (c.right - c.left) / drawing.MM(len(e.HalfHours))
	for i, h := range e.HalfHours {
		x, y := c.left+each*drawing.MM(i), c.y(h.Mean.KW())
		fill := drawing.ChartFill(2)
		if h.Start == e.PeakStart {
			fill = drawing.ChartFill(0)
			d.Add(drawing.Text{At: drawing.P(x+each/2, y-1.2), Text: fmt.Sprintf("%.1f kW from %s", e.Peak.KW(), clock(h.Start.H())), Size: drawing.SmallType, Bold: true, Anchor: anchor(i, len(e.HalfHours)), Colour: drawing.Ink, Halo: true})
		}
		if h.Mean > 0 {
			d.Add(drawing.Rect(x, y, each, c.bottom-y, drawing.Fine, fill))
		}
		if i%4 == 0 {
			d.Add(drawing.Line{From: drawing.P(x, c.bottom), To: drawing.P(x, c.bottom+1), Pen: drawing.Fine},
				drawing.Text{At: drawing.P(x, c.bottom+4), Text: clock(h.Start.H()), Size: drawing.SmallType, Anchor: drawing.Middle, Colour: drawing.Ink})
		}
	}
	return d, nil
}

func anchor(i, n int) drawing.Anchor {
	switch {
	case i < n/6:
		return drawing.Start
	case i > n*5/6:
		return drawing.End
	}
	return drawing.Middle
}
