package gassafety

import (
	"fmt"

	"tunwright/configurator/air"
	"tunwright/pricing/pack/axes"
	"tunwright/pricing/pack/say"
	"tunwright/pricing/paper"
	"tunwright/pricing/paper/drawing"
)

// chartWidth is the width of both charts on the sheet.
const chartWidth drawing.MM = 170

// figure puts a chart on the page, or says why it could not be drawn.
func figure(d drawing.Drawing, err error) func(string) paper.Block {
	return func(caption string) paper.Block {
		if err != nil {
			return say.Note("The chart could not be drawn: %s.", err)
		}
		return paper.Figure{Drawing: d, Caption: caption}
	}
}

// Week draws the gas of the week hour by hour: what comes into the room and, where the
// blow-offs are piped, what is led outdoors.
func Week(g air.GasResult) (drawing.Drawing, error) {
	if len(g.Hours) == 0 {
		return drawing.Drawing{}, fmt.Errorf("no hours of the week are known for %s", g.Name)
	}
	into := drawing.Series{Name: "into the room", Values: make([]drawing.Value, len(g.Hours))}
	out := drawing.Series{Name: "led outdoors", Values: make([]drawing.Value, len(g.Hours))}
	piped := false
	for i, h := range g.Hours {
		into.Values[i] = drawing.Value(h.Room.KgH())
		out.Values[i] = drawing.Value(max(h.Open.KgH()-h.Room.KgH(), 0))
		piped = piped || out.Values[i] > 0
	}
	c := drawing.StepChart{
		Title: "Carbon dioxide of the week", Description: "Gas given off in each hour of the busiest week.", Width: chartWidth, Height: 56,
		Unit: "kg/h", Series: []drawing.Series{into}, PeakLabel: "peak", DayLabel: "day",
	}
	if piped {
		c.Series = append(c.Series, out)
	}
	return c.Draw()
}

// The scale of the concentration: from fresh air to air that nobody survives.
const (
	freshAir = 400.0     // ppm, below outdoor air with 420
	deadly   = 200_000.0 // ppm
)

// Course draws the concentration over the week with the fan and without, against the
// limits, on a logarithmic scale.
func Course(g air.GasResult, limits []air.Limit) (drawing.Drawing, error) {
	if len(g.Hours) == 0 {
		return drawing.Drawing{}, fmt.Errorf("no hours of the week are known for %s", g.Name)
	}
	highest := 0.0
	for _, l := range limits {
		highest = max(highest, l.Share.PPM())
	}
	for _, h := range g.Hours {
		highest = max(highest, h.PPM.PPM(), h.FanOff.PPM())
	}
	f := axes.Frame{
		Left: 15, Top: 6, Right: chartWidth - 2, Bottom: 66, Hours: float64(len(g.Hours)), Low: freshAir, High: min(max(highest*1.3, 50_000), deadly*5), Log: true,
		Unit: "ppm", Every: 24, Days: true,
	}
	if err := f.Check(); err != nil {
		return drawing.Drawing{}, err
	}
	for _, v := range []float64{500, 1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000, 200_000, 500_000} {
		if v < f.High {
			f.Ticks = append(f.Ticks, v)
		}
	}
	with, without := drawing.Pen{Width: 0.6, Colour: drawing.Blue}, drawing.Pen{Width: 0.5, Colour: drawing.Rust, Dash: drawing.Dashed}
	d := drawing.Drawing{Width: chartWidth, Height: 78, Title: "Concentration over the week", Description: "Carbon dioxide near the tanks with the extract there is and without any, against the limits."}
	d.Add(f.Draw())
	for _, l := range limits {
		d.Add(f.Limit(l.Share.PPM(), l.Code)...)
	}
	d.Add(
		curve(f, g.Hours, without, func(h air.HourRow) float64 { return h.FanOff.PPM() }),
		curve(f, g.Hours, with, func(h air.HourRow) float64 { return h.PPM.PPM() }),
		f.Base())
	keys, _ := axes.Legend(drawing.P(f.Left, f.Bottom+7), f.Right-f.Left, []axes.Key{{Name: "with the extract there is", Pen: with}, {Name: "no extract since the week began", Pen: without}})
	d.Add(keys)
	return d, nil
}

func curve(f axes.Frame, hours []air.HourRow, pen drawing.Pen, value func(air.HourRow) float64) drawing.Polyline {
	line := drawing.Polyline{Pen: pen, Points: []drawing.Point{drawing.P(f.X(0), f.Y(420))}}
	for _, h := range hours {
		line.Points = append(line.Points, drawing.P(f.X(float64(h.Hour)+1), f.Y(value(h))))
	}
	return line
}
